//! The base outline as a list of sides, for the scan along a course.
//!
//! In: the outline in the coordinates of the start corner's frame. Out: the parts of its sides
//! within a course, their extent, and where a line along the course crosses them. Millimetres.

use crate::geom::{Shape, clip};

/// How far the outline may reach into a panel or a course before it counts as crossing it, in
/// millimetres: a unit of the grid that outlines are on, since what lies in a course was cut there.
pub(super) const TOUCH: f64 = 1e-3;

/// The outline's sides in local coordinates, or their parts within a course.
pub(super) struct Sides(pub(super) Vec<[[f64; 2]; 2]>);

impl Sides {
    pub(super) fn of(local: &Shape) -> Self {
        let rings = clip::rings(local);
        let lines = rings.flat_map(|ring| ring.lines());
        let ends = lines.map(|line| [[line.start.x, line.start.y], [line.end.x, line.end.y]]);
        Self(ends.collect())
    }

    /// The parts that reach into the course between `low` and `high`.
    pub(super) fn within(&self, low: f64, high: f64) -> Self {
        let parts = self.0.iter().filter_map(|&[a, b]| {
            let (bottom, top) = (low + TOUCH, high - TOUCH);
            if a[1].max(b[1]) <= bottom || a[1].min(b[1]) >= top {
                return None;
            }
            let at = |v: f64| {
                let share = (v - a[1]) / (b[1] - a[1]);
                [a[0] + (b[0] - a[0]) * share, v]
            };
            let end = |p: [f64; 2]| {
                if p[1] < bottom {
                    at(bottom)
                } else if p[1] > top {
                    at(top)
                } else {
                    p
                }
            };
            Some([end(a), end(b)])
        });
        Self(parts.collect())
    }

    pub(super) fn least_u(&self) -> Option<f64> {
        let ends = self.0.iter().flatten().map(|at| at[0]);
        ends.min_by(f64::total_cmp)
    }

    pub(super) fn most_u(&self) -> Option<f64> {
        let ends = self.0.iter().flatten().map(|at| at[0]);
        ends.max_by(f64::total_cmp)
    }

    /// Where the line at `v` crosses the sides, in order.
    pub(super) fn crossings(&self, v: f64) -> Vec<f64> {
        let crossing = self.0.iter().filter(|[a, b]| (a[1] > v) != (b[1] > v));
        let mut at: Vec<f64> = crossing
            .map(|[a, b]| a[0] + (b[0] - a[0]) * (v - a[1]) / (b[1] - a[1]))
            .collect();
        at.sort_by(f64::total_cmp);
        at
    }
}
