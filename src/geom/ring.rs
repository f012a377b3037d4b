//! Closed rings of straight and arc edges, with exact lengths and areas.

use super::point::Point;

/// The circle an arc edge follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre of the circle.
    pub centre: Point,
    /// Radius, in millimetres.
    pub radius: f64,
    /// Whether the edge goes anticlockwise about the centre.
    pub anticlockwise: bool,
}

/// One edge of a ring: straight, or along an arc. An arc edge that ends where it starts is the
/// whole circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// The arc it follows, if it is not straight.
    pub arc: Option<Arc>,
}

/// A closed ring: each edge starts where the one before it ends, the first where the last ends.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ring {
    /// The edges in order.
    pub edges: Vec<Edge>,
}
