//! Corners of the outline, and how a border course is cut at them.
//!
//! In: edges that follow one another, a course; site millimetres. Out: the corner with its bisector,
//! and the cut there: to the bisector, or, butted, to the other edge's course.

use super::Course;
use crate::geom::{Edge, Point, Vector};
use crate::paving::spec::Corners;

/// Below this sine two edges go on in one direction.
const SMOOTH: f64 = 1e-3;

/// Sine of the least turn of an outline at which a course is butted: 30°.
const LEAST_TURN: f64 = 0.5;

/// A cut through a corner, in site coordinates: what is kept lies to the side of `keep`.
#[derive(Clone, Copy)]
pub(super) struct Cut {
    pub(super) through: Point,
    /// Unit normal towards what is kept.
    pub(super) keep: Vector,
}

/// A corner between two edges.
#[derive(Clone, Copy)]
pub(super) struct Corner {
    pub(super) at: Point,
    /// Unit direction of the bisector, into the paving.
    pub(super) bisector: Vector,
    /// Depth gained by a unit step along the bisector.
    pub(super) depth: f64,
    /// Whether the edges go on in one direction there.
    pub(super) smooth: bool,
    /// Unit directions of the edge that ends there and of the one that starts there.
    pub(super) ways: [Vector; 2],
    /// Whether both edges are straight and turn enough to be butted.
    pub(super) square: bool,
}

/// An end of an edge.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// Where it starts.
    First,
    /// Where it ends.
    Last,
}

/// The corner between two edges; none where they fold back on one another.
pub(super) fn corner(before: &Edge, after: &Edge) -> Option<Corner> {
    let (a, b) = (before.tangent(1.0)?, after.tangent(0.0)?);
    let bisector = (a.left() + b.left()).unit().unwrap_or(b.left());
    let depth = bisector.dot(b.left());
    (depth > 1e-3).then_some(Corner {
        at: after.from,
        bisector,
        depth,
        smooth: a.cross(b).abs() < SMOOTH && a.dot(b) > 0.0,
        ways: [a, b],
        square: before.arc.is_none() && after.arc.is_none() && a.cross(b).abs() >= LEAST_TURN,
    })
}

impl Corner {
    /// Depth gained by a unit step along the joint at the corner.
    pub(super) fn slope(&self, corners: Corners) -> f64 {
        match corners {
            Corners::Butted if self.square => self.ways[0].cross(self.ways[1]).abs(),
            _ => self.depth,
        }
    }
}

/// The cut of a course at an end of an edge.
///
/// Butted, the edge that starts at the corner runs on through the other's course: to the outside of
/// it where the outline turns to the left, to its inside where it turns to the right; the edge that
/// ends there stops a joint short of the first one.
pub(super) fn end_cut(course: &Course<'_>, corner: &Corner, end: End) -> Cut {
    let joint = course.paver.joint;
    let [before, after] = corner.ways;
    if course.corners == Corners::Mitred || !corner.square {
        let away = match end {
            End::First => after,
            End::Last => -before,
        };
        return cut_at(corner, joint, away);
    }
    let left = before.cross(after) > 0.0;
    // Kept is what lies deeper than this under the other edge, or, on the right, less deep.
    let (other, depth) = match (end, left) {
        (End::First, true) => (before, course.outer),
        (End::First, false) => (before, course.inner),
        (End::Last, true) => (after, course.inner + joint),
        (End::Last, false) => (after, course.outer - joint),
    };
    let deeper = other.left();
    Cut {
        through: corner.at + deeper * depth,
        keep: if left { deeper } else { -deeper },
    }
}

/// The cut at a corner that keeps what lies on, half a joint clear of its bisector, seen along the
/// way the edge leaves the corner (or, at its end, comes to it, turned back).
pub(super) fn cut_at(corner: &Corner, joint: f64, away: Vector) -> Cut {
    let normal = corner.bisector.left();
    let keep = if normal.dot(away) < 0.0 {
        -normal
    } else {
        normal
    };
    Cut {
        through: corner.at + keep * (joint / 2.0),
        keep,
    }
}

/// How far from a corner, along a straight edge that leaves it, its cut lies at a depth.
pub(super) fn reach(corner: &Corner, away: Vector, joint: f64, depth: f64) -> f64 {
    let across = corner.bisector.dot(away);
    (joint / 2.0 + across * depth) / corner.depth
}
