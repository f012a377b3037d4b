//! The table of the offset stakes from the computed design: where each stands, and the height of its
//! string.
//!
//! In: design. Out: a block of the sheet of set-out.

use super::column::Block;
use super::from_levels::counted_from;
use super::table::{Align, Table};
use super::words::{level, long};
use crate::design::{Design, StakeSet};
use crate::language::say;
use crate::levels::{Held, Stake};
use crate::units::{Length, print};

/// Heights within this are equal, in millimetres.
const SAME: f64 = 0.5;

/// Offset stakes and the heights of their strings; none without stakes.
pub fn table(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let set = design.field.stakes.as_ref()?;
    let mut heads = vec![
        (say!(languages, "Stake"), Align::Left),
        (say!(languages, "String"), Align::Left),
        (say!(languages, "Beyond"), Align::Left),
        (say!(languages, "Distance\nfrom corner"), Align::Right),
    ];
    let heights = height_heads(design, set);
    heads.extend(heights.into_iter().map(|head| (head, Align::Right)));
    heads.push((say!(languages, "Held by"), Align::Left));
    let mut table = Table::new(&heads);
    for ((past, stake), name) in set.stakes.iter().zip(&set.names) {
        let mut cells = vec![
            name.clone(),
            stake.edge.clone(),
            past.clone(),
            long(design, stake.from_corner),
        ];
        cells.extend(heights_of(design, set, stake));
        cells.push(match stake.held {
            Held::Stake => say!(languages, "stake"),
            Held::Face => say!(languages, "wall"),
        });
        table.row(cells);
    }
    let mut words = vec![marking(design, set), over_finish(design, set)];
    let mut planes = design.areas.iter().map(|area| &area.plane);
    let first = planes.next();
    if planes.any(|plane| Some(plane) != first) {
        words.push(say!(
            languages,
            "A string keeps that height along its own edge alone: where it runs on beside another, take the levels there from the table."
        ));
    }
    Some(Block::explained(
        say!(
            languages,
            "Offset stakes outside the dig, on the edges produced"
        ),
        &words,
        table,
    ))
}

/// The heads of the columns of heights.
fn height_heads(design: &Design, set: &StakeSet) -> Vec<String> {
    let languages = design.job.sheet.languages;
    let levels = &design.job.levels;
    if set.heights.mark.is_some() {
        return vec![say!(languages, "String above\nthe mark")];
    }
    let mut heads = vec![say!(languages, "String at\nlevel")];
    match (levels.instrument, &levels.datum) {
        (Some(_), _) => heads.push(say!(languages, "Rod on\nstring")),
        (None, Some(_)) => heads.push(say!(languages, "Add for\nstring")),
        (None, None) => {}
    }
    heads
}

/// The cells of those columns.
fn heights_of(design: &Design, set: &StakeSet, stake: &Stake) -> Vec<String> {
    let levels = &design.job.levels;
    if set.heights.mark.is_some() {
        return vec![long(design, set.above_mark(stake))];
    }
    let string = set.string(stake);
    let mut cells = vec![level(design, string)];
    match (levels.instrument, &levels.datum) {
        (Some(laser), _) => cells.push(print::rod(Length::from_mm(laser - string), levels.rod)),
        (None, Some(datum)) => cells.push(print::rod_difference(
            Length::from_mm(datum.level - string),
            levels.rod,
        )),
        (None, None) => {}
    }
    cells
}

/// Where the stakes are marked.
fn marking(design: &Design, set: &StakeSet) -> String {
    let languages = design.job.sheet.languages;
    let levels = &design.job.levels;
    let Some(mark) = set.heights.mark else {
        return say!(languages, "Mark every stake at the level of its string.");
    };
    let level = level(design, mark);
    match (levels.instrument, &levels.datum, counted_from(design)) {
        (Some(laser), ..) => say!(
            languages,
            "Mark every stake at level {level} (rod {mark}).",
            level,
            mark = print::rod(Length::from_mm(laser - mark), levels.rod)
        ),
        (None, Some(datum), _) => say!(
            languages,
            "Mark every stake at level {level} (today's reading on {name} {rod}).",
            level,
            name = datum.name,
            rod = print::rod_difference(Length::from_mm(datum.level - mark), levels.rod)
        ),
        (None, None, Some(from)) => {
            let above = mark - from.levels.finish;
            let (corner, by) = (&from.corner, long(design, above.abs()));
            if above.abs() < SAME {
                say!(
                    languages,
                    "Mark every stake at level {level}, that of the finish at {corner}.",
                    level,
                    corner
                )
            } else if above > 0.0 {
                say!(
                    languages,
                    "Mark every stake at level {level}, {above} above the finish at {corner}.",
                    level,
                    above = by,
                    corner
                )
            } else {
                say!(
                    languages,
                    "Mark every stake at level {level}, {below} below the finish at {corner}.",
                    level,
                    below = by,
                    corner
                )
            }
        }
        (None, None, None) => say!(languages, "Mark every stake at level {level}.", level),
    }
}

/// How the strings stand to the finish.
fn over_finish(design: &Design, set: &StakeSet) -> String {
    let languages = design.job.sheet.languages;
    let above = set.heights.above_finish;
    match above < SAME {
        true => say!(languages, "Strings are at finish."),
        false => say!(
            languages,
            "Strings are {above} above the finish, clear of the ground.",
            above = long(design, above)
        ),
    }
}
