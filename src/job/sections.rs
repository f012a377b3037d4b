//! `sheet.section`: the lines along which the sheet cuts the site, and their letters.

use super::model::SectionLine;
use super::reader::{Map, Reader};
use super::shape::{Points, point};
use super::tree::{Node, Value};
use crate::geom::Point;
use crate::language::{Phrase, phrase};

/// What `sheet.section` may be.
fn sections_wanted() -> Phrase {
    phrase!(
        "two points such as {points}, or a list of {entries}",
        points = "[[4', 0], [4', 12']]",
        entries = "{name: B, line: [[0, 6'], [14', 6']]}"
    )
}

/// Most section lines: as many as there are letters for them.
const MOST_SECTIONS: usize = 24;

/// One line, or a list of lines with their letters.
pub fn sections(r: &mut Reader, map: &Map<'_>, points: &Points) -> Vec<SectionLine> {
    let Some(node) = map.get("section") else {
        return Vec::new();
    };
    let Some(items) = r.list(node, "sheet.section", sections_wanted()) else {
        return Vec::new();
    };
    let named = |item: &Node| matches!(item.value, Value::Map(_));
    if !items.iter().any(named) {
        let line = section(r, node, "sheet.section", points);
        let name = "A".to_owned();
        return line
            .map(|line| SectionLine { name, line })
            .into_iter()
            .collect();
    }
    if items.len() > MOST_SECTIONS {
        let wanted = &phrase!("at most {most} sections", most = MOST_SECTIONS);
        r.wrong(node, "sheet.section", wanted);
        return Vec::new();
    }
    let mut read = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let path = format!("sheet.section[{index}]");
        let Some(map) = r.map(item, &path, &["name", "line"]) else {
            continue;
        };
        let name = section_name(r, &map);
        let line = r.required(
            &map,
            "line",
            phrase!(
                "two points such as {points}",
                points = "[[4', 0], [4', 12']]"
            ),
        );
        let line = line.and_then(|n| section(r, n, &map.key("line"), points));
        if let Some(name) = &name
            && let Some((other, ..)) = read.iter().find(|(_, n, _)| n == &Some(name.clone()))
        {
            let found = phrase!(
                "{path} has the name of {other}, {name}",
                path,
                other = format!("sheet.section[{other}]"),
                name
            );
            let place = map.get("name").map_or(map.place, |node| node.place);
            r.error("section", place, found, phrase!("a letter of its own"));
        }
        read.push((index, name, line));
    }
    let stated: Vec<String> = read
        .iter()
        .filter_map(|(_, name, _)| name.clone())
        .collect();
    let mut free = ('A'..='Z')
        .filter(|letter| !matches!(letter, 'I' | 'O'))
        .map(String::from)
        .filter(|letter| !stated.contains(letter));
    let mut lines = Vec::new();
    for (_, name, line) in read {
        let name = name.or_else(|| free.next());
        if let (Some(name), Some(line)) = (name, line) {
            lines.push(SectionLine { name, line });
        }
    }
    lines
}

/// The letter of a section, when stated.
fn section_name(r: &mut Reader, map: &Map<'_>) -> Option<String> {
    let name = r.text_at(map, "name")?;
    let fits = (1..=2).contains(&name.chars().count()) && name.chars().all(char::is_alphanumeric);
    if !fits && let Some(node) = map.get("name") {
        r.wrong(
            node,
            &map.key("name"),
            phrase!("one or two letters such as B"),
        );
    }
    fits.then_some(name)
}

/// One section line.
fn section(r: &mut Reader, node: &Node, path: &str, points: &Points) -> Option<[Point; 2]> {
    let items = r.list(node, path, sections_wanted())?;
    let [a, b] = items else {
        r.wrong(node, path, sections_wanted());
        return None;
    };
    let a = point(r, points, a, &format!("{path}[0]"));
    let b = point(r, points, b, &format!("{path}[1]"));
    let (a, b) = (a?.at, b?.at);
    if a.distance(b) < 1.0 {
        let found = phrase!("the section line has no length");
        r.error("section", node.place, found, sections_wanted());
        return None;
    }
    Some([a, b])
}
