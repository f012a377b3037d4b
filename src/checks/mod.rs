//! Checks on the finished design: one file per family, one registry. Each gives value, limit,
//! place and the source of its rule.

pub mod finding;

pub use finding::{Finding, Status};
