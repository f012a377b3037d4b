//! What the job says of the edge restraint. Millimetres, kilograms.

/// What the job says of the edge restraint. Millimetres, kilograms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgingSpec {
    /// Length of a piece as bought.
    pub piece: f64,
    /// Width of its foot on the base.
    pub width: f64,
    /// Pitch of its holes.
    pub holes: f64,
    /// A nail in every n-th hole, beside the first and the last.
    pub nail_every: u32,
    /// The same on curves.
    pub curve_nail_every: u32,
    /// Length of a nail.
    pub nail: f64,
    /// Diameter of a nail.
    pub nail_diameter: f64,
    /// Mass of a piece.
    pub mass: f64,
    /// Nails in a box.
    pub nails_per_box: Option<u32>,
}
