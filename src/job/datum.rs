//! `levels` but for the finish planes and what they meet: the datum, the least fall, the instrument
//! and the sills.
//!
//! In: the nodes and the resolved site. Out: [`LevelsSpec`] in site millimetres.

use super::reader::{Bound, Map, Reader};
use super::shape::Points;
use super::tree::Node;
use super::values::fall;
use super::{finish, fixed, levelling};
use crate::language::{phrase, say};
use crate::levels::{Datum, LevelsSpec, SillSpec};
use crate::site::Site;

/// Most sills.
const MOST: usize = 200;

/// `levels` but for the finish planes.
pub fn levels(r: &mut Reader, map: &Map<'_>, site: &Site, points: &Points) -> LevelsSpec {
    let mut out = LevelsSpec::default();
    if let Some(node) = map.get("datum")
        && let Some(datum) = r.map(node, "levels.datum", &["name", "level"])
    {
        let name = r
            .text_at(&datum, "name")
            .unwrap_or_else(|| say!(r.languages, "Datum"));
        let level = r.required(
            &datum,
            "level",
            phrase!("a level such as {example}", example = "100'"),
        );
        let level = level.and_then(|n| levelling::level(r, points, n, "levels.datum.level"));
        out.datum = level.map(|level| Datum { name, level });
    }
    out.minimum_fall = map
        .get("minimum_fall")
        .and_then(|n| r.value(n, "levels.minimum_fall", Bound::NotNegative, fall));
    out.instrument = map
        .get("instrument")
        .and_then(|n| levelling::level(r, points, n, "levels.instrument"));
    let Some(node) = map.get("sills") else {
        return out;
    };
    let Some(items) = r.list(
        node,
        "levels.sills",
        phrase!("a list of {entries}", entries = "{name, at, level}"),
    ) else {
        return out;
    };
    if items.len() > MOST {
        r.wrong(
            node,
            "levels.sills",
            phrase!("at most {most} sills", most = MOST),
        );
        return out;
    }
    for (index, item) in items.iter().enumerate() {
        let path = format!("levels.sills[{index}]");
        out.sills.extend(sill(r, item, &path, site, points, index));
    }
    out
}

/// One sill.
fn sill(
    r: &mut Reader,
    node: &Node,
    path: &str,
    site: &Site,
    points: &Points,
    index: usize,
) -> Option<SillSpec> {
    let map = r.map(node, path, &["name", "at", "level", "clear", "steps"])?;
    let name = r.text_at(&map, "name");
    let at = r.required(
        &map,
        "at",
        phrase!("a point such as {example}", example = "[7', 0]"),
    );
    let at = at.and_then(|n| finish::at(r, site, points, n, &map.key("at")));
    let level = r.required(
        &map,
        "level",
        phrase!("a level such as {example}", example = "100'"),
    );
    let level = level.and_then(|n| levelling::level(r, points, n, &map.key("level")));
    let clear = r.length_or(&map, "clear", Bound::NotNegative, ("2\"", "50 mm"));
    let steps = fixed::steps(r, &map, level, points);
    Some(SillSpec {
        name: name.unwrap_or_else(|| say!(r.languages, "Sill {number}", number = index + 1)),
        at: at?,
        level: level?,
        clear,
        steps,
    })
}
