//! Points from field measurements: two-tape ties, station and offset, traverse; levels from a run of
//! levelling.
//!
//! In: how each named point was measured. Out: coordinates in site millimetres, with the crossing
//! angle of each tie and the misclosure of the traverse; levels, with the misclosure of the run.

pub mod levelling;
pub mod result;
pub mod solve;
pub mod spec;
pub mod suspect;
pub mod tie;
pub mod traverse;

pub use levelling::{
    Closure, Levelling, LevellingError, LevellingResult, ReducedSight, Sight, level_run,
};
pub use result::{ErrorPlace, How, Residual, Survey, SurveyError, SurveyPoint};
pub use solve::solve;
pub use spec::{Leg, Measured, PointSpec, Redundant, Traverse, Turning};
pub use suspect::{Suspect, suspect_legs, suspects};
pub use tie::{Tie, TieFault, offset, tie};
pub use traverse::{LegResult, TraverseResult};
