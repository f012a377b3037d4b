//! The table of levels from the computed design: levels and rod readings by corner.
//!
//! In: design. Out: a block of the further sheets. Readings are printed in the units of the crew's
//! rod, in the order of the work, with blanks to write down what was read.

use super::column::{Block, Entry};
use super::table::{Align, Table};
use super::words::level;
use crate::design::{Design, SetoutRow};
use crate::language::{Phrase, phrase, say};
use crate::levels::{LayerLevels, Readings};
use crate::units::{Length, Rod, print};

/// How often the day's reading on the datum can be written down.
const SETUPS: u32 = 3;
/// Levels nearer than this are one, in millimetres.
const ALIKE: f64 = 0.5;

/// What the face of the rod is divided in.
fn face(rod: Rod) -> Phrase {
    match rod {
        Rod::DecimalFeet => phrase!("feet and hundredths"),
        Rod::FeetInches => phrase!("feet, inches and eighths"),
        Rod::Metric => phrase!("metres and millimetres"),
    }
}

/// The table's title, with the datum that levels are measured from and the laser's height.
fn levels_title(design: &Design) -> String {
    let languages = design.job.sheet.languages;
    let levels = &design.job.levels;
    match (&levels.datum, levels.instrument) {
        (Some(datum), Some(laser)) => say!(
            languages,
            "Levels and rod readings; datum {name} {level}; laser at {laser}",
            name = datum.name,
            level = level(design, datum.level),
            laser = level(design, laser)
        ),
        (None, Some(laser)) => {
            say!(
                languages,
                "Levels and rod readings; laser at {laser}",
                laser = level(design, laser)
            )
        }
        (Some(datum), None) => say!(
            languages,
            "Levels and rod readings; datum {name} {level}",
            name = datum.name,
            level = level(design, datum.level)
        ),
        (None, None) => say!(languages, "Levels"),
    }
}

/// What the columns of the layers give.
#[derive(Clone, Copy, PartialEq)]
enum Given {
    /// The reading of a rod under a laser of known height.
    Reading,
    /// What to add to the day's reading on the datum.
    FromDatum,
    /// The level alone.
    Level,
}

/// Levels of the layers at each corner, and the readings that set them in the order of the work.
pub fn levels(design: &Design) -> Block {
    let mut entries = Vec::new();
    let given = given(design);
    let ground = design.setout.iter().any(|row| row.ground.is_some());
    entries.extend(no_datum(design, given));
    if ground {
        entries.extend(beside_surfaces(design));
    }
    entries.extend(reading_words(design, given));
    entries.push(Entry::Table(layers(design, given, ground)));
    Block::paragraphs(levels_title(design), entries)
}

/// What the job lets its layers be set by.
fn given(design: &Design) -> Given {
    let any = |has: fn(&SetoutRow) -> bool| design.setout.iter().any(has);
    match (
        any(|row| row.readings.is_some()),
        any(|row| row.from_datum.is_some()),
    ) {
        (true, _) => Given::Reading,
        (false, true) => Given::FromDatum,
        (false, false) => Given::Level,
    }
}

/// The table: a row for each corner, one for each area where they meet at a step.
fn layers(design: &Design, given: Given, ground: bool) -> Table {
    let mut table = Table::new(&heads(design, given, ground));
    let rod = design.job.levels.rod;
    for row in &design.setout {
        for here in row.levels_of_areas() {
            let areas = design.area_names(here.areas);
            let mut cells = vec![match areas.is_empty() {
                true => row.corner.clone(),
                false => format!("{} {areas}", row.corner),
            }];
            if ground {
                cells.push(row.ground.map(|mm| level(design, mm)).unwrap_or_default());
            }
            let of = here.levels;
            if given != Given::Level {
                cells.extend([of.formation, of.finish].map(|mm| level(design, mm)));
            }
            let figures = match (here.readings, here.from_datum) {
                (Some(readings), _) => in_order(readings).map(|mm| print::rod(mm, rod)),
                (None, Some(add)) => in_order(add).map(|mm| print::rod_difference(mm, rod)),
                (None, None) => levels_in_order(of).map(|mm| level(design, mm)),
            };
            // Each figure with a blank beside it.
            cells.extend(
                figures
                    .into_iter()
                    .flat_map(|figure| [figure, String::new()]),
            );
            table.row(cells);
        }
    }
    table
}

/// The readings in the order of the work.
fn in_order(of: &Readings) -> [Length; 5] {
    [
        of.formation,
        of.rail_top,
        of.bedding,
        of.panel_top,
        of.finish,
    ]
    .map(Length::from_mm)
}

/// The levels in the order of the work, in millimetres.
fn levels_in_order(of: &LayerLevels) -> [f64; 5] {
    [
        of.formation,
        of.rail_top,
        of.bedding,
        of.panel_top,
        of.finish,
    ]
}

/// The heads of the table's columns.
fn heads(design: &Design, given: Given, ground: bool) -> Vec<(String, Align)> {
    let languages = design.job.sheet.languages;
    let mut heads = vec![(say!(languages, "Corner"), Align::Left)];
    if ground {
        heads.push((say!(languages, "Ground\nlevel"), Align::Right));
    }
    if given != Given::Level {
        heads.extend([
            (say!(languages, "Formation\nlevel"), Align::Right),
            (say!(languages, "Finish\nlevel"), Align::Right),
        ]);
    }
    let layers = match given {
        Given::Reading => [
            say!(languages, "Rod on\nformation"),
            say!(languages, "Rod on\nrail"),
            say!(languages, "Rod on\nbedding"),
            say!(languages, "Rod on\npanel"),
            say!(languages, "Rod on\nfinish"),
        ],
        Given::FromDatum => [
            say!(languages, "Add for\nformation"),
            say!(languages, "Add for\nrail"),
            say!(languages, "Add for\nbedding"),
            say!(languages, "Add for\npanel"),
            say!(languages, "Add for\nfinish"),
        ],
        Given::Level => [
            say!(languages, "Formation\nlevel"),
            say!(languages, "Rail\nlevel"),
            say!(languages, "Bedding\nlevel"),
            say!(languages, "Panel\nlevel"),
            say!(languages, "Finish\nlevel"),
        ],
    };
    for layer in layers {
        heads.push((layer, Align::Right));
        heads.push((say!(languages, "Read"), Align::Symbol));
    }
    heads
}

/// What the levels are counted from where the job names no datum.
fn no_datum(design: &Design, given: Given) -> Option<Entry> {
    let from = counted_from(design).filter(|_| given == Given::Level)?;
    Some(Entry::plain(say!(
        design.job.sheet.languages,
        "The job names no datum: the finish at {corner} counts as {level}, and every other level is set from it.",
        corner = from.corner,
        level = level(design, from.levels.finish)
    )))
}

/// The surfaces that stand over the ground beside them, each once.
fn beside_surfaces(design: &Design) -> Vec<Entry> {
    let languages = design.job.sheet.languages;
    let mut named: Vec<&str> = Vec::new();
    for fixed in &design.job.levels.fixed {
        if !named.contains(&fixed.surface.as_str()) {
            named.push(&fixed.surface);
        }
    }
    let words = named.into_iter().map(|surface| {
        Entry::plain(say!(
            languages,
            "Ground level is of the soil beside {surface}, not of its top.",
            surface
        ))
    });
    words.collect()
}

/// How the rod is read, with blanks for the day's readings on a datum.
fn reading_words(design: &Design, given: Given) -> Vec<Entry> {
    let languages = design.job.sheet.languages;
    let levels = &design.job.levels;
    let rod = face(levels.rod);
    let laser = levels.instrument.unwrap_or_default();
    match (given, &levels.datum) {
        (Given::Reading, Some(benchmark)) => vec![Entry::plain(say!(
            languages,
            "Rod readings in {rod}; on {name} the rod then reads {reading}. Where the laser stands otherwise, every reading is as much more or less as that one.",
            rod,
            name = benchmark.name,
            reading = print::rod(Length::from_mm(laser - benchmark.level), levels.rod)
        ))],
        (Given::Reading, None) => vec![Entry::plain(say!(
            languages,
            "Rod readings in {rod}. They hold for the laser at {laser} alone.",
            rod,
            laser = level(design, laser)
        ))],
        (Given::FromDatum, Some(benchmark)) => vec![
            Entry::plain(say!(
                languages,
                "Read the rod on {name} each time the laser is set up, and write it down here. Reading on a layer = that reading + the figure below; rod in {rod}.",
                name = benchmark.name,
                rod
            )),
            Entry::Table(setups(design)),
        ],
        _ => Vec::new(),
    }
}

/// Blanks for the day's readings on the datum.
fn setups(design: &Design) -> Table {
    let languages = design.job.sheet.languages;
    let mut blanks = Table::new(&[
        (say!(languages, "Set-up"), Align::Left),
        (say!(languages, "Date"), Align::Symbol),
        (say!(languages, "Reading"), Align::Symbol),
        (String::new(), Align::Stretch),
    ]);
    for number in 1..=SETUPS {
        let blank = String::new;
        blanks.row(vec![number.to_string(), blank(), blank(), blank()]);
    }
    blanks
}

/// The corner whose finish other levels are set from where the job names no datum: the first of the
/// highest, of those that have one finish where any has.
pub fn counted_from(design: &Design) -> Option<&SetoutRow> {
    let higher =
        |best: &'_ SetoutRow, row: &SetoutRow| row.levels.finish > best.levels.finish + ALIKE;
    let highest = |best, row| if higher(best, row) { row } else { best };
    let rows = design.setout.iter();
    let of_one = rows.clone().filter(|row| row.steps.is_empty());
    of_one.reduce(highest).or_else(|| rows.reduce(highest))
}
