//! What the finish has to fit: existing surfaces, walls, steps at sills, the rod and the base line.
//!
//! In: `levels.fixed`, `levels.rod`, `wall_level` and `wall_clear` of structures, `steps` of sills,
//! `site.base_line`, and `through` of a finish plane. Out: their values in site millimetres. A
//! measured level must stand on the edge that it is said to be of.

use super::finish;
use super::levelling;
use super::reader::{Bound, Map, Reader};
use super::shape::Points;
use super::tree::{Node, Value};
use super::values::length;
use crate::diag::Diagnostic;
use crate::geom::Point;
use crate::language::{Phrase, phrase, say};
use crate::levels::{FixedEdge, LevelsSpec, Plane, Spot, WallLevel, best_plane};
use crate::site::{Against, Site};
use crate::units::{Rod, System};

/// Most entries of a list.
const MOST: usize = 500;
/// A level this far from the edge it is said to be of, in millimetres, is of something else.
const BESIDE: f64 = 300.0;
/// What a fixed level looks like.
const LEVEL: Phrase = phrase!("a place and its level such as [C, 99.42'] or [10', 12', 99.38']");

/// What readings are printed in: `levels.rod`, else by the sheet's units, which is said as assumed
/// when there are readings to print.
pub fn rod(r: &mut Reader, map: &Map<'_>, units: System, levels: &LevelsSpec) -> Rod {
    let words = [
        ("decimal-feet", Rod::DecimalFeet),
        ("feet-inches", Rod::FeetInches),
        ("metric", Rod::Metric),
    ];
    let default = match units {
        System::FeetInches | System::Dual => 0,
        System::Metric => 2,
    };
    if map.get("rod").is_some() {
        return r.word_at(map, "rod", &words).unwrap_or(words[default].1);
    }
    if levels.instrument.is_some() || levels.datum.is_some() {
        r.assume(map.key("rod"), words[default].0);
    }
    words[default].1
}

/// Existing surfaces that edges must meet.
pub fn surfaces(r: &mut Reader, map: &Map<'_>, site: &Site, points: &Points) -> Vec<FixedEdge> {
    let path = map.key("fixed");
    let Some(node) = map.get("fixed") else {
        return Vec::new();
    };
    let wanted = &phrase!(
        "a list of {entries}",
        entries = "{edge, surface, levels, lip}"
    );
    let Some(items) = r.list(node, &path, wanted) else {
        return Vec::new();
    };
    if items.len() > MOST {
        r.wrong(node, &path, phrase!("at most {most} surfaces", most = MOST));
        return Vec::new();
    }
    let mut out = Vec::new();
    for (index, item) in items.iter().enumerate() {
        out.extend(surface(r, item, &format!("{path}[{index}]"), site, points));
    }
    out
}

/// One surface.
fn surface(
    r: &mut Reader,
    node: &Node,
    path: &str,
    site: &Site,
    points: &Points,
) -> Option<FixedEdge> {
    let map = r.map(node, path, &["edge", "surface", "levels", "lip"])?;
    let lip = r.length_or(&map, "lip", Bound::NotNegative, ("1/4\"", "6 mm"));
    let surface = r.text_at(&map, "surface");
    let edge = r.required(
        &map,
        "edge",
        phrase!("an edge such as {example}", example = "C-D"),
    );
    let edge = edge.and_then(|n| finish::edge(r, site, n, &map.key("edge"), None));
    let levels = r.required(
        &map,
        "levels",
        phrase!("measured levels such as [[C, 99.42']]"),
    )?;
    let levels_path = map.key("levels");
    let items = r.list(levels, &levels_path, LEVEL)?;
    if items.is_empty() || items.len() > MOST {
        r.wrong(levels, &levels_path, LEVEL);
        return None;
    }
    let edge = edge?;
    let mut spots = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let spot = spot(r, item, &format!("{levels_path}[{index}]"), site, points);
        if let Some(spot) = spot {
            let off = edge.edge.distance(spot.at);
            if off > BESIDE {
                let found = phrase!(
                    "this level stands {off} from the edge {edge}",
                    off = r.told(off),
                    edge = edge.name
                );
                let wanted = &phrase!("a level measured where the paving meets the surface");
                r.error("fixed", item.place, found, wanted);
            }
        }
        spots.push(spot);
    }
    Some(FixedEdge {
        surface: surface.unwrap_or_else(|| say!(r.languages, "the existing surface")),
        edge: edge.name.clone(),
        levels: spots.into_iter().collect::<Option<Vec<_>>>()?,
        lip,
    })
}

/// One fixed level: `[corner or point, level]`, `[x, y, level]`, or a point placed and levelled.
fn spot(r: &mut Reader, node: &Node, path: &str, site: &Site, points: &Points) -> Option<Spot> {
    let (at, level) = match &node.value {
        Value::Scalar(..) => (
            finish::at(r, site, points, node, path),
            levelling::level(r, points, node, path),
        ),
        Value::List(items) => match items.as_slice() {
            [at, level] => (
                finish::at(r, site, points, at, &format!("{path}[0]")),
                levelling::level(r, points, level, &format!("{path}[1]")),
            ),
            [x, y, level] => {
                let x = r.length(x, &format!("{path}[0]"), Bound::Any);
                let y = r.length(y, &format!("{path}[1]"), Bound::Any);
                (
                    x.zip(y).map(|(x, y)| Point::new(x, y)),
                    levelling::level(r, points, level, &format!("{path}[2]")),
                )
            }
            _ => {
                r.wrong(node, path, LEVEL);
                return None;
            }
        },
        Value::Map(_) => {
            r.wrong(node, path, LEVEL);
            return None;
        }
    };
    Some(Spot {
        at: at?,
        level: level?,
    })
}

/// The plane of `through`: the best one through `fixed`, or through a list of levels.
pub fn through(
    r: &mut Reader,
    site: &Site,
    points: &Points,
    node: &Node,
    path: &str,
    fixed: &[&FixedEdge],
) -> Option<Plane> {
    let wanted = &phrase!(
        "`fixed`, or three levels or more such as [[A, 99.50'], [B, 99.42'], [C, 99.31']]"
    );
    let spots: Vec<Spot> = match &node.value {
        Value::Scalar(text, _) if text == "fixed" => fixed
            .iter()
            .flat_map(|edge| edge.levels.iter().copied())
            .collect(),
        Value::List(items) if items.len() <= MOST => {
            let mut spots = Vec::new();
            for (index, item) in items.iter().enumerate() {
                spots.push(spot(r, item, &format!("{path}[{index}]"), site, points));
            }
            spots.into_iter().collect::<Option<Vec<_>>>()?
        }
        _ => {
            r.wrong(node, path, wanted);
            return None;
        }
    };
    let plane = best_plane(&spots);
    match plane {
        None => {
            let found = phrase!(
                "{path} has {count} level that fixes no plane | {path} has {count} levels that fix no plane",
                path,
                count = spots.len()
            );
            let wanted = &phrase!("three levels or more that are not in a line");
            r.error("fixed", node.place, found, wanted);
        }
        Some(plane) if plane.fall() > 1.0 => {
            r.wrong(
                node,
                path,
                phrase!("levels whose plane falls by at most 100%"),
            );
            return None;
        }
        Some(_) => {}
    }
    plane
}

/// `wall_level` and `wall_clear` of the structures.
pub fn walls(r: &mut Reader, site_map: &Map<'_>, site: &Site, points: &Points) -> Vec<WallLevel> {
    let Some(Value::List(items)) = site_map.get("structures").map(|node| &node.value) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let path = format!("{}[{index}]", site_map.key("structures"));
        let Some(map) = r.open_map(item, &path) else {
            continue;
        };
        let Some(node) = map.get("wall_level") else {
            if let Some(entry) = map.entry("wall_clear") {
                let wanted =
                    &phrase!("wall_level: the level of the cladding's foot or the weep holes");
                r.error(
                    "missing",
                    entry.place,
                    phrase!(
                        "`{key}` without `{other}`",
                        key = "wall_clear",
                        other = "wall_level"
                    ),
                    wanted,
                );
            }
            continue;
        };
        let clear = r.length_or(&map, "wall_clear", Bound::NotNegative, ("2\"", "50 mm"));
        let path = map.key("wall_level");
        let along = |edge: &crate::site::SiteEdge| {
            let mut stretches = edge.stretches.iter();
            stretches.any(|s| s.against == Some(Against::Structure(index)))
        };
        let levels: Vec<(Option<String>, Option<f64>)> = match &node.value {
            Value::Map(entries) => {
                let mut levels = Vec::new();
                for entry in entries {
                    let level =
                        levelling::level(r, points, &entry.node, &format!("{path}.{}", entry.key));
                    let edge = site.edge(&entry.key).map(|(_, edge)| edge);
                    if !edge.is_some_and(along) {
                        let found =
                            phrase!("{edge} does not run along this structure", edge = entry.key);
                        let wanted = &phrase!("an edge of the paving along it, such as A-B");
                        r.error("unknown-edge", entry.place, found, wanted);
                        continue;
                    }
                    levels.push((edge.map(|edge| edge.name.clone()), level));
                }
                levels
            }
            _ => vec![(None, levelling::level(r, points, node, &path))],
        };
        if !site.areas.iter().flat_map(|a| a.edges()).any(along) {
            let found = phrase!(
                "no edge of the paving runs along this structure: its wall level is not used"
            );
            r.add(Diagnostic::warning("wall-level", found).at(node.place));
        }
        out.extend(levels.into_iter().filter_map(|(edge, level)| {
            Some(WallLevel {
                structure: index,
                edge,
                level: level?,
                clear,
            })
        }));
    }
    out
}

/// Levels of the treads at a sill, which go down from it.
pub fn steps(r: &mut Reader, map: &Map<'_>, sill: Option<f64>, points: &Points) -> Vec<f64> {
    let wanted = &phrase!("levels of the treads from the sill down, such as [99.4', 98.8']");
    let path = map.key("steps");
    let Some(node) = map.get("steps") else {
        return Vec::new();
    };
    let Some(items) = r.list(node, &path, wanted) else {
        return Vec::new();
    };
    if items.len() > MOST {
        r.wrong(node, &path, wanted);
        return Vec::new();
    }
    let mut last = sill;
    let mut out = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let Some(level) = levelling::level(r, points, item, &format!("{path}[{index}]")) else {
            continue;
        };
        if last.is_some_and(|last| level >= last) {
            let found = phrase!("a tread that is not below the one before");
            r.error("steps", item.place, found, wanted);
        }
        last = Some(level);
        out.push(level);
    }
    out
}

/// The base line that the job states.
pub fn base_line(
    r: &mut Reader,
    map: &Map<'_>,
    site: &Site,
    points: &Points,
) -> Option<[(String, Point); 2]> {
    let wanted = &phrase!("two points or corners that are apart, such as [H1, H2]");
    let node = map.get("base_line")?;
    let path = map.key("base_line");
    let items = r.list(node, &path, wanted)?;
    let [first, last] = items else {
        r.wrong(node, &path, wanted);
        return None;
    };
    let mut end = |node: &Node, index: usize| {
        let path = format!("{path}[{index}]");
        let name = r.text(node, &path)?;
        let at = finish::at(r, site, points, node, &path)?;
        Some((name, at))
    };
    let (first, last) = (end(first, 0)?, end(last, 1)?);
    // Under this a base line turns with the thickness of the tape.
    let least = length("1'").unwrap_or(300.0);
    if first.1.distance(last.1) < least {
        r.wrong(node, &path, wanted);
        return None;
    }
    Some([first, last])
}
