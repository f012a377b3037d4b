//! Points from field measurements: two-tape ties, station and offset, traverse.
//!
//! In: how each named point was measured. Out: coordinates in site millimetres, with the crossing
//! angle of each tie and the misclosure of the traverse.

pub mod spec;

pub use spec::{Leg, Measured, PointSpec, Redundant, Traverse, Turning};
