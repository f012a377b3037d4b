//! The region of a panel that a piece takes.
//!
//! In: a piece in local coordinates and its panel's place. Out: the region in the panel's
//! coordinates, and whether two of them overlap. Millimetres. Convex regions are compared by
//! separating lines, others by clipping.

use super::lay::{mapped, narrowest};
use crate::geom::{Bounds, Shape, clip};

/// Regions that overlap by less than this do not overlap.
const TOLERANCE: f64 = 0.5;

/// A region of a panel.
#[derive(Clone, Debug)]
pub(super) struct Region {
    shape: Shape,
    bounds: Bounds,
    corners: Vec<[f64; 2]>,
    convex: bool,
    /// In square millimetres.
    pub(super) area: f64,
}

impl Region {
    /// The region that a piece takes of the panel at `cell`.
    pub(super) fn new(piece: &Shape, cell: [f64; 2]) -> Self {
        Self::of(mapped(piece, |at| (at.x - cell[0], at.y - cell[1]).into()))
    }

    fn of(shape: Shape) -> Self {
        let bounds = clip::bounds(&shape).expect("a laid piece has an extent");
        let corners: Vec<[f64; 2]> = shape
            .iter()
            .flat_map(|part| part.exterior().0[1..].iter())
            .map(|at| [at.x, at.y])
            .collect();
        let plain = shape.iter().all(|part| part.interiors().is_empty()) && shape.0.len() == 1;
        Self {
            convex: plain && is_convex(&corners),
            area: clip::area(&shape),
            bounds,
            corners,
            shape,
        }
    }

    /// Whether two regions overlap by more than the tolerance.
    pub(super) fn overlaps(&self, other: &Region) -> bool {
        let (a, b) = (&self.bounds, &other.bounds);
        let wide = a.max.x.min(b.max.x) - a.min.x.max(b.min.x);
        let high = a.max.y.min(b.max.y) - a.min.y.max(b.min.y);
        if wide <= TOLERANCE || high <= TOLERANCE {
            return false;
        }
        if self.convex && other.convex {
            return !parted(&self.corners, &other.corners)
                && !parted(&other.corners, &self.corners);
        }
        let both = clip::intersection(&self.shape, &other.shape);
        both.into_iter()
            .any(|part| narrowest(&geo::MultiPolygon(vec![part])) > TOLERANCE)
    }

    /// The region turned by quarters and moved to each corner of a panel, where it fits.
    pub(super) fn placements(&self, size: [f64; 2]) -> Vec<Region> {
        let mut placed = Vec::new();
        for quarter in 0..4 {
            let turned = mapped(&self.shape, |at| match quarter {
                0 => at,
                1 => (-at.y, at.x).into(),
                2 => (-at.x, -at.y).into(),
                _ => (at.y, -at.x).into(),
            });
            let bounds = clip::bounds(&turned).expect("a laid piece has an extent");
            let room = [size[0] - bounds.width(), size[1] - bounds.height()];
            if room[0] < -TOLERANCE || room[1] < -TOLERANCE {
                continue;
            }
            for [right, up] in [[0.0, 0.0], [1.0, 0.0], [0.0, 1.0], [1.0, 1.0]] {
                let by = [right * room[0] - bounds.min.x, up * room[1] - bounds.min.y];
                placed.push(Region::of(mapped(&turned, |at| {
                    (at.x + by[0], at.y + by[1]).into()
                })));
            }
        }
        placed
    }
}

/// Whether a side of the first parts it from the second but for the tolerance.
fn parted(one: &[[f64; 2]], other: &[[f64; 2]]) -> bool {
    (0..one.len()).any(|index| {
        let (a, b) = (one[index], one[(index + 1) % one.len()]);
        let side = [b[0] - a[0], b[1] - a[1]];
        let length = libm::hypot(side[0], side[1]);
        // anticlockwise: what is inside lies to the left
        length > 0.0
            && other.iter().all(|at| {
                let left = side[0] * (at[1] - a[1]) - side[1] * (at[0] - a[0]);
                left <= TOLERANCE * length
            })
    })
}

fn is_convex(corners: &[[f64; 2]]) -> bool {
    let count = corners.len();
    (0..count).all(|index| {
        let [a, b, c] = [0, 1, 2].map(|step| corners[(index + step) % count]);
        let (p, q) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
        let turn = p[0] * q[1] - p[1] * q[0];
        turn >= -1e-2 * libm::hypot(p[0], p[1]).max(libm::hypot(q[0], q[1]))
    })
}
