//! `site.levelling`: the field book of a run of levelling, and the levels that come of it.
//!
//! In: the nodes. Out: the run as booked and as reduced by `survey`, whose errors are given the
//! places of the lines they are about. Wherever a level is asked for, the name of a point that the
//! run gives a level may stand instead.

use super::meaning::Meaning;
use super::reader::{Bound, Map, Reader};
use super::shape::Points;
use super::tree::{Node, Value};
use super::values::{nearest, shorten};
use crate::diag::Diagnostic;
use crate::language::{Phrase, phrase};
use crate::survey::{Levelling, LevellingResult, Sight, level_run};

/// Most lines of the field book.
const MOST_SIGHTS: usize = 5000;
/// What a run looks like.
const RUN: &str = "{known: {BM: 100'}, sights: [{at: BM, back: 4.10'}, {at: T1, fore: 5.20'}]}";

/// What the known levels look like.
fn known_wanted() -> Phrase {
    phrase!(
        "levels known beforehand, such as {example}",
        example = "{BM: 100'}"
    )
}

/// A run as booked and as reduced.
pub type Run = (Levelling, LevellingResult);

/// Reads and reduces `site.levelling`; the levels go to `points`.
pub fn read(r: &mut Reader, site: &Map<'_>, points: &mut Points) -> Option<Run> {
    let node = site.get("levelling")?;
    let map = r.map(
        node,
        &site.key("levelling"),
        &["known", "sights", "adjust", "limit"],
    )?;
    let adjusts = [("setups", true), ("none", false)];
    let adjust = match map.get("adjust") {
        Some(_) => r.word_at(&map, "adjust", &adjusts),
        None => {
            r.assume(map.key("adjust"), "setups");
            Some(true)
        }
    };
    let limit = r.length_or(&map, "limit", Bound::Positive, ("1/2\"", "12 mm"));
    let known = r.required(&map, "known", known_wanted());
    let known = known.and_then(|node| known_levels(r, node, &map.key("known"), points));
    let wanted = &phrase!(
        "a list of sights such as {example}",
        example = "[{at: BM, back: 4.10'}, {at: T1, fore: 5.20'}]"
    );
    let node = r.required(&map, "sights", wanted)?;
    let path = map.key("sights");
    let items = r.list(node, &path, wanted)?;
    if items.is_empty() || items.len() > MOST_SIGHTS {
        r.wrong(node, &path, Phrase::own(RUN));
        return None;
    }
    let mut sights = Vec::new();
    for (index, item) in items.iter().enumerate() {
        sights.push(sight(r, item, &format!("{path}[{index}]"), points));
    }
    let sights = sights.into_iter().collect::<Option<Vec<Sight>>>()?;
    let run = Levelling {
        known: known?,
        sights,
        adjust: adjust?,
        limit,
    };
    match level_run(&run) {
        Ok(result) => {
            for line in &result.lines {
                let name = line.sight.at.clone();
                points.levels.entry(name).or_insert(line.level);
            }
            for (name, level) in &run.known {
                points.levels.insert(name.clone(), *level);
            }
            Some((run, result))
        }
        Err(errors) => {
            for error in errors {
                let place = items.get(error.sight).map_or(node.place, |item| item.place);
                r.error("levelling", place, error.found, error.wanted);
            }
            None
        }
    }
}

/// Levels known beforehand.
fn known_levels(
    r: &mut Reader,
    node: &Node,
    path: &str,
    points: &mut Points,
) -> Option<Vec<(String, f64)>> {
    let map = r.open_map(node, path)?;
    if map.entries().is_empty() || map.entries().len() > MOST_SIGHTS {
        r.wrong(node, path, known_wanted());
        return None;
    }
    let mut known = Vec::new();
    for entry in map.entries() {
        points.levelled.push(entry.key.clone());
        let level = r.length(&entry.node, &map.key(&entry.key), Bound::Any);
        known.push(level.map(|level| (entry.key.clone(), level)));
    }
    known.into_iter().collect()
}

/// One line of the field book.
fn sight(r: &mut Reader, node: &Node, path: &str, points: &mut Points) -> Option<Sight> {
    let map = r.map(node, path, &["at", "back", "intermediate", "fore"])?;
    let at = r.required(
        &map,
        "at",
        phrase!("the name of the point that the rod stands on"),
    );
    let at = at.and_then(|n| r.text(n, &map.key("at")));
    if let Some(at) = &at {
        points.levelled.push(at.clone());
    }
    let mut whole = true;
    let mut reading = |r: &mut Reader, key: &str| {
        let node = map.get(key)?;
        let read = r.length(node, &map.key(key), Bound::Any);
        whole &= read.is_some();
        read
    };
    let back = reading(r, "back");
    let intermediate = reading(r, "intermediate");
    let fore = reading(r, "fore");
    whole.then_some(Sight {
        at: at?,
        back,
        intermediate,
        fore,
    })
}

/// The node as a level in millimetres: a length, or the name of a point that the run levels.
pub fn level(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<f64> {
    if let Value::Scalar(name, meaning) = &node.value
        && *meaning != Meaning::Nothing
    {
        if let Some(level) = points.levels.get(name) {
            return Some(*level);
        }
        // What could not be levelled is said at the run.
        if points.levelled.contains(name) {
            return None;
        }
        let names: Vec<&str> = points.levelled.iter().map(String::as_str).collect();
        if let Some(near) = nearest(name, &names)
            && crate::units::Length::parse(name).is_err()
        {
            let found = phrase!(
                "{path} is `{name}`, which is not levelled",
                path,
                name = shorten(name)
            );
            r.add(
                Diagnostic::error("unknown-point", found)
                    .at(node.place)
                    .wanted(phrase!(
                        "a level such as 99.58', or a point of site.levelling"
                    ))
                    .hint(phrase!("perhaps `{near}` is meant", near)),
            );
            return None;
        }
    }
    r.length(node, path, Bound::Any)
}
