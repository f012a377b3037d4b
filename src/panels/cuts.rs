//! The cuts to mark on a panel.
//!
//! In: a piece in local coordinates and the panel it is cut from. Out: the lines of its outline
//! that are not the panel's own sides, in the panel's coordinates. Millimetres. Stretches that
//! follow each other are one cut, so that a curve is marked as one; the crew draws it through the
//! points.

use geo::LineString;

use super::Cut;
use crate::geom::{Shape, clip};

/// A line nearer than this to a side of the panel all along runs on it.
const TOLERANCE: f64 = 0.5;
/// Corners that turn less than this, as the sine of the turn, are points along a curve.
const STRAIGHT: f64 = 1e-6;

/// The cuts that make `piece` of the panel at `cell`, `size` along and across.
pub(super) fn cuts(piece: &Shape, cell: [f64; 2], size: [f64; 2]) -> Vec<Cut> {
    let rings = clip::rings(piece);
    rings.flat_map(|ring| ring_cuts(ring, cell, size)).collect()
}

fn ring_cuts(ring: &LineString<f64>, cell: [f64; 2], size: [f64; 2]) -> Vec<Cut> {
    let mut corners: Vec<[f64; 2]> = ring
        .coords()
        .map(|at| [at.x - cell[0], at.y - cell[1]])
        .collect();
    corners.pop();
    let count = corners.len();
    let is_cut = |index: usize| {
        let (a, b) = (corners[index % count], corners[(index + 1) % count]);
        !on_side(a, b, size)
    };
    // begin after a side of the panel, so that no cut is split where the ring starts
    let Some(start) = (0..count).find(|&index| !is_cut(index)) else {
        let mut points = corners.clone();
        points.extend(corners.first());
        return vec![cut(points)];
    };
    let mut found = Vec::new();
    let mut points: Vec<[f64; 2]> = Vec::new();
    for index in start + 1..=start + count {
        if is_cut(index) {
            if points.is_empty() {
                points.push(corners[index % count]);
            }
            points.push(corners[(index + 1) % count]);
        } else if !points.is_empty() {
            found.push(cut(std::mem::take(&mut points)));
        }
    }
    found
}

fn on_side(a: [f64; 2], b: [f64; 2], size: [f64; 2]) -> bool {
    (0..2).any(|axis| {
        [0.0, size[axis]]
            .iter()
            .any(|side| (a[axis] - side).abs() < TOLERANCE && (b[axis] - side).abs() < TOLERANCE)
    })
}

fn cut(points: Vec<[f64; 2]>) -> Cut {
    let length = |pair: &[[f64; 2]]| libm::hypot(pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]);
    let length_mm = points.windows(2).map(length).sum();
    let mut kept: Vec<[f64; 2]> = Vec::with_capacity(points.len());
    for (index, &at) in points.iter().enumerate() {
        let next = points.get(index + 1);
        if let (Some(&before), Some(&next)) = (kept.last(), next) {
            let (p, q) = (
                [at[0] - before[0], at[1] - before[1]],
                [next[0] - at[0], next[1] - at[1]],
            );
            let sine = (p[0] * q[1] - p[1] * q[0])
                / (libm::hypot(p[0], p[1]) * libm::hypot(q[0], q[1])).max(1e-12);
            if sine.abs() < STRAIGHT && p[0] * q[0] + p[1] * q[1] > 0.0 {
                continue;
            }
        }
        kept.push(at);
    }
    Cut {
        points: kept,
        length_mm,
    }
}
