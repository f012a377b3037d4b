//! Moving an outline out edge by edge, each by its own distance.
//!
//! In: rings of edges with paving on the left, and how far to the right each is moved. Out: the
//! moved outline. Neighbours meet where their lines or circles cross; a convex corner that reaches
//! farther along its bisector than twice the larger distance is cut square there; where an edge
//! carries straight on with another distance the outline steps square. Millimetres.
//!
//! The moved rings are made exactly, and independently as a clipped union of the paving with the
//! strip swept by each edge. Where both agree the exact rings stand; where an edge shrinks away or
//! strips run into each other only the union is right, and it stands.

use super::outline::{Course, ring_of};
use super::rings::{rings_of_shape, shape_of_rings};
use super::swath::{self, Swath};
use crate::geom::cross::{circle_circle, line_circle, line_line};
use crate::geom::{Arc, Edge, Point, Ring, SAGITTA, Shape, Vector, clip};

/// A moved outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// What it encloses, arcs flattened.
    pub shape: Shape,
    /// The rings: exact with arcs, or the flattened shape's own.
    pub rings: Vec<Ring>,
    /// The corners, in no order that matters.
    pub joins: Vec<Join>,
}

/// Where a corner of the outline went.
#[derive(Clone, Debug, PartialEq)]
pub struct Join {
    /// The corner before the move.
    pub corner: Point,
    /// The corner after it: more than one place where it is cut or stepped, the one on the earlier
    /// edge first.
    pub moved: Vec<Point>,
}

/// Sine of the angle below which an edge carries straight on.
const STRAIGHT_ON: f64 = 1e-3;

/// Cosine of the turn up to which a corner is flat: 45°.
const FLAT: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// A corner is cut at this many times the larger distance.
const CUT: f64 = 2.0;

/// Moves rings out; `distances` has one entry, zero or more, for each course of each ring.
pub fn moved(rings: &[Vec<Course>], distances: &[Vec<f64>]) -> Moved {
    let swept: Vec<Swept> = rings
        .iter()
        .zip(distances)
        .map(|(courses, distances)| Swept::new(ring_of(courses), distances))
        .collect();
    let swaths = swept.iter().map(|one| Swath::new(&one.ring, &one.strips));
    let groups = swath::groups(&swaths.collect::<Vec<_>>());
    assembled(swept, &groups)
}

/// A ring with what moving it by itself gives.
struct Swept {
    ring: Ring,
    strips: Vec<Shape>,
    joins: Vec<Join>,
    /// As [`exact_ring`] gives it.
    exact: Option<Option<Ring>>,
}

impl Swept {
    fn new(ring: Ring, distances: &[f64]) -> Self {
        let (joins, parts) = joined(&ring, distances);
        Self {
            strips: swept(&ring, distances, &joins, &parts),
            exact: exact_ring(&ring, &joins, &parts),
            joins,
            ring,
        }
    }
}

/// The outline of rings moved group by group; rings of different groups stay clear of each other.
fn assembled(swept: Vec<Swept>, groups: &[Vec<usize>]) -> Moved {
    let mut rings: Vec<(usize, Ring)> = Vec::new();
    let mut only = None;
    for group in groups {
        let members: Vec<&Swept> = group.iter().map(|at| &swept[*at]).collect();
        match strayed(&members) {
            None => rings.extend(group.iter().filter_map(|at| {
                let exact = swept[*at].exact.as_ref()?;
                Some((*at, exact.clone()?))
            })),
            Some((outline, shape)) => {
                rings.extend(outline.into_iter().map(|ring| (group[0], ring)));
                only = (groups.len() == 1).then_some(shape);
            }
        }
    }
    rings.sort_by_key(|(at, _)| *at);
    let rings: Vec<Ring> = rings.into_iter().map(|(_, ring)| ring).collect();
    Moved {
        shape: only.unwrap_or_else(|| shape_of_rings(&rings)),
        rings,
        joins: swept.into_iter().flat_map(|one| one.joins).collect(),
    }
}

/// The outline of a group of rings and what it encloses, where the exact rings are not it.
fn strayed(group: &[&Swept]) -> Option<(Vec<Ring>, Shape)> {
    // Holes alone are looked at as what is left of them.
    let holes = group.iter().all(|one| !one.ring.is_anticlockwise());
    let facing = |ring: &Ring| match holes {
        true => ring.reversed(),
        false => ring.clone(),
    };
    let still: Vec<Ring> = group.iter().map(|one| facing(&one.ring)).collect();
    let still = shape_of_rings(&still);
    let strips: Vec<&Shape> = group.iter().flat_map(|one| &one.strips).collect();
    let many = (strips.len() > TOGETHER).then(|| gathered(&strips));
    let strips = match &many {
        Some(all) => vec![all],
        None => strips,
    };
    let shape = match holes {
        true => clip::difference(&still, &clip::union(strips)),
        false => clip::union(std::iter::once(&still).chain(strips)),
    };
    let exact: Option<Vec<Option<Ring>>> = group.iter().map(|one| one.exact.clone()).collect();
    if let Some(exact) = exact {
        let exact: Vec<Ring> = exact.iter().flatten().map(facing).collect();
        let length: f64 = exact.iter().map(Ring::perimeter).sum();
        if apart(&shape_of_rings(&exact), &shape) <= 1.0 + 0.004 * length {
            return None;
        }
    }
    let outline = rings_of_shape(&shape);
    Some((outline.iter().map(facing).collect(), shape))
}

/// Most strips that are united in one go: it takes time by their square.
const TOGETHER: usize = 64;

/// Strips united, neighbours first.
fn gathered(strips: &[&Shape]) -> Shape {
    if strips.len() <= TOGETHER / 4 {
        return clip::union(strips.iter().copied());
    }
    let (first, second) = strips.split_at(strips.len() / 2);
    clip::union([&gathered(first), &gathered(second)])
}

/// Area in which two shapes differ.
fn apart(a: &Shape, b: &Shape) -> f64 {
    clip::area(&clip::difference(a, b)) + clip::area(&clip::difference(b, a))
}

/// An edge moved by itself, before its neighbours are met.
#[derive(Clone, Copy)]
enum Carrier {
    Line(Point, Vector),
    Circle(Arc),
}

fn carrier(edge: &Edge, distance: f64) -> Option<Carrier> {
    match edge.arc {
        None => {
            let along = edge.tangent(0.0)?;
            Some(Carrier::Line(edge.from + along.left() * -distance, along))
        }
        Some(arc) => {
            let grown = if arc.anticlockwise {
                distance
            } else {
                -distance
            };
            let radius = arc.radius + grown;
            (radius > 1e-6).then_some(Carrier::Circle(Arc { radius, ..arc }))
        }
    }
}

fn crossings(a: Carrier, b: Carrier) -> Vec<Point> {
    match (a, b) {
        (Carrier::Line(p, d), Carrier::Line(q, e)) => line_line(p, d, q, e).into_iter().collect(),
        (Carrier::Line(p, d), Carrier::Circle(arc))
        | (Carrier::Circle(arc), Carrier::Line(p, d)) => line_circle(p, d, arc.centre, arc.radius),
        (Carrier::Circle(a), Carrier::Circle(b)) => {
            circle_circle(a.centre, a.radius, b.centre, b.radius)
        }
    }
}

fn lies_on(at: Point, carrier: Carrier) -> bool {
    match carrier {
        Carrier::Line(..) => true,
        Carrier::Circle(arc) => (arc.centre.distance(at) - arc.radius).abs() <= 1e-6,
    }
}

fn nearest(places: Vec<Point>, to: Point) -> Option<Point> {
    let mut places = places.into_iter();
    let first = places.next()?;
    Some(places.fold(first, |best, p| {
        if p.distance(to) < best.distance(to) {
            p
        } else {
            best
        }
    }))
}

/// The moved corners, the nth where edge n starts, and each edge moved between its corners (`None`
/// for one that has shrunk away or turned round).
fn joined(ring: &Ring, distances: &[f64]) -> (Vec<Join>, Vec<Option<Edge>>) {
    let count = ring.edges.len();
    if count == 1 && ring.edges[0].is_circle() {
        let edge = ring.edges[0];
        return (Vec::new(), vec![grown_circle(&edge, distances[0])]);
    }
    let mut corners: Vec<Join> = (0..count)
        .map(|index| {
            let before = (index + count - 1) % count;
            let edges = (&ring.edges[before], &ring.edges[index]);
            join(edges.0, distances[before], edges.1, distances[index])
        })
        .collect();
    let cut_parts = |corners: &[Join]| -> Vec<Option<Edge>> {
        let parts = (0..count).map(|index| {
            let from = *corners[index].moved.last()?;
            let to = *corners[(index + 1) % count].moved.first()?;
            part(&ring.edges[index], distances[index], from, to)
        });
        parts.collect()
    };
    let parts = cut_parts(&corners);
    if parts.iter().all(Option::is_some) {
        return (corners, parts);
    }
    // A flat corner between different distances whose lines cross only past the end of an edge is
    // read as an edge that carries straight on: it steps square.
    for (index, corner) in corners.iter_mut().enumerate() {
        let before = (index + count - 1) % count;
        let vanished = parts[before].is_none() || parts[index].is_none();
        let arriving = ring.edges[before].tangent(1.0).unwrap_or_default();
        let leaving = ring.edges[index].tangent(0.0).unwrap_or_default();
        let differ = (distances[before] - distances[index]).abs() > 1e-9;
        if vanished && differ && arriving.dot(leaving) > FLAT {
            corner.moved = vec![
                corner.corner + arriving.left() * -distances[before],
                corner.corner + leaving.left() * -distances[index],
            ];
        }
    }
    let parts = cut_parts(&corners);
    (corners, parts)
}

fn grown_circle(edge: &Edge, distance: f64) -> Option<Edge> {
    let arc = edge.arc?;
    let Carrier::Circle(grown) = carrier(edge, distance)? else {
        return None;
    };
    let spoke = edge.from - arc.centre;
    let from = arc.centre + spoke * (grown.radius / arc.radius);
    Some(Edge {
        from,
        to: from,
        arc: Some(grown),
    })
}

/// An edge moved, between its moved corners; `None` when it has shrunk away or turned round.
fn part(edge: &Edge, distance: f64, from: Point, to: Point) -> Option<Edge> {
    match carrier(edge, distance)? {
        Carrier::Line(_, along) => {
            ((to - from).dot(along) > -1e-6).then_some(Edge::straight(from, to))
        }
        Carrier::Circle(arc) => {
            let turned = |a: Point, b: Point| {
                let (a, b) = (a - arc.centre, b - arc.centre);
                let turn = libm::atan2(a.cross(b), a.dot(b));
                if arc.anticlockwise { turn } else { -turn }
            };
            let sweep = edge.sweep() - turned(edge.from, from) + turned(edge.to, to);
            let length = sweep * arc.radius;
            if length <= 1e-6 {
                // Just shrunk to nothing is a corner; less than nothing has turned round.
                return (length > -1e-6).then_some(Edge::straight(from, to));
            }
            (sweep < std::f64::consts::TAU).then_some(Edge {
                from,
                to,
                arc: Some(arc),
            })
        }
    }
}

/// Where two moved neighbours meet.
fn join(before: &Edge, d_before: f64, after: &Edge, d_after: f64) -> Join {
    let corner = after.from;
    let arriving = before.tangent(1.0).unwrap_or_default();
    let leaving = after.tangent(0.0).unwrap_or_default();
    let ends = [
        corner + arriving.left() * -d_before,
        corner + leaving.left() * -d_after,
    ];
    let (sin, cos) = (arriving.cross(leaving), arriving.dot(leaving));
    let same = (d_before - d_after).abs() <= 1e-9;
    let moved = if d_before == 0.0 && d_after == 0.0 {
        vec![corner]
    } else if sin.abs() < STRAIGHT_ON && cos > 0.0 {
        if same {
            let outward = (arriving + leaving).left() * (-d_before / (1.0 + cos));
            vec![corner + outward]
        } else {
            ends.to_vec()
        }
    } else {
        let tangents = [
            Carrier::Line(ends[0], arriving),
            Carrier::Line(ends[1], leaving),
        ];
        let carriers = [
            carrier(before, d_before).unwrap_or(tangents[0]),
            carrier(after, d_after).unwrap_or(tangents[1]),
        ];
        let met = nearest(crossings(carriers[0], carriers[1]), corner);
        let tangents_meet = || {
            let at = nearest(crossings(tangents[0], tangents[1]), corner)?;
            let ahead = (at - ends[0]).dot(arriving) >= 0.0 && (ends[1] - at).dot(leaving) >= 0.0;
            ahead.then_some(at)
        };
        let cut = CUT * d_before.max(d_after);
        let convex = sin > 0.0 || cos < 0.0 && sin.abs() < STRAIGHT_ON;
        let bisector = (arriving - leaving).unit().unwrap_or_default();
        let crossing = if convex {
            met.or_else(tangents_meet)
        } else {
            met
        };
        let line = Carrier::Line(corner + bisector * cut, bisector.left());
        let place = |index: usize| {
            let straight = nearest(crossings(line, tangents[index]), corner);
            let near = straight.unwrap_or(ends[index]);
            nearest(crossings(line, carriers[index]), near).unwrap_or(near)
        };
        let mut moved = match crossing {
            Some(at) if !convex || (at - corner).dot(bisector) <= cut + 1e-9 => vec![at],
            Some(_) => vec![place(0), place(1)],
            // Lines always meet; a line and a circle, or two circles, need not: they step square,
            // unless the corner is so sharp that its sides never meet.
            None if cos < 0.0 && convex => vec![place(0), place(1)],
            None => ends.to_vec(),
        };
        // A corner that is not on a moved arc is reached from the arc's end along its tangent.
        if !lies_on(moved[0], carriers[0]) {
            moved.insert(0, ends[0]);
        }
        if !lies_on(moved[moved.len() - 1], carriers[1]) {
            moved.push(ends[1]);
        }
        moved
    };
    Join { corner, moved }
}

/// The moved ring: `None` when it is not simply the ring of its parts, `Some(None)` when it is a
/// hole that has vanished.
fn exact_ring(ring: &Ring, corners: &[Join], parts: &[Option<Edge>]) -> Option<Option<Ring>> {
    let hole = !ring.is_anticlockwise();
    if corners.is_empty() {
        return match parts[0] {
            Some(circle) => Some(Some(Ring {
                edges: vec![circle],
            })),
            None => hole.then_some(None),
        };
    }
    let mut edges: Vec<Edge> = Vec::new();
    for (corner, part) in corners.iter().zip(parts) {
        let between = corner.moved.windows(2);
        edges.extend(between.map(|pair| Edge::straight(pair[0], pair[1])));
        edges.push((*part)?);
    }
    edges.retain(|edge| edge.length() > 1e-6);
    let moved = Ring { edges };
    let sound = moved.edges.len() > 1
        && moved.is_anticlockwise() == ring.is_anticlockwise()
        && moved.self_crossing().is_none();
    sound.then_some(Some(moved))
}

/// The strips that the edges sweep, and the pieces at cut corners.
fn swept(ring: &Ring, distances: &[f64], corners: &[Join], parts: &[Option<Edge>]) -> Vec<Shape> {
    let mut strips = Vec::new();
    let count = ring.edges.len();
    for (index, edge) in ring.edges.iter().enumerate() {
        let distance = distances[index];
        if distance == 0.0 {
            continue;
        }
        let mut points = edge.flatten(SAGITTA);
        match &parts[index] {
            Some(part) => points.extend(part.flatten(SAGITTA).iter().rev()),
            None if edge.arc.is_some() => points.extend(shrunk(edge, distance).iter().rev()),
            None => {
                // The strip ends where its neighbours meet over it.
                let from = corners[index].moved.last().copied();
                let to = corners[(index + 1) % count].moved.first().copied();
                let apex = from.zip(to).and_then(|(from, to)| {
                    line_line(edge.from, from - edge.from, edge.to, to - edge.to)
                });
                points.extend(apex);
            }
        }
        strips.push(clip::shape_of_points(&points));
    }
    for join in corners {
        if join.moved.len() > 1 {
            let mut points = vec![join.corner];
            points.extend(&join.moved);
            strips.push(clip::shape_of_points(&points));
        }
    }
    strips
}

/// An arc moved towards its centre, but not past it.
fn shrunk(edge: &Edge, distance: f64) -> Vec<Point> {
    let Some(arc) = edge.arc else {
        return Vec::new();
    };
    let points = edge.flatten(SAGITTA).into_iter();
    points
        .map(|at| {
            let spoke = at - arc.centre;
            let grown = if arc.anticlockwise {
                distance
            } else {
                -distance
            };
            arc.centre + spoke * ((arc.radius + grown).max(0.0) / arc.radius)
        })
        .collect()
}

#[cfg(test)]
mod tests;
