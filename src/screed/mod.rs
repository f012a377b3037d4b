//! Bedding and the screed rails it is struck off on.
//!
//! In: the parts of the base, the direction of the fall of each and what the job says. Out: bedding
//! volume and mass, and the rails with their places. Millimetres unless a name says otherwise.

mod rails;
mod spec;

pub use rails::{RailGround, rails};
pub use spec::{BeddingSpec, RailsSpec};

use crate::geom::{Point, Vector};

/// Screed rails as laid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rails {
    /// The rails of each part of the base, in the order of the parts.
    pub parts: Vec<RailPart>,
    /// Length of all the runs.
    pub length_mm: f64,
    /// Pieces to bring: each run takes whole ones, and what is left of the runs is cut from shared
    /// ones.
    pub pieces: usize,
}

/// The rails of one part of the base, all in one plane.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RailPart {
    /// Down the fall, a unit vector.
    pub downhill: Vector,
    /// The rails, from the left of the fall to its right.
    pub rails: Vec<Rail>,
    /// The widest distance between neighbouring rails; `None` where there are not two.
    pub spacing_mm: Option<f64>,
}

impl RailPart {
    /// Length of all its runs.
    pub fn length_mm(&self) -> f64 {
        self.rails.iter().map(|rail| rail.length_mm).sum()
    }
}

impl Rails {
    /// Every rail, part by part.
    pub fn all(&self) -> impl Iterator<Item = &Rail> {
        self.parts.iter().flat_map(|part| &part.rails)
    }

    /// Every run of every rail.
    pub fn runs(&self) -> impl Iterator<Item = [Point; 2]> {
        self.all().flat_map(|rail| rail.runs.iter().copied())
    }

    /// The widest distance between neighbouring rails of any part; `None` where none has two.
    pub fn widest_mm(&self) -> Option<f64> {
        let spacings = self.parts.iter().filter_map(|part| part.spacing_mm);
        spacings.max_by(f64::total_cmp)
    }

    /// The distance between neighbouring rails where it is the same in every part.
    pub fn spacing_mm(&self) -> Option<f64> {
        let widest = self.widest_mm()?;
        let mut spacings = self.parts.iter().filter_map(|part| part.spacing_mm);
        let alike = spacings.all(|spacing| widest - spacing <= rails::TOLERANCE);
        alike.then_some(widest)
    }
}

/// One rail: a line down the fall, in one run or, where the base is cut into, several.
#[derive(Clone, Debug, PartialEq)]
pub struct Rail {
    /// Distance across the fall from the leftmost line of its part of the base, looking down the
    /// fall.
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
