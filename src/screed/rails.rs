//! Where the screed rails lie.
//!
//! In: the parts of the base, each in one plane, and the direction of the fall of each. Out: rails
//! parallel to the fall, part by part: a rail is straight, so that it ends where a step or a fold
//! breaks the base. Millimetres.

use geo::{Distance, Euclidean};

use super::{Rail, RailPart, Rails, RailsSpec};
use crate::geom::{Point, Shape, Vector, clip};
use crate::textile::cutting::first_fit_decreasing;

/// Lengths within this count as equal.
pub(super) const TOLERANCE: f64 = 0.5;
/// Parts this near to each other touch, in millimetres.
const TOUCHING: f64 = 1.0;
/// A run of fewer diameters is not laid, nor are rails in a part of fewer across, half of which two
/// would take up (common practice, no source).
const FEWEST: f64 = 4.0;
/// Directions of falls that differ by no more than this, in radians, are parallel.
const PARALLEL: f64 = 1e-6;

/// A part of the base that lies in one plane.
#[derive(Clone, Copy, Debug)]
pub struct RailGround<'a> {
    /// Its outline.
    pub shape: &'a Shape,
    /// Downhill, of any length; of no length it has no rails.
    pub downhill: Vector,
}

/// A part's extreme lines across the direction of its rails.
#[derive(Clone, Copy)]
struct Band {
    /// Down the fall.
    along: Vector,
    /// The axis that the extremes are counted on, square to the rails.
    axis: Vector,
    /// The extremes, the lesser first.
    ends: [f64; 2],
}

/// Rails down the fall of each part, clipped to it.
///
/// The outer two lie `edge` inside the part's extreme lines; between them are the fewest equal
/// bays no wider than the widest spacing. A part whose outer rails are closer than the least
/// spacing has those two alone. On one too narrow to hold both outer rails `edge` inside, they
/// lie at its quarter points; on one that two would take up half of, there are none. Where parts
/// that touch fall along one line and their extreme lines differ by no more than `edge`, the
/// extremes that all of them reach are taken for all, so that rails run on in one line over a fold.
pub fn rails(spec: &RailsSpec, parts: &[RailGround]) -> Rails {
    let bands: Vec<Option<Band>> = parts.iter().map(band).collect();
    let common = in_line(parts, &bands, spec.edge);
    let mut laid = Rails::default();
    for ((part, band), common) in parts.iter().zip(&bands).zip(common) {
        let (Some(band), Some([least, most])) = (band, common) else {
            laid.parts.push(RailPart::default());
            continue;
        };
        if most - least < FEWEST * spec.diameter {
            laid.parts.push(RailPart::default());
            continue;
        }
        let part = lay(spec, part.shape, band, [least, most]);
        laid.length_mm += part.length_mm();
        laid.parts.push(part);
    }
    let lengths = laid.runs().map(|[from, to]| from.distance(to));
    laid.pieces = pieces(lengths, spec.piece);
    laid
}

/// The band of a part; `None` where it falls nowhere or has no breadth.
fn band(part: &RailGround) -> Option<Band> {
    let along = part.downhill.unit()?;
    let across = -along.left();
    // Opposite falls count on one axis.
    let forwards = across.x > PARALLEL || (across.x > -PARALLEL && across.y > 0.0);
    let axis = if forwards { across } else { -across };
    let corners = part.shape.iter().flat_map(|part| part.exterior().coords());
    let stations = corners.map(|corner| Vector::new(corner.x, corner.y).dot(axis));
    let (least, most) = stations.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    (least < most).then_some(Band {
        along,
        axis,
        ends: [least, most],
    })
}

/// The extremes between which each part's rails are spaced: its own, or those that it has in
/// common with the parts that it touches and continues.
fn in_line(parts: &[RailGround], bands: &[Option<Band>], edge: f64) -> Vec<Option<[f64; 2]>> {
    let continues = |a: &Band, b: &Band| {
        let near = |end: usize| (a.ends[end] - b.ends[end]).abs() <= edge + TOLERANCE;
        a.axis.cross(b.axis).abs() <= PARALLEL && near(0) && near(1)
    };
    let touch = |a: usize, b: usize| {
        let [a, b] = [a, b].map(|part| parts[part].shape);
        Euclidean.distance(a, b) <= TOUCHING
    };
    let mut found = vec![None; bands.len()];
    for first in 0..bands.len() {
        let (Some(band), None) = (&bands[first], found[first]) else {
            continue;
        };
        let (mut line, mut ends) = (vec![first], band.ends);
        // what lies beyond the next part is reached through it
        while let Some((next, band)) = bands.iter().enumerate().find_map(|(next, band)| {
            let band = band.as_ref()?;
            let mut members = line.iter().filter_map(|&member| bands[member].as_ref());
            let joins = found[next].is_none()
                && !line.contains(&next)
                && members.all(|member| continues(band, member))
                && line.iter().any(|&member| touch(member, next));
            joins.then_some((next, band))
        }) {
            line.push(next);
            ends = [ends[0].max(band.ends[0]), ends[1].min(band.ends[1])];
        }
        for member in line {
            // A narrow part has its own, as others' would leave nothing between them.
            let own = bands[member].map(|band| band.ends);
            found[member] = if ends[1] - ends[0] > 2.0 * edge {
                Some(ends)
            } else {
                own
            };
        }
    }
    found
}

/// The rails of one part, spaced between two extremes.
fn lay(spec: &RailsSpec, base: &Shape, band: &Band, [least, most]: [f64; 2]) -> RailPart {
    let extent = most - least;
    let (first, span) = if extent - 2.0 * spec.edge > TOLERANCE {
        (spec.edge, extent - 2.0 * spec.edge)
    } else {
        (extent / 4.0, extent / 2.0)
    };
    let bays = (libm::ceil((span - TOLERANCE) / spec.spacing[1]) as usize).max(1);
    let spacing = span / bays as f64;
    let across = -band.along.left();
    let forwards = across.dot(band.axis) > 0.0;
    let left = if forwards {
        band.ends[0]
    } else {
        -band.ends[1]
    };
    let mut part = RailPart {
        downhill: band.along,
        rails: Vec::new(),
        spacing_mm: None,
    };
    for index in 0..=bays {
        let index = if forwards { index } else { bays - index };
        let on_axis = least + first + spacing * index as f64;
        let station = if forwards { on_axis } else { -on_axis };
        let runs = runs(base, [band.along, across], station, FEWEST * spec.diameter);
        if runs.is_empty() {
            continue;
        }
        part.rails.push(Rail {
            across_mm: station - left,
            length_mm: runs.iter().map(|[from, to]| from.distance(*to)).sum(),
            runs,
        });
    }
    part.spacing_mm = (part.rails.len() > 1).then_some(spacing);
    part
}

/// Where the line `station` across is inside the base for `least` or more; what is narrower than
/// [`TOLERANCE`] does not part it.
fn runs(base: &Shape, [along, across]: [Vector; 2], station: f64, least: f64) -> Vec<[Point; 2]> {
    // crossings by the half-open rule, so that a corner on the line counts once
    let mut crossings: Vec<f64> = Vec::new();
    for line in clip::rings(base).flat_map(|ring| ring.lines()) {
        let (from, to) = (
            Vector::new(line.start.x, line.start.y),
            Vector::new(line.end.x, line.end.y),
        );
        let (a, b) = (from.dot(across) - station, to.dot(across) - station);
        if (a > 0.0) != (b > 0.0) {
            let share = a / (a - b);
            let (low, high) = (from.dot(along), to.dot(along));
            crossings.push(low + (high - low) * share);
        }
    }
    crossings.sort_by(f64::total_cmp);
    let site = |down: f64| Point::default() + across * station + along * down;
    let mut runs: Vec<[f64; 2]> = Vec::new();
    for run in crossings.chunks_exact(2) {
        match runs.last_mut() {
            Some(last) if run[0] - last[1] <= TOLERANCE => last[1] = run[1],
            _ => runs.push([run[0], run[1]]),
        }
    }
    runs.retain(|[from, to]| to - from >= least);
    runs.into_iter().map(|run| run.map(site)).collect()
}

/// The pieces that runs of those lengths take: whole ones, and for what is left of each run further
/// ones that are cut, first fit in decreasing order.
fn pieces(runs: impl Iterator<Item = f64>, piece: f64) -> usize {
    let mut all = 0;
    let mut rests: Vec<f64> = Vec::new();
    for length in runs {
        let whole = libm::floor((length + TOLERANCE) / piece).max(0.0);
        all += whole as usize;
        let rest = length - whole * piece;
        if rest > TOLERANCE {
            rests.push(rest);
        }
    }
    let cut = first_fit_decreasing(&rests, piece);
    all + cut.iter().max().map_or(0, |last| last + 1)
}

#[cfg(test)]
mod tests {
    use super::super::{BeddingSpec, bedding};
    use super::*;
    const FOOT: f64 = 304.8;

    fn spec() -> RailsSpec {
        RailsSpec {
            board: 2438.4,
            diameter: 19.05,
            wall: 1.5,
            spacing: [4.0 * FOOT, 6.0 * FOOT],
            edge: FOOT,
            piece: 10.0 * FOOT,
        }
    }

    fn feet(points: &[(f64, f64)]) -> Shape {
        let points: Vec<Point> = points
            .iter()
            .map(|(x, y)| Point::new(x * FOOT, y * FOOT))
            .collect();
        clip::shape_of_points(&points)
    }

    /// The rails of a base in one part.
    fn one(base: &Shape, downhill: Vector) -> Rails {
        let shape = base;
        rails(&spec(), &[RailGround { shape, downhill }])
    }

    /// Where the rails of a part begin, across the page.
    fn stations(part: &RailPart) -> Vec<f64> {
        let starts = part.rails.iter().map(|rail| rail.runs[0][0].x / FOOT);
        starts.collect()
    }

    #[test]
    fn rails_of_a_rectangle() {
        // 15' across the fall, 12.5' along: outer rails 13' apart, three bays of 4'-4", each rail
        // one 10' piece and 2'-6", four of which are cut from one
        let base = feet(&[(0.0, 0.0), (15.0, 0.0), (15.0, 12.5), (0.0, 12.5)]);
        let laid = one(&base, Vector::new(0.0, 1.0));
        assert_eq!((laid.all().count(), laid.pieces), (4, 4 + 1));
        assert!((laid.spacing_mm().unwrap() - 13.0 / 3.0 * FOOT).abs() < 1e-6);
        assert!((laid.length_mm - 50.0 * FOOT).abs() < 1e-6);
        let [from, to] = laid.parts[0].rails[0].runs[0];
        assert!(from.distance(Point::new(FOOT, 0.0)) < 1e-6);
        assert!(to.distance(Point::new(FOOT, 12.5 * FOOT)) < 1e-6);
    }

    #[test]
    fn a_narrow_base_has_two_rails() {
        for (across, wanted) in [(5.0, 3.0), (1.5, 0.75)] {
            let base = feet(&[(0.0, 0.0), (across, 0.0), (across, 9.0), (0.0, 9.0)]);
            let laid = one(&base, Vector::new(0.0, -2.0));
            assert_eq!(laid.all().count(), 2);
            assert!((laid.spacing_mm().unwrap() - wanted * FOOT).abs() < 1e-6);
        }
    }

    #[test]
    fn a_bay_that_just_meets_the_limit_is_not_split() {
        let base = feet(&[(0.0, 0.0), (14.0, 0.0), (14.0, 9.0), (0.0, 9.0)]);
        let laid = one(&base, Vector::new(0.0, 1.0));
        assert_eq!(laid.all().count(), 3);
    }

    #[test]
    fn an_obstacle_breaks_a_rail() {
        let base = feet(&[(0.0, 0.0), (8.0, 0.0), (8.0, 10.0), (0.0, 10.0)]);
        let hole = feet(&[(0.5, 4.0), (2.0, 4.0), (2.0, 6.0), (0.5, 6.0)]);
        let laid = one(&clip::difference(&base, &hole), Vector::new(0.0, 1.0));
        let runs: Vec<usize> = laid.all().map(|rail| rail.runs.len()).collect();
        assert_eq!(runs, [2, 1]);
        assert!((laid.length_mm - 18.0 * FOOT).abs() < 1e-3);
    }

    /// By hand: 9'-6" and 6'-6" side by side, both down the page: each has outer rails 1' inside its
    /// own lines, 7'-6" apart in two bays and 4'-6" apart in one.
    #[test]
    fn parts_side_by_side_have_their_own_outer_rails() {
        let left = feet(&[(-0.5, 0.0), (9.0, 0.0), (9.0, 10.0), (-0.5, 10.0)]);
        let right = feet(&[(9.0, 0.0), (15.5, 0.0), (15.5, 10.0), (9.0, 10.0)]);
        let downhill = Vector::new(0.0, 1.0);
        let parts = [&left, &right].map(|shape| RailGround { shape, downhill });
        let laid = rails(&spec(), &parts);
        let near = |found: Vec<f64>, wanted: &[f64]| {
            assert_eq!(found.len(), wanted.len());
            let pairs = found.iter().zip(wanted);
            pairs.for_each(|(a, b)| assert!((a - b).abs() < 1e-6, "{found:?}"));
        };
        near(stations(&laid.parts[0]), &[0.5, 4.25, 8.0]);
        near(stations(&laid.parts[1]), &[10.0, 14.5]);
        assert!((laid.widest_mm().unwrap() - 4.5 * FOOT).abs() < 1e-6);
        assert_eq!(laid.spacing_mm(), None);
        assert_eq!(laid.pieces, 5);
    }

    /// A ridge across the page at 10': rails end on it, and those behind it go on in their lines,
    /// though the upper part begins half a foot farther in.
    #[test]
    fn rails_run_on_in_one_line_over_a_fold() {
        let low = feet(&[(-0.5, 0.0), (15.0, 0.0), (15.0, 10.0), (-0.5, 10.0)]);
        let high = feet(&[(0.0, 10.0), (15.0, 10.0), (15.0, 21.0), (0.0, 21.0)]);
        let ground = |shape, y| RailGround {
            shape,
            downhill: Vector::new(0.0, y),
        };
        let laid = rails(&spec(), &[ground(&low, -0.02), ground(&high, 0.03)]);
        let mut lines: Vec<Vec<f64>> = laid.parts.iter().map(stations).collect();
        lines
            .iter_mut()
            .for_each(|line| line.sort_by(f64::total_cmp));
        let same = lines[0]
            .iter()
            .zip(&lines[1])
            .all(|(a, b)| (a - b).abs() < 1e-6);
        assert!(same && lines[0].len() == lines[1].len(), "{lines:?}");
        assert!((lines[0][0] - 1.0).abs() < 1e-6 && (lines[0][3] - 14.0).abs() < 1e-6);
        for [from, to] in laid.runs() {
            assert!((from.y / FOOT - 10.0).abs() < 1e-6, "{from:?} {to:?}");
        }
        // 10' is one piece, 11' a piece and a foot, four of which are cut from one
        assert_eq!(laid.pieces, 4 + 4 + 1);
        // looking down the fall of the lower part, its left is the page's right
        let across = laid.parts[0].rails.iter().map(|rail| rail.across_mm / FOOT);
        let ends: Vec<f64> = across.collect();
        assert!((ends[0] - 1.0).abs() < 1e-6 && (ends[3] - 14.0).abs() < 1e-6);
    }

    #[test]
    fn bedding_is_area_times_loose_thickness() {
        let spec = BeddingSpec {
            test_patch: 1219.2,
            material: "concrete sand".to_owned(),
            loose: 20.0,
            compacted: 13.0,
            density: 1600.0,
            rails: spec(),
        };
        let base = clip::shape_of_points(&[
            Point::new(0.0, 0.0),
            Point::new(5000.0, 0.0),
            Point::new(5000.0, 4000.0),
            Point::new(0.0, 4000.0),
        ]);
        let found = bedding(&spec, clip::area(&base));
        assert!((found.area_m2 - 20.0).abs() < 1e-9);
        assert!((found.loose_m3 - 0.4).abs() < 1e-9);
        assert!((found.mass_kg - 640.0).abs() < 1e-6);
    }
}
