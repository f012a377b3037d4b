//! `job`, `sheet` and their languages: who and where, and how the sheet is drawn.
//!
//! In: the nodes. Out: [`Info`] and [`SheetSpec`].

use super::meaning::Meaning;
use super::model::{Audience, Info, Revision, ScaleChoice, SheetSpec};
use super::reader::{Bound, Map, Reader};
use super::sections::sections;
use super::shape::{Points, pair};
use super::tree::{Node, Value};
use super::values::angle;
use crate::geom::Point;
use crate::language::{Language, Languages, Phrase, phrase};
use crate::units::System;

/// Names of paper that a job may ask for.
const PAPERS: [&str; 17] = [
    "auto", "letter", "legal", "tabloid", "arch-a", "arch-b", "arch-c", "arch-d", "arch-e",
    "ansi-c", "ansi-d", "ansi-e", "a4", "a3", "a2", "a1", "a0",
];

/// Most revisions.
const MOST_REVISIONS: usize = 100;
/// Most lines of terms: what one sheet holds.
const MOST_TERMS: usize = 20;

/// Most points that one revision's cloud goes round.
const MOST_POINTS: usize = 100;

/// Keys of `job`.
const KEYS: [&str; 9] = [
    "title",
    "number",
    "client",
    "site",
    "prepared_by",
    "checked_by",
    "date",
    "revisions",
    "terms",
];

/// Keys of `sheet`.
const SHEET_KEYS: [&str; 8] = [
    "units", "paper", "turn", "scale", "north", "audience", "section", "language",
];

/// What `language` may be.
const LANGUAGES: Phrase = phrase!("en, es, fr, or two of them such as [en, es]");

/// Reads `job`.
pub fn info(r: &mut Reader, root: &Map<'_>) -> Info {
    let mut info = Info::default();
    let Some(node) = r.required(root, "job", Phrase::own("job: {title: …}")) else {
        return info;
    };
    let Some(map) = r.map(node, "job", &KEYS) else {
        return info;
    };
    if let Some(node) = r.required(
        &map,
        "title",
        phrase!("a title such as Rear garden landing"),
    ) && let Some(title) = r.text(node, "job.title")
    {
        if title.trim().is_empty() {
            r.error(
                "missing",
                node.place,
                phrase!("job.title is empty"),
                phrase!("a title"),
            );
        }
        info.title = title;
    }
    info.number = r.text_at(&map, "number");
    info.client = r.text_at(&map, "client");
    info.site = r.text_at(&map, "site");
    info.prepared_by = r.text_at(&map, "prepared_by");
    info.checked_by = r.text_at(&map, "checked_by");
    info.date = date(r, &map);
    if let Some(node) = map.get("revisions")
        && let Some(items) = r.list(
            node,
            "job.revisions",
            phrase!("a list of {entries}", entries = "{mark, date, note}"),
        )
    {
        if items.len() > MOST_REVISIONS {
            r.wrong(
                node,
                "job.revisions",
                phrase!("at most {most} revisions", most = MOST_REVISIONS),
            );
        }
        for (index, item) in items.iter().take(MOST_REVISIONS).enumerate() {
            let path = format!("job.revisions[{index}]");
            info.revisions.extend(revision(r, item, &path));
        }
    }
    info.terms = terms(r, &map);
    info
}

/// The terms of the offer, one line each.
fn terms(r: &mut Reader, map: &Map<'_>) -> Vec<String> {
    let wanted = &phrase!("a list of sentences, {most} at most", most = MOST_TERMS);
    let Some(node) = map.get("terms") else {
        return Vec::new();
    };
    let Some(items) = r.list(node, "job.terms", wanted) else {
        return Vec::new();
    };
    if items.len() > MOST_TERMS {
        r.wrong(node, "job.terms", wanted);
    }
    let texts = items.iter().take(MOST_TERMS).enumerate();
    texts
        .filter_map(|(index, item)| r.text(item, &format!("job.terms[{index}]")))
        .collect()
}

/// One revision.
fn revision(r: &mut Reader, node: &Node, path: &str) -> Option<Revision> {
    let map = r.map(node, path, &["mark", "date", "note", "at"])?;
    let date = date(r, &map);
    let mark = r.required(&map, "mark", phrase!("a mark such as A"));
    let mark = mark.and_then(|n| r.text(n, &map.key("mark")));
    let note = r.text_at(&map, "note").unwrap_or_default();
    Some(Revision {
        mark: mark?,
        date,
        note,
        at: changed(r, &map),
    })
}

/// Where a revision changed something: `[x, y]`, or a list of such points.
fn changed(r: &mut Reader, map: &Map<'_>) -> Vec<Point> {
    let Some(node) = map.get("at") else {
        return Vec::new();
    };
    let path = map.key("at");
    let several = match &node.value {
        Value::List(items) => items
            .first()
            .is_some_and(|item| matches!(item.value, Value::List(_))),
        _ => false,
    };
    if !several {
        return pair(r, node, &path).into_iter().collect();
    }
    let Some(items) = r.list(node, &path, phrase!("a point [x, y] or a list of points")) else {
        return Vec::new();
    };
    if items.len() > MOST_POINTS {
        r.wrong(
            node,
            &path,
            phrase!("{most} points at most", most = MOST_POINTS),
        );
    }
    let points = items.iter().take(MOST_POINTS).enumerate();
    points
        .filter_map(|(index, item)| pair(r, item, &format!("{path}[{index}]")))
        .collect()
}

/// The date under `date`, as `YYYY-MM-DD`.
fn date(r: &mut Reader, map: &Map<'_>) -> Option<String> {
    let node = map.get("date")?;
    let text = r.text_at(map, "date")?;
    let dashed = text.len() == 10 && text.is_ascii();
    match text.parse::<jiff::civil::Date>() {
        Ok(_) if dashed => Some(text),
        _ => {
            r.wrong(node, &map.key("date"), phrase!("a date such as 2026-05-04"));
            None
        }
    }
}

/// Which units the job prints, and so which defaults it takes.
pub fn units(r: &mut Reader, root: &Map<'_>) -> System {
    let Some(Value::Map(entries)) = root.get("sheet").map(|node| &node.value) else {
        return System::FeetInches;
    };
    let Some(entry) = entries.iter().find(|entry| entry.key == "units") else {
        return System::FeetInches;
    };
    let words = [
        ("feet-inches", System::FeetInches),
        ("metric", System::Metric),
        ("dual", System::Dual),
    ];
    r.word(&entry.node, "sheet.units", &words)
        .unwrap_or_default()
}

/// The languages of the sheets: `sheet.language`, or `language` beside it.
pub fn languages(r: &mut Reader, root: &Map<'_>) -> Languages {
    let sheet = match root.get("sheet").map(|node| &node.value) {
        Some(Value::Map(entries)) => entries.iter().find(|entry| entry.key == "language"),
        _ => None,
    };
    let (node, path) = match (sheet, root.entry("language")) {
        (Some(entry), other) => {
            if let Some(other) = other {
                let found = phrase!("the language is stated here and under sheet");
                r.error(
                    "language",
                    other.place,
                    found,
                    phrase!("{key} alone", key = "sheet.language"),
                );
            }
            (&entry.node, "sheet.language")
        }
        (None, Some(entry)) => (&entry.node, "language"),
        (None, None) => return Languages::default(),
    };
    let items = match &node.value {
        Value::Scalar(_, Meaning::Nothing) => return Languages::default(),
        Value::List(items) => items.as_slice(),
        _ => std::slice::from_ref(node),
    };
    if items.is_empty() || items.len() > 2 {
        r.wrong(node, path, LANGUAGES);
    }
    let mut read: Vec<Language> = Vec::new();
    for item in items.iter().take(2) {
        let Some(language) = r.word(item, path, &Language::ALL) else {
            continue;
        };
        if read.contains(&language) {
            let found = phrase!("the language is named twice");
            r.error("language", item.place, found, LANGUAGES);
        }
        read.push(language);
    }
    Languages {
        first: read.first().copied().unwrap_or_default(),
        second: read.get(1).copied(),
    }
}

/// Reads `sheet`; `units` and languages have been read before.
pub fn sheet(r: &mut Reader, root: &Map<'_>, units: System, points: &Points) -> SheetSpec {
    let map = r.block(root, "sheet", &SHEET_KEYS);
    let papers = PAPERS.map(|name| (name, name));
    let paper = r.word_at(&map, "paper", &papers).filter(|p| *p != "auto");
    let turns = [
        ("auto", None),
        ("landscape", Some(true)),
        ("portrait", Some(false)),
    ];
    let landscape = r.word_at(&map, "turn", &turns).flatten();
    let scale = scale(r, &map);
    let north = map
        .get("north")
        .and_then(|n| r.value(n, "sheet.north", Bound::Any, angle));
    let mut audiences = audiences(r, &map).into_iter();
    SheetSpec {
        units,
        paper: paper.map(str::to_owned),
        landscape,
        scale,
        north,
        audience: audiences.next().unwrap_or(Audience::Crew),
        further_audiences: audiences.collect(),
        sections: sections(r, &map, points),
        languages: r.languages,
    }
}

/// Who the sheets are for: one word, or a list of both.
fn audiences(r: &mut Reader, map: &Map<'_>) -> Vec<Audience> {
    let words = [("crew", Audience::Crew), ("bid", Audience::Bid)];
    let path = map.key("audience");
    let Some(node) = map.get("audience") else {
        return Vec::new();
    };
    let Value::List(items) = &node.value else {
        return r.word(node, &path, &words).into_iter().collect();
    };
    let mut all = Vec::new();
    for (index, item) in items.iter().enumerate() {
        if let Some(audience) = r.word(item, &format!("{path}[{index}]"), &words) {
            if all.contains(&audience) {
                r.error(
                    "audience",
                    item.place,
                    phrase!("the audience is named twice"),
                    phrase!("one of {names}§words", names = "crew, bid, [crew, bid]"),
                );
            }
            all.push(audience);
        }
    }
    if items.is_empty() {
        r.wrong(
            node,
            &path,
            phrase!("one of {names}§words", names = "crew, bid, [crew, bid]"),
        );
    }
    all
}

/// The scale: `auto` or as stated.
fn scale(r: &mut Reader, map: &Map<'_>) -> ScaleChoice {
    let Some(node) = map.get("scale") else {
        return ScaleChoice::Auto;
    };
    let Value::Scalar(text, _) = &node.value else {
        r.wrong(node, "sheet.scale", phrase!("auto, 1/4\" = 1'-0\" or 1:25"));
        return ScaleChoice::Auto;
    };
    if text == "auto" {
        return ScaleChoice::Auto;
    }
    let value = r.value(
        node,
        "sheet.scale",
        Bound::Positive,
        crate::units::read::scale,
    );
    let Some(value) = value else {
        return ScaleChoice::Auto;
    };
    if !(0.01..=100_000.0).contains(&value) {
        r.error(
            "size",
            node.place,
            phrase!("a scale beyond reason"),
            phrase!("a scale such as 1:25"),
        );
    }
    ScaleChoice::Stated(value, text.clone())
}
