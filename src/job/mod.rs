//! The job: what one YAML file says, resolved, with nothing left open.
//!
//! In: the text of a job file. Out: [`Job`], or every error in the file with its line and column.

pub mod model;

pub use model::{Assumed, Audience, Info, Job, Revision, ScaleChoice, SheetSpec};
