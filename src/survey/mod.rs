//! Points from field measurements: two-tape ties, station and offset, traverse.
//!
//! In: how each named point was measured. Out: coordinates in site millimetres, with the crossing
//! angle of each tie and the misclosure of the traverse.

pub mod result;
pub mod solve;
pub mod spec;
pub mod tie;
pub mod traverse;

pub use result::{ErrorPlace, How, Residual, Survey, SurveyError, SurveyPoint};
pub use solve::solve;
pub use spec::{Leg, Measured, PointSpec, Redundant, Traverse, Turning};
pub use tie::{Tie, TieFault, offset, tie};
pub use traverse::{LegResult, TraverseResult};
