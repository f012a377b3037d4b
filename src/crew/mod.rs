//! The crew: person-hours by operation and days.
//!
//! In: what the job says of the crew, and the measured [`Work`] in SI. Out: [`Hours`]: for each
//! operation quantity × rate, their sum, and the sum divided by the hours that the crew puts in
//! on one day. Left out: learning, weather, travel, and operations that run side by side.

pub mod access;
pub mod beside;
pub mod rates;

use std::collections::BTreeMap;

pub use access::{AccessSpec, Trips};
pub use beside::{HoursBeside, OperationBeside, beside};
pub use rates::{OPERATIONS, Operation, operation};

/// What the job says of the crew.
#[derive(Clone, Debug, PartialEq)]
pub struct CrewSpec {
    /// How many people.
    pub people: u32,
    /// Hours in a day.
    pub day: f64,
    /// Person-hours per unit, by operation, in SI units; only those that the job states.
    pub rates: BTreeMap<String, Rate>,
}

/// Person-hours per unit of an operation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    /// Person-hours per one `per`.
    pub hours: f64,
    /// The unit it is per.
    pub per: RateUnit,
}

/// What a rate is per, in SI.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the unit itself")]
pub enum RateUnit {
    Job,
    Metre,
    SquareMetre,
    CubicMetre,
    Piece,
}

/// The work to be done, in SI; what the job gives no ground for is `None`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Work {
    /// Paved area, m².
    pub paved_m2: Option<f64>,
    /// Area of the base, m².
    pub base_m2: Option<f64>,
    /// Area laid with panels, m².
    pub panels_m2: Option<f64>,
    /// Area of an aggregate base, m².
    pub aggregate_m2: Option<f64>,
    /// Volume of an aggregate base, in place, m³.
    pub aggregate_m3: Option<f64>,
    /// Area of the dig, m².
    pub dig_m2: Option<f64>,
    /// Cut, in place, m³.
    pub cut_m3: Option<f64>,
    /// Spoil, loose, m³.
    pub spoil_m3: Option<f64>,
    /// Bedding, loose, m³.
    pub bedding_m3: Option<f64>,
    /// Pieces of panel laid.
    pub panels: Option<f64>,
    /// Pavers laid, whole and cut.
    pub pavers: Option<f64>,
    /// Length of saw cut, m.
    pub cut_m: Option<f64>,
    /// Pavers cut.
    pub cuts: Option<f64>,
    /// Length of edge restraint, m.
    pub edging_m: Option<f64>,
    /// Pieces of edge restraint laid.
    pub edging: Option<f64>,
    /// Length of joints between pavers, m.
    pub joint_m: Option<f64>,
    /// Way walked to carry materials in and back for the next, m; nothing where the job gives no
    /// way in.
    pub walked_m: Option<f64>,
}

/// Person-hours of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Hours {
    /// Each operation that there is work for, in the order of work.
    pub by_operation: Vec<OperationHours>,
    /// Operations whose quantity in the unit of their rate is not known; not in the total.
    pub absent: Vec<&'static str>,
    /// Sum over the operations, person-hours.
    pub total: f64,
    /// `total` over people × hours in a day; not rounded.
    pub days: f64,
}

/// Person-hours of one operation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OperationHours {
    /// Its key under `crew.rates`.
    pub name: &'static str,
    /// Quantity of work, in `unit`.
    pub quantity: f64,
    /// The unit of the quantity and of the rate.
    pub unit: RateUnit,
    /// Person-hours per `unit`.
    pub rate: f64,
    /// Whether the rate is a planning rate that the job did not state.
    pub assumed: bool,
    /// Quantity × rate.
    pub hours: f64,
}

/// The hours that `work` takes `crew`. The job's reader refuses a crew of nobody and a day of
/// no hours.
pub fn hours(crew: &CrewSpec, work: &Work) -> Hours {
    let mut by_operation = Vec::new();
    let mut absent = Vec::new();
    for operation in &OPERATIONS {
        let stated = crew.rates.get(operation.name);
        let Some(rate) = stated.copied().or(operation.rate) else {
            continue;
        };
        let Some(quantity) = operation.quantity(work, rate.per) else {
            absent.push(operation.name);
            continue;
        };
        if quantity <= 0.0 {
            continue;
        }
        by_operation.push(OperationHours {
            name: operation.name,
            quantity,
            unit: rate.per,
            rate: rate.hours,
            assumed: stated.is_none(),
            hours: quantity * rate.hours,
        });
    }
    let total: f64 = by_operation.iter().map(|each| each.hours).sum();
    Hours {
        by_operation,
        absent,
        total,
        days: total / (f64::from(crew.people) * crew.day),
    }
}

impl RateUnit {
    /// The unit as a job writes it behind `h per`.
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Job => "job",
            Self::Metre => "m",
            Self::SquareMetre => "m2",
            Self::CubicMetre => "m3",
            Self::Piece => "piece",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn crew() -> CrewSpec {
        CrewSpec {
            people: 3,
            day: 8.0,
            rates: BTreeMap::from([(
                "pavers".to_owned(),
                Rate::parse("0.01 h per piece").unwrap(),
            )]),
        }
    }

    fn work() -> Work {
        Work {
            paved_m2: Some(10.0),
            base_m2: Some(12.0),
            panels_m2: Some(12.0),
            dig_m2: Some(12.0),
            cut_m3: Some(2.0),
            spoil_m3: Some(2.5),
            pavers: Some(500.0),
            cut_m: Some(0.0),
            walked_m: Some(0.0),
            ..Work::default()
        }
    }

    #[test]
    fn a_stated_rate_replaces_the_planning_rate_with_its_unit() {
        let hours = hours(&crew(), &work());
        let of = |name: &str| hours.by_operation.iter().find(|each| each.name == name);
        let pavers = of("pavers").unwrap();
        assert_eq!((pavers.hours, pavers.assumed), (5.0, false));
        assert_eq!(pavers.unit, RateUnit::Piece);
        let dig = of("dig").unwrap();
        assert_eq!((dig.quantity, dig.assumed), (2.0, true));
    }

    #[test]
    fn what_is_not_known_is_absent_and_what_is_nothing_is_left_out() {
        let hours = hours(&crew(), &work());
        assert_eq!(hours.absent, ["edging"]);
        assert!(hours.by_operation.iter().all(|each| each.name != "cuts"));
    }

    #[test]
    fn days_are_the_sum_over_what_the_crew_puts_in() {
        let hours = hours(&crew(), &work());
        let sum: f64 = hours.by_operation.iter().map(|each| each.hours).sum();
        assert!((hours.total - sum).abs() < 1e-12);
        assert!((hours.days * 24.0 - sum).abs() < 1e-12);
    }
}
