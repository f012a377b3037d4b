//! Where courses start: the frame at a corner along an edge, for pavers and for base panels.
//!
//! In: a start by names, the resolved site. Out: a [`Frame`] in site millimetres: origin at the
//! corner, u along the edge away from it, v square to it into the paving. Along an arc, u is the
//! tangent at the corner.

use super::corners::SAME_PLACE;
use super::extents::Extents;
use super::model::{Site, SiteEdge};
use super::spec::{EdgeKind, StartSpec};
use crate::geom::{Frame, Point, Vector, clip};
use crate::language::{Phrase, phrase};

/// Why a start cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StartFault {
    /// What was found.
    pub found: Phrase,
    /// What would be right.
    pub wanted: Phrase,
}

impl Site {
    /// The frame of a start on an area; `None` when the corner is not on the area or the edge does
    /// not run from it (see [`Site::start_fault`]).
    pub fn frame(&self, start: &StartSpec, area: usize) -> Option<Frame> {
        let edge = self.start_edge(start, area)?;
        let corner = self.corner(&start.corner)?.at;
        let leaves = edge.edge.from.distance(corner) <= SAME_PLACE;
        let (u, v) = directions(edge, leaves)?;
        Some(Frame {
            origin: corner,
            u,
            v,
        })
    }

    /// The frame of base panels: that of the start with its origin at the base outline's corner
    /// there. A corner that has vanished between joined areas stays where it is.
    pub fn base_frame(&self, extents: &Extents, start: &StartSpec, area: usize) -> Option<Frame> {
        let frame = self.frame(start, area)?;
        let edge = self.start_edge(start, area)?;
        let join = extents
            .base_joins
            .iter()
            .find(|join| join.corner.distance(frame.origin) <= 2.0 * SAME_PLACE);
        let Some(join) = join else {
            return Some(frame);
        };
        let leaves = edge.edge.from.distance(frame.origin) <= SAME_PLACE;
        let stretch = match leaves {
            true => edge.stretches.first(),
            false => edge.stretches.last(),
        };
        let joined = stretch.is_some_and(|s| s.kind == EdgeKind::Joined);
        let moved = match (joined, leaves) {
            (false, true) => join.moved.last().copied(),
            (false, false) => join.moved.first().copied(),
            (true, _) => nearest(&join.moved, frame.origin),
        };
        Some(Frame {
            origin: moved.unwrap_or(frame.origin),
            ..frame
        })
    }

    /// Why a start on an area cannot be taken, if it cannot.
    pub fn start_fault(&self, start: &StartSpec, area: usize) -> Option<StartFault> {
        let site_area = self.areas.get(area)?;
        let corners: Vec<&str> = site_area
            .edges()
            .filter_map(|edge| edge.corners)
            .map(|[first, _]| self.corners[first].name.as_str())
            .collect();
        if !corners.contains(&start.corner.as_str()) {
            return Some(StartFault {
                found: phrase!(
                    "corner {corner} is not on {area}",
                    corner = start.corner,
                    area = site_area.name
                ),
                wanted: phrase!("one of {names}§corners", names = corners.join(", ")),
            });
        }
        if self.start_edge(start, area).is_some() {
            return None;
        }
        let from_it = site_area
            .edges()
            .filter(|edge| self.ends_at(edge, &start.corner));
        let names: Vec<&str> = from_it.map(|edge| edge.name.as_str()).collect();
        Some(StartFault {
            found: phrase!(
                "{edge} is no edge from corner {corner}",
                edge = start.along,
                corner = start.corner
            ),
            wanted: phrase!("one of {names}§edges", names = names.join(", ")),
        })
    }

    /// The start that an area takes when none is stated: its first wall edge, else its first edge,
    /// from its first corner, both in the order written. `None` for a circle.
    pub fn default_start(&self, area: usize) -> Option<StartSpec> {
        let mut edges: Vec<&SiteEdge> = self.areas.get(area)?.rings.first()?.edges.iter().collect();
        edges.sort_by_key(|edge| edge.written);
        let wall = edges.iter().find(|edge| edge.has(EdgeKind::Wall));
        let edge = wall.or(edges.first())?;
        let [first, _] = edge.corners?;
        Some(StartSpec {
            corner: self.corners[first].name.clone(),
            along: edge.name.clone(),
        })
    }

    fn start_edge(&self, start: &StartSpec, area: usize) -> Option<&SiteEdge> {
        let mut edges = self.areas.get(area)?.edges();
        edges.find(|edge| self.bears(edge, &start.along) && self.ends_at(edge, &start.corner))
    }

    fn ends_at(&self, edge: &SiteEdge, corner: &str) -> bool {
        let ends = edge.corners.iter().flatten();
        ends.copied()
            .any(|index| self.corners[index].name == corner)
    }
}

impl Extents {
    /// The frame of courses on a circle without a stated start: lower left of the base's bounding
    /// box, along x. `None` when there is no base.
    pub fn box_frame(&self) -> Option<Frame> {
        Some(Frame {
            origin: clip::bounds(&self.base.shape)?.min,
            u: Vector::new(1.0, 0.0),
            v: Vector::new(0.0, 1.0),
        })
    }
}

fn directions(edge: &SiteEdge, leaves: bool) -> Option<(Vector, Vector)> {
    if leaves {
        let u = edge.edge.tangent(0.0)?;
        return Some((u, u.left()));
    }
    let along = edge.edge.tangent(1.0)?;
    Some((-along, along.left()))
}

fn nearest(places: &[Point], to: Point) -> Option<Point> {
    let places = places.iter().copied();
    places.min_by(|a, b| a.distance(to).total_cmp(&b.distance(to)))
}
