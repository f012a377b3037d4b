//! What is delivered, what is carted away, and how often the way in is walked for it.
//!
//! In: the lines of the takeoff and the way in. Out: masses in kilograms, the items that have none,
//! and trips. The spoil counts as carted away, everything else as delivered.

use super::Line;
use crate::crew::{AccessSpec, Trips};
use crate::language::Phrase;

/// Key of the line of spoil.
pub const SPOIL: &str = "load";

/// Key of the line of soil that is kept from the dig and delivered by nobody.
pub const KEPT: &str = "backfill";

/// Masses of a job, in kilograms.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weight {
    /// Of all that is delivered and has a mass.
    pub delivered_kg: f64,
    /// Of the spoil.
    pub spoil_kg: f64,
    /// Items delivered whose mass the job gives no ground for.
    pub not_weighed: Vec<Phrase>,
}

/// The masses of the lines.
pub fn weight(lines: &[Line]) -> Weight {
    let mut weight = Weight::default();
    for line in lines {
        match line.mass_kg {
            Some(mass) if line.key == SPOIL => weight.spoil_kg += mass,
            Some(mass) => weight.delivered_kg += mass,
            None if [SPOIL, KEPT].contains(&line.key.as_str()) => {}
            None => weight.not_weighed.push(line.item.clone()),
        }
    }
    weight
}

/// The trips over the way in.
pub fn trips(weight: &Weight, access: &AccessSpec) -> Trips {
    access.trips(weight.delivered_kg, weight.spoil_kg)
}

#[cfg(test)]
mod tests {
    use super::super::lines::{lines, tests as given};
    use super::*;
    use crate::units::System;

    /// 960 pavers of 203.2 × 101.6 × 80 mm at 2300 kg/m³ weigh 3646.7 kg, 0.44 m³ of bedding at
    /// 1600 kg/m³ 704 kg, 5 pieces of restraint at 1.2 kg 6 kg. A nail of 9.525 × 254 mm holds
    /// π/4 × 9.525² × 254 = 18 099 mm³, in steel 0.1421 kg: 150 of them 21.3 kg.
    #[test]
    fn what_is_delivered_adds_up() {
        let lines = lines(&given::quantities(), &given::waste(), System::Metric);
        let weight = weight(&lines);
        let pavers = 960.0 * 0.2032 * 0.1016 * 0.08 * 2300.0;
        let nails = weight.delivered_kg - pavers - 704.0 - 6.0;
        assert!((nails - 21.31).abs() < 0.01, "{nails}");
        assert!((pavers - 3646.7).abs() < 0.1);
        assert_eq!(weight.not_weighed, Vec::<Phrase>::new());
        assert_eq!(weight.spoil_kg, 0.0);
    }
}
