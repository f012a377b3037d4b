//! What the job left open, in plain words: one row per part of the work.
//!
//! In: dotted keys with their values as a job would write them. Out: a block. A key without words
//! of its own is shown by its last part.

use super::column::Block;
use super::table::{Align, Table};
use crate::job::Assumed;
use crate::units::{Length, Precision, System, print};

/// The block of those values under a title; none where there are none. `areas` are the names of
/// the paved areas in the job's order.
pub fn block(title: &str, values: &[Assumed], areas: &[&str], system: System) -> Option<Block> {
    let mut rows: Vec<(String, Vec<String>)> = Vec::new();
    for value in values {
        let (part, what) = words(&value.key, areas);
        let said = format!("{what} {}", printed(&value.value, system));
        match rows.iter_mut().find(|(name, _)| *name == part) {
            Some((_, all)) => all.push(said),
            None => rows.push((part, vec![said])),
        }
    }
    if rows.is_empty() {
        return None;
    }
    let mut table = Table::new(&[("For", Align::Left), ("Value", Align::Stretch)]);
    for (part, said) in rows {
        table.row(vec![part, said.join("; ")]);
    }
    Some(Block::table(title, table))
}

/// A value as the sheet prints it.
fn printed(value: &str, system: System) -> String {
    let feet = value.contains('"') || value.contains('\'');
    if feet && let Ok(length) = Length::parse(value) {
        return print::length(length, system, Precision::Thickness);
    }
    value
        .trim_start_matches('[')
        .trim_end_matches(']')
        .trim_start_matches('{')
        .trim_end_matches('}')
        .replace('"', "″")
        .replace('\'', "′")
}

/// Parts of the work by the first part of the key.
const PARTS: [(&str, &str); 13] = [
    ("base", "Base panels"),
    ("excavation", "Dig"),
    ("bedding", "Bedding, rails"),
    ("geotextile", "Geotextile"),
    ("edging", "Edge restraint"),
    ("jointing", "Jointing"),
    ("backfill", "Backfill"),
    ("conventional", "Conventional"),
    ("waste", "Waste"),
    ("crew", "Crew"),
    ("levels", "Levels"),
    ("prices", "Prices"),
    ("site", "Survey"),
];

/// What a key says, by what follows its first part.
const WORDS: [(&str, &str); 48] = [
    ("base.panel.length", "length"),
    ("base.panel.width", "width"),
    ("base.panel.thickness", "thickness"),
    ("base.panel.joint", "joint"),
    ("base.extension", "past open edges"),
    ("base.start", "start at"),
    ("base.stagger", "stagger"),
    ("base.min_stagger", "cross joints at least apart"),
    ("base.min_piece", "narrowest piece"),
    ("excavation.extension", "past open edges"),
    ("excavation.swell", "swell"),
    ("excavation.load", "one load"),
    ("bedding.material", "material"),
    ("bedding.density", "loose density"),
    ("bedding.loose", "loose"),
    ("bedding.compacted", "compacted (prove by a test patch)"),
    ("bedding.rails.diameter", "rail, outside diameter"),
    ("bedding.rails.spacing", "rails apart"),
    ("bedding.rails.edge", "outer rails inside the base"),
    ("bedding.rails.piece", "rail piece"),
    ("geotextile.roll_width", "roll width"),
    ("geotextile.roll_length", "roll length"),
    ("geotextile.overlap", "laps"),
    ("geotextile.turn_up", "turned up"),
    ("edging.piece", "piece"),
    ("edging.width", "foot"),
    ("edging.holes", "holes apart"),
    ("edging.nail_every", "a nail in every nth hole, n ="),
    ("edging.nail", "nail"),
    ("jointing.bag", "bag"),
    ("jointing.density", "density"),
    ("jointing.below", "below the pavers’ top"),
    ("conventional.base", "aggregate"),
    ("conventional.bedding", "bedding"),
    ("waste.panels", "panels"),
    ("waste.pavers", "pavers"),
    ("waste.bedding", "bedding"),
    ("waste.jointing", "jointing"),
    ("waste.geotextile", "geotextile"),
    ("crew.people", "people"),
    ("crew.day", "day"),
    ("levels.finish.at", "finish stated at"),
    ("levels.finish.level", "finish level"),
    ("levels.finish.fall", "fall"),
    ("levels.finish.towards", "falling towards"),
    ("levels.finish.away_from", "falling away from"),
    ("prices.currency", "currency"),
    ("prices.markup", "markup"),
];

/// The part of the work that a key belongs to, and what it says there.
fn words(key: &str, areas: &[&str]) -> (String, String) {
    let (head, rest) = key.split_once('.').unwrap_or((key, ""));
    let said = WORDS.iter().find(|(known, _)| *known == key);
    let what = said.map_or_else(|| plain(rest), |(_, words)| (*words).to_string());
    if let Some(index) = index(head, "paving") {
        let name = areas.get(index).copied().unwrap_or("Paving");
        return (name.to_string(), what);
    }
    if head == "pavers"
        && let Some((kind, rest)) = rest.split_once('.')
    {
        return (format!("Paver {kind}"), plain(rest));
    }
    let part = PARTS.iter().find(|(known, _)| *known == head);
    let part = part.map_or_else(|| plain(head), |(_, words)| (*words).to_string());
    (part, what)
}

/// The index in `name[index]`.
fn index(part: &str, name: &str) -> Option<usize> {
    part.strip_prefix(name)?
        .strip_prefix('[')?
        .strip_suffix(']')?
        .parse()
        .ok()
}

/// A key without its signs; what is listed is counted from 1.
fn plain(key: &str) -> String {
    let mut words = Vec::new();
    for part in key.split(['.', '_']) {
        match part.strip_suffix(']').and_then(|part| part.split_once('[')) {
            Some((name, place)) => {
                let place = place.parse::<usize>().map_or(0, |place| place + 1);
                words.push(format!("{name} {place}"));
            }
            None => words.push(part.to_string()),
        }
    }
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::column::Entry;

    #[test]
    fn values_stand_by_part_of_the_work() {
        let value = |key: &str, value: &str| Assumed {
            key: key.to_string(),
            value: value.to_string(),
        };
        let values = [
            value("base.panel.length", "3'"),
            value("paving[1].bond", "running"),
            value("base.min_stagger", "6\""),
            value("pavers.field.joint", "1/8\""),
            value("crew.new_key", "7"),
            value("paving[1].border[0].corners", "mitred"),
        ];
        let block = block("Assumed", &values, &["Walk", "Terrace"], System::FeetInches);
        let Some(Entry::Table(table)) = block.map(|b| b.entries[0].clone()) else {
            panic!("a table");
        };
        let rows: Vec<String> = table.rows.iter().map(|r| r.cells.join(": ")).collect();
        assert_eq!(
            rows,
            [
                "Base panels: length 3′-0″; cross joints at least apart 6″",
                "Terrace: bond running; border 1 corners mitred",
                "Paver field: joint ⅛″",
                "Crew: new key 7",
            ]
        );
    }
}
