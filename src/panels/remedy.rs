//! What the crew does about cross joints that come too close: the least trim of the later
//! course's first panel that puts it right.
//!
//! In: a layout and the two joints. Out: how much more to cut off the first panel of the later
//! course, which moves all of its joints back by as much. Millimetres.

use super::joints::TOLERANCE;
use super::{Layout, PanelsSpec};

/// What puts a course right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Remedy {
    /// Number of the course.
    pub course: usize,
    /// How much its joints move back towards the start.
    pub back_mm: f64,
    /// Length of its first panel then, along the course: a panel cut to it, or a whole one.
    pub first_mm: f64,
}

/// The least move back of the course at `at` that keeps its joints clear of those of the course
/// before it, and of the next where that is stated as laid. `joints` are one joint of the course
/// before and one of its own. None where no first piece of at least `min_piece` does.
pub(super) fn remedy(
    layout: &Layout,
    at: usize,
    joints: [f64; 2],
    spec: &PanelsSpec,
) -> Option<Remedy> {
    let panel = &spec.panel;
    let cell = panel.length + panel.joint;
    let limit = spec.min_stagger.max(2.0 * TOLERANCE);
    let course = &layout.courses[at];
    let ahead = |other: f64| (joints[1] - other).rem_euclid(cell);
    let mut ahead_of = vec![ahead(joints[0])];
    if let Some(next) = layout.courses.get(at + 1)
        && next.index == course.index + 1
        && next.as_laid
    {
        let shift = next.shift_mm - course.shift_mm;
        ahead_of.push(ahead(joints[1] + shift));
    }
    let first = |back: f64| {
        let left = (course.first_length_mm - back).rem_euclid(cell);
        if left <= TOLERANCE {
            panel.length
        } else {
            left
        }
    };
    let clear = |back: f64| {
        let far = |ahead: &f64| {
            let now = (ahead - back).rem_euclid(cell);
            now.min(cell - now) >= limit - 1e-6
        };
        let length = first(back);
        ahead_of.iter().all(far)
            && length >= spec.min_piece - 1e-6
            && length <= panel.length + TOLERANCE
    };
    // the least move lies where one of the rules is just met
    let mut moves: Vec<f64> = ahead_of
        .iter()
        .map(|ahead| (ahead + limit).rem_euclid(cell))
        .chain([(course.first_length_mm - panel.length).rem_euclid(cell)])
        .collect();
    moves.sort_by(f64::total_cmp);
    let back_mm = moves.into_iter().find(|&back| clear(back))?;
    Some(Remedy {
        course: course.number,
        back_mm,
        first_mm: first(back_mm),
    })
}
