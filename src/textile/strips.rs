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
