//! Laying geotextile strips.
//!
//! In: the dig outline and a direction. Out: strips with laps. Millimetres. A strip is one length
//! from the first to the last point of the dig under it; what a notch in between could save is
//! left out.

use geo::{Area, LineString, MultiPolygon, Polygon};

use super::cutting::first_fit_decreasing;
use super::{Strip, Textile, TextileSpec};
use crate::geom::{Point, Shape, Vector};

/// Lengths within this count as equal.
const TOLERANCE: f64 = 0.5;

/// Lays strips along `along` and square to it, and keeps the way that needs the least roll; of
/// two that need as much (within 0.5 mm), along `along`.
pub fn lay(spec: &TextileSpec, dig: &Shape, along: Vector) -> Textile {
    let first = lay_along(spec, dig, along);
    let second = lay_along(spec, dig, along.left());
    if second.roll_mm + TOLERANCE < first.roll_mm {
        second
    } else {
        first
    }
}

/// Lays strips along one direction (any length but zero). The first lies against the dig's
/// extreme line on the right, each next is a roll's width less the lap further left.
pub fn lay_along(spec: &TextileSpec, dig: &Shape, along: Vector) -> Textile {
    let Some(u) = along.unit() else {
        return Textile::default();
    };
    let v = u.left();
    let lines = local_lines(dig, u, v);
    let (low, high) = extent(lines.iter().flatten().map(|at| at[1]));
    if high - low <= 2.0 * TOLERANCE {
        return Textile::default();
    }
    let across = high - low + 2.0 * spec.turn_up;
    // a lap as wide as the roll would never get across; the job refuses it
    let step = (spec.roll_width - spec.overlap).max(spec.roll_width * 0.01);
    let over = across - spec.roll_width - TOLERANCE;
    let count = 1 + libm::ceil(over.max(0.0) / step) as usize;

    let mut strips = Vec::with_capacity(count);
    for index in 0..count {
        let from = low - spec.turn_up + step * index as f64;
        // a strip that only turns up still takes the length of the side it stands on
        let bottom = from.clamp(low, high - TOLERANCE);
        let top = (from + spec.roll_width).clamp(low + TOLERANCE, high);
        let under = lines.iter().filter_map(|line| clip(line, bottom, top));
        let (start, end) = extent(under.flatten());
        if start >= end {
            continue;
        }
        let site = |along: f64, across: f64| {
            let at = Point::default() + u * along + v * across;
            (at.x, at.y)
        };
        let ring = vec![
            site(start, bottom),
            site(end, bottom),
            site(end, top),
            site(start, top),
        ];
        let pieces = pieces(end - start + 2.0 * spec.turn_up, spec);
        strips.push(Strip {
            outline: MultiPolygon(vec![Polygon::new(LineString::from(ring), vec![])]),
            length_mm: pieces.iter().sum(),
            pieces,
        });
    }
    let all: Vec<f64> = strips
        .iter()
        .flat_map(|strip| strip.pieces.clone())
        .collect();
    let rolls = first_fit_decreasing(&all, spec.roll_length);
    let roll_mm = all.iter().sum();
    Textile {
        along: u,
        strips,
        roll_mm,
        rolls: rolls.iter().max().map_or(0, |last| last + 1),
        area_mm2: roll_mm * spec.roll_width,
        covered_mm2: dig.unsigned_area(),
    }
}

/// A strip's pieces: full rolls, lapped end to end, and what is left.
fn pieces(length: f64, spec: &TextileSpec) -> Vec<f64> {
    let mut pieces = Vec::new();
    let mut left = length;
    let step = (spec.roll_length - spec.overlap).max(spec.roll_length * 0.01);
    while left > spec.roll_length + TOLERANCE {
        pieces.push(spec.roll_length);
        left -= step;
    }
    pieces.push(left);
    pieces
}

fn local_lines(dig: &Shape, u: Vector, v: Vector) -> Vec<[[f64; 2]; 2]> {
    let local = |at: geo::Coord<f64>| {
        let at = Vector::new(at.x, at.y);
        [at.dot(u), at.dot(v)]
    };
    let lines = dig.iter().flat_map(|part| part.exterior().lines());
    lines
        .map(|line| [local(line.start), local(line.end)])
        .collect()
}

/// Extent along of the part of a line between two distances across.
fn clip(line: &[[f64; 2]; 2], bottom: f64, top: f64) -> Option<[f64; 2]> {
    let [a, b] = if line[0][1] <= line[1][1] {
        [line[0], line[1]]
    } else {
        [line[1], line[0]]
    };
    if b[1] < bottom || a[1] > top {
        return None;
    }
    let rise = b[1] - a[1];
    if rise <= 0.0 {
        return Some([a[0], b[0]]);
    }
    let at = |across: f64| a[0] + (b[0] - a[0]) * ((across - a[1]) / rise).clamp(0.0, 1.0);
    Some([at(bottom), at(top)])
}

fn extent(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::clip;

    fn spec() -> TextileSpec {
        TextileSpec {
            roll_width: 4000.0,
            roll_length: 50_000.0,
            overlap: 300.0,
            roll_mass: 40.0,
            turn_up: 0.0,
        }
    }

    fn shape(points: &[(f64, f64)]) -> Shape {
        let points: Vec<Point> = points.iter().map(|(x, y)| Point::new(*x, *y)).collect();
        clip::shape_of_points(&points)
    }

    fn rectangle(x: f64, y: f64) -> Shape {
        shape(&[(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)])
    }

    #[test]
    fn runs_the_way_that_needs_least_roll() {
        // 7 m × 5 m: along x two strips of 7 m, along y two of 5 m (7 ≤ 4 + 3.7)
        let laid = lay(&spec(), &rectangle(7000.0, 5000.0), Vector::new(1.0, 0.0));
        assert_eq!(laid.along, Vector::new(0.0, 1.0));
        assert_eq!((laid.strips.len(), laid.rolls), (2, 1));
        assert!((laid.roll_mm - 10_000.0).abs() < 1e-6);
        assert!((laid.area_mm2 - 40e6).abs() < 1e-3);
        assert!((laid.covered_mm2 - 35e6).abs() < 1e-3);
    }

    #[test]
    fn turning_up_lengthens_and_widens() {
        let mut rules = spec();
        rules.turn_up = 400.0;
        // 7 m + 0.8 m across needs a third strip
        let laid = lay_along(&rules, &rectangle(5000.0, 7000.0), Vector::new(1.0, 0.0));
        assert_eq!(laid.strips.len(), 3);
        assert!((laid.roll_mm - 3.0 * 5800.0).abs() < 1e-6);
    }

    #[test]
    fn a_strip_is_as_long_as_the_dig_under_it() {
        // an L: 10 m long for the first 3 m across, then 2 m long; strips from 0 to 4 and 3.7 to 6
        let dig = shape(&[
            (0.0, 0.0),
            (10_000.0, 0.0),
            (10_000.0, 3000.0),
            (2000.0, 3000.0),
            (2000.0, 6000.0),
            (0.0, 6000.0),
        ]);
        let laid = lay_along(&spec(), &dig, Vector::new(1.0, 0.0));
        let lengths: Vec<f64> = laid.strips.iter().map(|strip| strip.length_mm).collect();
        assert_eq!(lengths, [10_000.0, 2000.0]);
    }

    #[test]
    fn a_strip_longer_than_a_roll_is_lapped() {
        let laid = lay_along(&spec(), &rectangle(60_000.0, 3000.0), Vector::new(1.0, 0.0));
        // 50 m and 10.3 m
        assert!((laid.roll_mm - 60_300.0).abs() < 1e-6);
        assert_eq!((laid.strips.len(), laid.rolls), (1, 2));
    }
}
