//! Printing: typed values to the text that stands on paper. The only rounding in the program.
//!
//! In: a quantity in SI and the [`System`] to print in. Out: text with its unit, such as
//! `12′-6½″`, `3823 mm`, `12′-6½″ [3823 mm]`. Halves round away from zero; what lies within a
//! ten-millionth of a step of a half counts as a half, so that noise in the last binary digit
//! never shows. Fractions are reduced and use a fraction sign where one exists (sixteenths have
//! none). [`plain`] turns any of these texts into the spelling that a job file is written in.
//!
//! Left out: words of any language.

mod figure;
mod length;
mod spelling;
#[cfg(test)]
mod tests;

pub use length::{
    Chain, Precision, chain, length, level, rod, rod_difference, running, some, taped, without_unit,
};
pub use spelling::{FRACTION_SIGNS, plain};

use super::grouped::{in_feet, in_metric};
use super::{
    Angle, Area, CUBIC_FOOT, CUBIC_YARD, Density, Fall, Flow, Mass, POUND, Rain, SQUARE_FOOT,
    System, Volume,
};
use figure::{by_system, fixed, shortest};

/// An area: square feet to one place, or square metres to two.
pub fn area(area: Area, system: System) -> String {
    by_system(
        system,
        || format!("{} ft²", in_feet(&fixed(area.m2() / SQUARE_FOOT, 1))),
        || format!("{} m²", in_metric(&fixed(area.m2(), 2))),
    )
}

/// A volume: cubic yards or cubic metres, to two places, or three under one.
pub fn volume(volume: Volume, system: System) -> String {
    let places = |value: f64| if value.abs() < 1.0 { 3 } else { 2 };
    let yards = volume.m3() / CUBIC_YARD;
    by_system(
        system,
        || format!("{} yd³", in_feet(&fixed(yards, places(yards)))),
        || format!("{} m³", in_metric(&fixed(volume.m3(), places(volume.m3())))),
    )
}

/// A volume as it is ordered: to two places, to which the takeoff rounds it up.
pub fn ordered(volume: Volume, system: System) -> String {
    let yards = volume.m3() / CUBIC_YARD;
    by_system(
        system,
        || format!("{} yd³", in_feet(&fixed(yards, 2))),
        || format!("{} m³", in_metric(&fixed(volume.m3(), 2))),
    )
}

/// A rainfall: inches an hour to two places at most, or whole millimetres an hour.
pub fn rain(rain: Rain, system: System) -> String {
    by_system(
        system,
        || format!("{} in/h", shortest(rain.mm_per_h() / 25.4, 2)),
        || format!("{} mm/h", shortest(rain.mm_per_h(), 0)),
    )
}

/// A flow of water: gallons a minute to one place, or litres a second to two.
pub fn flow(flow: Flow, system: System) -> String {
    let gallons = flow.l_per_s() * 60.0 / 3.785_411_784;
    by_system(
        system,
        || format!("{} gal/min", fixed(gallons, 1)),
        || format!("{} l/s", fixed(flow.l_per_s(), 2)),
    )
}

/// A mass: whole pounds or kilograms, or to one place under ten.
pub fn mass(mass: Mass, system: System) -> String {
    let places = |value: f64| usize::from(value.abs() < 10.0);
    let pounds = mass.kg() / POUND;
    by_system(
        system,
        || format!("{} lb", in_feet(&fixed(pounds, places(pounds)))),
        || format!("{} kg", in_metric(&fixed(mass.kg(), places(mass.kg())))),
    )
}

/// A density: pounds per cubic foot to one place at most, or whole kilograms per cubic metre.
pub fn density(density: Density, system: System) -> String {
    let pounds = density.kg_per_m3() * CUBIC_FOOT / POUND;
    by_system(
        system,
        || format!("{} lb/ft³", shortest(pounds, 1)),
        || format!("{} kg/m³", shortest(density.kg_per_m3(), 0)),
    )
}

/// A fall in percent: `2%`, `2.08%`.
pub fn percent(fall: Fall) -> String {
    format!("{}%", shortest(fall.ratio() * 100.0, 2))
}

/// A fall in percent and by what a crew sets on a level: `2% (0.24″ per ft)`, `2% (20 mm per m)`;
/// `per` is the word between, for another language.
pub fn fall(fall: Fall, system: System, per: &str) -> String {
    let inches = || format!("{}″ {per} ft", shortest(fall.ratio() * 12.0, 2));
    let metric = || format!("{} mm {per} m", shortest(fall.ratio() * 1000.0, 1));
    let beside = match system {
        System::FeetInches => inches(),
        System::Metric => metric(),
        System::Dual => format!("{}; {}", inches(), metric()),
    };
    format!("{} ({beside})", percent(fall))
}

/// An angle in degrees, to two places at most.
pub fn angle(angle: Angle) -> String {
    format!("{}°", shortest(angle.degrees(), 2))
}

/// A plain number, to `places` at most, without trailing zeros.
pub fn number(value: f64, places: usize) -> String {
    shortest(value, places)
}
