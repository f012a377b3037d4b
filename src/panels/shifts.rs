//! How far the cells of each course are shifted forward.
//!
//! In: the stagger or the stated starts of the courses, and the outline that these are measured
//! from. Out: a shift of 0 to one cell's length for any course, ahead of the start line or behind
//! it. Millimetres. A stated start longer than a panel is refused by the reader of the job; here it
//! is taken round by the cell.

use std::collections::BTreeMap;

use super::PanelsSpec;
use super::sides::Sides;

/// How far the cells of each course are shifted forward.
pub(super) struct Shifts {
    /// By course from the start corner's.
    listed: BTreeMap<i64, f64>,
    stagger: f64,
    cell: f64,
}

impl Shifts {
    pub(super) fn new(spec: &PanelsSpec, sides: &Sides) -> Self {
        let panel = &spec.panel;
        let listed = spec.course_starts.iter().map(|(&index, start)| {
            let v0 = index as f64 * (panel.width + panel.joint);
            // an empty course is measured from the start corner
            let edge = sides.within(v0, v0 + panel.width).least_u().unwrap_or(0.0);
            (index as i64, edge + start + panel.joint)
        });
        Self {
            listed: listed.collect(),
            stagger: spec.stagger,
            cell: panel.length + panel.joint,
        }
    }

    pub(super) fn of(&self, index: i64) -> f64 {
        // behind the start line courses go back from the start corner's
        let before = self.listed.range(..=index.max(0)).next_back();
        let (at, from) = before.map_or((0, 0.0), |(at, from)| (*at, *from));
        let shift = (from + (index - at) as f64 * self.stagger).rem_euclid(self.cell);
        // a shift that rounding leaves just under or over a whole cell is none
        if self.cell - shift < 1e-6 || shift < 1e-6 {
            0.0
        } else {
            shift
        }
    }
}
