//! Corners: put on the face of a building or wall where they were measured a little inside it, and
//! named by letters in the order written.
//!
//! In: outlines as written. Out: the outlines with such corners moved, and each corner's name. A
//! moved corner takes its arcs along by keeping their rise to chord. Millimetres.

use std::collections::BTreeSet;

use super::model::{Corner, NoteKind, OutlineItem, SiteNote, SitePlace};
use super::spec::{OutlineSpec, StructureKind, StructureSpec};
use crate::geom::{Arc, Edge, Point, Ring, clip};

/// How far inside a building or wall a corner may be measured, and how near an edge runs along a
/// structure, in millimetres.
pub const FACE: f64 = 10.0;

/// Two places nearer than this, in millimetres, are the same: lengths are compared so throughout.
pub const SAME_PLACE: f64 = 0.5;

/// Moves corners measured up to [`FACE`] inside a building or wall onto its face.
pub fn put_on_faces(
    outline: &OutlineSpec,
    structures: &[StructureSpec],
    area: usize,
    ring: usize,
) -> (OutlineSpec, Vec<SiteNote>) {
    let mut moved = outline.clone();
    let mut notes = Vec::new();
    let solid = structures.iter().filter(|s| {
        !s.on_paving && matches!(s.kind, StructureKind::Building | StructureKind::Wall)
    });
    for structure in solid {
        let shape = clip::shape_of(&structure.ring);
        for (index, corner) in moved.corners.iter_mut().enumerate() {
            let depth = structure.ring.distance(corner.at);
            if depth <= 1e-6 || depth > FACE || !clip::contains(&shape, corner.at) {
                continue;
            }
            let Some(face) = nearest(&structure.ring, corner.at) else {
                continue;
            };
            corner.at = face;
            if depth < SAME_PLACE {
                continue;
            }
            notes.push(SiteNote {
                place: SitePlace::Outline {
                    area,
                    ring,
                    item: OutlineItem::Corner(index),
                },
                kind: NoteKind::CornerOnFace {
                    structure: structure.name.clone(),
                    depth,
                },
            });
        }
    }
    let places: Vec<Point> = moved.corners.iter().map(|corner| corner.at).collect();
    if places.len() == moved.ring.edges.len() {
        moved.ring = through(&moved.ring, &places);
    }
    (moved, notes)
}

/// A ring with its corners moved to `places`, one per edge, where the edge starts.
pub fn through(ring: &Ring, places: &[Point]) -> Ring {
    let count = places.len();
    let edges = ring.edges.iter().enumerate().map(|(index, edge)| {
        let (from, to) = (places[index], places[(index + 1) % count]);
        carried(edge, from, to)
    });
    Ring {
        edges: edges.collect(),
    }
}

/// An edge carried to new ends, turned and stretched as its chord is.
fn carried(edge: &Edge, from: Point, to: Point) -> Edge {
    if edge.from == from && edge.to == to {
        return *edge;
    }
    let (old, new) = (edge.to - edge.from, to - from);
    let square = old.dot(old);
    let arc = edge.arc.filter(|_| square > 0.0).map(|arc| {
        // The centre in the old chord's own frame.
        let spoke = arc.centre - edge.from;
        let (along, left) = (spoke.dot(old) / square, old.cross(spoke) / square);
        let centre = from + new * along + new.left() * left;
        Arc {
            centre,
            radius: centre.distance(from),
            ..arc
        }
    });
    Edge { from, to, arc }
}

fn nearest(ring: &Ring, at: Point) -> Option<Point> {
    let places = ring.edges.iter().map(|e| e.point_at(e.fraction_near(at)));
    places.min_by(|a, b| a.distance(at).total_cmp(&b.distance(at)))
}

/// Names corners in the order they come.
#[derive(Clone, Debug, Default)]
pub struct Namer {
    /// Corners named so far.
    pub corners: Vec<Corner>,
    taken: BTreeSet<String>,
    next: usize,
}

impl Namer {
    /// A namer that leaves out the names that points bear.
    pub fn new(point_names: &[String]) -> Self {
        Self {
            taken: point_names.iter().cloned().collect(),
            ..Self::default()
        }
    }

    /// Index of the corner at a place: the earlier one that stands there, or a new one.
    pub fn name(&mut self, at: Point, point: Option<&str>) -> usize {
        let there = self.corners.iter().position(|corner| {
            let same_name = point.is_none_or(|name| corner.name == name);
            corner.at.distance(at) <= SAME_PLACE && same_name
        });
        if let Some(index) = there {
            return index;
        }
        let name = match point {
            Some(name) => name.to_owned(),
            None => self.letter(),
        };
        self.corners.push(Corner { name, at });
        self.corners.len() - 1
    }

    fn letter(&mut self) -> String {
        loop {
            let name = letter(self.next);
            self.next += 1;
            if self.taken.insert(name.clone()) {
                return name;
            }
        }
    }
}

/// The nth letter from 0: A … Z without I and O, then A1 … Z1, A2 and so on.
pub fn letter(n: usize) -> String {
    const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";
    let letter = char::from(LETTERS[n % LETTERS.len()]);
    match n / LETTERS.len() {
        0 => letter.to_string(),
        round => format!("{letter}{round}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_skip_i_o_and_points() {
        let names: Vec<String> = (0..26).map(letter).collect();
        assert_eq!(names[7..9], ["H", "J"]);
        assert_eq!(names[12..14], ["N", "P"]);
        assert_eq!(names[23..], ["Z", "A1", "B1"]);
        let mut namer = Namer::new(&["A".to_owned(), "H1".to_owned()]);
        let origin = Point::new(0.0, 0.0);
        assert_eq!(namer.name(origin, None), 0);
        assert_eq!(namer.name(Point::new(9.0, 0.0), Some("H1")), 1);
        assert_eq!(namer.name(Point::new(0.2, 0.0), None), 0);
        let names: Vec<&str> = namer.corners.iter().map(|c| c.name.as_str()).collect();
        assert_eq!(names, ["B", "H1"]);
    }
}
