//! Levels: finish planes, build-up and formation, ground from spot levels, cut and fill, rod
//! readings and stakes. Levels are millimetres, up positive.

pub mod plane;
pub mod readings;
pub mod spec;

pub use plane::{Plane, away_from, towards};
pub use readings::{LayerLevels, Readings};
pub use spec::{BuildUp, Datum, FallDirection, FinishSpec, LevelsSpec, SillSpec, Spot};
