//! The job: what one YAML file says, resolved, with nothing left open.
//!
//! In: the text of a job file. Out: [`Job`], or every error in the file with its line and column.

mod arcs;
mod areas;
mod base;
mod blocks;
mod bonds;
mod bounds;
mod bytes;
mod datum;
mod drains;
mod finish;
mod fixed;
mod header;
mod levelling;
mod meaning;
mod measured;
pub mod model;
mod read;
mod reader;
mod refused;
#[cfg(test)]
mod said;
mod sections;
mod services;
mod shape;
mod trade;
mod tree;
mod values;

pub use model::{Assumed, Audience, Info, Job, Revision, ScaleChoice, SectionLine, SheetSpec};
pub use read::read;

/// The text of a job to start from: an invented one that is drawn as it is.
pub const STARTER: &str = include_str!("starter.yaml");
