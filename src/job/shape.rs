//! Outlines: corners, arcs, rectangles and circles as closed rings.
//!
//! In: nodes and the points already placed. Out: [`OutlineSpec`]s in site millimetres, edges in
//! the order written. A corner written as a point's name carries the name. Whether outlines cross
//! is left to `site`.

use std::collections::BTreeMap;

use super::arcs::arc;
use super::meaning::Meaning;
use super::reader::{Bound, Map, Reader};
use super::tree::{Entry, Node, Value};
use super::values::{angle, nearest, shorten};
use crate::diag::{Diagnostic, Place};
use crate::geom::{Arc, Edge, Point, Ring, Vector};
use crate::language::{Phrase, phrase};
use crate::site::{CornerSpec, EdgeKind, EdgeSpec, OutlineSpec};
use crate::survey::Survey;

/// Corners nearer than this stand on each other, in millimetres.
pub const SAME: f64 = 0.5;
/// Most corners of one outline.
const MOST_CORNERS: usize = 2000;
/// What a point looks like.
pub const POINT: Phrase =
    phrase!("a point: [x, y] with lengths such as [14', 8'], or the name of a point");
/// Kinds of edge that a job may state.
const KINDS: [(&str, EdgeKind); 4] = [
    ("open", EdgeKind::Open),
    ("wall", EdgeKind::Wall),
    ("flush", EdgeKind::Flush),
    ("joined", EdgeKind::Joined),
];

/// The points that names stand for.
#[derive(Debug, Default)]
pub struct Points {
    /// The survey as worked.
    pub survey: Survey,
    /// Every name that `site.points` or the traverse writes, placed or not.
    pub written: Vec<String>,
    /// Levels by name, from `site.levelling`.
    pub levels: BTreeMap<String, f64>,
    /// Every name that `site.levelling` writes, levelled or not.
    pub levelled: Vec<String>,
}

/// A shape with the places of its parts.
#[derive(Debug)]
pub struct Shape {
    /// The outline.
    pub outline: OutlineSpec,
    /// Where the shape stands.
    pub place: Place,
    /// One place per edge of the ring: where the corner it starts at is written.
    pub corners: Vec<Place>,
    /// One place per entry of `outline.edges`.
    pub edges: Vec<Place>,
}

/// A ring being put together: corners, their places, and the arc that leads to each.
#[derive(Default)]
struct Run {
    corners: Vec<CornerSpec>,
    places: Vec<Place>,
    edges: Vec<Edge>,
}

/// A pair of lengths as a point, or the place of a named one with its name.
pub fn point(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<CornerSpec> {
    if let Value::Scalar(name, meaning) = &node.value
        && *meaning != Meaning::Nothing
    {
        return named(r, points, node, name, path);
    }
    if !matches!(&node.value, Value::List(items) if items.len() == 2) {
        r.wrong(node, path, POINT);
        return None;
    }
    Some(CornerSpec {
        at: pair(r, node, path)?,
        name: None,
    })
}

/// `[x, y]` as a point.
pub fn pair(r: &mut Reader, node: &Node, path: &str) -> Option<Point> {
    let Value::List(items) = &node.value else {
        r.wrong(
            node,
            path,
            phrase!("a point: [x, y] with lengths such as [14', 8']"),
        );
        return None;
    };
    let [x, y] = items.as_slice() else {
        r.wrong(
            node,
            path,
            phrase!("a point: [x, y] with lengths such as [14', 8']"),
        );
        return None;
    };
    let x = r.length(x, &format!("{path}[0]"), Bound::Any);
    let y = r.length(y, &format!("{path}[1]"), Bound::Any);
    Some(Point::new(x?, y?))
}

/// The place of a named point.
fn named(
    r: &mut Reader,
    points: &Points,
    node: &Node,
    name: &str,
    path: &str,
) -> Option<CornerSpec> {
    if let Some(at) = points.survey.at(name) {
        return Some(CornerSpec {
            at,
            name: Some(name.to_owned()),
        });
    }
    if points.written.iter().any(|other| other == name) {
        return None;
    }
    let known: Vec<&str> = points.written.iter().map(String::as_str).collect();
    let mut finding = Diagnostic::error(
        "unknown-point",
        phrase!(
            "{path} is `{name}`, which is no point of site.points",
            path,
            name = shorten(name)
        ),
    )
    .at(node.place)
    .wanted(POINT);
    if !r.is_full()
        && let Some(near) = nearest(name, &known)
    {
        finding = finding.hint(phrase!("perhaps `{near}` is meant", near));
    }
    r.add(finding);
    None
}

/// Keys of a mapping that state its shape.
pub const SHAPES: [&str; 3] = ["outline", "rectangle", "circle"];

/// The one shape of a mapping, with what it says of edges.
pub fn shape(r: &mut Reader, points: &Points, map: &Map<'_>) -> Option<Shape> {
    let written: Vec<&Entry> = SHAPES.iter().filter_map(|key| map.entry(key)).collect();
    let [entry] = written.as_slice() else {
        let (place, found) = match written.get(1) {
            Some(second) => (
                second.place,
                phrase!("`{key}` is a second shape", key = second.key),
            ),
            None => (map.place, phrase!("{path} has no shape", path = map.path)),
        };
        r.error(
            "shape",
            place,
            found,
            phrase!("one of {names}§keys", names = SHAPES.join(", ")),
        );
        return None;
    };
    let path = map.key(&entry.key);
    let run = match entry.key.as_str() {
        "outline" => corners(r, points, &entry.node, &path),
        "rectangle" => rectangle(r, points, &entry.node, &path),
        _ => circle(r, points, &entry.node, &path),
    };
    let (edges, places) = edges(r, map, entry.key == "circle");
    let run = run?;
    let round = entry.key == "circle";
    Some(Shape {
        outline: OutlineSpec {
            ring: Ring { edges: run.edges },
            corners: if round { Vec::new() } else { run.corners },
            edges,
        },
        place: entry.node.place,
        corners: run.places,
        edges: places,
    })
}

/// What a mapping says of its edges, under `edges` and, for a circle, `edge`.
fn edges(r: &mut Reader, map: &Map<'_>, round: bool) -> (Vec<EdgeSpec>, Vec<Place>) {
    let mut specs = Vec::new();
    let mut places = Vec::new();
    if let Some(node) = map.get("edges")
        && let Some(edges) = r.open_map(node, &map.key("edges"))
    {
        for entry in edges.entries() {
            if let Some(spec) = edge(r, entry, &edges.key(&entry.key)) {
                specs.push(spec);
                places.push(entry.place);
            }
        }
    }
    let Some(entry) = map.entry("edge") else {
        return (specs, places);
    };
    if !round {
        r.error(
            "edge",
            entry.place,
            phrase!("`edge` beside a shape that is no circle"),
            phrase!(
                "{example}, each edge by its two corners",
                example = "edges: {A-B: …}"
            ),
        );
        return (specs, places);
    }
    if specs.iter().any(|spec| spec.name == "edge") {
        r.error(
            "edge",
            entry.place,
            phrase!("the edge of the circle is stated twice"),
            phrase!("`edge: open`, once"),
        );
        return (specs, places);
    }
    if let Some(spec) = edge(r, entry, &map.key("edge")) {
        specs.push(spec);
        places.push(entry.place);
    }
    (specs, places)
}

/// One edge: a kind, or a mapping of kind and extension.
fn edge(r: &mut Reader, entry: &Entry, path: &str) -> Option<EdgeSpec> {
    let name = entry.key.clone();
    if !matches!(entry.node.value, Value::Map(_)) {
        let kind = Some(r.word(&entry.node, path, &KINDS)?);
        return Some(EdgeSpec {
            name,
            kind,
            extension: None,
        });
    }
    let map = r.map(&entry.node, path, &["kind", "extension"])?;
    Some(EdgeSpec {
        name,
        kind: r.word_at(&map, "kind", &KINDS),
        extension: r.length_at(&map, "extension", Bound::NotNegative),
    })
}

/// A list of corners and arcs.
fn corners(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<Run> {
    let items = r.list(
        node,
        path,
        phrase!("a list of corners such as [[0, 0], [14', 0], [14', 8']]"),
    )?;
    if items.len() > MOST_CORNERS {
        let found = phrase!(
            "an outline of {count} corner | an outline of {count} corners",
            count = items.len()
        );
        r.error(
            "too-many",
            node.place,
            found,
            phrase!("at most {most} corners", most = MOST_CORNERS),
        );
        return None;
    }
    let mut run = Run::default();
    let mut whole = true;
    let mut closed = false;
    for (index, item) in items.iter().enumerate() {
        let path = format!("{path}[{index}]");
        let Value::Map(_) = item.value else {
            let corner = point(r, points, item, &path);
            whole &= corner.is_some_and(|corner| run.straight(r, corner, item.place));
            continue;
        };
        let Some(from) = run.corners.last().map(|corner| corner.at) else {
            if whole {
                r.error(
                    "arc",
                    item.place,
                    phrase!("an arc as the first corner"),
                    phrase!("a corner to start the arc from"),
                );
            }
            // What goes wrong inside the arc is still worth saying.
            arc(r, points, item, &path, None);
            whole = false;
            continue;
        };
        let Some((to, arc)) = arc(r, points, item, &path, whole.then_some(from)) else {
            whole = false;
            continue;
        };
        let first = run.corners[0].at;
        if index + 1 == items.len() && to.at.distance(first) < SAME {
            run.edges.push(Edge {
                from,
                to: first,
                arc: Some(arc),
            });
            closed = true;
            continue;
        }
        run.edges.push(Edge {
            from,
            to: to.at,
            arc: Some(arc),
        });
        run.corners.push(to);
        run.places.push(item.place);
    }
    if !whole {
        return None;
    }
    let arcs = run.edges.iter().any(|edge| edge.arc.is_some());
    let least = if arcs { 2 } else { 3 };
    if run.corners.len() < least {
        let found = phrase!(
            "an outline of {count} corner | an outline of {count} corners",
            count = run.corners.len()
        );
        r.error(
            "outline",
            node.place,
            found,
            phrase!("three corners or more, or two with an arc"),
        );
        return None;
    }
    let (first, last) = (run.corners[0].at, run.corners[run.corners.len() - 1].at);
    if !closed {
        if last.distance(first) < SAME {
            let place = run.places[run.places.len() - 1];
            r.error(
                "outline",
                place,
                phrase!("the last corner stands where the first stands"),
                phrase!("each corner once: the last joins the first by itself"),
            );
            return None;
        }
        run.edges.push(Edge {
            from: last,
            to: first,
            arc: None,
        });
    }
    Some(run)
}

impl Run {
    /// Adds a corner at the end of a straight edge; says so and gives `false` when it stands on
    /// the one before.
    fn straight(&mut self, r: &mut Reader, corner: CornerSpec, place: Place) -> bool {
        if let Some(from) = self.corners.last().map(|corner| corner.at) {
            if from.distance(corner.at) < SAME {
                r.error(
                    "outline",
                    place,
                    phrase!("this corner stands where the one before it stands"),
                    phrase!("each corner once"),
                );
                return false;
            }
            self.edges.push(Edge {
                from,
                to: corner.at,
                arc: None,
            });
        }
        self.corners.push(corner);
        self.places.push(place);
        true
    }
}

/// A rectangle: corners anticlockwise from the stated one, which keeps its name.
fn rectangle(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<Run> {
    let map = r.map(node, path, &["corner", "width", "depth", "turn"])?;
    let corner = r.required(&map, "corner", POINT);
    let corner = corner.and_then(|n| point(r, points, n, &map.key("corner")));
    let side = |r: &mut Reader, key| {
        let node = r.required(
            &map,
            key,
            phrase!("a length such as {example}", example = "14'"),
        )?;
        r.length(node, &map.key(key), Bound::Positive)
    };
    let (width, depth) = (side(r, "width"), side(r, "depth"));
    let turn = match map.get("turn") {
        Some(node) => r.value(node, &map.key("turn"), Bound::Any, angle),
        None => Some(0.0),
    };
    let (corner, width, depth, turn) = (corner?, width?, depth?, turn?);
    let along = Vector::new(width, 0.0).turned(turn);
    let up = Vector::new(0.0, depth).turned(turn);
    let at = corner.at;
    let ring = [at, at + along, at + along + up, at + up];
    let mut run = Run::default();
    for (index, &from) in ring.iter().enumerate() {
        run.corners.push(CornerSpec {
            at: from,
            name: corner.name.clone().filter(|_| index == 0),
        });
        run.places.push(node.place);
        run.edges.push(Edge {
            from,
            to: ring[(index + 1) % 4],
            arc: None,
        });
    }
    Some(run)
}

/// A circle: one edge that ends where it starts, right of the centre.
fn circle(r: &mut Reader, points: &Points, node: &Node, path: &str) -> Option<Run> {
    let map = r.map(node, path, &["centre", "radius"])?;
    let centre = r.required(&map, "centre", POINT);
    let centre = centre.and_then(|n| point(r, points, n, &map.key("centre")));
    let radius = r.required(
        &map,
        "radius",
        phrase!("a length such as {example}", example = "6'"),
    );
    let radius = radius.and_then(|n| r.length(n, &map.key("radius"), Bound::Positive));
    let (centre, radius) = (centre?.at, radius?);
    let start = Point::new(centre.x + radius, centre.y);
    Some(Run {
        corners: Vec::new(),
        places: vec![node.place],
        edges: vec![Edge {
            from: start,
            to: start,
            arc: Some(Arc {
                centre,
                radius,
                anticlockwise: true,
            }),
        }],
    })
}
