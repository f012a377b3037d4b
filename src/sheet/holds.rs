//! Hold points: where the work stops until it has been measured, how near it must be, whose rule
//! that is, and room to write what was found.
//!
//! In: design. Out: a block with a table. Published tolerances are those of interlocking concrete
//! pavements; the others are common practice, no source, and the table says so.

use super::column::Block;
use super::table::{Align, Table};
use super::words;
use crate::checks::levels::default_minimum;
use crate::checks::pavers::SLOPE;
use crate::design::Design;
use crate::language::{Phrase, say};
use crate::units::{Fall, print};

/// Short names of the published sources, as the table prints them.
mod source {
    use crate::language::{Phrase, phrase};

    /// *Construction Tolerances and Recommendations for Interlocking Concrete Pavements*.
    pub fn tolerances() -> Phrase {
        phrase!("construction tolerances, interlocking pavements")
    }
    /// UFGS 02780, unit paving.
    pub fn federal() -> Phrase {
        Phrase::own("UFGS 02780")
    }
    /// No source.
    pub fn practice() -> Phrase {
        phrase!("common practice")
    }
    /// The job itself.
    pub fn job() -> Phrase {
        phrase!("this job")
    }
}

/// The table of hold points of a design.
pub fn points(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let thin = |inch: f64, metric: f64| words::thin(design, words::stated(design, inch, metric));
    let long =
        |feet: f64, metric: f64| words::long(design, words::stated(design, feet * 12.0, metric));
    let job = &design.job;
    let stated = |mm: f64| words::thin(design, mm);
    let minimum = job.levels.minimum_fall.map(Fall::from_ratio);
    // What every check of falls asks for: of the surface, and beside a building.
    let default = Fall::from_ratio(default_minimum().max(SLOPE));
    let mut rows: Vec<(String, String, Phrase)> = vec![
        (
            say!(languages, "Corners, by the tables of the set-out"),
            format!("±{}", thin(0.125, 3.0)),
            source::practice(),
        ),
        (
            say!(languages, "Formation level, compacted"),
            format!("±{}", thin(0.5, 10.0)),
            source::practice(),
        ),
        (
            say!(languages, "Bedding, after the test patch"),
            say!(
                languages,
                "{loose} loose settles to {compacted}",
                loose = stated(job.bedding.loose),
                compacted = stated(job.bedding.compacted)
            ),
            source::job(),
        ),
        (
            say!(
                languages,
                "Level of bedding and panel tops, at every corner"
            ),
            format!("±{}", thin(0.125, 3.0)),
            source::practice(),
        ),
        (
            say!(
                languages,
                "Panel tops between corners, under a straightedge"
            ),
            say!(
                languages,
                "±{thin} in {long}",
                thin = thin(0.375, 10.0),
                long = long(10.0, 3000.0)
            ),
            source::tolerances(),
        ),
        (
            say!(languages, "Cross joints of panels"),
            say!(
                languages,
                "at least {min_stagger} apart",
                min_stagger = stated(job.panels.min_stagger)
            ),
            source::job(),
        ),
        (
            say!(languages, "Joint lines of pavers, from a string"),
            say!(
                languages,
                "±{thin} in {long}",
                thin = thin(0.5, 12.0),
                long = long(50.0, 15_000.0)
            ),
            source::tolerances(),
        ),
        (
            say!(languages, "Joint width"),
            say!(
                languages,
                "{thin} to {thin_2}",
                thin = thin(0.0625, 2.0),
                thin_2 = thin(0.1875, 5.0)
            ),
            source::tolerances(),
        ),
        (
            say!(languages, "Surface, under a straightedge"),
            say!(
                languages,
                "±{thin} in {long}",
                thin = thin(0.375, 10.0),
                long = long(10.0, 3000.0)
            ),
            source::tolerances(),
        ),
        (
            say!(languages, "Paver to paver"),
            say!(languages, "at most {thin}", thin = thin(0.125, 3.0)),
            source::tolerances(),
        ),
        (
            say!(languages, "Jointing below the top"),
            say!(languages, "at most {thin}", thin = thin(0.5, 12.0)),
            source::tolerances(),
        ),
    ];
    if design.edging.length_mm > 0.0 {
        rows.push((
            say!(languages, "Gap between pavers and restraint"),
            say!(languages, "at most {thin}", thin = thin(0.25, 6.0)),
            source::federal(),
        ));
    }
    rows.push((
        say!(languages, "Fall of the finish, with a level"),
        match minimum {
            Some(fall) => say!(languages, "at least {fall}", fall = print::percent(fall)),
            None => say!(
                languages,
                "as drawn, at least {fall}",
                fall = print::percent(default)
            ),
        },
        source::job(),
    ));
    let rims = job
        .drains
        .iter()
        .filter(|drain| drain.kind.set_down().is_some());
    if rims.count() > 0 {
        rows.push((
            say!(
                languages,
                "Rims of gullies and channels, by the drains’ table"
            ),
            format!("±{}", thin(0.125, 3.0)),
            source::practice(),
        ));
    }
    rows.push((
        say!(languages, "Surface before the first mist"),
        say!(languages, "swept, no grain left"),
        source::practice(),
    ));
    let mut table = Table::new(&[
        (
            say!(languages, "Hold: measure before going on"),
            Align::Stretch,
        ),
        (say!(languages, "Must be"), Align::Left),
        (say!(languages, "Rule"), Align::Left),
        (say!(languages, "Found"), Align::Blank),
        (say!(languages, "By"), Align::Blank),
    ]);
    for (what, within, rule) in rows {
        table.row(vec![
            what,
            within,
            rule.say(languages),
            String::new(),
            String::new(),
        ]);
    }
    Block::table(say!(languages, "Hold points"), table)
}
