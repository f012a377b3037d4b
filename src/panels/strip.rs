//! Laying one course of panels.
//!
//! In: what of the base lies in the course, local coordinates, and how far its cells are shifted.
//! Out: its pieces in order. Millimetres. The outline is walked once to find the panels it
//! crosses; only these are clipped, the others are inside or outside as a scan along the course
//! says.

use std::collections::BTreeSet;

use geo::{LineString, MultiPolygon, Polygon};

use super::cuts::cuts;
use super::lay::{narrowest, to_site};
use super::sides::{Sides, TOUCH};
use super::{PanelsSpec, Piece};
use crate::geom::{Frame, Rings, Shape, clip};

/// What is narrower is dropped, and what is cut away narrower is not cut, in millimetres.
const TOLERANCE: f64 = 0.5;

/// One course while it is being laid.
pub(super) struct Strip<'a> {
    spec: &'a PanelsSpec,
    frame: &'a Frame,
    v0: f64,
    shift: f64,
    sides: Sides,
}

impl<'a> Strip<'a> {
    /// The course from `v0` on, its cells shifted forward; `base` is what of the base lies in it.
    pub(super) fn new(
        spec: &'a PanelsSpec,
        frame: &'a Frame,
        [shift, v0]: [f64; 2],
        base: &Rings,
    ) -> Self {
        let sides = Sides(base.sides().collect());
        Self {
            spec,
            frame,
            v0,
            shift,
            sides: sides.within(v0, v0 + spec.panel.width),
        }
    }

    /// The pieces of the course, without their numbers.
    pub(super) fn pieces(&self, base: Rings) -> Vec<Piece> {
        let panel = &self.spec.panel;
        let (Some(low), Some(high)) = (self.sides.least_u(), self.sides.most_u()) else {
            return Vec::new();
        };
        let crossed: Vec<i64> = self.crossed().into_iter().collect();
        let cells: Vec<[f64; 2]> = crossed
            .iter()
            .map(|&cell| self.start(cell))
            .map(|u0| [u0, u0 + panel.length])
            .collect();
        let mut clipped: Vec<Vec<Piece>> = vec![Vec::new(); cells.len()];
        base.each_cell(0, &cells, &mut |at, part| {
            clipped[at] = self.clipped(cells[at][0], part);
        });
        let inside = self.sides.crossings(self.v0 + panel.width / 2.0);
        let mut pieces = Vec::new();
        let mut crossed = crossed.into_iter().zip(clipped).peekable();
        for cell in self.cell_of(low)..=self.cell_of(high) {
            if let Some((_, clipped)) = crossed.next_if(|(at, _)| *at == cell) {
                pieces.extend(clipped);
                continue;
            }
            let u0 = self.start(cell);
            let middle = u0 + panel.length / 2.0;
            if inside.partition_point(|&at| at < middle) % 2 == 1 {
                pieces.push(self.whole(u0));
            }
        }
        pieces
    }

    fn cell(&self) -> f64 {
        self.spec.panel.length + self.spec.panel.joint
    }

    fn cell_of(&self, u: f64) -> i64 {
        libm::floor((u - self.shift) / self.cell()) as i64
    }

    /// Where a cell starts.
    fn start(&self, cell: i64) -> f64 {
        self.shift + cell as f64 * self.cell()
    }

    /// The cells whose panel the outline reaches into.
    fn crossed(&self) -> BTreeSet<i64> {
        let mut crossed = BTreeSet::new();
        for [a, b] in &self.sides.0 {
            let (low, high) = (a[0].min(b[0]), a[0].max(b[0]));
            for cell in self.cell_of(low - TOUCH)..=self.cell_of(high + TOUCH) {
                let u0 = self.start(cell);
                if high > u0 + TOUCH && low < u0 + self.spec.panel.length - TOUCH {
                    crossed.insert(cell);
                }
            }
        }
        crossed
    }

    fn whole(&self, u0: f64) -> Piece {
        let panel = &self.spec.panel;
        let (u1, v0, v1) = (u0 + panel.length, self.v0, self.v0 + panel.width);
        let corner = |u: f64, v: f64| {
            let at = self.frame.to_site(u, v);
            (at.x, at.y)
        };
        let start = corner(u0, v0);
        let mut ring = vec![start, corner(u1, v0), corner(u1, v1), corner(u0, v1), start];
        if self.frame.is_mirrored() {
            ring.reverse();
        }
        Piece {
            course: 0,
            position: 0,
            shape: MultiPolygon(vec![Polygon::new(LineString::from(ring), Vec::new())]),
            cell: [u0, self.v0],
            x_mm: u0,
            y_mm: self.v0,
            length_mm: panel.length,
            width_mm: panel.width,
            area_mm2: panel.length * panel.width,
            whole: true,
            cuts: Vec::new(),
            narrowest_mm: panel.length.min(panel.width),
        }
    }

    /// The pieces of a panel that the outline crosses, in order along the course; `part` is what
    /// of the base lies in it.
    fn clipped(&self, u0: f64, part: Rings) -> Vec<Piece> {
        let core = self.core(u0, &part);
        let mut pieces: Vec<Piece> = part
            .shape()
            .into_iter()
            .filter_map(|part| self.piece(u0, part, core))
            .collect();
        pieces.sort_by(|a, b| {
            let by_u = a.x_mm.total_cmp(&b.x_mm);
            by_u.then(a.y_mm.total_cmp(&b.y_mm))
        });
        pieces
    }

    /// Whether the base holds all of a panel but its rim.
    fn core(&self, u0: f64, part: &Rings) -> bool {
        let panel = &self.spec.panel;
        let ends = |low: f64, size: f64| [low + TOLERANCE, low + size - TOLERANCE];
        let (along, across) = (ends(u0, panel.length), ends(self.v0, panel.width));
        let core = (along[1] - along[0]) * (across[1] - across[0]);
        part.area() >= core && part.between(0, along).between(1, across).area() >= core - 1.0
    }

    fn piece(&self, u0: f64, part: Polygon<f64>, core: bool) -> Option<Piece> {
        let panel = &self.spec.panel;
        let shape: Shape = MultiPolygon(vec![part]);
        let narrowest_mm = narrowest(&shape);
        if narrowest_mm < TOLERANCE {
            return None;
        }
        let bounds = clip::bounds(&shape)?;
        let area_mm2 = clip::area(&shape);
        // of several parts, the one that is nearly all of it
        let size = [panel.length, panel.width].map(|side| side - 2.0 * TOLERANCE);
        let whole = core && area_mm2 >= size[0] * size[1];
        let cuts = if whole {
            Vec::new()
        } else {
            cuts(&shape, [u0, self.v0], [panel.length, panel.width])
        };
        Some(Piece {
            course: 0,
            position: 0,
            shape: to_site(&shape, self.frame),
            cell: [u0, self.v0],
            x_mm: bounds.min.x,
            y_mm: bounds.min.y,
            length_mm: bounds.width(),
            width_mm: bounds.height(),
            area_mm2,
            whole,
            cuts,
            narrowest_mm,
        })
    }
}
