//! Plane geometry of the site, in millimetres, x right and y up: points, rings of straight and
//! arc edges, clipping, offsets, triangulation.
//!
//! Arcs stay arcs until something has to clip them; then they are flattened to a stated sagitta.

pub mod clip;
pub mod cross;
pub mod edge;
pub mod frame;
mod groups;
pub mod halves;
pub mod hull;
mod inside;
pub mod point;
pub mod remains;
pub mod ring;
mod sides;
mod sweep;

pub use frame::Frame;
pub use halves::Rings;
pub use hull::least_width;
pub use inside::inside;
pub use point::{Point, Vector};
pub use remains::Remains;
pub use ring::{Arc, Bounds, Edge, Ring, SelfCrossing};
pub use sweep::{Groups, each_near};

/// Farthest that a flattened arc strays from its chords, in millimetres, everywhere.
pub const SAGITTA: f64 = 0.02;

/// Flattened polygons in site millimetres: what clipping takes and gives. Exteriors run
/// anticlockwise, interiors clockwise.
pub type Shape = geo::MultiPolygon<f64>;
