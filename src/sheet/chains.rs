//! Dimensions of the plan: which sides of the dig carry dimension lines, and the chains on them.
//!
//! In: design. Out: chains of site points with words that add up as printed. Chains run along the
//! first area's frame; edges that lie askew to it are dimensioned by the set-out table's ties.

use super::dimension::Origin;
use super::from_plan::{ring_points, shape_rings};
use super::model::{SiteChain, Stations};
use super::once;
use crate::design::Design;
use crate::design::rail_ties::{IN_LINE, run_square};
use crate::geom::{Point, Vector};
use crate::job::Audience;
use crate::site::EdgeKind;
use crate::units::{Length, Precision, System, print};

/// Stations nearer than this count as one, in millimetres: what tapes do not tell apart.
pub const SAME: f64 = 8.0;
/// A base line whose direction is off by no more than this, in radians, is along or square.
const ASKEW: f64 = 1e-3;
/// More running dimensions than this are left to the table.
const MOST_RUNNING: usize = 12;
/// A chain with more corners than this is left to the table.
const MOST_IN_CHAIN: usize = 9;

/// Which sides of the dig carry dimension lines, and the chains on them, from the innermost out:
/// rails; the paving's corners, by running dimensions where the base line gives them and there is
/// more than one between the ends, else by a chain; what the base reaches past the paving; overall.
/// No length between the same stations is given twice (see [`super::once`]).
pub fn chains(design: &Design, system: System, audience: Audience) -> Vec<SiteChain> {
    let Some(frame) = design.areas.first().map(|a| a.frame) else {
        return Vec::new();
    };
    let crew = audience == Audience::Crew;
    let both = [(frame.u, frame.v), (frame.v, frame.u)];
    let sides = both.map(|(along, across)| {
        let outward = free_side(design, across);
        let chain = |features: Vec<Point>| chain(features, along, outward, system);
        let paving = features(design, along, outward, Of::Paving);
        // A bid sheet shows the paving alone.
        let base = match audience {
            Audience::Crew => features(design, along, outward, Of::Base),
            Audience::Bid => paving.clone(),
        };
        let mut tiers = Vec::new();
        if crew && design.field.rails.is_empty() {
            tiers.push(chain(rails(design, along, outward, &base)));
        }
        let running = running(design, along, outward, system).filter(|_| crew);
        tiers.push(match running {
            Some(running) => Some(running),
            None if (3..=MOST_IN_CHAIN).contains(&paving.len()) => chain(paving.clone()),
            None => None,
        });
        if let ([first, .., last], [low, .., high]) = (&paving[..], &base[..]) {
            let mut parts = Vec::new();
            if (*first - *low).dot(along) > SAME {
                parts.push(*low);
            }
            parts.extend([*first, *last]);
            if (*high - *last).dot(along) > SAME {
                parts.push(*high);
            }
            tiers.push(chain(parts));
            tiers.push(chain(vec![*low, *high]));
        }
        once::tiers(tiers.into_iter().flatten().collect(), along)
    });
    sides.into_iter().flatten().collect()
}

/// What features are taken of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Of {
    /// Outer outlines of the paving.
    Paving,
    /// Outlines of the paving and its holes.
    Corners,
    /// The base.
    Base,
}

/// Corners of paving or base in order along a direction, one per station: the one nearest the
/// side that the dimension line runs on.
fn features(design: &Design, along: Vector, outward: Vector, of: Of) -> Vec<Point> {
    let mut points = points(design, along, of);
    let station = |p: &Point| (*p - Point::default()).dot(along);
    let rise = |p: &Point| (*p - Point::default()).dot(outward);
    points.sort_by(|a, b| {
        station(a)
            .total_cmp(&station(b))
            .then(rise(b).total_cmp(&rise(a)))
    });
    let extremes = points.first().map(station).zip(points.last().map(station));
    let mut kept: Vec<Point> = Vec::new();
    for p in points {
        match kept.last_mut() {
            Some(last) if station(&p) - station(last) <= SAME => {
                if rise(&p) > rise(last) {
                    *last = p;
                }
            }
            _ => kept.push(p),
        }
    }
    // Overall dimensions run from extreme to extreme, also where an arc comes up to one slowly.
    if let Some((low, high)) = extremes {
        if let Some(first) = kept.first_mut() {
            *first = *first + along * (low - station(first));
        }
        if let Some(last) = kept.last_mut() {
            *last = *last + along * (high - station(last));
        }
    }
    kept
}

/// Points of corners of paving or base, in no order; of a circle its ends along a direction.
fn points(design: &Design, along: Vector, of: Of) -> Vec<Point> {
    match of {
        Of::Paving | Of::Corners => design
            .job
            .site
            .areas
            .iter()
            .flat_map(|area| match of {
                Of::Corners => &area.rings[..],
                _ => &area.rings[..area.rings.len().min(1)],
            })
            .flat_map(|ring| &ring.edges)
            .flat_map(|edge| {
                let mut ends = vec![edge.edge.from];
                if edge.edge.is_circle()
                    && let Some(arc) = &edge.edge.arc
                {
                    ends = vec![
                        arc.centre + along * arc.radius,
                        arc.centre + along * -arc.radius,
                    ];
                }
                ends
            })
            .collect(),
        Of::Base => shape_rings(&design.extents.base.shape)
            .into_iter()
            .flatten()
            .collect(),
    }
}

/// Rails that run square to a direction, in order along it between the base's extreme lines; of
/// those in one line the end nearest the side that the dimension line runs on.
fn rails(design: &Design, along: Vector, outward: Vector, base: &[Point]) -> Vec<Point> {
    let (Some(low), Some(high)) = (base.first(), base.last()) else {
        return Vec::new();
    };
    let rise = |p: &Point| (*p - Point::default()).dot(outward);
    let parts = design.rails.parts.iter();
    let parts = parts.filter(|part| run_square(part, along));
    let mut ends: Vec<Point> = parts
        .flat_map(|part| &part.rails)
        .filter_map(|rail| {
            rail.runs
                .iter()
                .flatten()
                .copied()
                .max_by(|a, b| rise(a).total_cmp(&rise(b)))
        })
        .collect();
    if ends.is_empty() {
        return Vec::new();
    }
    ends.sort_by(|a, b| station(*a, along).total_cmp(&station(*b, along)));
    let mut all = vec![*low];
    for line in ends.chunk_by(|a, b| station(*b, along) - station(*a, along) <= IN_LINE) {
        all.extend(line.iter().max_by(|a, b| rise(a).total_cmp(&rise(b))));
    }
    all.push(*high);
    all
}

/// How far a point lies along a direction, in millimetres.
fn station(at: Point, along: Vector) -> f64 {
    (at - Point::default()).dot(along)
}

/// A chain through features, with words that add up; none when two features coincide.
fn chain(
    features: Vec<Point>,
    along: Vector,
    outward: Vector,
    system: System,
) -> Option<SiteChain> {
    let parts: Vec<Length> = features
        .windows(2)
        .map(|pair| Length::from_mm((pair[1] - pair[0]).dot(along)))
        .collect();
    if parts.is_empty() || parts.iter().any(|p| p.mm() <= SAME) {
        return None;
    }
    Some(SiteChain {
        words: print::chain(&parts, system, Precision::Drawing)
            .parts
            .iter()
            .map(|part| print::without_unit(part, system))
            .collect(),
        features,
        outward,
        tier: 0,
        origin: None,
    })
}

/// Running dimensions along a direction from the base line's first end, to every corner of outlines
/// and holes; none where the base line lies askew to it, where they would only repeat the overall
/// dimension, or where a chain of two lengths says as much.
fn running(design: &Design, along: Vector, outward: Vector, system: System) -> Option<SiteChain> {
    let [(_, from), (_, to)] = &design.base_line;
    let line = (*to - *from).unit()?;
    let parallel = line.cross(along).abs() < ASKEW || line.dot(along).abs() < ASKEW;
    let mut features = features(design, along, outward, Of::Corners);
    let corners = features.len();
    let station = |at: Point| (at - *from).dot(along);
    let origin = match features.iter().position(|f| station(*f).abs() <= SAME) {
        Some(origin) => origin,
        None => {
            let place = features.iter().position(|f| station(*f) > 0.0);
            let place = place.unwrap_or(features.len());
            features.insert(place, *from);
            place
        }
    };
    let few = features.len() < 3 || (features.len() == 3 && corners == 3);
    if !parallel || few || features.len() > MOST_RUNNING {
        return None;
    }
    // A span has the words of its end away from the origin.
    let mut words = counted(&features, along, origin, system);
    words.remove(origin);
    Some(SiteChain {
        words,
        features,
        outward,
        tier: 0,
        origin: Some(Origin::At(origin)),
    })
}

/// How far each of several points, in order along a direction, lies from the one that is counted
/// from, in words.
fn counted(points: &[Point], along: Vector, zero: usize, system: System) -> Vec<String> {
    let parts: Vec<Length> = points
        .windows(2)
        .map(|pair| Length::from_mm((pair[1] - pair[0]).dot(along)))
        .collect();
    let texts = print::running(&parts, zero, system, Precision::Drawing);
    let bare = texts.iter().map(|text| print::without_unit(text, system));
    bare.collect()
}

/// How far every corner of outlines and holes lies along each of the first area's directions from
/// the base line's first end.
pub fn stations(design: &Design, system: System) -> Vec<Stations> {
    let Some(frame) = design.areas.first().map(|area| area.frame) else {
        return Vec::new();
    };
    let (name, from) = design.base_line[0].clone();
    let both = [(frame.u, frame.v), (frame.v, frame.u)];
    both.map(|(along, across)| {
        let mut corners = points(design, along, Of::Corners);
        corners.push(from);
        corners.sort_by(|a, b| station(*a, along).total_cmp(&station(*b, along)));
        let zero = corners.iter().position(|p| *p == from).unwrap_or(0);
        let words = counted(&corners, along, zero, system);
        Stations {
            along,
            outward: free_side(design, across),
            from,
            name: name.clone(),
            corners: corners.iter().copied().zip(words).collect(),
        }
    })
    .to_vec()
}

/// The side of the dig, along a direction or against it, that fewer structures and less wall
/// stand on.
fn free_side(design: &Design, across: Vector) -> Vector {
    let weight = |side: Vector| -> f64 {
        let reach = shape_rings(&design.extents.dig.shape)
            .into_iter()
            .flatten()
            .map(|p| (p - Point::default()).dot(side))
            .fold(f64::NEG_INFINITY, f64::max);
        let walls: f64 = design
            .job
            .site
            .stretches()
            .filter(|s| s.kind == EdgeKind::Wall)
            .filter(|s| {
                s.edge
                    .tangent(0.5)
                    .is_some_and(|t| (-t.left()).dot(side) > 0.7)
            })
            .map(|s| s.edge.length())
            .sum();
        let standing = design
            .job
            .site
            .structures
            .iter()
            .filter(|s| {
                ring_points(&s.ring)
                    .iter()
                    .any(|p| (*p - Point::default()).dot(side) > reach + 1.0)
            })
            .count();
        walls + standing as f64 * 500.0
    };
    let back = -across;
    // Of two equal sides the far one from the start edge keeps clear of the start corner's marks.
    if weight(back) < weight(across) {
        back
    } else {
        across
    }
}

/// A dimension as it stands on the plan: without the unit that the sheet states once.
pub fn bare(length: Length, system: System) -> String {
    print::without_unit(&print::length(length, system, Precision::Drawing), system)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The sheet states millimetres once, for running dimensions as for all others.
    #[test]
    fn no_dimension_on_a_metric_plan_repeats_its_unit() {
        let job = crate::job::read(
            b"job: {title: Ell}
sheet: {units: metric}
paving:
  - name: Yard
    outline: [[0, 0], [6 m, 0], [6 m, 2 m], [4 m, 2 m], [4 m, 3 m], [3 m, 3 m], [3 m, 4 m], [0, 4 m]]
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
levels: {finish: {at: A, level: 10 m, fall: 2%, away_from: A-B}}
",
        )
        .expect("a job");
        let design = crate::design::run(job).expect("a design");
        let chains = chains(&design, System::Metric, Audience::Crew);
        assert!(chains.iter().any(|chain| chain.origin.is_some()));
        for words in chains.iter().flat_map(|chain| &chain.words) {
            assert!(!words.contains("mm"), "{words}");
        }
    }

    /// Every corner of an ell with a hole, both ways, as far from the base line's first end, which is the
    /// corner at the top left, as the outline says.
    #[test]
    fn stations_count_every_corner_from_the_base_line() {
        let job = crate::job::read(
            b"job: {title: Ell}
sheet: {units: metric}
paving:
  - name: Yard
    outline: [[0, 0], [6 m, 0], [6 m, 2 m], [4 m, 2 m], [4 m, 4 m], [0, 4 m]]
    holes:
      - rectangle: {corner: [1 m, 0.5 m], width: 700 mm, depth: 900 mm}
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
levels: {finish: {at: A, level: 10 m, fall: 2%, away_from: A-B}}
",
        )
        .expect("a job");
        let design = crate::design::run(job).expect("a design");
        let found = stations(&design, System::Metric);
        let said: Vec<Vec<String>> = found
            .iter()
            .map(|one| {
                let mut words: Vec<String> =
                    one.corners.iter().map(|(_, words)| words.clone()).collect();
                words.dedup();
                words
            })
            .collect();
        assert_eq!(
            said,
            [
                vec!["0", "1000", "1700", "4000", "6000"],
                vec!["−4000", "−3500", "−2600", "−2000", "0"],
            ]
        );
        for one in &found {
            assert!(one.from.distance(Point::new(0.0, 4000.0)) < 1e-6);
            assert_eq!(one.name, design.base_line[0].0);
            for (at, words) in &one.corners {
                let away = (*at - one.from).dot(one.along);
                let said = words.replace('−', "-").parse::<f64>().ok();
                assert_eq!(said, Some(away.round()), "{at:?}");
            }
        }
    }
}
