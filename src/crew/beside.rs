//! Person-hours of two ways to build one job, over the operations that differ.
//!
//! In: the crew's stated rates and the [`Work`] of each way, in SI. Out: [`HoursBeside`]. An
//! operation of which both ways take the same quantity is left out, whatever its rate. No planning
//! rate is used: a comparison by assumed rates would compare the assumptions.

use super::{CrewSpec, OPERATIONS, Operation, RateUnit, Work};

/// Quantities that differ by no more than this share are the same.
const SAME: f64 = 1e-9;

/// Person-hours of two ways, over what differs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HoursBeside {
    /// Each operation that differs and has a stated rate, in the order of work.
    pub by_operation: Vec<OperationBeside>,
    /// Operations that differ and for which no rate is stated, or one in a unit in which there is no
    /// quantity; in the order of work.
    pub missing: Vec<&'static str>,
}

/// Person-hours of one operation on two ways.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OperationBeside {
    /// Its key under `crew.rates`.
    pub name: &'static str,
    /// Quantity of work of each way, in `unit`.
    pub quantity: [f64; 2],
    /// The unit of the quantities and of the rate.
    pub unit: RateUnit,
    /// Person-hours per `unit`.
    pub rate: f64,
    /// Quantity × rate of each way.
    pub hours: [f64; 2],
}

impl HoursBeside {
    /// Person-hours of each way over all that differs; `None` while a rate is missing.
    pub fn total(&self) -> Option<[f64; 2]> {
        let sum = |way: usize| self.by_operation.iter().map(|each| each.hours[way]).sum();
        self.missing.is_empty().then(|| [0, 1].map(sum))
    }
}

/// The hours of two ways to build one job, where they differ.
pub fn beside(crew: &CrewSpec, work: [&Work; 2]) -> HoursBeside {
    let mut found = HoursBeside::default();
    for operation in &OPERATIONS {
        let Some(rate) = crew.rates.get(operation.name) else {
            let units = match operation.rate {
                Some(planned) => vec![planned.per],
                None => operation.units(),
            };
            if units.iter().any(|unit| differs(operation, work, *unit)) {
                found.missing.push(operation.name);
            }
            continue;
        };
        let [Some(one), Some(other)] = work.map(|work| operation.quantity(work, rate.per)) else {
            found.missing.push(operation.name);
            continue;
        };
        if differs(operation, work, rate.per) {
            found.by_operation.push(OperationBeside {
                name: operation.name,
                quantity: [one, other],
                unit: rate.per,
                rate: rate.hours,
                hours: [one, other].map(|quantity| quantity * rate.hours),
            });
        }
    }
    found
}

/// Whether the two ways take different quantities of an operation.
fn differs(operation: &Operation, work: [&Work; 2], unit: RateUnit) -> bool {
    match work.map(|work| operation.quantity(work, unit)) {
        [Some(one), Some(other)] => (one - other).abs() > SAME * one.abs().max(other.abs()),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::super::Rate;
    use super::*;
    use std::collections::BTreeMap;

    fn crew(rates: &[(&str, &str)]) -> CrewSpec {
        let rate = |text: &str| Rate::parse(text).unwrap();
        CrewSpec {
            people: 2,
            day: 8.0,
            rates: BTreeMap::from_iter(rates.iter().map(|(k, v)| ((*k).to_owned(), rate(v)))),
        }
    }

    /// 20 m² of base: panels on 1.5 m³ of cut, or 2.5 m³ of aggregate in 4 m³ of cut.
    fn ways() -> [Work; 2] {
        let panels = Work {
            paved_m2: Some(18.0),
            base_m2: Some(20.0),
            panels_m2: Some(20.0),
            aggregate_m2: Some(0.0),
            aggregate_m3: Some(0.0),
            dig_m2: Some(20.0),
            cut_m3: Some(1.5),
            spoil_m3: Some(2.0),
            ..Work::default()
        };
        let aggregate = Work {
            panels_m2: Some(0.0),
            aggregate_m2: Some(20.0),
            aggregate_m3: Some(2.5),
            cut_m3: Some(4.0),
            spoil_m3: Some(5.0),
            ..panels
        };
        [panels, aggregate]
    }

    /// Dig 1.5 × 2 = 3 and 4 × 2 = 8 h, load out 2 and 5 h, panels 20 × 0.1 = 2 h, aggregate
    /// 2.5 × 4 = 10 h: 7 and 23 h. Pavers are the same and are not counted.
    #[test]
    fn only_what_differs_is_counted() {
        let rates = [
            ("dig", "2 h per m3"),
            ("load_out", "1 h per m3"),
            ("panels", "0.1 h per m2"),
            ("aggregate", "4 h per m3"),
            ("pavers", "0.5 h per m2"),
        ];
        let [one, other] = ways();
        let found = beside(&crew(&rates), [&one, &other]);
        let names: Vec<&str> = found.by_operation.iter().map(|each| each.name).collect();
        assert_eq!(names, ["dig", "load_out", "aggregate", "panels"]);
        let [one, other] = found.total().unwrap();
        assert!((one - 7.0).abs() < 1e-12 && (other - 23.0).abs() < 1e-12);
    }

    #[test]
    fn a_rate_that_is_not_stated_is_missing_and_leaves_no_sum() {
        let [one, other] = ways();
        let found = beside(&crew(&[("dig", "2 h per m3")]), [&one, &other]);
        assert_eq!(found.missing, ["load_out", "aggregate", "panels"]);
        assert_eq!(found.total(), None);
        // the dig's area is the same, so that a rate per area makes no difference
        let found = beside(&crew(&[("dig", "0.2 h per m2")]), [&one, &other]);
        assert_eq!(found.by_operation, []);
    }
}
