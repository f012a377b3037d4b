//! The dig: formation, depth, cut and fill, spoil and loads.

use crate::levels::{DigPart, Earthwork};

/// The dig.
#[derive(Clone, Debug)]
pub struct Dig {
    /// The parts of the dig: where each area's finish, produced, and build-up hold. One per area,
    /// in order.
    pub parts: Vec<DigPart>,
    /// Volumes and depths.
    pub earthwork: Earthwork,
    /// Volumes and depths of each part; `None` for an area that shares its dig with those before.
    pub by_area: Vec<Option<Earthwork>>,
    /// Spoil, loosened, in cubic metres.
    pub spoil_loose_m3: f64,
    /// Whole loads of spoil.
    pub loads: u64,
}

/// Less fill than this is rounding noise, in cubic metres.
const NO_FILL: f64 = 1e-6;

impl Dig {
    /// Fill to bring in, in cubic metres in place; none where the formation nowhere stands above
    /// the ground, or the ground is not known.
    pub fn fill_m3(&self) -> Option<f64> {
        self.earthwork.fill_m3.filter(|fill| *fill > NO_FILL)
    }
}
