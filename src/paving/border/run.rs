//! Pavers of a border course along a straight stretch: how many, and where each begins.
//!
//! In: the paver's side along the edge, the joint, the length; millimetres. Out: the run, the last
//! two alike where less than half of one would be left.

use crate::paving::bond::TOLERANCE;

/// A remainder of less than this share of a paver's face is shared with the paver before it, so that
/// both are more than half. Common practice, no source.
const LEAST_LAST: f64 = 0.5;

/// Pavers one after the other along a straight stretch, from its start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Run {
    /// How many, the cut ones among them.
    pub(super) count: usize,
    /// Side of a paver and joint together.
    pub(super) pitch: f64,
    /// Width that is left of each of the last two, where they share what is left for them.
    pub(super) shared: Option<f64>,
    pub(super) joint: f64,
}

impl Run {
    /// Pavers of a face along a length, a joint between each and the next.
    pub(super) fn new(face: f64, joint: f64, length: f64) -> Self {
        let pitch = face + joint;
        let count = ((length - TOLERANCE) / pitch).floor().max(-1.0) as i64 + 1;
        let left = length - (count - 1) as f64 * pitch;
        let short = count > 1 && left < LEAST_LAST * face;
        Self {
            count: count.max(0) as usize,
            pitch,
            shared: short.then_some((face + left) / 2.0),
            joint,
        }
    }

    /// How far from the start a paver begins.
    pub(super) fn from(&self, number: usize) -> f64 {
        match self.shared {
            Some(width) if number + 1 == self.count => {
                (number - 1) as f64 * self.pitch + width + self.joint
            }
            _ => number as f64 * self.pitch,
        }
    }
}
