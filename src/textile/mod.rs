//! Geotextile over the dig: strips, laps, roll length.

/// What the job says of the geotextile. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextileSpec {
    /// Width of the roll.
    pub roll_width: f64,
    /// Length of the roll.
    pub roll_length: f64,
    /// Lap of neighbouring strips.
    pub overlap: f64,
    /// How far it turns up the sides of the dig.
    pub turn_up: f64,
}
