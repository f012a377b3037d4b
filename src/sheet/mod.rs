//! Composition: which views stand on which sheet, at which scale, and everything that is drawn
//! and lettered on them.
//!
//! In: the computed design, the takeoff and the findings of the checks. Out: sheets of the
//! display list, in paper millimetres, y down. What does not fit at full lettering goes to a
//! further sheet; lettering is never smaller than 2.5 mm.

pub mod assumed;
pub mod assumed_words;
pub mod bid;
pub mod build_up;
pub mod chains;
pub mod column;
pub mod compose;
pub mod content;
pub mod cutting;
pub mod detail;
pub mod dimension;
pub mod figure;
pub mod flow;
pub mod frame;
pub mod from_cautions;
pub mod from_checks;
pub mod from_detail;
pub mod from_earth;
pub mod from_levels;
pub mod from_panels;
pub mod from_plan;
pub mod from_section;
pub mod from_setout;
pub mod from_stakes;
pub mod from_survey;
pub mod from_text;
pub mod from_water;
pub mod from_work;
pub mod hatch;
pub mod holds;
pub mod hours;
pub mod key_plan;
pub mod keyed;
pub mod labels;
pub mod layout;
pub mod legend;
pub mod lettering;
pub mod model;
pub mod notes;
pub mod once;
mod part_chains;
pub mod paver_plan;
pub mod pen;
pub mod plan;
pub mod plan_marks;
pub mod section;
pub mod setout_plan;
pub mod shift;
pub mod signs;
pub mod split;
pub mod standing;
pub mod strips;
pub mod surface;
pub mod symbol;
pub mod table;
pub mod theme;
pub mod tile;
pub mod title_block;
mod title_fields;
pub mod window;
pub mod words;

pub use compose::{Composed, compose, composed};

#[cfg(test)]
mod said;
#[cfg(test)]
mod sample;
#[cfg(test)]
mod tests;
