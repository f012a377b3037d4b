//! What the takeoff starts from: plain figures in SI, each computed once elsewhere. A part that
//! the job has not, or gives no ground for, is `None` or empty and makes no line.

use super::drains::DrainQuantity;
use crate::language::Phrase;
use crate::paving::{Form, Search};

/// The quantities of a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Quantities {
    /// Base panels.
    pub panels: Option<PanelQuantity>,
    /// Pavers, one entry per kind, area and course; entries of one kind are ordered together.
    pub pavers: Vec<PaverQuantity>,
    /// Bedding.
    pub bedding: Option<BeddingQuantity>,
    /// Geotextile.
    pub textile: Option<TextileQuantity>,
    /// Screed rails.
    pub rails: Option<RailQuantity>,
    /// Edge restraint and its nails.
    pub edging: Option<EdgingQuantity>,
    /// Jointing material.
    pub jointing: Option<JointingQuantity>,
    /// What fills the dig beside the paving.
    pub backfill: Option<BackfillQuantity>,
    /// Channels and gullies, an entry for each size.
    pub drains: Vec<DrainQuantity>,
    /// Fill to bring in where the formation stands above the ground, in place, in m³.
    pub fill_m3: Option<f64>,
    /// Spoil to cart away.
    pub spoil: Option<SpoilQuantity>,
}

/// Base panels. Sizes in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelQuantity {
    /// Along the course.
    pub length: f64,
    /// Across the course.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Panels laid whole.
    pub whole: u64,
    /// Trimmed pieces.
    pub trimmed: u64,
    /// Panels to buy, with sharing, without waste.
    pub buy: u64,
    /// Density, kg/m³.
    pub density: f64,
}

/// Pavers of one kind in one place. Sizes in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct PaverQuantity {
    /// Name under `pavers`.
    pub kind: String,
    /// Where they lie, in words: the area, and the border course if it is one.
    pub place: Phrase,
    /// Long side.
    pub length: f64,
    /// Short side.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Pavers laid whole.
    pub whole: u64,
    /// Cut pieces, slivers among them.
    pub cut: u64,
    /// Pavers to buy, cut pieces sharing pavers where two fit, without waste.
    pub buy: u64,
    /// Pavers on one pallet, when stated.
    pub per_pallet: Option<u32>,
    /// Pavers in one layer of a pallet, when stated.
    pub per_layer: Option<u32>,
    /// Density, kg/m³.
    pub density: f64,
    /// Whether it is a paver or a slab.
    pub form: Form,
    /// What the search for the start gained, where there was one.
    pub search: Option<Search>,
}

/// Bedding.
#[derive(Clone, Debug, PartialEq)]
pub struct BeddingQuantity {
    /// The material, in words.
    pub material: String,
    /// Area of the base, m².
    pub area_m2: f64,
    /// Thickness as spread, mm.
    pub loose: f64,
    /// Loose volume, m³.
    pub loose_m3: f64,
    /// Loose bulk density, kg/m³.
    pub density: f64,
}

/// Geotextile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextileQuantity {
    /// Area of the dig that it covers, m².
    pub area_m2: f64,
    /// Strips.
    pub strips: u64,
    /// Length off the roll, m.
    pub roll_m: f64,
    /// Width of the roll, mm.
    pub roll_width: f64,
    /// Length of one roll, mm.
    pub roll_length: f64,
    /// Mass of one roll, kg.
    pub roll_mass: f64,
    /// Rolls that the pieces can be cut from, without waste.
    pub rolls: u64,
}

/// Screed rails.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RailQuantity {
    /// Rails side by side.
    pub count: u64,
    /// Their length together, m.
    pub length_m: f64,
    /// Pieces to buy.
    pub pieces: u64,
    /// Length of one piece, mm.
    pub piece: f64,
    /// Outside diameter, mm.
    pub diameter: f64,
    /// Thickness of the wall, mm.
    pub wall: f64,
}

/// Edge restraint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgingQuantity {
    /// Length to hold, m.
    pub length_m: f64,
    /// Edges it runs along.
    pub edges: u64,
    /// Pieces to buy, remainders cut from shared pieces.
    pub pieces: u64,
    /// Length of one piece, mm.
    pub piece: f64,
    /// Mass of one piece, kg.
    pub mass: f64,
    /// Nails.
    pub nails: u64,
    /// Length of a nail, mm.
    pub nail: f64,
    /// Diameter of a nail, mm.
    pub nail_diameter: f64,
    /// Nails in a box, when stated.
    pub nails_per_box: Option<u32>,
}

/// Jointing material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointingQuantity {
    /// Void to fill, m³.
    pub volume_m3: f64,
    /// Bulk density, kg/m³.
    pub density: f64,
    /// Net mass, kg.
    pub mass_kg: f64,
    /// Mass of a bag, kg.
    pub bag: f64,
    /// Bags to order, waste included.
    pub bags: u64,
}

/// Backfill beside the paving.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackfillQuantity {
    /// Area on the base's extension, m².
    pub on_base_m2: f64,
    /// Area beyond the base, m².
    pub beyond_m2: f64,
    /// All of it in place, m³.
    pub volume_m3: f64,
    /// The topsoil in it, m³.
    pub topsoil_m3: f64,
    /// Thickness of the topsoil, mm.
    pub topsoil: f64,
    /// Density of the topsoil, kg/m³.
    pub density: f64,
}

/// Spoil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpoilQuantity {
    /// Cut in place, m³.
    pub cut_m3: f64,
    /// Swell as a ratio.
    pub swell: f64,
    /// Loose volume, m³.
    pub loose_m3: f64,
    /// One load, m³.
    pub load_m3: f64,
    /// Whole loads.
    pub loads: u64,
    /// Density of the loose spoil, kg/m³.
    pub density: f64,
}
