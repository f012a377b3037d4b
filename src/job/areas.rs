//! `site.structures`, `site.ground` and the outlines under `paving`.
//!
//! In: the nodes. Out: structures, spot levels and areas in site millimetres, and the resolved
//! [`Site`], whose errors are given the places of the outlines, corners, edges and structures they
//! are about.

use super::levelling;
use super::reader::{Bound, Map, Reader};
use super::shape::{self, Points, Shape};
use super::tree::{Node, Value};
use super::values::one_of_words;
use crate::diag::{Diagnostic, Place};
use crate::geom::Point;
use crate::language::{Phrase, phrase, say};
use crate::levels::Spot;
use crate::site::{
    AreaSpec, NoteKind, OutlineItem, Site, SitePlace, StructureKind, StructureSpec, lettered,
    resolve,
};

/// Most areas, holes of an area, or structures.
const MOST: usize = 500;
/// Most edges of all areas and structures.
const MOST_EDGES: usize = 4000;
/// Most spot levels.
const MOST_SPOTS: usize = 20_000;
/// Spot levels that stand nearer than this are at one place, in millimetres.
const ONE_PLACE: f64 = 0.5;
/// Levels nearer than this are the same, in millimetres.
const ONE_LEVEL: f64 = 0.05;

/// Keys of an area.
pub const KEYS: [&str; 13] = [
    "name",
    "outline",
    "rectangle",
    "circle",
    "edge",
    "edges",
    "holes",
    "paver",
    "bond",
    "turn",
    "start",
    "border",
    "fall",
];

/// One area with the places of its parts.
#[derive(Debug)]
pub struct Area<'a> {
    /// Its mapping.
    pub map: Map<'a>,
    /// Its name.
    pub name: String,
    /// Outer outline, then holes; `None` when one of them could not be read.
    shapes: Option<Vec<Shape>>,
}

/// Structures with their places.
#[derive(Debug, Default)]
pub struct Structures {
    specs: Vec<StructureSpec>,
    places: Vec<Place>,
    whole: bool,
}

/// Reads `site.structures`.
pub fn structures(r: &mut Reader, points: &Points, site: &Map<'_>) -> Structures {
    let mut out = Structures {
        whole: true,
        ..Structures::default()
    };
    let Some(node) = site.get("structures") else {
        return out;
    };
    let path = site.key("structures");
    let Some(items) = bounded(
        r,
        node,
        &path,
        &phrase!("a list of {entries}", entries = "{name, kind, outline}"),
    ) else {
        out.whole = false;
        return out;
    };
    for (index, item) in items.iter().enumerate() {
        match structure(r, points, item, &format!("{path}[{index}]")) {
            Some(spec) => {
                out.specs.push(spec);
                out.places.push(item.place);
            }
            None => out.whole = false,
        }
    }
    out
}

/// A list of at most [`MOST`] items.
fn bounded<'a>(r: &mut Reader, node: &'a Node, path: &str, wanted: &Phrase) -> Option<&'a [Node]> {
    let items = r.list(node, path, wanted)?;
    if items.len() > MOST {
        let found = phrase!(
            "{path} has {count} entry | {path} has {count} entries",
            path,
            count = items.len()
        );
        r.error(
            "too-many",
            node.place,
            found,
            phrase!("at most {most}", most = MOST),
        );
        return None;
    }
    Some(items)
}

/// One structure.
fn structure(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<StructureSpec> {
    let keys = [
        "name",
        "kind",
        "outline",
        "rectangle",
        "circle",
        "on_paving",
        "wall_level",
        "wall_clear",
    ];
    let map = r.map(node, path, &keys)?;
    let kinds = [
        ("building", StructureKind::Building),
        ("wall", StructureKind::Wall),
        ("pool", StructureKind::Pool),
        ("tree", StructureKind::Tree),
        ("post", StructureKind::Post),
        ("step", StructureKind::Step),
        ("other", StructureKind::Other),
    ];
    let wanted = one_of_words(&kinds);
    let kind = r.required(&map, "kind", wanted);
    let kind = kind.and_then(|n| r.word(n, &map.key("kind"), &kinds));
    let name = match map.get("name") {
        Some(node) => r.text(node, &map.key("name")),
        None => kinds
            .iter()
            .find(|(_, k)| Some(*k) == kind)
            .map(|(word, _)| (*word).to_owned()),
    };
    let on_paving = match map.get("on_paving") {
        Some(node) => r.truth(node, &map.key("on_paving")),
        None => Some(false),
    };
    let shape = shape::shape(r, points, &map)?;
    Some(StructureSpec {
        name: name?,
        kind: kind?,
        ring: shape.outline.ring,
        on_paving: on_paving?,
    })
}

/// Reads `site.ground`.
pub fn ground(r: &mut Reader, points: &Points, site: &Map<'_>) -> Vec<Spot> {
    let Some(node) = site.get("ground") else {
        return Vec::new();
    };
    let path = site.key("ground");
    let wanted = &phrase!("a list of spot levels such as [[0, 0, 99.61']]");
    let Some(items) = r.list(node, &path, wanted) else {
        return Vec::new();
    };
    if items.len() > MOST_SPOTS {
        r.error(
            "too-many",
            node.place,
            phrase!("more than {most} spot levels", most = MOST_SPOTS),
            wanted,
        );
        return Vec::new();
    }
    let mut spots: Vec<(Spot, Place)> = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let path = format!("{path}[{index}]");
        if let Some(spot) = spot(r, points, item, &path) {
            spots.push((spot, item.place));
        }
    }
    let mut order: Vec<usize> = (0..spots.len()).collect();
    order.sort_by(|&a, &b| spots[a].0.at.x.total_cmp(&spots[b].0.at.x).then(a.cmp(&b)));
    let mut clashes: Vec<(usize, usize)> = Vec::new();
    for (at, &a) in order.iter().enumerate() {
        for &b in &order[at + 1..] {
            let (one, other) = (spots[a].0, spots[b].0);
            if other.at.x - one.at.x > ONE_PLACE || clashes.len() > 500 {
                break;
            }
            let together = one.at.distance(other.at) < ONE_PLACE;
            if together && (one.level - other.level).abs() > ONE_LEVEL {
                clashes.push((a.max(b), a.min(b)));
            }
        }
    }
    clashes.sort_unstable();
    clashes.dedup_by_key(|clash| clash.0);
    for (later, earlier) in clashes {
        let line = spots[earlier].1.line;
        r.error(
            "ground",
            spots[later].1,
            phrase!(
                "a second spot level at one place that differs from the one in line {line}",
                line
            ),
            phrase!("one level at one place"),
        );
    }
    spots.into_iter().map(|(spot, _)| spot).collect()
}

/// One spot level: `[x, y, level]`, `[point, level]`, or the name of a point that is placed and
/// levelled.
fn spot(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<Spot> {
    let wanted = &phrase!("x, y and level, such as [0, 0, 99.61']; or a point of site.levelling");
    if let Value::Scalar(..) = &node.value {
        let at = shape::point(r, points, node, path);
        let level = levelling::level(r, points, node, path);
        return Some(Spot {
            at: at?.at,
            level: level?,
        });
    }
    let items = r.list(node, path, wanted)?;
    match items {
        [x, y, level] => {
            let x = r.length(x, &format!("{path}[0]"), Bound::Any);
            let y = r.length(y, &format!("{path}[1]"), Bound::Any);
            let level = levelling::level(r, points, level, &format!("{path}[2]"));
            Some(Spot {
                at: Point::new(x?, y?),
                level: level?,
            })
        }
        [at, level] => {
            let at = shape::point(r, points, at, &format!("{path}[0]"));
            let level = levelling::level(r, points, level, &format!("{path}[1]"));
            Some(Spot {
                at: at?.at,
                level: level?,
            })
        }
        _ => {
            r.wrong(node, path, wanted);
            None
        }
    }
}

/// Reads the outlines of `paving`.
pub fn areas<'a>(r: &mut Reader, points: &Points, root: &Map<'a>) -> Vec<Area<'a>> {
    let wanted = &phrase!(
        "a list of areas such as {example}",
        example = "[{name: Landing, outline: [[0, 0], [14', 0], [14', 8']]}]"
    );
    let Some(node) = r.required(root, "paving", wanted) else {
        return Vec::new();
    };
    let Some(items) = bounded(r, node, "paving", wanted) else {
        return Vec::new();
    };
    if items.is_empty() {
        r.wrong(node, "paving", wanted);
    }
    let mut out = Vec::new();
    for (index, item) in items.iter().enumerate() {
        let path = format!("paving[{index}]");
        let Some(map) = r.map(item, &path, &KEYS) else {
            continue;
        };
        let name = r.text_at(&map, "name");
        if let (Some(name), Some(node)) = (&name, map.get("name"))
            && out.iter().any(|area: &Area| area.name == *name)
        {
            let found = phrase!(
                "{key} is `{name}`, as that of an area before",
                key = format!("{path}.name"),
                name
            );
            r.error("area-name", node.place, found, phrase!("a name of its own"));
        }
        let outer = shape::shape(r, points, &map);
        let holes = holes(r, points, &map);
        let shapes = outer.zip(holes).map(|(outer, mut holes)| {
            holes.insert(0, outer);
            holes
        });
        out.push(Area {
            map,
            name: name.unwrap_or_else(|| say!(r.languages, "Area {number}", number = index + 1)),
            shapes,
        });
    }
    out
}

/// The holes of an area.
fn holes(r: &mut Reader, points: &Points, map: &Map<'_>) -> Option<Vec<Shape>> {
    let Some(node) = map.get("holes") else {
        return Some(Vec::new());
    };
    let path = map.key("holes");
    let items = bounded(
        r,
        node,
        &path,
        &phrase!(
            "a list of {entries}",
            entries = "{outline: …} / {circle: …}"
        ),
    )?;
    let mut out = Vec::new();
    let mut whole = true;
    for (index, item) in items.iter().enumerate() {
        let keys = ["outline", "rectangle", "circle", "edge", "edges"];
        let hole = r
            .map(item, &format!("{path}[{index}]"), &keys)
            .and_then(|map| shape::shape(r, points, &map));
        match hole {
            Some(hole) => out.push(hole),
            None => whole = false,
        }
    }
    whole.then_some(out)
}

/// The areas' specs and the resolved site; `None` when an outline or a structure could not be
/// read. A site that is refused (which is said) comes back lettered only, so that what else the
/// job says of its corners and edges is checked too.
pub fn site(
    r: &mut Reader,
    areas: &[Area<'_>],
    structures: &Structures,
    points: &Points,
) -> Option<(Vec<AreaSpec>, Vec<StructureSpec>, Site)> {
    let specs: Option<Vec<AreaSpec>> = areas.iter().map(Area::spec).collect();
    let specs = specs.filter(|specs| structures.whole && !specs.is_empty())?;
    let corners: usize = specs
        .iter()
        .flat_map(|area| std::iter::once(&area.outline).chain(&area.holes))
        .map(|outline| outline.ring.edges.len())
        .chain(structures.specs.iter().map(|s| s.ring.edges.len()))
        .sum();
    if corners > MOST_EDGES {
        let place = areas
            .first()
            .map_or(Place::default(), |area| area.map.place);
        let found = phrase!(
            "{count} edge of areas and structures | {count} edges of areas and structures",
            count = corners
        );
        r.error(
            "too-many",
            place,
            found,
            phrase!("at most {most}", most = MOST_EDGES),
        );
        return None;
    }
    match resolve(&specs, &structures.specs, &points.written) {
        Ok(site) => {
            for note in &site.notes {
                let code = match note.kind {
                    NoteKind::CornerOnFace { .. } => "corner-on-face",
                    NoteKind::OpenAtWall { .. } => "open-at-wall",
                };
                let place = place(areas, structures, note.place);
                r.add(Diagnostic::warning(code, note.kind.phrase(r.system())).at(place));
            }
            Some((specs, structures.specs.clone(), site))
        }
        Err(mut errors) => {
            let (site, unnamed) = lettered(&specs, &points.written);
            for error in unnamed {
                if !errors.contains(&error) {
                    errors.push(error);
                }
            }
            for error in errors {
                let place = place(areas, structures, error.place);
                let found = error.phrase(r.system());
                r.error("site", place, found, error.wanted);
            }
            Some((specs, structures.specs.clone(), site))
        }
    }
}

impl Area<'_> {
    /// The area as the site takes it.
    fn spec(&self) -> Option<AreaSpec> {
        let shapes = self.shapes.as_ref()?;
        let mut outlines = shapes.iter().map(|shape| shape.outline.clone());
        Some(AreaSpec {
            name: self.name.clone(),
            outline: outlines.next()?,
            holes: outlines.collect(),
        })
    }
}

/// Where in the file a place of the site is.
fn place(areas: &[Area<'_>], structures: &Structures, place: SitePlace) -> Place {
    let found = match place {
        SitePlace::Structure(index) => structures.places.get(index).copied(),
        SitePlace::Area(index) => areas.get(index).map(|area| area.map.place),
        SitePlace::Outline { area, ring, item } => {
            let shape = areas
                .get(area)
                .and_then(|area| area.shapes.as_ref())
                .and_then(|shapes| shapes.get(ring));
            shape.map(|shape| {
                let part = match item {
                    OutlineItem::Whole => None,
                    OutlineItem::Corner(index) | OutlineItem::Edge(index) => {
                        shape.corners.get(index)
                    }
                    OutlineItem::Entry(index) => shape.edges.get(index),
                };
                part.copied().unwrap_or(shape.place)
            })
        }
    };
    found.unwrap_or_default()
}
