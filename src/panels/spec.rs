//! What the job says of the base panels. Millimetres.

use std::collections::BTreeMap;

/// Lengths of first panels as laid, by course from 0 at the start corner.
pub type CourseStarts = BTreeMap<usize, f64>;

/// A base panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelSpec {
    /// Along the course.
    pub length: f64,
    /// Across the course.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Gap between neighbouring panels.
    pub joint: f64,
}

/// How panels are laid.
#[derive(Clone, Debug, PartialEq)]
pub struct PanelsSpec {
    /// The panel.
    pub panel: PanelSpec,
    /// Shift of each course against the one before, in millimetres.
    pub stagger: f64,
    /// Closest that cross joints of neighbouring courses may come.
    pub min_stagger: f64,
    /// Narrowest piece to lay.
    pub min_piece: f64,
    /// Fixed, or searched.
    pub layout: LayoutRule,
    /// As laid: length of the first panel of some of the courses, by course from the start
    /// corner's, which is 0. A course that is not listed goes on by the stagger from the one
    /// before it.
    pub course_starts: CourseStarts,
}

/// Whether the layout is as stated or searched for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayoutRule {
    /// As the job states it.
    Fixed,
    /// The best that a search finds.
    Best,
}
