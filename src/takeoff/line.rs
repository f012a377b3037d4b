//! What a line of the takeoff is made of: sizes as printed, volumes, whole packs.

use super::table::unit;
use super::{Line, Pack, PackKind, Unit};
use crate::language::Phrase;
use crate::units::{Length, Precision, System, print};

/// What lies within this share of a whole number above it counts as that number.
const NOISE: f64 = 1e-9;

/// Cubic metres of a block with sides in millimetres.
pub(super) fn cubic(length: f64, width: f64, thickness: f64) -> f64 {
    length * width * thickness * 1e-9
}

/// Cubic metres of a tube of that outside diameter, wall and length in millimetres; solid where the
/// wall is half the diameter.
pub(super) fn tube(diameter: f64, wall: f64, length: f64) -> f64 {
    std::f64::consts::PI * (diameter - wall) * wall * length * 1e-9
}

/// A line that takes no waste and comes in no pack; its mass is not known.
pub(super) fn plain(
    item: Phrase,
    key: &str,
    used_for: Phrase,
    (net, unit): (f64, Unit),
    how: Phrase,
) -> Line {
    Line {
        item,
        key: key.to_owned(),
        used_for,
        net,
        unit,
        how,
        waste: None,
        order: net,
        pack: None,
        packs: None,
        mass_kg: None,
        price: None,
    }
}

/// A pack, unless it holds nothing.
pub(super) fn pack(kind: PackKind, holds: f64) -> Option<Pack> {
    (holds > 0.0).then_some(Pack { kind, holds })
}

/// The next whole number, binary noise aside.
pub(super) fn up(value: f64) -> f64 {
    (value - value.abs() * NOISE).ceil().max(0.0)
}

/// A volume in cubic metres, up to the next hundredth of the cubic yard, or on a metric sheet of
/// the cubic metre: what is printed is what is ordered, weighed and priced.
pub(super) fn ordered(m3: f64, system: System) -> f64 {
    let (size, _) = unit(Unit::CubicMetre, system);
    up(m3 / size * 100.0) / 100.0 * size
}

/// A length in millimetres, as dimensions give it.
pub(super) fn drawn(mm: f64, system: System) -> String {
    print::length(Length::from_mm(mm), system, Precision::Drawing)
}

/// A length in millimetres, as thicknesses are given.
pub(super) fn thickness(mm: f64, system: System) -> String {
    print::length(Length::from_mm(mm), system, Precision::Thickness)
}

/// Sides in millimetres, as the size of a product.
pub(super) fn size(sides: &[f64], system: System) -> String {
    let sides: Vec<String> = sides.iter().map(|mm| thickness(*mm, system)).collect();
    sides.join(" × ")
}
