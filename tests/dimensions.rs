//! No length is dimensioned twice in one view, and none is lost: over the examples and several
//! hundred made-up jobs, for crews and clients.

#[path = "made_up/jobs.rs"]
mod jobs;

use std::sync::Arc;

use groundsheet::design::Design;
use groundsheet::geom::{Point, Vector};
use groundsheet::job::{Audience, Job};
use groundsheet::sheet::chains::SAME;
use groundsheet::sheet::compose::content;
use groundsheet::sheet::model::{PlanModel, SiteChain};
use groundsheet::sheet::once;
use groundsheet::{checks, design, job, takeoff};

/// The examples and the made-up jobs, by name.
fn all() -> Vec<(String, Job)> {
    let mut found = Vec::new();
    let mut read = |name: String, yaml: &[u8]| match job::read(yaml) {
        Ok(job) => found.push((name, job)),
        Err(errors) => panic!("{name}: {errors:#?}"),
    };
    let examples = std::fs::read_dir("jobs").expect("the examples");
    let mut examples: Vec<_> = examples.map(|entry| entry.expect("a job").path()).collect();
    examples.sort();
    for path in examples {
        read(
            path.display().to_string(),
            &std::fs::read(&path).expect("readable"),
        );
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

#[test]
fn no_length_is_dimensioned_twice_in_one_view() {
    let (mut twice, mut spans) = (Vec::new(), 0);
    for (name, job) in all() {
        for (design, plans) in plans(job) {
            for plan in plans {
                let mut given: Vec<(Vector, [f64; 2], String)> = Vec::new();
                for chain in &plan.chains {
                    let along = along(chain, &design);
                    let ends = once::stations(chain, along);
                    for (span, words) in ends.into_iter().zip(&chain.words) {
                        spans += 1;
                        let known = given.iter().find(|(direction, other, _)| {
                            direction.cross(along).abs() < 1e-6 && once::same(*other, span)
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
    assert!(spans > 1000, "{spans}");
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
                let mut spans = chains.flat_map(|chain| once::stations(chain, direction));
                // An arc may reach past its ends.
                let whole = spans.any(|[a, b]| a <= least + SAME && b >= most - SAME);
                assert!(whole, "{name}: {least} to {most}");
            }
        }
    }
}
