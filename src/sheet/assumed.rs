//! What the job left open, in plain words: one row per part of the work.
//!
//! In: dotted keys with their values as a job would write them. Out: a block. What each key says
//! stands in [`super::assumed_words`]; a value that is a word of the job file is said in plain
//! words where there are some.

use super::assumed_words as words;
use super::column::Block;
use super::table::{Align, Table};
use crate::job::Assumed;
use crate::language::{Languages, Phrase, phrase, say};
use crate::units::{Length, Precision, System, print};

/// What the job calls what it lists, each in its order.
#[derive(Clone, Debug, Default)]
pub struct Names<'a> {
    /// The paved areas.
    pub areas: Vec<&'a str>,
    /// By the key of the list, such as `sills`.
    pub lists: Vec<(&'static str, Vec<&'a str>)>,
}

impl Names<'_> {
    /// The name of an entry of a list; its number, counted from 1, where it has none.
    fn of(&self, list: &str, index: usize) -> String {
        let known = self.lists.iter().find(|(key, _)| *key == list);
        let name = known.and_then(|(_, names)| names.get(index));
        name.map_or_else(|| (index + 1).to_string(), |name| name.to_string())
    }
}

/// The block of those values under a title; none where there are none.
pub fn block(
    title: &str,
    values: &[Assumed],
    names: &Names,
    system: System,
    languages: Languages,
) -> Option<Block> {
    let areas = &names.areas;
    let mut rows: Vec<Row> = Vec::new();
    for value in values {
        let key = Key::of(&value.key, names);
        let part = key.part(areas).say(languages);
        let said = key.said(&value.value, system).say(languages);
        match rows.iter_mut().find(|row| row.part == part) {
            Some(row) => row.said.push(said),
            None => rows.push(Row {
                part,
                of: key.one_of(areas),
                said: vec![said],
            }),
        }
    }
    if rows.is_empty() {
        return None;
    }
    let rows = alike_together(rows);
    let mut table = Table::new(&[
        (say!(languages, "For"), Align::Left),
        (say!(languages, "Value"), Align::Stretch),
    ]);
    for row in rows {
        let said = row.said.join(&say!(languages, "; "));
        match row.of {
            Some((many, names)) if names.len() > 1 => {
                table.row(vec![
                    many.say(languages),
                    names.join(", ") + &say!(languages, ": ") + &said,
                ]);
            }
            _ => table.row(vec![row.part, said]),
        }
    }
    Some(Block::table(title, table))
}

/// What is assumed for a part of the work.
struct Row {
    part: String,
    /// Where it is one of several areas or kinds of paver: what these are, and its name.
    of: Option<(Phrase, Vec<String>)>,
    said: Vec<String>,
}

/// Areas that take the same values as one row, and kinds of paver too.
fn alike_together(rows: Vec<Row>) -> Vec<Row> {
    let mut together: Vec<Row> = Vec::new();
    for row in rows {
        let alike = together
            .iter_mut()
            .find_map(|before| match (&mut before.of, &row.of) {
                (Some((many, names)), Some((other, _)))
                    if many == other && before.said == row.said =>
                {
                    Some(names)
                }
                _ => None,
            });
        match (alike, &row.of) {
            (Some(names), Some((_, more))) => names.extend(more.iter().cloned()),
            _ => together.push(row),
        }
    }
    together
}

/// A dotted key, apart from what it counts and names.
struct Key<'a> {
    /// The key without the numbers in its brackets, without the kind of paver in it.
    plain: String,
    /// What follows the first part, as it is written.
    rest: &'a str,
    /// The first part.
    head: &'a str,
    /// The index of the paved area that it is about.
    area: Option<usize>,
    /// The kind of paver that it is about.
    paver: Option<&'a str>,
    /// What the other numbers in its brackets count, by name or number.
    numbers: Vec<String>,
}

impl<'a> Key<'a> {
    fn of(key: &'a str, names: &Names) -> Self {
        let (head, rest) = key.split_once('.').unwrap_or((key, ""));
        let area = head
            .strip_prefix("paving[")
            .and_then(|head| head.strip_suffix(']')?.parse().ok());
        let (paver, rest) = match rest.split_once('.') {
            Some((kind, rest)) if head == "pavers" => (Some(kind), rest),
            _ => (None, rest),
        };
        let head = if area.is_some() { "paving" } else { head };
        let mut numbers = Vec::new();
        let mut plain = head.to_string();
        for part in rest.split('.') {
            plain.push('.');
            match part.strip_suffix(']').and_then(|part| part.split_once('[')) {
                Some((name, index)) => {
                    let index = index.parse::<usize>();
                    numbers.extend(index.map(|index| names.of(name, index)));
                    plain.push_str(name);
                    plain.push_str("[]");
                }
                None => plain.push_str(part),
            }
        }
        Self {
            plain,
            rest,
            head,
            area,
            paver,
            numbers,
        }
    }

    /// The part of the work that it belongs to.
    fn part(&self, areas: &[&str]) -> Phrase {
        if let Some(kind) = self.paver {
            return phrase!("Paver {size}", size = kind);
        }
        match self.area {
            Some(index) => match areas.get(index) {
                Some(name) => Phrase::own(*name),
                None => phrase!("Paving"),
            },
            None => words::part(self.head).unwrap_or_else(|| Phrase::own(spaced(self.head))),
        }
    }

    /// What it is one of several of, with its name: areas, kinds of paver.
    fn one_of(&self, areas: &[&str]) -> Option<(Phrase, Vec<String>)> {
        if let Some(kind) = self.paver {
            return Some((phrase!("Pavers"), vec![kind.to_string()]));
        }
        let name = areas.get(self.area?)?;
        Some((phrase!("Paving"), vec![name.to_string()]))
    }

    /// What it says with its value.
    fn said(&self, value: &str, system: System) -> Phrase {
        let meaning = words::meaning(&self.plain, value);
        let value = meaning.unwrap_or_else(|| printed(value, system));
        words::said(&self.plain, &self.numbers, &value)
            .unwrap_or_else(|| Phrase::row([Phrase::own(spaced(self.rest)), value], " "))
    }
}

/// A value as the sheet prints it.
fn printed(value: &str, system: System) -> Phrase {
    let feet = value.contains('"') || value.contains('\'');
    if feet && let Ok(length) = Length::parse(value) {
        return Phrase::own(print::length(length, system, Precision::Thickness));
    }
    let inner = value
        .trim_start_matches(['[', '{'])
        .trim_end_matches([']', '}']);
    let place = inner.strip_prefix("corner: ");
    if let Some((corner, edge)) = place.and_then(|place| place.split_once(", along: ")) {
        return phrase!("corner {corner} along {edge}", corner, edge);
    }
    let signed = |part: &str| match part.strip_prefix('-') {
        Some(rest) => format!("−{rest}"),
        None => part.to_string(),
    };
    let inner: Vec<String> = inner.split(", ").map(signed).collect();
    Phrase::own(inner.join(", ").replace('"', "″").replace('\'', "′"))
}

/// A key without its signs; what is listed is counted from 1.
fn spaced(key: &str) -> String {
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

    fn value(key: &str, value: &str) -> Assumed {
        Assumed {
            key: key.to_string(),
            value: value.to_string(),
        }
    }

    /// The rows of the block of those values.
    fn rows(values: &[Assumed], areas: &[&str], system: System) -> Vec<String> {
        let names = Names {
            areas: areas.to_vec(),
            lists: vec![("sills", vec!["Back door"])],
        };
        let block = block("Assumed", values, &names, system, Languages::default());
        let Some(Entry::Table(table)) = block.map(|b| b.entries[0].clone()) else {
            panic!("a table");
        };
        table.rows.iter().map(|r| r.cells.join(" | ")).collect()
    }

    #[test]
    fn values_stand_by_part_of_the_work() {
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
            value("site.drains[1].set_down", "1/8\""),
            value("edging.nail_every", "2"),
            value("edging.curve_nail_every", "1"),
            value("jointing.dry", "24 h"),
        ];
        let areas = ["Walk", "Terrace"];
        assert_eq!(
            rows(&values, &areas, System::FeetInches),
            [
                "Base panels | length 3′-0″; cross joints at least 6″ apart",
                "Terrace | running bond; border 1: mitred corners; bond turned 0°; \
                 start at corner A along A-B",
                "Paver field | joint ⅛″",
                "Crew | new key 7",
                "Levels | rod in feet and hundredths; finish at least 2″ below sill Back door",
                "Site | rim of drain 2 set down ⅛″",
                "Edge restraint | holes per nail 2; holes per nail on curves 1",
                "Jointing | kept dry for 24 h",
            ]
        );
    }

    /// Areas and pavers for which the same is assumed share a row that names them all.
    #[test]
    fn what_is_alike_stands_in_one_row() {
        let values = [
            value("paving[0].turn", "0°"),
            value("paving[1].turn", "45°"),
            value("paving[2].turn", "0°"),
            value("pavers.block.joint", "3 mm"),
            value("pavers.small.joint", "3 mm"),
        ];
        let areas = ["Walk", "Terrace", "Steps"];
        assert_eq!(
            rows(&values, &areas, System::Metric),
            [
                "Paving | Walk, Steps: bond turned 0°",
                "Terrace | bond turned 45°",
                "Pavers | block, small: joint 3 mm",
            ]
        );
    }
}
