//! Plane geometry of the site, in millimetres, x right and y up: points, rings of straight and
//! arc edges, clipping, offsets, triangulation.
//!
//! Arcs stay arcs until something has to clip them; then they are flattened to a stated sagitta.

pub mod frame;
pub mod point;
pub mod ring;

pub use frame::Frame;
pub use point::{Point, Vector};
pub use ring::{Arc, Edge, Ring};

/// Flattened polygons in site millimetres: what clipping takes and gives. Exteriors run
/// anticlockwise, interiors clockwise.
pub type Shape = geo::MultiPolygon<f64>;
