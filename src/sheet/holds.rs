//! Hold points: where the work stops until it has been measured, how near it must be, whose rule
//! that is, and room to write what was found.
//!
//! In: design. Out: a block with a table. Published tolerances are those of interlocking concrete
//! pavements; the others are common practice, no source, and the table says so.

use super::column::Block;
use super::table::{Align, Table};
use super::words;
use crate::checks::levels::default_minimum;
use crate::design::Design;
use crate::units::{Fall, print};

/// Short names of the published sources, as the table prints them.
mod source {
    /// *Construction Tolerances and Recommendations for Interlocking Concrete Pavements*.
    pub const TOLERANCES: &str = "construction tolerances, interlocking pavements";
    /// UFGS 02780, unit paving.
    pub const FEDERAL: &str = "UFGS 02780";
    /// No source.
    pub const PRACTICE: &str = "common practice";
    /// The job itself.
    pub const JOB: &str = "this job";
}

/// The table of hold points of a design.
pub fn points(design: &Design) -> Block {
    let thin = |inch: f64, metric: f64| words::thin(design, words::stated(design, inch, metric));
    let long =
        |feet: f64, metric: f64| words::long(design, words::stated(design, feet * 12.0, metric));
    let job = &design.job;
    let stated = |mm: f64| words::thin(design, mm);
    let minimum = job.levels.minimum_fall.map(Fall::from_ratio);
    let default = Fall::from_ratio(default_minimum());
    let mut rows: Vec<(&str, String, &str)> = vec![
        (
            "Corners, by tapes and diagonals",
            format!("±{}", thin(0.125, 3.0)),
            source::PRACTICE,
        ),
        (
            "Formation level, compacted",
            format!("±{}", thin(0.5, 10.0)),
            source::PRACTICE,
        ),
        (
            "Bedding, after the test patch",
            format!(
                "{} loose settles to {}",
                stated(job.bedding.loose),
                stated(job.bedding.compacted)
            ),
            source::JOB,
        ),
        (
            "Panel tops, under a straightedge",
            format!("±{} in {}", thin(0.375, 10.0), long(10.0, 3000.0)),
            source::TOLERANCES,
        ),
        (
            "Cross joints of panels",
            format!("at least {} apart", stated(job.panels.min_stagger)),
            source::JOB,
        ),
        (
            "Joint lines of pavers, from a string",
            format!("±{} in {}", thin(0.5, 12.0), long(50.0, 15_000.0)),
            source::TOLERANCES,
        ),
        (
            "Joint width",
            format!("{} to {}", thin(0.0625, 2.0), thin(0.1875, 5.0)),
            source::TOLERANCES,
        ),
        (
            "Surface, under a straightedge",
            format!("±{} in {}", thin(0.375, 10.0), long(10.0, 3000.0)),
            source::TOLERANCES,
        ),
        (
            "Paver to paver",
            format!("at most {}", thin(0.125, 3.0)),
            source::TOLERANCES,
        ),
        (
            "Jointing below the top",
            format!("at most {}", thin(0.5, 12.0)),
            source::TOLERANCES,
        ),
    ];
    if design.edging.length_mm > 0.0 {
        rows.push((
            "Gap between pavers and restraint",
            format!("at most {}", thin(0.25, 6.0)),
            source::FEDERAL,
        ));
    }
    rows.push((
        "Fall of the finish, with a level",
        match minimum {
            Some(fall) => format!("at least {}", print::percent(fall)),
            None => format!("as drawn, at least {}", print::percent(default)),
        },
        source::JOB,
    ));
    let mut table = Table::new(&[
        ("Hold: measure before going on", Align::Stretch),
        ("Must be", Align::Left),
        ("Rule", Align::Left),
        ("Found", Align::Blank),
        ("By", Align::Blank),
    ]);
    for (what, within, rule) in rows {
        table.row(vec![
            what.to_string(),
            within,
            rule.to_string(),
            String::new(),
            String::new(),
        ]);
    }
    Block::table("Hold points", table)
}
