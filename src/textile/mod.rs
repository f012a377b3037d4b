//! Geotextile over the dig: strips, laps, roll length.
//!
//! In: the dig outline, two directions square to each other and what the job says. Out: strips
//! the way that needs the least roll. Millimetres.

pub mod cutting;
mod strips;

pub use strips::{lay, lay_along};

use crate::geom::{Shape, Vector};

/// What the job says of the geotextile. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextileSpec {
    /// Width of the roll.
    pub roll_width: f64,
    /// Length of the roll.
    pub roll_length: f64,
    /// Lap of neighbouring strips.
    pub overlap: f64,
    /// Mass of a roll, kg.
    pub roll_mass: f64,
    /// How far it turns up the sides of the dig.
    pub turn_up: f64,
}

/// Geotextile as laid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Textile {
    /// Unit vector the strips run along.
    pub along: Vector,
    /// The strips in order across.
    pub strips: Vec<Strip>,
    /// Roll used: the sum of the pieces' lengths.
    pub roll_mm: f64,
    /// Rolls that the pieces can be cut from, first fit in decreasing order.
    pub rolls: usize,
    /// Area of textile used: roll length times roll width, laps included, in square millimetres.
    pub area_mm2: f64,
    /// Area of the dig that it covers, in square millimetres.
    pub covered_mm2: f64,
}

/// One strip across the dig.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Its outline on plan in the site frame, turn-up left out; neighbours overlap by the lap.
    pub outline: Shape,
    /// Its length, turn-up at both ends and laps of its pieces included.
    pub length_mm: f64,
    /// The pieces it is cut in: one, unless it is longer than a roll.
    pub pieces: Vec<f64>,
}
