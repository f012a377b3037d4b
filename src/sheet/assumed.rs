//! What the job left open, in plain words: one row per part of the work.
//!
//! In: dotted keys with their values as a job would write them. Out: a block. A key without words
//! of its own is shown by its last part; a value that is a word of the job file is said in plain
//! words where there are some.

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
        let said = match meaning(&value.key, &value.value) {
            Some(meaning) => meaning.to_string(),
            None => phrase(&what, &printed(&value.value, system)),
        };
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

/// Words with their value: where they keep a place for it there, else after them.
fn phrase(words: &str, value: &str) -> String {
    match words.contains("{}") {
        true => words.replace("{}", value),
        false => format!("{words} {value}"),
    }
}

/// What a word of the job file means.
fn meaning(key: &str, value: &str) -> Option<&'static str> {
    MEANINGS
        .iter()
        .find(|(known, word, _)| *known == key && *word == value)
        .map(|(.., meaning)| *meaning)
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
        .replace(": ", " ")
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

/// Words of the job file as values, by key and word.
const MEANINGS: [(&str, &str, &str); 5] = [
    ("levels.rod", "decimal-feet", "rod in feet and hundredths"),
    (
        "levels.rod",
        "feet-inches",
        "rod in feet, inches and eighths",
    ),
    ("levels.rod", "metric", "rod in metres and millimetres"),
    (
        "site.levelling.adjust",
        "setups",
        "misclosure of the levelling spread over the set-ups",
    ),
    (
        "site.traverse.adjust",
        "compass",
        "misclosure of the traverse spread by length of leg",
    ),
];

/// What is said of a paved area, by what follows its part of the key.
const OF_AREAS: [(&str, &str); 2] = [("turn", "bond turned {}"), ("start", "start at {}")];

/// What a key says; `{}` is where its value goes, which stands last otherwise.
const WORDS: [(&str, &str); 59] = [
    ("base.panel.length", "length"),
    ("base.panel.width", "width"),
    ("base.panel.thickness", "thickness"),
    ("base.panel.joint", "joint"),
    ("base.extension", "{} past open edges"),
    ("base.start", "start at"),
    ("base.stagger", "stagger"),
    ("base.min_stagger", "cross joints at least {} apart"),
    ("base.min_piece", "narrowest piece"),
    ("excavation.extension", "{} past open edges"),
    ("excavation.density", "density of the soil"),
    ("excavation.swell", "swell"),
    ("excavation.load", "one load"),
    ("bedding.material", "material"),
    ("bedding.density", "loose density"),
    ("bedding.loose", "loose"),
    ("bedding.compacted", "compacted (prove by a test patch)"),
    ("bedding.rails.diameter", "rail, outside diameter"),
    ("bedding.rails.spacing", "rails apart, least and most"),
    ("bedding.rails.edge", "outer rails {} inside the base"),
    ("bedding.rails.piece", "rail piece"),
    ("bedding.rails.wall", "rail’s wall"),
    ("bedding.rails.board", "screed board"),
    ("bedding.test_patch", "side of the test patch"),
    ("geotextile.roll_width", "roll width"),
    ("geotextile.roll_length", "roll length"),
    ("geotextile.overlap", "laps"),
    ("geotextile.turn_up", "turned up"),
    ("geotextile.mass", "a roll"),
    ("edging.piece", "piece"),
    ("edging.width", "foot"),
    ("edging.holes", "holes {} apart"),
    ("edging.nail_every", "holes per nail"),
    ("edging.curve_nail_every", "holes per nail on curves"),
    ("edging.nail", "nail"),
    ("edging.nail_diameter", "nail {} thick"),
    ("edging.mass", "a piece"),
    ("jointing.bag", "bag"),
    ("jointing.density", "density"),
    ("jointing.below", "{} below the pavers’ top"),
    ("jointing.mist", "passes of mist"),
    ("jointing.dry", "kept dry for {}"),
    ("backfill.density", "density of the topsoil"),
    ("conventional.base", "aggregate"),
    ("conventional.bedding", "bedding"),
    ("waste.panels", "panels"),
    ("waste.pavers", "pavers"),
    ("waste.bedding", "bedding"),
    ("waste.jointing", "jointing"),
    ("waste.geotextile", "geotextile"),
    ("crew.people", "{} people"),
    ("crew.day", "day of {}"),
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
    if let Some(sill) = key
        .strip_prefix("levels.")
        .and_then(|rest| rest.strip_suffix(".clear"))
        .and_then(|part| index(part, "sills"))
    {
        let what = format!("finish at least {{}} below sill {}", sill + 1);
        return ("Levels".to_string(), what);
    }
    if let Some(index) = index(head, "paving") {
        let name = areas.get(index).copied().unwrap_or("Paving");
        let said = OF_AREAS.iter().find(|(known, _)| *known == rest);
        let what = said.map_or(what, |(_, words)| (*words).to_string());
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
            value("paving[1].turn", "0°"),
            value("paving[1].start", "{corner: A, along: A-B}"),
            value("levels.rod", "decimal-feet"),
            value("levels.sills[0].clear", "2\""),
            value("edging.nail_every", "2"),
            value("edging.curve_nail_every", "1"),
            value("jointing.dry", "24 h"),
        ];
        let block = block("Assumed", &values, &["Walk", "Terrace"], System::FeetInches);
        let Some(Entry::Table(table)) = block.map(|b| b.entries[0].clone()) else {
            panic!("a table");
        };
        let rows: Vec<String> = table.rows.iter().map(|r| r.cells.join(": ")).collect();
        assert_eq!(
            rows,
            [
                "Base panels: length 3′-0″; cross joints at least 6″ apart",
                "Terrace: bond running; border 1 corners mitred; bond turned 0°; \
                 start at corner A, along A-B",
                "Paver field: joint ⅛″",
                "Crew: new key 7",
                "Levels: rod in feet and hundredths; finish at least 2″ below sill 1",
                "Edge restraint: holes per nail 2; holes per nail on curves 1",
                "Jointing: kept dry for 24 h",
            ]
        );
    }
}
