//! The region of a panel that a piece takes.
//!
//! In: a piece in local coordinates and its panel's place. Out: the region in the panel's
//! coordinates, and whether two of them overlap. Millimetres. Most are told apart on a raster;
//! of the rest, convex regions are compared by separating lines, others slab by slab. Regions that
//! pass share nothing wider than 0.71 mm, see [`super::slabs`].

use std::cell::OnceCell;

use super::lay::mapped;
use super::sharing::Raster;
use super::slabs::{Slabs, parted};
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
    /// Made when first asked for: most are never compared so closely.
    slabs: OnceCell<Slabs>,
    raster: OnceCell<Raster>,
    /// Size of the panel.
    size: [f64; 2],
    /// In square millimetres.
    pub(super) area: f64,
}

impl Region {
    /// The region that a piece takes of the panel at `cell`, `size` along and across.
    pub(super) fn new(piece: &Shape, cell: [f64; 2], size: [f64; 2]) -> Self {
        let shape = mapped(piece, |at| (at.x - cell[0], at.y - cell[1]).into());
        Self::of(shape, size)
    }

    fn of(shape: Shape, size: [f64; 2]) -> Self {
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
            slabs: OnceCell::new(),
            raster: OnceCell::new(),
            size,
            bounds,
            corners,
            shape,
        }
    }

    /// The region on the raster of the panel.
    pub(super) fn raster(&self) -> &Raster {
        self.raster.get_or_init(|| {
            let lines = clip::rings(&self.shape).flat_map(|ring| ring.lines());
            let sides: Vec<[[f64; 2]; 2]> = lines
                .map(|line| [[line.start.x, line.start.y], [line.end.x, line.end.y]])
                .collect();
            Raster::new(&sides, self.size)
        })
    }

    fn slabs(&self) -> &Slabs {
        self.slabs.get_or_init(|| Slabs::of(&self.shape))
    }

    /// Whether two regions overlap by more than the tolerance.
    pub(super) fn overlaps(&self, other: &Region) -> bool {
        let (a, b) = (&self.bounds, &other.bounds);
        let wide = a.max.x.min(b.max.x) - a.min.x.max(b.min.x);
        let high = a.max.y.min(b.max.y) - a.min.y.max(b.min.y);
        if wide <= TOLERANCE || high <= TOLERANCE {
            return false;
        }
        if let Some(overlap) = self.raster().overlaps(other.raster()) {
            return overlap;
        }
        if self.convex && other.convex {
            return !parted(&self.corners, &other.corners, TOLERANCE)
                && !parted(&other.corners, &self.corners, TOLERANCE);
        }
        self.slabs().overlap(other.slabs(), TOLERANCE)
    }

    /// Its corners on a grid of a thousandth of a millimetre: regions of one form are the same.
    pub(super) fn form(&self) -> Vec<[i64; 2]> {
        let on_grid = |at: f64| libm::round(at * 1000.0) as i64;
        let corners = clip::rings(&self.shape).flat_map(|ring| ring.coords());
        corners.map(|at| [on_grid(at.x), on_grid(at.y)]).collect()
    }

    /// The region as a shape in the panel's coordinates.
    pub(super) fn shape(&self) -> &Shape {
        &self.shape
    }

    /// Where the region fits a panel beside what is cut from it already: turned by quarters, each
    /// way against the panel's sides or against the box round one of the others. The first of
    /// them that overlaps nothing, with its quarters anticlockwise.
    pub(super) fn placed(&self, size: [f64; 2], others: &[&Region]) -> Option<(u32, Region)> {
        for quarters in 0..4 {
            let turned = mapped(&self.shape, |at| match quarters {
                0 => at,
                1 => (-at.y, at.x).into(),
                2 => (-at.x, -at.y).into(),
                _ => (at.y, -at.x).into(),
            });
            let bounds = clip::bounds(&turned)?;
            let own = [bounds.width(), bounds.height()];
            if own[0] > size[0] + TOLERANCE || own[1] > size[1] + TOLERANCE {
                continue;
            }
            let places = |axis: usize| {
                let span = |other: &Region| match axis {
                    0 => [other.bounds.min.x, other.bounds.max.x],
                    _ => [other.bounds.min.y, other.bounds.max.y],
                };
                let beside = others.iter().flat_map(|other| {
                    let [low, high] = span(other);
                    [high, low - own[axis]]
                });
                let room = (size[axis] - own[axis]).max(0.0);
                let mut places: Vec<f64> = [0.0, room]
                    .into_iter()
                    .chain(beside)
                    .filter(|at| (0.0..=room).contains(at))
                    .collect();
                places.sort_by(f64::total_cmp);
                places.dedup_by(|a, b| (*a - *b).abs() < TOLERANCE);
                places
            };
            for right in places(0) {
                for up in places(1) {
                    let by = [right - bounds.min.x, up - bounds.min.y];
                    let moved = mapped(&turned, |at| (at.x + by[0], at.y + by[1]).into());
                    let region = Self::of(moved, size);
                    if !others.iter().any(|other| region.overlaps(other)) {
                        return Some((quarters, region));
                    }
                }
            }
        }
        None
    }
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
