//! Where the screed rails lie.
//!
//! In: the base outline and the direction of the fall. Out: rails parallel to the fall.
//! Millimetres.

use super::{Rail, Rails, RailsSpec};
use crate::geom::{Point, Shape, Vector};

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
    for line in base.iter().flat_map(|part| {
        let rings = std::iter::once(part.exterior()).chain(part.interiors());
        rings.flat_map(|ring| ring.lines())
    }) {
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
