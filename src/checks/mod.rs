//! Checks on the finished design: one file per family, one registry. Each gives value, limit,
//! place and the source of its rule.
//!
//! Lengths are compared within 0.5 mm and falls within 0.005 %, so that a stated limit that is
//! just met passes.

pub mod base;
pub mod drains;
pub mod finding;
pub mod fitting;
pub mod kinds;
pub mod levels;
pub mod meets;
pub mod panels;
pub mod pavers;
pub mod services;
pub mod site;
pub mod survey;
pub mod water;

pub use finding::{Finding, Listed, Status, listed, numbers};

use crate::design::Design;

/// Lengths within this many millimetres count as equal.
pub(crate) const LENGTH: f64 = 0.5;
/// Falls within this ratio (0.005 %) count as equal.
pub(crate) const FALL: f64 = 0.000_05;

/// Every check, in the order they are reported.
const REGISTRY: [fn(&Design) -> Vec<Finding>; 40] = [
    survey::tie,
    survey::residual,
    survey::misclosure,
    survey::levelling,
    survey::spot,
    levels::fall,
    levels::fall_building,
    water::away,
    water::low_point,
    water::bank,
    drains::catchment,
    drains::downspout,
    fitting::sill,
    fitting::wall_clear,
    fitting::riser,
    fitting::lip,
    meets::step,
    meets::fold,
    levels::ground,
    levels::fill,
    panels::stagger,
    panels::four_corner,
    panels::narrow,
    pavers::under_joints,
    pavers::sliver,
    pavers::smallest_cut,
    pavers::joint,
    pavers::slope,
    kinds::form,
    kinds::thick_enough,
    kinds::one_thickness,
    base::extension,
    base::edging_room,
    base::nails,
    base::rail,
    base::board,
    services::dig,
    services::nails,
    site::open_at_wall,
    site::drop,
];

/// Runs every check.
pub fn run(design: &Design) -> Vec<Finding> {
    REGISTRY.iter().flat_map(|check| check(design)).collect()
}

/// A dotted key's place in the job file, or that of the nearest key around it.
fn place_of(design: &Design, key: &str) -> Option<crate::diag::Place> {
    let mut key = key;
    loop {
        if let Some(place) = design.job.places.get(key) {
            return Some(*place);
        }
        key = &key[..key.rfind(['.', '['])?];
    }
}
