//! `base`: the panels, how far they go, their stagger and the first panels as laid.
//!
//! In: the nodes. Out: [`Base`] in millimetres, defaults filled in and noted as assumed, and the
//! first panels by area once the site is resolved. Where the panels start is read with the finish.

use std::collections::BTreeMap;

use super::reader::{Bound, Map, Reader};
use super::tree::{Entry, Node, Value};
use super::values::{density, length};
use crate::diag::Place;
use crate::language::phrase;
use crate::panels::{CourseStarts, LayoutRule, PanelSpec, PanelsSpec};
use crate::site::Site;
use crate::units::read::ratio;

/// Most entries of a list of the job's own.
const MOST: usize = 2000;

/// What `base` says beside the panels' start.
#[derive(Debug)]
pub struct Base {
    /// The panels.
    pub panels: PanelsSpec,
    /// Extension past open edges, in millimetres.
    pub extension: f64,
    /// First panels as laid, by the name of an area, with its place in the job.
    pub starts_of: Vec<(String, Place, CourseStarts)>,
    /// Density of a panel, kg/m³.
    pub panel_density: f64,
}

/// Reads `base` but for its start.
pub fn base(r: &mut Reader, map: &Map<'_>) -> Base {
    let keys = ["length", "width", "thickness", "joint", "density"];
    let block = r.block(map, "panel", &keys);
    let panel = &block;
    // Of moulded foam plastic; from memory.
    let foam = ("4 lb/ft³", "60 kg/m³");
    let panel_density = r.value_or(panel, "density", Bound::Positive, foam, density);
    let panel = PanelSpec {
        length: r.length_or(panel, "length", Bound::Positive, ("3'", "900 mm")),
        width: r.length_or(panel, "width", Bound::Positive, ("2'", "600 mm")),
        thickness: r.length_or(panel, "thickness", Bound::Positive, ("3/4\"", "20 mm")),
        joint: r.length_or(panel, "joint", Bound::NotNegative, ("0", "0")),
    };
    let extension = r.length_or(map, "extension", Bound::NotNegative, ("6\"", "150 mm"));
    let stagger = stagger(r, map, panel.length + panel.joint);
    let min_stagger = r.length_or(map, "min_stagger", Bound::NotNegative, ("6\"", "150 mm"));
    let min_piece = r.length_or(map, "min_piece", Bound::NotNegative, ("4\"", "100 mm"));
    let layouts = [("fixed", LayoutRule::Fixed), ("best", LayoutRule::Best)];
    let layout = r.word_at(map, "layout", &layouts);
    let starts = course_starts(r, map, panel.length);
    Base {
        panels: PanelsSpec {
            panel,
            stagger,
            min_stagger,
            min_piece,
            layout: layout.unwrap_or(LayoutRule::Fixed),
            course_starts: starts.home,
        },
        starts_of: starts.of_areas,
        extension,
        panel_density,
    }
}

/// The stagger in millimetres: a share of the panel cell's length, or a length.
fn stagger(r: &mut Reader, map: &Map<'_>, cell: f64) -> f64 {
    let Some(node) = map.get("stagger") else {
        r.assume(map.key("stagger"), "1/2");
        return cell / 2.0;
    };
    let wanted =
        &phrase!("a share of the panel's length such as 1/2 or 33%, or a length such as 18\"");
    let Value::Scalar(text, _) = &node.value else {
        r.wrong(node, &map.key("stagger"), wanted);
        return 0.0;
    };
    match (ratio(text), length(text)) {
        (Ok(share), _) if (0.0..=1.0).contains(&share) => share * cell,
        (Err(_), Ok(_)) => r
            .length(node, &map.key("stagger"), Bound::NotNegative)
            .unwrap_or(0.0),
        _ => {
            r.wrong(node, &map.key("stagger"), wanted);
            0.0
        }
    }
}

/// First panels as laid: for the part of the base that the panels' start is on, and by the name of
/// an area for the part that it is on.
#[derive(Debug, Default)]
struct Starts {
    home: CourseStarts,
    of_areas: Vec<(String, Place, CourseStarts)>,
}

/// Reads `course_starts`: a list from the start corner's course on, a mapping by the number of
/// the course from there, or either by the name of an area.
fn course_starts(r: &mut Reader, map: &Map<'_>, panel: f64) -> Starts {
    let mut starts = Starts::default();
    let Some(node) = map.get("course_starts") else {
        return starts;
    };
    let path = map.key("course_starts");
    let by_area = |entries: &[Entry]| !entries.iter().all(is_number);
    match &node.value {
        Value::Map(entries) if by_area(entries) => {
            for entry in entries.iter().take(MOST) {
                let path = format!("{path}.{}", entry.key);
                let listed = starts_of_part(r, &entry.node, &path, panel);
                starts
                    .of_areas
                    .push((entry.key.clone(), entry.place, listed));
            }
        }
        _ => starts.home = starts_of_part(r, node, &path, panel),
    }
    starts
}

/// Whether a key is a number, be it that of a course or not.
fn is_number(entry: &Entry) -> bool {
    entry.key.parse::<usize>().is_ok()
}

/// The index of the course that a key numbers: from 1 to [`MOST`].
fn course(r: &mut Reader, entry: &Entry) -> Option<usize> {
    let number = entry.key.parse().ok();
    let index = number.filter(|number| (1..=MOST).contains(number));
    if index.is_none() {
        r.error(
            "size",
            entry.place,
            phrase!("`{key}` is no course", key = entry.key),
            phrase!(
                "the number of a course, from 1 at the start corner to {most}",
                most = MOST
            ),
        );
    }
    index.map(|number| number - 1)
}

/// First panels of one part of the base, by course from 0.
fn starts_of_part(r: &mut Reader, node: &Node, path: &str, panel: f64) -> CourseStarts {
    let wanted = &phrase!(
        "a list of lengths such as {list}, or lengths by course such as {courses}; at most {most}",
        list = "[3', 18\", 3']",
        courses = "{2: 18\", 5: 3'}",
        most = MOST
    );
    let listed: Vec<(usize, String, &Node)> = match &node.value {
        Value::List(items) if items.len() <= MOST => items
            .iter()
            .enumerate()
            .map(|(index, item)| (index, format!("{path}[{index}]"), item))
            .collect(),
        Value::Map(entries) if entries.iter().all(is_number) => entries
            .iter()
            .filter_map(|entry| {
                let index = course(r, entry)?;
                Some((index, format!("{path}.{}", entry.key), &entry.node))
            })
            .collect(),
        _ => {
            r.wrong(node, path, wanted);
            return CourseStarts::new();
        }
    };
    let mut out = CourseStarts::new();
    for (index, path, item) in listed {
        let Some(value) = r.length(item, &path, Bound::Positive) else {
            continue;
        };
        if value > panel + 0.5 {
            r.error(
                "size",
                item.place,
                phrase!("{path} is longer than a panel", path),
                phrase!("the length of the course's first panel, at most a whole one"),
            );
        }
        out.insert(index, value);
    }
    out
}

/// First panels as laid by area: a name that no area bears is an error.
pub fn course_starts_of(
    r: &mut Reader,
    site: &Site,
    named: Vec<(String, Place, CourseStarts)>,
) -> BTreeMap<usize, CourseStarts> {
    let mut of = BTreeMap::new();
    for (name, place, starts) in named {
        match site.areas.iter().position(|area| area.name == name) {
            Some(area) => {
                of.insert(area, starts);
            }
            None => {
                let names: Vec<&str> = site.areas.iter().map(|area| area.name.as_str()).collect();
                r.error(
                    "no-area",
                    place,
                    phrase!(
                        "{key}: no area is named {name}",
                        key = "base.course_starts",
                        name
                    ),
                    phrase!(
                        "the number of a course from 1, or one of {names}",
                        names = names.join(", ")
                    ),
                );
            }
        }
    }
    of
}
