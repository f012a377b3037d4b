//! What the job says of bedding and rails.

/// What the job says of bedding. Millimetres, kilograms per cubic metre.
#[derive(Clone, Debug, PartialEq)]
pub struct BeddingSpec {
    /// The material, in words.
    pub material: String,
    /// Thickness as spread.
    pub loose: f64,
    /// Thickness once compacted.
    pub compacted: f64,
    /// Loose bulk density.
    pub density: f64,
    /// Side of the square test patch that proves how far the bedding settles.
    pub test_patch: f64,
    /// The rails.
    pub rails: RailsSpec,
}

/// What the job says of the screed rails. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RailsSpec {
    /// Outside diameter.
    pub diameter: f64,
    /// Thickness of its wall.
    pub wall: f64,
    /// Least and most distance between neighbouring rails.
    pub spacing: [f64; 2],
    /// How far inside the base's extreme lines the outer rails lie.
    pub edge: f64,
    /// Length of a rail as bought.
    pub piece: f64,
    /// Length of the board that strikes the bedding off from rail to rail.
    pub board: f64,
}
