//! What the checks found, as the sheet shows it: the list with its numbers, the places of the
//! numbers on the plan, and what others must design.
//!
//! In: findings. Out: a block, places on site in millimetres, cautions.

use super::column::Block;
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

/// The list of checks, the worst first.
pub fn block(findings: &[Finding], languages: Languages) -> Block {
    let listed = checks::listed(findings);
    let numbered = listed.iter().any(|each| each.number.is_some());
    let mut columns = vec![
        (say!(languages, "Result"), Align::Left),
        (say!(languages, "Check"), Align::Stretch),
    ];
    if numbered {
        columns.insert(0, (say!(languages, "No."), Align::Right));
    }
    let mut table = Table::new(&columns);
    for Listed { finding, number } in listed {
        let (word, face) = match finding.status {
            Status::Pass => (say!(languages, "pass"), None),
            Status::Warn => (say!(languages, "LOOK"), Some(Face::SemiBold)),
            Status::Fail => (say!(languages, "FAILS"), Some(Face::SemiBold)),
        };
        let mut words = finding.title.say(languages);
        let place = finding.where_.as_ref().map(|place| place.say(languages));
        if let Some(place) = place
            && finding.status != Status::Pass
            && !words.contains(&place)
        {
            words = format!("{words} ({place})");
        }
        let mut cells = vec![word, words];
        if numbered {
            cells.insert(0, number.map(|n| n.to_string()).unwrap_or_default());
        }
        table.rows.push(Row {
            cells,
            symbol: Vec::new(),
            face,
        });
    }
    Block::table(say!(languages, "Checks"), table)
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
