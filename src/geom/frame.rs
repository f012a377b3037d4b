//! A local frame of the site plane: an origin and two unit vectors square to each other.

use super::point::{Point, Vector};

/// The frame that courses are laid in: `u` along the start edge, `v` square to it into the paving.
/// Both are unit vectors; the frame may be left-handed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// The start corner.
    pub origin: Point,
    /// Along the courses.
    pub u: Vector,
    /// From course to course.
    pub v: Vector,
}

impl Frame {
    /// Site point of local coordinates `(u, v)` in millimetres.
    pub fn to_site(&self, u: f64, v: f64) -> Point {
        self.origin + self.u * u + self.v * v
    }

    /// Local coordinates `(u, v)` of a site point.
    pub fn to_local(&self, at: Point) -> (f64, f64) {
        let from = at - self.origin;
        (from.dot(self.u), from.dot(self.v))
    }

    /// Whether `v` lies to the right of `u` instead of to its left.
    pub fn is_mirrored(&self) -> bool {
        self.u.cross(self.v) < 0.0
    }
}
