//! Set-out and levels, corner by corner: ties from the base line, levels of every layer, ground
//! and rod readings. Millimetres.

use crate::geom::Point;
use crate::levels::{CornerTies, LayerLevels, Readings};

/// One row of the set-out table.
#[derive(Clone, Debug, PartialEq)]
pub struct SetoutRow {
    /// The corner's name.
    pub corner: String,
    /// Where it is.
    pub at: Point,
    /// Tape ties from the two ends of the base line.
    pub ties: CornerTies,
    /// Levels of the layers; the deeper formation where build-ups meet.
    pub levels: LayerLevels,
    /// Existing ground, when spot levels are given.
    pub ground: Option<f64>,
    /// Rod readings, when the instrument's height is given.
    pub readings: Option<Readings>,
    /// Datum less level of each layer, when a datum is given but no instrument's height: what to add
    /// to the day's reading on the datum to get the reading on the layer.
    pub from_datum: Option<Readings>,
}
