//! Bedding and the screed rails it is struck off on.
//!
//! In: the base outline, the direction of the fall and what the job says. Out: bedding volume and
//! mass, and the rails with their places. Millimetres unless a name says otherwise.

mod rails;
mod spec;

pub use rails::rails;
pub use spec::{BeddingSpec, RailsSpec};

use crate::geom::Point;

/// Screed rails as laid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rails {
    /// The rails, from the left of the fall to its right.
    pub rails: Vec<Rail>,
    /// Distance between neighbouring rails; `None` with no rail.
    pub spacing_mm: Option<f64>,
    /// Length of all the runs.
    pub length_mm: f64,
    /// Pieces laid: each run takes whole pieces and one cut piece for what is left.
    pub pieces: usize,
    /// The pieces by length, longest first: length in millimetres and how many.
    pub by_length: Vec<(f64, usize)>,
}

/// One rail: a line down the fall, in one run or, where the base is cut into, several.
#[derive(Clone, Debug, PartialEq)]
pub struct Rail {
    /// Distance across the fall from the base's leftmost line, looking down the fall.
    pub across_mm: f64,
    /// The runs in the site frame, each from its high end to its low end.
    pub runs: Vec<[Point; 2]>,
    /// Length of the runs.
    pub length_mm: f64,
}

/// Bedding over the base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bedding {
    /// Base area in square metres.
    pub area_m2: f64,
    /// Loose volume in cubic metres: area × loose thickness.
    pub loose_m3: f64,
    /// Mass in kilograms.
    pub mass_kg: f64,
}

/// Bedding over a base of `area_mm2` square millimetres, at its loose thickness and density.
pub fn bedding(spec: &BeddingSpec, area_mm2: f64) -> Bedding {
    let area_m2 = area_mm2 / 1e6;
    let loose_m3 = area_m2 * spec.loose / 1000.0;
    Bedding {
        area_m2,
        loose_m3,
        mass_kg: loose_m3 * spec.density,
    }
}
