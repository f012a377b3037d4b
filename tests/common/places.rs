//! Where things are laid.

use groundsheet::geom::{Frame, Point, Vector};

/// A frame that is not turned, with its origin at a point.
pub fn upright(x: f64, y: f64) -> Frame {
    Frame {
        origin: Point::new(x, y),
        u: Vector::new(1.0, 0.0),
        v: Vector::new(0.0, 1.0),
    }
}
