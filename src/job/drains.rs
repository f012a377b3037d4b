//! `site.drains`, `site.rainfall` and `site.runoff`.
//!
//! In: the nodes and the resolved site. Out: [`DrainSpec`]s that stand on the paving and do not
//! overlap, and the [`Rainfall`] when one is stated. A drain is `kind: point` with `at` and `size`,
//! `kind: channel` with `line` and `width`, or `kind: downspout` with `at` and `roof`.

use super::finish;
use super::reader::{Bound, Map, Reader};
use super::shape::Points;
use super::tree::{Node, Value};
use super::values::{area, one_of_words, rain, shorten};
use crate::geom::{Point, Vector, clip};
use crate::language::{phrase, say};
use crate::levels::{DrainKind, DrainSpec, Rainfall};
use crate::site::{Site, SiteArea};
use crate::units::read::ratio;

/// Most drains of a job.
const MOST: usize = 200;
/// Largest grate across, in millimetres.
const WIDEST: f64 = 2000.0;
/// How far off the paving a drain may be measured and still stand on it, in millimetres.
const ON: f64 = 10.0;
/// Grates may overlap by this much, which is rounding, in square millimetres.
const OVERLAP: f64 = 1.0;

/// The drains of a job, in order.
pub fn drains(r: &mut Reader, site: &Site, points: &Points, map: &Map<'_>) -> Vec<DrainSpec> {
    let wanted = &phrase!(
        "a list of drains such as {example}",
        example = "[{kind: point, at: [6', 4']}]"
    );
    let Some(node) = map.get("drains") else {
        return Vec::new();
    };
    let Some(items) = r.list(node, "site.drains", wanted) else {
        return Vec::new();
    };
    if items.len() > MOST {
        r.wrong(
            node,
            "site.drains",
            phrase!("at most {most} drains", most = MOST),
        );
        return Vec::new();
    }
    let mut out: Vec<DrainSpec> = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let path = format!("site.drains[{index}]");
        let Some(spec) = drain(r, site, points, item, &path, index) else {
            continue;
        };
        if out.iter().any(|other| other.name == spec.name) {
            let found = phrase!("a second drain named `{name}`", name = shorten(&spec.name));
            r.error(
                "drain",
                item.place,
                found,
                phrase!("a name of its own for each drain"),
            );
        }
        let along = Vector::new(1.0, 0.0);
        let over = out.iter().find(|other| {
            let shapes = other.kind.shape(along).zip(spec.kind.shape(along));
            shapes.is_some_and(|(a, b)| clip::area(&clip::intersection(&a, &b)) > OVERLAP)
        });
        if let Some(other) = over {
            let found = phrase!(
                "{path} lies over the drain `{name}`",
                path,
                name = shorten(&other.name)
            );
            r.error("drain", item.place, found, phrase!("drains that lie apart"));
        }
        out.push(spec);
    }
    out
}

/// The rain that drains are to take, when it is stated.
pub fn rainfall(r: &mut Reader, map: &Map<'_>) -> Option<Rainfall> {
    let Some(node) = map.get("rainfall") else {
        if let Some(entry) = map.entry("runoff") {
            r.error(
                "drain",
                entry.place,
                phrase!(
                    "`{key}` without `{other}`",
                    key = "site.runoff",
                    other = "site.rainfall"
                ),
                phrase!("{key} beside it", key = "rainfall: 4 in/h"),
            );
        }
        return None;
    };
    let mm_per_h = r.value(node, "site.rainfall", Bound::Positive, rain);
    let runoff = r.value_or(map, "runoff", Bound::Positive, ("0.85", "0.85"), ratio);
    if runoff > 1.0
        && let Some(node) = map.get("runoff")
    {
        r.wrong(
            node,
            "site.runoff",
            phrase!("a share of the rain, at most 1"),
        );
    }
    Some(Rainfall {
        mm_per_h: mm_per_h?,
        runoff,
    })
}

/// The kinds as a job writes them.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Point,
    Channel,
    Downspout,
}

impl Kind {
    /// The keys that go with it beside `name` and `kind`.
    const fn keys(self) -> &'static [&'static str] {
        match self {
            Kind::Point => &["at", "size", "set_down"],
            Kind::Channel => &["line", "width", "set_down"],
            Kind::Downspout => &["at", "roof"],
        }
    }

    const fn word(self) -> &'static str {
        match self {
            Kind::Point => "point",
            Kind::Channel => "channel",
            Kind::Downspout => "downspout",
        }
    }
}

/// One drain.
fn drain(
    r: &mut Reader,
    site: &Site,
    points: &Points,
    node: &Node,
    path: &str,
    index: usize,
) -> Option<DrainSpec> {
    let keys = [
        "name", "kind", "at", "line", "size", "width", "set_down", "roof",
    ];
    let map = r.map(node, path, &keys)?;
    let name = r.text_at(&map, "name");
    let kinds = [Kind::Point, Kind::Channel, Kind::Downspout].map(|kind| (kind.word(), kind));
    let kind = r.required(&map, "kind", one_of_words(&kinds));
    let kind = kind.and_then(|n| r.word(n, &map.key("kind"), &kinds))?;
    for key in ["at", "line", "size", "width", "set_down", "roof"] {
        if let Some(entry) = map.entry(key)
            && !kind.keys().contains(&key)
        {
            let found = phrase!("`{key}` of a drain of kind {kind}", key, kind = kind.word());
            let wanted = &phrase!(
                "only {keys} beside name and kind",
                keys = kind.keys().join(", ")
            );
            r.error("drain", entry.place, found, wanted);
        }
    }
    let kind = match kind {
        Kind::Point => {
            let at = place(r, site, points, &map);
            let size = across(r, &map, "size", ("12\"", "300 mm"));
            let set_down = set_down(r, &map);
            DrainKind::Point {
                at: at?,
                size,
                set_down,
            }
        }
        Kind::Channel => {
            let line = line(r, site, points, &map);
            let width = across(r, &map, "width", ("4\"", "100 mm"));
            let set_down = set_down(r, &map);
            DrainKind::Channel {
                line: line?,
                width,
                set_down,
            }
        }
        Kind::Downspout => {
            let at = place(r, site, points, &map);
            let roof_m2 = map
                .get("roof")
                .and_then(|n| r.value(n, &map.key("roof"), Bound::Positive, area));
            DrainKind::Downspout {
                at: at?,
                roof_m2: roof_m2.unwrap_or(0.0),
            }
        }
    };
    let name = name.unwrap_or_else(|| say!(r.languages, "Drain {number}", number = index + 1));
    Some(DrainSpec { name, kind })
}

/// How far the rim lies below the finish.
fn set_down(r: &mut Reader, map: &Map<'_>) -> f64 {
    r.length_or(map, "set_down", Bound::NotNegative, ("1/8\"", "3 mm"))
}

/// A size of the grate.
fn across(r: &mut Reader, map: &Map<'_>, key: &str, default: (&'static str, &'static str)) -> f64 {
    let value = r.length_or(map, key, Bound::Positive, default);
    if value > WIDEST
        && let Some(node) = map.get(key)
    {
        let wanted = phrase!("at most {most}", most = r.told_or_less(WIDEST));
        r.wrong(node, &map.key(key), wanted);
    }
    value
}

/// `at`, on the paving.
fn place(r: &mut Reader, site: &Site, points: &Points, map: &Map<'_>) -> Option<Point> {
    let node = r.required(
        map,
        "at",
        phrase!("a point such as {example}", example = "[6', 4']"),
    )?;
    let at = finish::at(r, site, points, node, &map.key("at"))?;
    paved(r, site, node, &map.key("at"), at)
}

/// `line`, both ends on the paving.
fn line(r: &mut Reader, site: &Site, points: &Points, map: &Map<'_>) -> Option<[Point; 2]> {
    let wanted = &phrase!(
        "two points such as {points}",
        points = "[[0, 6'], [14', 6']]"
    );
    let path = map.key("line");
    let node = r.required(map, "line", wanted)?;
    let (from, to) = match &node.value {
        Value::List(ends) if ends.len() == 2 => (&ends[0], &ends[1]),
        _ => {
            r.wrong(node, &path, wanted);
            return None;
        }
    };
    let end = |r: &mut Reader, node: &Node, index: usize| {
        let path = format!("{path}[{index}]");
        let at = finish::at(r, site, points, node, &path)?;
        paved(r, site, node, &path, at)
    };
    let (from, to) = (end(r, from, 0), end(r, to, 1));
    let line = [from?, to?];
    if line[0].distance(line[1]) < ON {
        r.error(
            "drain",
            node.place,
            phrase!("a channel without length"),
            wanted,
        );
        return None;
    }
    Some(line)
}

/// The place, when it is on the paving.
fn paved(r: &mut Reader, site: &Site, node: &Node, path: &str, at: Point) -> Option<Point> {
    if site.areas.is_empty() || site.areas.iter().any(|area| stands_on(area, at)) {
        return Some(at);
    }
    let found = phrase!("{path} is not on the paving", path);
    r.error(
        "drain",
        node.place,
        found,
        phrase!("a place on a paved area"),
    );
    None
}

/// Whether a place is on an area or hardly off its edge.
fn stands_on(area: &SiteArea, at: Point) -> bool {
    let near = area.edges().any(|edge| edge.edge.distance(at) <= ON);
    near || clip::contains(&area.shape(), at)
}
