//! What the checks found, as the sheet shows it: the list with its numbers, the places of the
//! numbers on the plan, and what others must design.
//!
//! In: findings. Out: a block, places on site in millimetres, cautions.

use super::column::{Block, Entry};
use super::model::Trouble;
use super::table::{Align, Row, Table};
use crate::checks::{self, Finding, Listed, Status};
use crate::design::Design;
use crate::draw::Face;
use crate::job::Audience;
use crate::language::say;
use crate::language::{Languages, Phrase, phrase};

/// Most faults of one check that are numbered one by one.
const MOST: usize = 60;

/// Most bytes of what passes in one row: some ten lines, which a table may part from the next.
const LONGEST: usize = 500;

/// Where the numbers of the list stand on the plan. Of cross joints too close
/// the first 60 are numbered, by the number of their check and their own.
pub fn troubles(design: &Design, findings: &[Finding]) -> Vec<Trouble> {
    let crosses = &design.cross_joints.crosses;
    let places = |each: Listed| -> Vec<Trouble> {
        let (Some(number), Some(at)) = (each.number, each.finding.point) else {
            return Vec::new();
        };
        if each.finding.id != "panels.stagger" || crosses.is_empty() {
            let fault = None;
            return vec![Trouble { number, fault, at }];
        }
        let numbered = crosses.iter().take(MOST).enumerate();
        numbered
            .map(|(index, cross)| Trouble {
                number,
                fault: Some(index + 1),
                at: cross.at,
            })
            .collect()
    };
    checks::listed(findings)
        .into_iter()
        .flat_map(places)
        .collect()
}

/// The list of checks: what is amiss row by row, the worst first, then what passes, part by part of
/// the work.
pub fn block(findings: &[Finding], languages: Languages) -> Block {
    let listed = checks::listed(findings).into_iter();
    let (passed, amiss): (Vec<Listed>, Vec<Listed>) =
        listed.partition(|each| each.finding.status == Status::Pass);
    let tables = [
        self::amiss(&amiss, languages),
        self::passed(&passed, languages),
    ];
    let tables = tables.into_iter().filter(|table| !table.rows.is_empty());
    let entries = tables.map(Entry::Table).collect();
    Block::paragraphs(say!(languages, "Checks"), entries)
}

/// What fails or wants a look, with its number on the plan and its place.
fn amiss(listed: &[Listed], languages: Languages) -> Table {
    let mut table = Table::new(&[
        (say!(languages, "No."), Align::Right),
        (say!(languages, "Result"), Align::Left),
        (say!(languages, "Check"), Align::Stretch),
    ]);
    for Listed { finding, number } in listed {
        let word = match finding.status {
            Status::Fail => say!(languages, "FAILS"),
            Status::Pass | Status::Warn => say!(languages, "LOOK"),
        };
        let mut words = finding.title.say(languages);
        let place = finding.where_.as_ref().map(|place| place.say(languages));
        if let Some(place) = place
            && !words.contains(&place)
        {
            words = format!("{words} ({place})");
        }
        let number = number.map(|number| number.to_string()).unwrap_or_default();
        table.rows.push(Row {
            cells: vec![number, word, words],
            symbol: Vec::new(),
            face: Some(Face::SemiBold),
        });
    }
    table
}

/// What passes, one row for each part of the work, in the order in which the parts first come.
fn passed(listed: &[Listed], languages: Languages) -> Table {
    let mut parts: Vec<(String, Vec<String>)> = Vec::new();
    for Listed { finding, .. } in listed {
        let part = part(finding.id).say(languages);
        let words = finding.title.say(languages);
        match parts.iter_mut().find(|(name, _)| *name == part) {
            Some((_, all)) => all.push(words),
            None => parts.push((part, vec![words])),
        }
    }
    let mut table = Table::new(&[
        (say!(languages, "Part"), Align::Left),
        (say!(languages, "Passed, with the limit"), Align::Stretch),
    ]);
    for (part, words) in parts {
        let mut rows: Vec<String> = Vec::new();
        for words in said_once(words, &say!(languages, ": ")) {
            match rows.last_mut() {
                Some(row) if row.len() + words.len() < LONGEST => {
                    row.push_str(". ");
                    row.push_str(&words);
                }
                _ => rows.push(words),
            }
        }
        let parts = std::iter::once(part).chain(std::iter::repeat(String::new()));
        parts
            .zip(rows)
            .for_each(|(part, row)| table.row(vec![part, row]));
    }
    table
}

/// What passes alike of several areas, said once after all their names; `colon` is what stands
/// between a name and what is said of it.
fn said_once(all: Vec<String>, colon: &str) -> Vec<String> {
    let mut once: Vec<(Vec<String>, String)> = Vec::new();
    for words in all {
        let (name, rest) = match words.split_once(colon) {
            Some((name, rest)) => (Some(name.to_string()), rest.to_string()),
            None => (None, words),
        };
        let long = |names: &[String]| names.iter().map(String::len).sum::<usize>();
        // Where the names are many, it is said again after the next of them.
        let alike = once.iter_mut().find(|(names, said)| {
            !names.is_empty() && *said == rest && long(names) + rest.len() < LONGEST / 2
        });
        match (alike, name) {
            (Some((names, _)), Some(name)) => names.push(name),
            (_, name) => once.push((name.into_iter().collect(), rest)),
        }
    }
    let whole = once
        .into_iter()
        .map(|(names, rest)| match names.is_empty() {
            true => rest,
            false => format!("{}{colon}{rest}", names.join(", ")),
        });
    whole.collect()
}

/// The part of the work that a check is about, by the first part of its id.
fn part(id: &str) -> Phrase {
    match id.split('.').next().unwrap_or_default() {
        "base" | "panels" => phrase!("Base panels"),
        "bedding" => phrase!("Bedding, rails"),
        "drains" => phrase!("Drains"),
        "edges" | "edging" => phrase!("Edge restraint"),
        "pavers" => phrase!("Pavers"),
        "services" => phrase!("Buried services"),
        "survey" => phrase!("Survey"),
        _ => phrase!("Levels"),
    }
}

/// What the job shows that others must design, for the crew with its number on the plan.
pub fn by_others(findings: &[Finding], audience: Audience) -> Vec<Phrase> {
    let others = |each: &Listed| {
        each.finding.id == "drop.designed_by_others" && each.finding.status != Status::Pass
    };
    let words = |each: Listed| {
        let title = &each.finding.title;
        match each.number.filter(|_| audience == Audience::Crew) {
            Some(number) => phrase!("No. {number}: {title}", number, title),
            None => title.clone(),
        }
    };
    let listed = checks::listed(findings).into_iter();
    listed.filter(others).map(words).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_passes_alike_is_said_once() {
        let said = [
            "Walk: joints are 3 mm wide",
            "All water leaves the paving",
            "Terrace: joints are 3 mm wide",
            "Steps: joints are 4 mm wide",
        ];
        let once = said_once(said.map(String::from).to_vec(), ": ");
        assert_eq!(
            once,
            [
                "Walk, Terrace: joints are 3 mm wide",
                "All water leaves the paving",
                "Steps: joints are 4 mm wide",
            ]
        );
    }

    /// What stands before the names' colon is the language's own; and names go on in a row only as
    /// long as one line of them is read at a glance.
    #[test]
    fn names_are_told_by_the_colon_and_not_without_end() {
        let said = ["Cour : joints de 3 mm", "Ratio 1: 2 : joints de 3 mm"];
        let once = said_once(said.map(String::from).to_vec(), " : ");
        assert_eq!(once, ["Cour, Ratio 1: 2 : joints de 3 mm"]);
        let name = |number: usize| format!("{}{number}", "plot ".repeat(LONGEST / 30));
        let said: Vec<String> = (0..6).map(|i| format!("{}: dry", name(i))).collect();
        let once = said_once(said.clone(), ": ");
        assert!(once.len() > 1 && once.len() < said.len(), "{once:?}");
        let names = once.iter().flat_map(|words| {
            let (names, _) = words.split_once(": ").expect("a colon");
            assert!(names.len() < LONGEST, "{names}");
            names.split(", ")
        });
        assert!(names.eq((0..6).map(name)));
    }
}
