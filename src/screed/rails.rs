//! Where the screed rails lie.
//!
//! In: the base outline and the direction of the fall. Out: rails parallel to the fall.
//! Millimetres.

use super::{Rail, Rails, RailsSpec};
use crate::geom::{Point, Shape, Vector, clip};

/// Lengths within this count as equal; shorter runs are not laid.
const TOLERANCE: f64 = 0.5;

/// Rails parallel to `fall` (any length but zero, pointing downhill), clipped to the base.
///
/// The outer two lie `edge` inside the base's extreme lines; between them are the fewest equal
/// bays no wider than the widest spacing. A base whose outer rails are closer than the least
/// spacing has those two alone. On one too narrow to hold both outer rails `edge` inside, they
/// lie at its quarter points.
pub fn rails(spec: &RailsSpec, base: &Shape, fall: Vector) -> Rails {
    let Some(along) = fall.unit() else {
        return Rails::default();
    };
    let across = -along.left();
    let at = |corner: &geo::Coord<f64>| Vector::new(corner.x, corner.y).dot(across);
    let stations = base
        .iter()
        .flat_map(|part| part.exterior().coords())
        .map(at);
    let (least, most) = stations.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    if least >= most {
        return Rails::default();
    }
    let extent = most - least;
    let (first, span) = if extent - 2.0 * spec.edge > TOLERANCE {
        (spec.edge, extent - 2.0 * spec.edge)
    } else {
        (extent / 4.0, extent / 2.0)
    };
    let bays = (libm::ceil((span - TOLERANCE) / spec.spacing[1]) as usize).max(1);
    let spacing = span / bays as f64;

    let mut laid = Rails {
        spacing_mm: Some(spacing),
        ..Rails::default()
    };
    let mut pieces: Vec<f64> = Vec::new();
    for index in 0..=bays {
        let station = first + spacing * index as f64;
        let runs = runs(base, along, across, least + station);
        let length = runs.iter().map(|[from, to]| from.distance(*to)).sum();
        for [from, to] in &runs {
            pieces.extend(pieces_of(from.distance(*to), spec.piece));
        }
        laid.length_mm += length;
        laid.rails.push(Rail {
            across_mm: station,
            runs,
            length_mm: length,
        });
    }
    laid.rails.retain(|rail| !rail.runs.is_empty());
    laid.pieces = pieces.len();
    laid.by_length = by_length(pieces);
    laid
}

/// Where the line `station` across, running `along`, is inside the base.
fn runs(base: &Shape, along: Vector, across: Vector, station: f64) -> Vec<[Point; 2]> {
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
    crossings
        .chunks_exact(2)
        .filter(|run| run[1] - run[0] > TOLERANCE)
        .map(|run| [site(run[0]), site(run[1])])
        .collect()
}

/// Whole pieces and one for what is left.
fn pieces_of(length: f64, piece: f64) -> Vec<f64> {
    let whole = libm::floor((length + TOLERANCE) / piece).max(0.0) as usize;
    let mut pieces = vec![piece; whole];
    let rest = length - whole as f64 * piece;
    if rest > TOLERANCE {
        pieces.push(rest);
    }
    pieces
}

/// Counts of equal lengths (within 0.5 mm), longest first.
fn by_length(mut pieces: Vec<f64>) -> Vec<(f64, usize)> {
    pieces.sort_by(|a, b| b.total_cmp(a));
    let mut counts: Vec<(f64, usize)> = Vec::new();
    for length in pieces {
        match counts.last_mut() {
            Some((longest, count)) if *longest - length <= TOLERANCE => *count += 1,
            _ => counts.push((length, 1)),
        }
    }
    counts
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

    #[test]
    fn rails_of_a_rectangle() {
        // 15' across the fall, 12.5' along: outer rails 13' apart, three bays of 4'-4", each rail
        // one 10' piece and 2'-6"
        let base = feet(&[(0.0, 0.0), (15.0, 0.0), (15.0, 12.5), (0.0, 12.5)]);
        let laid = rails(&spec(), &base, Vector::new(0.0, 1.0));
        assert_eq!((laid.rails.len(), laid.pieces), (4, 8));
        assert!((laid.spacing_mm.unwrap() - 13.0 / 3.0 * FOOT).abs() < 1e-6);
        assert!((laid.length_mm - 50.0 * FOOT).abs() < 1e-6);
        assert_eq!(laid.by_length.len(), 2);
        assert_eq!((laid.by_length[0].1, laid.by_length[1].1), (4, 4));
        let [from, to] = laid.rails[0].runs[0];
        assert!(from.distance(Point::new(FOOT, 0.0)) < 1e-6);
        assert!(to.distance(Point::new(FOOT, 12.5 * FOOT)) < 1e-6);
    }

    #[test]
    fn a_narrow_base_has_two_rails() {
        for (across, wanted) in [(5.0, 3.0), (1.5, 0.75)] {
            let base = feet(&[(0.0, 0.0), (across, 0.0), (across, 9.0), (0.0, 9.0)]);
            let laid = rails(&spec(), &base, Vector::new(0.0, -2.0));
            assert_eq!(laid.rails.len(), 2);
            assert!((laid.spacing_mm.unwrap() - wanted * FOOT).abs() < 1e-6);
        }
    }

    #[test]
    fn a_bay_that_just_meets_the_limit_is_not_split() {
        let base = feet(&[(0.0, 0.0), (14.0, 0.0), (14.0, 9.0), (0.0, 9.0)]);
        let laid = rails(&spec(), &base, Vector::new(0.0, 1.0));
        assert_eq!(laid.rails.len(), 3);
    }

    #[test]
    fn an_obstacle_breaks_a_rail() {
        let base = feet(&[(0.0, 0.0), (8.0, 0.0), (8.0, 10.0), (0.0, 10.0)]);
        let hole = feet(&[(0.5, 4.0), (2.0, 4.0), (2.0, 6.0), (0.5, 6.0)]);
        let laid = rails(
            &spec(),
            &clip::difference(&base, &hole),
            Vector::new(0.0, 1.0),
        );
        let runs: Vec<usize> = laid.rails.iter().map(|rail| rail.runs.len()).collect();
        assert_eq!(runs, [2, 1]);
        assert!((laid.length_mm - 18.0 * FOOT).abs() < 1e-3);
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
