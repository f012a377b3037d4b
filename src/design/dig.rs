//! The dig: formation, depth, cut and fill, spoil and loads.

use crate::geom::Shape;
use crate::levels::Plane;

/// The dig.
#[derive(Clone, Debug)]
pub struct Dig {
    /// The parts of the dig with the formation under each.
    pub parts: Vec<DigPart>,
    /// Lowest and highest formation level, in millimetres.
    pub formation_mm: [f64; 2],
    /// Depth below existing ground.
    pub depth_mm: Depth,
    /// Cut in place, in cubic metres.
    pub cut_m3: f64,
    /// Fill to bring in, in cubic metres; `None` when no spot levels are given.
    pub fill_m3: Option<f64>,
    /// Spoil, loosened, in cubic metres.
    pub spoil_loose_m3: f64,
    /// Whole loads of spoil.
    pub loads: u32,
    /// Share of the dig outside the spots' hull; `None` when no spot levels are given.
    pub extrapolated_share: Option<f64>,
}

/// One part of the dig: where one area's formation holds.
#[derive(Clone, Debug)]
pub struct DigPart {
    /// Index of the area.
    pub area: usize,
    /// Its outline.
    pub shape: Shape,
    /// The formation.
    pub formation: Plane,
}

/// Depth of the dig, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[expect(missing_docs, reason = "each is the word itself")]
pub struct Depth {
    pub min: f64,
    pub mean: f64,
    pub max: f64,
}
