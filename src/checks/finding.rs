//! What a check found: its id, how it stands, the value and the limit, where, and by what source.

use crate::diag::Place;
use crate::geom::Point;

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Status {
    /// As it should be.
    Pass,
    /// Look at it.
    Warn,
    /// Must not be built so.
    Fail,
}

impl Status {
    /// The word that reports use.
    pub const fn word(self) -> &'static str {
        match self {
            Status::Pass => "pass",
            Status::Warn => "warn",
            Status::Fail => "fail",
        }
    }
}

/// What one check found in one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Stable id, such as `panels.stagger`.
    pub id: &'static str,
    /// How it stands.
    pub status: Status,
    /// One line for people, with the value and the limit in it.
    pub title: String,
    /// The value, in `unit`.
    pub value: Option<f64>,
    /// The limit, in `unit`.
    pub limit: Option<f64>,
    /// The unit of value and limit.
    pub unit: &'static str,
    /// Where in the job file.
    pub at: Option<Place>,
    /// Where on the site, in words.
    pub where_: Option<String>,
    /// Where on the plan.
    pub point: Option<Point>,
    /// The source of the rule.
    pub source: &'static str,
}
