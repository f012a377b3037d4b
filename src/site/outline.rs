//! The outline of all paving together: joined edges vanish, what is left is chained into rings.
//!
//! In: the resolved site. Out: rings of courses, paving on the left of each, arcs kept. Areas do
//! not overlap, so the union's outline is exactly the stretches that no other area touches. Should
//! they not close (outlines that touch only nearly), the outline is taken from the clipped union
//! and each of its sides takes the kind of the nearest stretch.

use super::corners::{SAME_PLACE, through};
use super::model::{Site, Stretch};
use super::spec::EdgeKind;
use crate::geom::{Edge, Point, Ring, clip};

/// One stretch of the outline of all paving.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course {
    /// Its line, paving on the left.
    pub edge: Edge,
    /// What it meets.
    pub kind: EdgeKind,
    /// Its own base extension, when stated, in millimetres.
    pub extension: Option<f64>,
}

/// Ends this near are one corner, in millimetres.
const JOIN: f64 = 2.0 * SAME_PLACE;

/// The rings of the outline of all paving.
pub fn outline(site: &Site) -> Vec<Vec<Course>> {
    let courses: Vec<Course> = stretches(site).map(course).collect();
    chained(&courses).unwrap_or_else(|| clipped(site, &courses))
}

fn stretches(site: &Site) -> impl Iterator<Item = &Stretch> {
    let stretches = site.stretches();
    stretches.filter(|stretch| stretch.kind != EdgeKind::Joined)
}

fn course(stretch: &Stretch) -> Course {
    Course {
        edge: stretch.edge,
        kind: stretch.kind,
        extension: stretch.extension,
    }
}

/// The bare ring of courses.
pub fn ring_of(courses: &[Course]) -> Ring {
    Ring {
        edges: courses.iter().map(|course| course.edge).collect(),
    }
}

fn chained(courses: &[Course]) -> Option<Vec<Vec<Course>>> {
    let mut unused = vec![true; courses.len()];
    let mut rings = Vec::new();
    for first in 0..courses.len() {
        if !unused[first] {
            continue;
        }
        let mut chain = vec![first];
        unused[first] = false;
        let start = courses[first].edge.from;
        let mut last = first;
        loop {
            let next = follower(courses, &unused, last);
            let closes = courses[last].edge.to.distance(start) <= JOIN;
            match next {
                // Where two outlines touch in a corner, the sharpest turn to the left stays with
                // the same paving.
                Some(next) if !closes || turns_more(courses, last, next, first) => {
                    unused[next] = false;
                    chain.push(next);
                    last = next;
                }
                _ if closes => break,
                _ => return None,
            }
        }
        let ring: Vec<Course> = chain.iter().map(|index| courses[*index]).collect();
        rings.push(closed(ring));
    }
    Some(rings)
}

fn follower(courses: &[Course], unused: &[bool], last: usize) -> Option<usize> {
    let end = courses[last].edge.to;
    (0..courses.len())
        .filter(|index| unused[*index] && courses[*index].edge.from.distance(end) <= JOIN)
        .max_by(|a, b| turn(courses, last, *a).total_cmp(&turn(courses, last, *b)))
}

fn turns_more(courses: &[Course], last: usize, next: usize, first: usize) -> bool {
    turn(courses, last, next) > turn(courses, last, first)
}

/// How far a course turns to the left after another, in radians, −π to π.
fn turn(courses: &[Course], before: usize, after: usize) -> f64 {
    let arriving = courses[before].edge.tangent(1.0).unwrap_or_default();
    let leaving = courses[after].edge.tangent(0.0).unwrap_or_default();
    libm::atan2(arriving.cross(leaving), arriving.dot(leaving))
}

/// Courses whose ends, a hair apart, are made to meet.
fn closed(mut ring: Vec<Course>) -> Vec<Course> {
    if ring.len() < 2 {
        return ring;
    }
    let places: Vec<Point> = ring.iter().map(|course| course.edge.from).collect();
    let exact = through(&ring_of(&ring), &places);
    for (course, edge) in ring.iter_mut().zip(exact.edges) {
        course.edge = edge;
    }
    ring.retain(|course| course.edge.length() > 1e-6);
    ring
}

fn clipped(site: &Site, courses: &[Course]) -> Vec<Vec<Course>> {
    let shapes: Vec<_> = site.areas.iter().map(|area| area.shape()).collect();
    let union = clip::union(&shapes);
    let lines = clip::rings(&union);
    let rings = lines.map(|line| {
        let sides = line.lines().map(|side| {
            let from = Point::new(side.start.x, side.start.y);
            let edge = Edge::straight(from, Point::new(side.end.x, side.end.y));
            let middle = edge.point_at(0.5);
            let nearest = courses.iter().min_by(|a, b| {
                let (a, b) = (a.edge.distance(middle), b.edge.distance(middle));
                a.total_cmp(&b)
            });
            Course {
                edge,
                kind: nearest.map_or(EdgeKind::Open, |course| course.kind),
                extension: nearest.and_then(|course| course.extension),
            }
        });
        sides.collect()
    });
    rings.collect()
}
