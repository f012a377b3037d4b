//! Planning rates: person-hours per SI unit of each operation, and how a job states its own.
//!
//! In: text such as `0.3 h per m2`. Out: a [`Rate`] in SI. The planning rates are common
//! practice for hand work with small machines, no source; a sheet that uses one prints it as
//! assumed.

use super::{Rate, RateUnit, Work};
use crate::language::{Phrase, phrase};
use crate::units::{CUBIC_YARD, Misread, SQUARE_FOOT, read};

const RATE: Phrase =
    phrase!("a rate, such as 0.3 h per m2; per m, m2, m3, ft, ft2, yd3, piece or job");

/// One operation of the work.
#[derive(Clone, Copy, Debug)]
pub struct Operation {
    /// Its key under `crew.rates`.
    pub name: &'static str,
    /// What it takes in, in words.
    pub what: fn() -> Phrase,
    /// The planning rate; none for work that this kind of base never takes and that is only
    /// counted at a rate of the job's own.
    pub rate: Option<Rate>,
    quantity: fn(&Work, RateUnit) -> Option<f64>,
}

/// The operations in the order of work, with their planning rates: common practice, no source.
pub const OPERATIONS: [Operation; 15] = [
    Operation {
        name: "set_out",
        what: || phrase!("pegs, strings and levels"),
        rate: planned(RateUnit::Job, 2.0),
        quantity: |_, _| None,
    },
    Operation {
        name: "dig",
        what: || phrase!("digging and trimming the formation"),
        rate: planned(RateUnit::CubicMetre, 1.5),
        quantity: |work, unit| match unit {
            RateUnit::CubicMetre => work.cut_m3,
            RateUnit::SquareMetre => work.dig_m2,
            _ => None,
        },
    },
    Operation {
        name: "load_out",
        what: || phrase!("carrying and loading the spoil"),
        rate: planned(RateUnit::CubicMetre, 0.8),
        quantity: |work, unit| match unit {
            RateUnit::CubicMetre => work.spoil_m3,
            _ => None,
        },
    },
    Operation {
        name: "carry",
        what: || phrase!("carrying materials in"),
        // 2 km an hour there and back, loading and setting down included.
        rate: planned(RateUnit::Metre, 0.0005),
        quantity: |work, unit| match unit {
            RateUnit::Metre => work.walked_m,
            _ => None,
        },
    },
    Operation {
        name: "textile",
        what: || phrase!("cutting and laying the geotextile"),
        rate: planned(RateUnit::SquareMetre, 0.03),
        quantity: |work, unit| match unit {
            RateUnit::SquareMetre => work.dig_m2,
            _ => None,
        },
    },
    Operation {
        name: "aggregate",
        what: || phrase!("spreading and compacting an aggregate base"),
        rate: None,
        quantity: |work, unit| match unit {
            RateUnit::CubicMetre => work.aggregate_m3,
            RateUnit::SquareMetre => work.aggregate_m2,
            _ => None,
        },
    },
    Operation {
        name: "bedding",
        what: || phrase!("spreading and striking off the bedding"),
        rate: planned(RateUnit::SquareMetre, 0.1),
        quantity: |work, unit| match unit {
            RateUnit::SquareMetre => work.base_m2,
            RateUnit::CubicMetre => work.bedding_m3,
            _ => None,
        },
    },
    Operation {
        name: "panels",
        what: || phrase!("laying and trimming the base panels"),
        rate: planned(RateUnit::SquareMetre, 0.08),
        quantity: |work, unit| match unit {
            RateUnit::SquareMetre => work.panels_m2,
            RateUnit::Piece => work.panels,
            _ => None,
        },
    },
    Operation {
        name: "pavers",
        what: || phrase!("laying the pavers"),
        rate: planned(RateUnit::SquareMetre, 0.35),
        quantity: |work, unit| match unit {
            RateUnit::SquareMetre => work.paved_m2,
            RateUnit::Piece => work.pavers,
            _ => None,
        },
    },
    Operation {
        name: "cuts",
        what: || phrase!("marking and sawing pavers"),
        rate: planned(RateUnit::Metre, 0.25),
        quantity: |work, unit| match unit {
            RateUnit::Metre => work.cut_m,
            RateUnit::Piece => work.cuts,
            _ => None,
        },
    },
    Operation {
        name: "edging",
        what: || phrase!("laying and nailing the edge restraint"),
        rate: planned(RateUnit::Metre, 0.12),
        quantity: |work, unit| match unit {
            RateUnit::Metre => work.edging_m,
            RateUnit::Piece => work.edging,
            _ => None,
        },
    },
    Operation {
        name: "jointing",
        what: || phrase!("sweeping in the jointing material"),
        rate: planned(RateUnit::SquareMetre, 0.06),
        quantity: |work, unit| match unit {
            RateUnit::SquareMetre => work.paved_m2,
            RateUnit::Metre => work.joint_m,
            _ => None,
        },
    },
    Operation {
        name: "compact",
        what: || phrase!("settling the pavers"),
        rate: planned(RateUnit::SquareMetre, 0.04),
        quantity: paved,
    },
    Operation {
        name: "watering",
        what: || phrase!("wetting the joints"),
        rate: planned(RateUnit::SquareMetre, 0.02),
        quantity: paved,
    },
    Operation {
        name: "clean_up",
        what: || phrase!("sweeping, loading tools and making good"),
        rate: planned(RateUnit::Job, 2.0),
        quantity: |_, _| None,
    },
];

/// The operation of that name.
pub fn operation(name: &str) -> Option<&'static Operation> {
    OPERATIONS.iter().find(|operation| operation.name == name)
}

impl Operation {
    /// How much there is of it, counted in `unit`; `None` when that is not known or it is never
    /// counted so.
    pub fn quantity(&self, work: &Work, unit: RateUnit) -> Option<f64> {
        if unit == RateUnit::Job {
            return Some(1.0);
        }
        (self.quantity)(work, unit)
    }

    /// The units that a rate of it may be per.
    pub fn units(&self) -> Vec<RateUnit> {
        let all = Work {
            paved_m2: Some(1.0),
            base_m2: Some(1.0),
            panels_m2: Some(1.0),
            aggregate_m2: Some(1.0),
            aggregate_m3: Some(1.0),
            dig_m2: Some(1.0),
            cut_m3: Some(1.0),
            spoil_m3: Some(1.0),
            bedding_m3: Some(1.0),
            panels: Some(1.0),
            pavers: Some(1.0),
            cut_m: Some(1.0),
            cuts: Some(1.0),
            edging_m: Some(1.0),
            edging: Some(1.0),
            joint_m: Some(1.0),
            walked_m: Some(1.0),
        };
        [
            RateUnit::Job,
            RateUnit::Metre,
            RateUnit::SquareMetre,
            RateUnit::CubicMetre,
            RateUnit::Piece,
        ]
        .into_iter()
        .filter(|unit| self.quantity(&all, *unit).is_some())
        .collect()
    }
}

impl Rate {
    /// The rate that `text` says, turned into SI: `0.3 h per m2`, `1 h per yd3`, `2 h per job`.
    ///
    /// # Errors
    /// When the text is not hours per a unit, or the hours are negative or not finite.
    pub fn parse(text: &str) -> Result<Self, Misread> {
        let misread = || Misread::new(text, RATE);
        let (hours, unit) = text.split_once(" per ").ok_or_else(misread)?;
        let hours = read::hours(hours).map_err(|_| misread())?;
        let (per, size) = match unit.trim() {
            "job" => (RateUnit::Job, 1.0),
            "piece" | "paver" | "panel" | "cut" => (RateUnit::Piece, 1.0),
            "m" => (RateUnit::Metre, 1.0),
            "ft" => (RateUnit::Metre, 0.3048),
            "m2" | "m²" => (RateUnit::SquareMetre, 1.0),
            "ft2" | "ft²" => (RateUnit::SquareMetre, SQUARE_FOOT),
            "m3" | "m³" => (RateUnit::CubicMetre, 1.0),
            "yd3" | "yd³" => (RateUnit::CubicMetre, CUBIC_YARD),
            _ => return Err(misread()),
        };
        let hours = hours / size;
        if !hours.is_finite() || hours < 0.0 {
            return Err(misread());
        }
        Ok(Self { hours, per })
    }

    /// The rate as a job writes it.
    pub fn text(self) -> String {
        format!("{} h per {}", self.hours, self.per.symbol())
    }
}

const fn planned(per: RateUnit, hours: f64) -> Option<Rate> {
    Some(Rate { hours, per })
}

fn paved(work: &Work, unit: RateUnit) -> Option<f64> {
    match unit {
        RateUnit::SquareMetre => work.paved_m2,
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_planning_rate_reads_back_and_is_per_a_unit_of_its_operation() {
        for operation in &OPERATIONS {
            let Some(rate) = operation.rate else {
                assert_eq!(operation.name, "aggregate");
                continue;
            };
            assert_eq!(Rate::parse(&rate.text()).unwrap(), rate);
            assert!(operation.units().contains(&rate.per), "{}", operation.name);
        }
    }

    #[test]
    fn rates_in_feet_turn_into_si() {
        let rate = Rate::parse("0.3048 h per ft").unwrap();
        assert_eq!((rate.hours, rate.per), (1.0, RateUnit::Metre));
        for text in ["0.3", "0.3 h", "0.3 h per acre", "-1 h per m2", "3 per m2"] {
            assert!(Rate::parse(text).is_err(), "{text}");
        }
    }
}
