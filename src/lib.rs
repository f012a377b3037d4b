//! groundsheet turns one YAML job file into the construction sheet of a paver surface on
//! lightweight base panels: plan, section, set-out and levels, takeoff, checks and the report
//! behind them.
//!
//! Data flows one way. The modules below are listed from the ground up, and a file imports only
//! from modules listed before its own (kept true by `tests/layering.rs`):
//!
//! `parallel`, `language`, `units`, `geom`, `diag`, `draw`, `export`, `survey`, `site`, `levels`,
//! `crew`, `jointing`, `textile`, `screed`, `edging`, `panels`, `paving`, `job`, `design`, `takeoff`,
//! `checks`, `report`, `sheet`, `cli`.
//!
//! Conventions, everywhere below `draw`'s side of the wall: site coordinates are millimetres in
//! `f64`, x to the right of the plan and y up the plan; levels are millimetres, up positive;
//! rings that bound an area run anticlockwise and rings that bound a hole clockwise.

pub mod checks;
pub mod cli;
pub mod crew;
pub mod design;
pub mod diag;
pub mod draw;
pub mod edging;
pub mod export;
pub mod geom;
pub mod job;
pub mod jointing;
pub mod language;
pub mod levels;
pub mod panels;
pub mod parallel;
pub mod paving;
pub mod report;
pub mod screed;
pub mod sheet;
pub mod site;
pub mod survey;
pub mod takeoff;
pub mod textile;
pub mod units;
