//! No length is dimensioned twice in one view, and none is lost: over the examples and several
//! hundred made-up jobs, for crews and clients. Running dimensions are the stations of the set-out.

mod common;
#[path = "made_up/jobs.rs"]
mod jobs;

use std::sync::Arc;

use groundsheet::design::Design;
use groundsheet::geom::{Point, Vector};
use groundsheet::job::{Audience, Job};
use groundsheet::sheet::compose::content;
use groundsheet::sheet::dimension::Origin;
use groundsheet::sheet::from_plan;
use groundsheet::sheet::model::{PlanModel, SiteChain};
use groundsheet::{checks, design, job, takeoff};

use common::setout::{INCH, read_dimension};
use common::worked::{self, example, examples, near};

/// Ends of dimensions nearer than this are one place to whoever tapes them, in millimetres: 1/4 in.
const ONE_PLACE: f64 = 6.35;

/// The examples and the made-up jobs, by name.
fn all() -> Vec<(String, Job)> {
    let mut found = Vec::new();
    let mut read = |name: String, yaml: &[u8]| match job::read(yaml) {
        Ok(job) => found.push((name, job)),
        Err(errors) => panic!("{name}: {errors:#?}"),
    };
    for name in examples() {
        let yaml = example(&name);
        read(name, yaml.as_bytes());
    }
    for seed in (0..300).step_by(6) {
        let made = jobs::job(seed);
        read(made.name, made.yaml.as_bytes());
    }
    found
}

/// Every plan of a job's set, for the crew and for the client.
fn plans(mut job: Job) -> Vec<(Design, Vec<Arc<PlanModel>>)> {
    let both = [Audience::Crew, Audience::Bid].map(|audience| {
        job.sheet.audience = audience;
        let design = design::run(job.clone()).expect("a design");
        let takeoff = takeoff::of(&design).expect("a takeoff");
        let content = content(&design, &takeoff, &checks::run(&design));
        let further = content.further.into_iter().filter_map(|sheet| sheet.plan);
        let plans = std::iter::once(content.plan).chain(further).collect();
        (design, plans)
    });
    both.into_iter().collect()
}

/// The direction that a chain measures along.
fn along(chain: &SiteChain, design: &Design) -> Vector {
    let frame = design.areas[0].frame;
    match chain.outward.dot(frame.u).abs() < 0.5 {
        true => frame.u,
        false => frame.v,
    }
}

/// Where each printed dimension of a chain begins and ends along a direction, lower first: running
/// ones begin at the feature that they count from, the others at the one before.
fn spans(chain: &SiteChain, along: Vector) -> Vec<[f64; 2]> {
    let stations: Vec<f64> = chain
        .features
        .iter()
        .map(|at| at.x * along.x + at.y * along.y)
        .collect();
    let ends: Vec<[f64; 2]> = match chain.origin {
        Some(Origin::At(zero) | Origin::Beyond(zero)) => {
            let others = stations
                .iter()
                .enumerate()
                .filter(|(index, _)| *index != zero);
            others
                .map(|(_, station)| [stations[zero], *station])
                .collect()
        }
        None => stations.windows(2).map(|pair| [pair[0], pair[1]]).collect(),
    };
    assert_eq!(ends.len(), chain.words.len());
    ends.into_iter()
        .map(|[a, b]| [a.min(b), a.max(b)])
        .collect()
}

#[test]
fn no_length_is_dimensioned_twice_in_one_view() {
    let (mut twice, mut given_in_all) = (Vec::new(), 0);
    for (name, job) in all() {
        for (design, plans) in plans(job) {
            for plan in plans {
                let mut given: Vec<(Vector, [f64; 2], String)> = Vec::new();
                for chain in &plan.chains {
                    let along = along(chain, &design);
                    for (span, words) in spans(chain, along).into_iter().zip(&chain.words) {
                        given_in_all += 1;
                        let known = given.iter().find(|(direction, other, _)| {
                            let near = |end: usize| (other[end] - span[end]).abs() < ONE_PLACE;
                            direction.cross(along).abs() < 1e-6 && near(0) && near(1)
                        });
                        if let Some((.., said)) = known {
                            twice.push(format!("{name}: {said} and {words}"));
                        }
                        given.push((along, span, words.clone()));
                    }
                }
            }
        }
    }
    assert!(given_in_all > 1000, "{given_in_all}");
    assert!(twice.is_empty(), "{}", twice.join("\n"));
}

/// Whatever is left out, the plan still says how long and how wide the paving is, or lets it be
/// read as the farthest running dimension, and gives each way on one side.
#[test]
fn the_whole_paving_is_dimensioned_each_way() {
    for (name, job) in all() {
        for (design, plans) in plans(job) {
            let corners: Vec<Point> = design
                .job
                .site
                .areas
                .iter()
                .flat_map(|area| {
                    let rings = area.rings.first().into_iter();
                    rings.flat_map(|ring| ring.edges.iter().map(|edge| edge.edge.from))
                })
                .collect();
            let frame = design.areas[0].frame;
            for direction in [frame.u, frame.v] {
                let station = |p: &Point| (*p - Point::default()).dot(direction);
                let least = corners.iter().map(station).fold(f64::INFINITY, f64::min);
                let most = corners
                    .iter()
                    .map(station)
                    .fold(f64::NEG_INFINITY, f64::max);
                let chains = plans[0].chains.iter();
                let chains = chains.filter(|chain| along(chain, &design) == direction);
                let mut spans = chains.flat_map(|chain| spans(chain, direction));
                // An arc may reach past its ends.
                let whole = spans.any(|[a, b]| a <= least + ONE_PLACE && b >= most - ONE_PLACE);
                assert!(whole, "{name}: {least} to {most}");
            }
        }
    }
}

/// Running dimensions count from the base line's end: as printed they are the stations, and where a
/// chain runs through the same corners their differences are its parts as printed.
#[test]
fn running_dimensions_are_the_stations_and_agree_with_the_chains() {
    let mut compared = 0;
    for name in ["two-walls", "hillside-terrace", "pool-surround"] {
        let design = worked::design(&example(name));
        let chains = from_plan::plan(&design).chains;
        let counted: Vec<_> = chains.iter().filter(|c| c.origin.is_some()).collect();
        assert!(!counted.is_empty(), "{name}");
        for chain in counted {
            let Some(Origin::At(origin)) = chain.origin else {
                panic!("{name} counts from a feature");
            };
            let (first, last) = (chain.features[0], chain.features[chain.features.len() - 1]);
            let square = groundsheet::geom::Vector::left(chain.outward);
            let along = if (last - first).dot(square) > 0.0 {
                square
            } else {
                -square
            };
            let mut texts: Vec<f64> = chain.words.iter().map(|w| read_dimension(w)).collect();
            texts.insert(origin, 0.0);
            for (feature, text) in chain.features.iter().zip(&texts) {
                let station = (*feature - design.base_line[0].1).dot(along);
                near(*text, station, INCH / 8.0);
            }
            for other in chains
                .iter()
                .filter(|c| c.origin.is_none() && c.outward.cross(chain.outward).abs() < 1e-9)
            {
                for (pair, word) in other.features.windows(2).zip(&other.words) {
                    let at = |p: Point| chain.features.iter().position(|f| f.distance(p) < 1.0);
                    if let (Some(a), Some(b)) = (at(pair[0]), at(pair[1])) {
                        near(texts[b] - texts[a], read_dimension(word), 1e-6);
                        compared += 1;
                    }
                }
            }
        }
    }
    assert!(compared >= 3, "{compared}");
}
