//! The panels' sheet from the computed design: where each course starts, what a search for the
//! layout gained, cross joints too close with what puts them right, the cutting list.
//!
//! In: design, the plan with its numbers. Out: blocks of the further sheet, in the order the crew needs them.

use super::column::{Block, Entry};
use super::model::PlanModel;
use super::table::{Align, Table};
use super::words::long;
use super::{cutting, strips};
use crate::design::{BasePart, Design};
use crate::language::{Phrase, phrase, say};
use crate::panels::{Best, Run};

/// The blocks of the panels' sheet.
pub fn blocks(design: &Design, plan: &PlanModel) -> Vec<Block> {
    let mut blocks: Vec<Block> = strips::block(design).into_iter().collect();
    blocks.push(starts(design));
    blocks.extend(too_close(design, plan));
    blocks.extend(cutting::blocks(design));
    blocks
}

/// How to start each course, on every part of the base; after a search what it gained too.
fn starts(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let mut entries = Vec::new();
    for part in &design.base {
        for words in part
            .best
            .iter()
            .flat_map(|best| searched(design, part, best))
        {
            entries.push(Entry::plain(languages.lines(&words)));
        }
    }
    let mut table = Table::new(&[
        (say!(languages, "Course"), Align::Right),
        (say!(languages, "First piece"), Align::Right),
        (say!(languages, "Its width"), Align::Right),
        (say!(languages, "Pieces"), Align::Right),
        (say!(languages, "Last piece"), Align::Right),
    ]);
    for part in &design.base {
        for course in &part.layout.courses {
            let pieces = &part.layout.pieces[course.pieces.clone()];
            let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else {
                continue;
            };
            table.row(vec![
                course.number.to_string(),
                long(design, course.first_length_mm),
                long(design, first.width_mm),
                pieces.len().to_string(),
                long(design, last.length_mm),
            ]);
        }
    }
    entries.push(Entry::Table(table));
    Block::paragraphs(say!(languages, "Course starts"), entries)
}

/// The cross joints that come too close, by their numbers on the plan, and what puts each right.
fn too_close(design: &Design, plan: &PlanModel) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let crosses = &design.cross_joints.crosses;
    let mut table = Table::new(&[
        (say!(languages, "No."), Align::Right),
        (say!(languages, "Courses"), Align::Left),
        (say!(languages, "Apart"), Align::Right),
        (say!(languages, "Puts it right"), Align::Stretch),
    ]);
    let numbered: Vec<_> = plan.troubles.iter().filter(|t| t.fault.is_some()).collect();
    for trouble in &numbered {
        let fault = trouble.fault.and_then(|fault| crosses.get(fault - 1));
        let Some(cross) = fault else { continue };
        let [before, next] = cross.courses;
        let right = match cross.remedy {
            Some(remedy) => say!(
                languages,
                "begin course {course} with a panel {first} long",
                course = remedy.course,
                first = long(design, remedy.first_mm)
            ),
            None => say!(languages, "no trim of a first panel"),
        };
        table.row(vec![
            trouble.words(),
            say!(languages, "{before} and {next}", before, next),
            long(design, cross.offset_mm),
            right,
        ]);
    }
    let mut entries = vec![Entry::plain(languages.lines(&phrase!(
        "Put right the first course first, then look again: its joints move, and those of the courses laid on from it."
    )))];
    if crosses.len() > numbered.len() {
        entries.push(Entry::strong(
            "",
            languages.lines(&phrase!(
                "Numbered are the first {count} of {all} places.",
                count = numbered.len(),
                all = crosses.len()
            )),
        ));
    }
    let any = !table.rows.is_empty();
    entries.push(Entry::Table(table));
    let title = say!(languages, "Cross joints too close");
    any.then(|| Block::paragraphs(title, entries))
}

/// What a search found for a part of the base: how courses run and start, and what that gains.
fn searched(design: &Design, part: &BasePart, best: &Best) -> Vec<Phrase> {
    let long = |mm: f64| long(design, mm);
    let numbers = part.layout.courses.iter().map(|course| course.number);
    let (Some(first), Some(last)) = (numbers.clone().min(), numbers.max()) else {
        return Vec::new();
    };
    let run = match best.laying.run {
        Run::Along => phrase!("along the start edge"),
        Run::Square => phrase!("square to the start edge"),
    };
    let laid = phrase!(
        "Courses {first} to {last} run {run}, each {stagger} on from the one before.",
        first,
        last,
        run,
        stagger = long(best.laying.stagger)
    );
    let [along, across] = best.laying.shift;
    let mut words = vec![laid];
    if along.abs() > 0.5 || across.abs() > 0.5 {
        words.push(phrase!(
            "The first panel's corner would lie {along} behind the start corner along the courses, {across} behind it across them.",
            along = long(-along),
            across = long(-across)
        ));
    }
    let (found, plain) = (best.score, best.fixed);
    let tried = best.tried;
    words.push(if found == plain {
        phrase!(
            "{tried} layouts tried; none is better than the one stated.",
            tried
        )
    } else {
        phrase!(
            "{tried} layouts tried. Panels to buy {buy} instead of {plain_buy}, trimmed {trimmed} instead of {plain_trimmed}, narrowest piece {narrowest} instead of {plain_narrowest}.",
            tried,
            buy = found.buy,
            plain_buy = plain.buy,
            trimmed = found.trimmed,
            plain_trimmed = plain.trimmed,
            narrowest = long(found.narrowest_mm),
            plain_narrowest = long(plain.narrowest_mm)
        )
    });
    words
}
