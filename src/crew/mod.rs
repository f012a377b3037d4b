//! The crew: person-hours by operation and days.

use std::collections::BTreeMap;

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
