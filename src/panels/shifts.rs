//! How far the cells of each course are shifted forward.
//!
//! In: the stagger or the stated starts of the courses, and the outline that these are measured
//! from. Out: a shift of 0 to one cell's length for any course, ahead of the start line or behind
//! it. Millimetres. A stated start longer than a panel is refused by the reader of the job; here it
//! is taken round by the cell.

use super::PanelsSpec;
use super::sides::Sides;

/// How far the cells of each course are shifted forward.
pub(super) struct Shifts {
    listed: Vec<f64>,
    stagger: f64,
    cell: f64,
}

impl Shifts {
    pub(super) fn new(spec: &PanelsSpec, sides: &Sides) -> Self {
        let panel = &spec.panel;
        let starts = spec.course_starts.iter().enumerate();
        let listed = starts.map(|(index, start)| {
            let v0 = index as f64 * (panel.width + panel.joint);
            // an empty course is measured from the start corner
            let edge = sides.within(v0, v0 + panel.width).least_u().unwrap_or(0.0);
            edge + start + panel.joint
        });
        Self {
            listed: listed.collect(),
            stagger: spec.stagger,
            cell: panel.length + panel.joint,
        }
    }

    pub(super) fn of(&self, index: i64) -> f64 {
        let (from, on) = match (self.listed.first(), self.listed.last()) {
            (Some(first), Some(last)) => {
                let listed = self.listed.len() as i64;
                match usize::try_from(index) {
                    Err(_) => (*first, index),
                    Ok(at) if at < self.listed.len() => (self.listed[at], 0),
                    Ok(_) => (*last, index - listed + 1),
                }
            }
            _ => (0.0, index),
        };
        let shift = (from + on as f64 * self.stagger).rem_euclid(self.cell);
        // a shift that rounding leaves just under or over a whole cell is none
        if self.cell - shift < 1e-6 || shift < 1e-6 {
            0.0
        } else {
            shift
        }
    }
}
