//! What needs the resolved site: where pavers and panels start, and the finish planes.
//!
//! In: the nodes and the [`Site`]. Out: starts by corner and edge, and one [`FinishSpec`] an area,
//! each field stated by the area, else by `levels.finish`, else found by rule: at the first area's
//! start corner, at level 0 (unless levels are used elsewhere), 2 %, away from the one wall edge,
//! or from the first area's start edge when there is no wall. "The wall edge" is read over all areas.

use super::reader::{Bound, Map, Reader};
use super::shape::{Points, pair};
use super::tree::{Node, Value};
use super::values::{angle, fall, nearest, shorten};
use super::{fixed, levelling};
use crate::diag::{Diagnostic, Place};
use crate::geom::Point;
use crate::language::{Phrase, phrase};
use crate::levels::{FallDirection, FinishSpec, FixedEdge};
use crate::site::{EdgeKind, Site, SiteEdge, StartSpec};
use crate::units::{Length, Precision, print};

/// Keys of a finish plane.
pub const KEYS: [&str; 6] = ["at", "level", "fall", "away_from", "towards", "through"];

/// What a mapping says of a finish plane.
#[derive(Clone, Debug, Default)]
pub struct Stated {
    at: Option<Point>,
    at_text: Option<String>,
    level: Option<f64>,
    fall: Option<f64>,
    direction: Option<FallDirection>,
    /// Something was stated that could not be read: no default takes its place.
    broken: bool,
}

/// A start: `{corner: A, along: A-B}`. `area` bounds where corner and edge may be.
pub fn start(
    r: &mut Reader,
    site: &Site,
    node: &Node,
    path: &str,
    area: Option<usize>,
) -> Option<StartSpec> {
    let keys: &[&str] = match area {
        Some(_) => &["corner", "along", "shift"],
        None => &["corner", "along"],
    };
    let map = r.map(node, path, keys)?;
    let along = r.required(
        &map,
        "along",
        phrase!("the edge that courses run along, such as A-B"),
    )?;
    let edge = edge(r, site, along, &map.key("along"), area);
    let Some(corner) = map.get("corner") else {
        // A circle has one edge and no corner: its start is the rule's.
        if edge.is_some_and(|edge| edge.corners.is_some()) {
            r.required(
                &map,
                "corner",
                phrase!("the corner that courses start at, such as A"),
            );
        }
        return None;
    };
    let name = r.text(corner, &map.key("corner"))?;
    let known: Vec<&str> = match area {
        Some(area) => corner_names(site, &site.areas[area].edges().collect::<Vec<_>>()),
        None => site.corners.iter().map(|c| c.name.as_str()).collect(),
    };
    if !known.contains(&name.as_str()) {
        let name = shorten(&name);
        let found = match area {
            Some(area) => phrase!(
                "`{name}` is not a corner of the area {area}",
                name,
                area = site.areas[area].name
            ),
            None => phrase!("`{name}` is not a corner of the paving", name),
        };
        r.error("start", corner.place, found, one_of_corners(&known));
        return None;
    }
    let edge = edge?;
    let ends: Vec<&str> = corner_names(site, &[edge]);
    if !ends.contains(&name.as_str()) {
        let found = phrase!(
            "the edge {edge} does not start or end at {name}",
            edge = edge.name,
            name
        );
        r.error(
            "start",
            along.place,
            found,
            phrase!("an edge of the start corner"),
        );
        return None;
    }
    Some(StartSpec {
        corner: name,
        along: edge.name.clone(),
    })
}

/// Names of the corners of edges, each once.
fn corner_names<'a>(site: &'a Site, edges: &[&SiteEdge]) -> Vec<&'a str> {
    let mut out: Vec<&str> = Vec::new();
    for index in edges.iter().filter_map(|edge| edge.corners).flatten() {
        let name = site.corners[index].name.as_str();
        if !out.contains(&name) {
            out.push(name);
        }
    }
    out
}

/// Most names that a message lists.
const SHOWN: usize = 30;

/// Names for a message, when there are some.
fn listed(names: &[&str]) -> Option<String> {
    let shown: Vec<&str> = names.iter().take(SHOWN).copied().collect();
    (!shown.is_empty()).then(|| shown.join(", "))
}

/// The corners that would be right.
fn one_of_corners(names: &[&str]) -> Phrase {
    match listed(names) {
        Some(names) => phrase!("one of {names}§corners", names),
        None => phrase!("no corner: a circle has none"),
    }
}

/// The edges that would be right.
fn one_of_edges(names: &[&str]) -> Phrase {
    match listed(names) {
        Some(names) => phrase!("one of {names}§edges", names),
        None => phrase!("an edge such as {example}", example = "A-B"),
    }
}

/// An edge by name, on one area or on any.
pub fn edge<'a>(
    r: &mut Reader,
    site: &'a Site,
    node: &Node,
    path: &str,
    area: Option<usize>,
) -> Option<&'a SiteEdge> {
    let name = r.text(node, path)?;
    let found = match area {
        Some(area) => site.edge_of(area, &name),
        None => site.edge(&name).map(|(_, edge)| edge),
    };
    if found.is_some() {
        return found;
    }
    let names: Vec<&str> = match area {
        Some(area) => site.areas[area].edges().map(|e| e.name.as_str()).collect(),
        None => site
            .areas
            .iter()
            .flat_map(|a| a.edges())
            .map(|e| e.name.as_str())
            .collect(),
    };
    let mut finding = Diagnostic::error(
        "unknown-edge",
        phrase!(
            "{path} is `{name}`, which is no edge",
            path,
            name = shorten(&name)
        ),
    )
    .at(node.place)
    .wanted(one_of_edges(&names));
    if let Some(near) = nearest(&name, &names) {
        finding = finding.hint(phrase!("perhaps `{near}` is meant", near));
    }
    r.add(finding);
    None
}

/// Reads one finish plane. `fixed` are the surfaces that `through: fixed` goes by.
pub fn stated(
    r: &mut Reader,
    site: &Site,
    points: &Points,
    map: &Map<'_>,
    fixed: &[&FixedEdge],
) -> Stated {
    let mut out = Stated::default();
    if let Some(node) = map.get("through") {
        for key in ["at", "level", "fall", "away_from", "towards"] {
            if let Some(entry) = map.entry(key) {
                let found = phrase!("`{key}` beside `{other}`", key, other = "through");
                let wanted = &phrase!("`through` alone: it gives level, fall and direction");
                r.error("fall", entry.place, found, wanted);
            }
        }
        let plane = fixed::through(r, site, points, node, &map.key("through"), fixed);
        out.broken = plane.is_none();
        if let Some(plane) = plane {
            out.at = Some(plane.at);
            out.level = Some(plane.level);
            out.fall = Some(plane.fall());
            out.direction = Some(FallDirection::Towards(plane.towards_deg().unwrap_or(0.0)));
        }
        return out;
    }
    if let Some(node) = map.get("at") {
        out.at = at(r, site, points, node, &map.key("at"));
        if let Value::Scalar(text, _) = &node.value {
            out.at_text = Some(text.clone());
        }
        out.broken |= out.at.is_none();
    }
    level_and_fall(r, points, map, &mut out);
    out.direction = match (map.entry("away_from"), map.entry("towards")) {
        (Some(away), None) => away_from(r, site, &away.node, &map.key("away_from")),
        (None, Some(towards)) => r
            .value(&towards.node, &map.key("towards"), Bound::Any, angle)
            .map(FallDirection::Towards),
        (Some(away), Some(towards)) => {
            let second = away.place.max(towards.place);
            r.error(
                "fall",
                second,
                phrase!("a fall both `away_from` and `towards`"),
                phrase!("one of the two"),
            );
            None
        }
        (None, None) => None,
    };
    let spoken = map.get("away_from").is_some() || map.get("towards").is_some();
    out.broken |= spoken && out.direction.is_none();
    out
}

/// What a finish says that needs no corner of the site, so that what is wrong with it is said even
/// where the outlines are.
pub fn without_site(r: &mut Reader, points: &Points, map: &Map<'_>) {
    level_and_fall(r, points, map, &mut Stated::default());
    if let Some(towards) = map.get("towards") {
        r.value(towards, &map.key("towards"), Bound::Any, angle);
    }
}

/// Reads the level and the fall of a finish.
fn level_and_fall(r: &mut Reader, points: &Points, map: &Map<'_>, out: &mut Stated) {
    if let Some(node) = map.get("level") {
        out.level = levelling::level(r, points, node, &map.key("level"));
        out.broken |= out.level.is_none();
    }
    if let Some(node) = map.get("fall") {
        out.fall = r.value(node, &map.key("fall"), Bound::NotNegative, fall);
        if out.fall.is_some_and(|fall| fall > 1.0) {
            r.wrong(
                node,
                &map.key("fall"),
                phrase!("a fall of at most 100%, such as 2%"),
            );
        }
        out.broken |= out.fall.is_none();
    }
}

/// The edge that a plane falls away from.
fn away_from(r: &mut Reader, site: &Site, node: &Node, path: &str) -> Option<FallDirection> {
    let edge = edge(r, site, node, path, None)?;
    if edge.corners.is_none() {
        r.error(
            "fall",
            node.place,
            phrase!("a fall away from a whole circle"),
            phrase!("an edge with two corners, or `towards: 180°`"),
        );
        return None;
    }
    Some(FallDirection::AwayFrom(edge.name.clone()))
}

/// A corner's letter, a point's name, or `[x, y]`. On a site without areas, whose outlines could not
/// be read, a name may be a corner's, and nothing is said of it.
pub fn at(r: &mut Reader, site: &Site, points: &Points, node: &Node, path: &str) -> Option<Point> {
    let Value::Scalar(name, _) = &node.value else {
        return pair(r, node, path);
    };
    if let Some(corner) = site.corner(name) {
        return Some(corner.at);
    }
    if let Some(at) = points.survey.at(name) {
        return Some(at);
    }
    if points.written.contains(name) || site.areas.is_empty() {
        return None;
    }
    let known: Vec<&str> = site.corners.iter().map(|c| c.name.as_str()).collect();
    let found = phrase!(
        "{path} is `{name}`, which is no corner and no point",
        path,
        name = shorten(name)
    );
    let wanted = &phrase!(
        "{corners}; the name of a point, or [x, y]",
        corners = one_of_corners(&known)
    );
    r.error("unknown-point", node.place, found, wanted);
    None
}

/// Everything a default of `levels.finish` may need.
#[derive(Debug)]
pub struct Ground<'a> {
    /// The site.
    pub site: &'a Site,
    /// Each area's paving start.
    pub starts: &'a [Option<StartSpec>],
    /// Whether a datum, sill, ground level or instrument is given, so that level 0 means nothing.
    pub levels_used: bool,
    /// Where to say that something of `levels.finish` is missing.
    pub place: Place,
}

/// The finish planes, one an area: the area's own fields, then those of `levels.finish`, then the
/// rules. A rule is applied, and said as assumed, once, and only when some area needs it.
pub fn planes(
    r: &mut Reader,
    ground: &Ground<'_>,
    general: &Stated,
    own: &[Stated],
) -> Vec<FinishSpec> {
    if general.broken || own.iter().any(|own| own.broken) {
        return Vec::new();
    }
    let needs = |missing: fn(&Stated) -> bool| missing(general) && own.iter().any(missing);
    let mut rule = Stated::default();
    if needs(|s| s.at.is_none()) {
        let (at, text) = default_at(r, ground);
        rule.at = Some(at);
        r.assume("levels.finish.at".to_owned(), text);
    }
    if needs(|s| s.level.is_none()) {
        if ground.levels_used {
            r.error(
                "missing",
                ground.place,
                phrase!("`levels.finish.level` is missing though the job states other levels"),
                phrase!("level: the finish level at `at`, on the same datum"),
            );
        } else {
            rule.level = Some(0.0);
            r.assume("levels.finish.level".to_owned(), "0");
        }
    }
    if needs(|s| s.fall.is_none()) {
        rule.fall = Some(0.02);
        r.assume("levels.finish.fall".to_owned(), "2%");
    }
    if needs(|s| s.direction.is_none()) {
        rule.direction = default_direction(r, ground);
    }
    let plane = |own: &Stated| {
        Some(FinishSpec {
            at: own.at.or(general.at).or(rule.at)?,
            level: own.level.or(general.level).or(rule.level)?,
            fall: own.fall.or(general.fall).or(rule.fall)?,
            direction: own
                .direction
                .clone()
                .or_else(|| general.direction.clone())
                .or_else(|| rule.direction.clone())?,
        })
    };
    own.iter().filter_map(plane).collect()
}

/// The first area's start corner; for a circle without a start the lower left of its box.
fn default_at(r: &Reader, ground: &Ground<'_>) -> (Point, String) {
    let start = ground.starts.first().and_then(Option::as_ref);
    if let Some(corner) = start.and_then(|start| ground.site.corner(&start.corner)) {
        return (corner.at, corner.name.clone());
    }
    let mut low = Point::new(f64::INFINITY, f64::INFINITY);
    for edge in ground
        .site
        .areas
        .first()
        .iter()
        .flat_map(|area| area.edges())
    {
        let (centre, radius) = edge
            .edge
            .arc
            .map_or((edge.edge.from, 0.0), |a| (a.centre, a.radius));
        low.x = low.x.min(centre.x - radius);
        low.y = low.y.min(centre.y - radius);
    }
    let told = |mm: f64| {
        let length = Length::from_mm(mm);
        print::plain(&print::length(length, r.system(), Precision::Thickness))
    };
    (low, format!("[{}, {}]", told(low.x), told(low.y)))
}

/// Away from the one wall edge, or from the first area's start edge.
fn default_direction(r: &mut Reader, ground: &Ground<'_>) -> Option<FallDirection> {
    let areas = ground.site.areas.iter();
    let edges: Vec<&SiteEdge> = areas.flat_map(|area| area.edges()).collect();
    let mut walls: Vec<&str> = edges
        .iter()
        .filter(|edge| edge.has(EdgeKind::Wall))
        .map(|edge| edge.name.as_str())
        .collect();
    walls.dedup();
    let start = ground.starts.first().and_then(Option::as_ref);
    let name = match walls.as_slice() {
        [wall] => (*wall).to_owned(),
        [] => match start {
            Some(start) => start.along.clone(),
            None => edges.first()?.name.clone(),
        },
        several => {
            let found = phrase!(
                "the fall's direction is not stated and there are several wall edges ({edges})",
                edges = listed(several).unwrap_or_default()
            );
            r.error(
                "missing",
                ground.place,
                found,
                Phrase::own("levels: {finish: {away_from: A-B}} / {towards: 180°}"),
            );
            return None;
        }
    };
    if name == "edge" {
        // A start on a circle runs along x, so away from it is up the plan.
        r.assume("levels.finish.towards".to_owned(), "0°");
        return Some(FallDirection::Towards(0.0));
    }
    r.assume("levels.finish.away_from".to_owned(), name.clone());
    Some(FallDirection::AwayFrom(name))
}
