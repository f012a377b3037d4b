//! The laid base: courses and pieces, as `lay` finds them and everything later reads them.
//!
//! Millimetres. Outlines are in the site frame; places and sizes are in the frame of the start
//! corner, `u` along the courses and `v` from course to course.

use crate::geom::{Frame, Point, Shape};

/// One part of the base with its panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The frame the courses are laid in.
    pub frame: Frame,
    /// The courses that hold a piece, by number.
    pub courses: Vec<Course>,
    /// All the pieces, by course and position.
    pub pieces: Vec<Piece>,
}

/// One course of panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Its number, from 1.
    pub number: usize,
    /// Which course from the start line it is: 0 at the start corner, negative behind the line.
    pub index: i64,
    /// Where it starts across the courses; it is one panel's width wide.
    pub v0: f64,
    /// How far its cells are shifted forward from the start corner: from 0 to one cell's length.
    pub shift_mm: f64,
    /// Length along the course of its first piece.
    pub first_length_mm: f64,
    /// Whether the length of its first piece is stated as laid.
    pub as_laid: bool,
    /// Its pieces, as indices into `Layout::pieces`.
    pub pieces: std::ops::Range<usize>,
}

/// One laid panel, whole or trimmed.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Number of its course, from 1.
    pub course: usize,
    /// Its place in the course, from 1 at the start side.
    pub position: usize,
    /// Its outline in the site frame.
    pub shape: Shape,
    /// Local `(u, v)` of the panel it is cut from: the panel's corner nearest the start.
    pub cell: [f64; 2],
    /// Least `u` of the piece.
    pub x_mm: f64,
    /// Least `v` of the piece.
    pub y_mm: f64,
    /// Extent along the course.
    pub length_mm: f64,
    /// Extent across the course.
    pub width_mm: f64,
    /// Area, in square millimetres.
    pub area_mm2: f64,
    /// Whether nothing of the panel is cut away (tolerance 0.5 mm).
    pub whole: bool,
    /// The cuts to mark on the panel; none for a whole panel.
    pub cuts: Vec<Cut>,
    /// Least width of the piece's convex hull.
    pub narrowest_mm: f64,
}

/// One cut, as it is marked on the panel: points in millimetres along the panel and across it,
/// from the panel's corner nearest the start. Two points for a straight cut; more along a curve
/// or round a corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The points in order.
    pub points: Vec<[f64; 2]>,
    /// Length along the cut.
    pub length_mm: f64,
}

impl Piece {
    /// The mark that is written on the panel: course and position, `3-2`.
    pub fn mark(&self) -> String {
        format!("{}-{}", self.course, self.position)
    }

    /// Where the middle of the piece's bounding box lies on site.
    pub fn middle(&self, frame: &Frame) -> Point {
        frame.to_site(
            self.x_mm + self.length_mm / 2.0,
            self.y_mm + self.width_mm / 2.0,
        )
    }
}

impl Layout {
    /// Numbers the courses, and their pieces with them, on from the courses of another part.
    pub fn number_from(&mut self, before: usize) {
        for course in &mut self.courses {
            course.number += before;
        }
        for piece in &mut self.pieces {
            piece.course += before;
        }
    }

    /// How many pieces are whole panels.
    pub fn whole(&self) -> usize {
        self.pieces.iter().filter(|piece| piece.whole).count()
    }

    /// The narrowest of the pieces' narrowest widths; `None` with nothing laid.
    pub fn narrowest_mm(&self) -> Option<f64> {
        let widths = self.pieces.iter().map(|piece| piece.narrowest_mm);
        widths.min_by(f64::total_cmp)
    }
}
