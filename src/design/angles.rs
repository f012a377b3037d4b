//! Corners that are neither square nor straight, with their angles.
//!
//! In: the site's outlines. Out: one [`CornerAngle`] for each corner between two straight edges,
//! in the order of the outlines. Angles in degrees, the smaller of the two that the sides make.

use super::field::Names;
use crate::geom::{Point, Vector};
use crate::job::Job;

/// Angles this near to 90° or 180° are taken as square or straight: by tapes a crew cannot tell
/// them apart (a quarter of a degree is 1/16″ in a foot).
const NEAR: f64 = 0.25;

/// A corner that is neither square nor straight.
#[derive(Clone, Debug, PartialEq)]
pub struct CornerAngle {
    /// The corner's name.
    pub corner: String,
    /// Where it is.
    pub at: Point,
    /// Directions of its sides at unit length; the angle opens anticlockwise from the first to the
    /// second.
    pub sides: [Vector; 2],
    /// Lengths of the two sides, in millimetres.
    pub lengths: [f64; 2],
    /// The angle, under 180.
    pub degrees: f64,
}

/// Every corner between two straight edges, in the order of the outlines: the corner before, the
/// corner itself, the corner after.
pub(super) fn straight_corners(job: &Job) -> impl Iterator<Item = [Point; 3]> {
    let rings = job.site.areas.iter().flat_map(|area| &area.rings);
    rings.flat_map(|ring| {
        let before = ring.edges.iter().cycle().skip(ring.edges.len().max(1) - 1);
        let pairs = ring.edges.iter().zip(before);
        pairs.filter_map(|(after, before)| {
            let straight = before.edge.arc.is_none() && after.edge.arc.is_none();
            straight.then_some([before.edge.from, after.edge.from, after.edge.to])
        })
    })
}

/// The angles of every outline.
pub(super) fn angles(job: &Job, names: &Names<'_>) -> Vec<CornerAngle> {
    let mut found: Vec<CornerAngle> = Vec::new();
    for [before, at, after] in straight_corners(job) {
        let Some(corner) = names.at(at) else {
            continue;
        };
        // Two areas that share a corner may show the same angle from both sides.
        let next = between(&corner, at, [after, before]);
        let known = |next: &CornerAngle| {
            let same = |one: &CornerAngle| {
                one.corner == next.corner && (one.degrees - next.degrees).abs() < NEAR
            };
            found.iter().any(same)
        };
        if let Some(next) = next.filter(|next| !known(next)) {
            found.push(next);
        }
    }
    found
}

/// The angle at a corner between the ways to two others; `None` where it is square or straight.
fn between(corner: &str, at: Point, ends: [Point; 2]) -> Option<CornerAngle> {
    let ways = ends.map(|end| end - at);
    let mut lengths = ways.map(Vector::length);
    let mut sides = [ways[0].unit()?, ways[1].unit()?];
    if sides[0].cross(sides[1]) < 0.0 {
        sides.swap(0, 1);
        lengths.swap(0, 1);
    }
    // A cross product of −0 would turn straight on into −180°.
    let across = sides[0].cross(sides[1]).abs();
    let degrees = libm::atan2(across, sides[0].dot(sides[1])).to_degrees();
    let plain = [90.0, 180.0]
        .iter()
        .any(|known| (degrees - known).abs() <= NEAR);
    (!plain).then(|| CornerAngle {
        corner: corner.to_string(),
        at,
        sides,
        lengths,
        degrees,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The angles of a 3-4-5 triangle: the right one is left out.
    #[test]
    fn a_triangle_of_3_4_5() {
        let [a, b, c] = [(0.0, 0.0), (4000.0, 0.0), (0.0, 3000.0)].map(|(x, y)| Point::new(x, y));
        assert_eq!(between("A", a, [b, c]), None);
        let at_b = between("B", b, [c, a]).unwrap();
        assert!((at_b.degrees - 36.8699).abs() < 1e-4, "{at_b:?}");
        let at_c = between("C", c, [a, b]).unwrap();
        assert!((at_b.degrees + at_c.degrees - 90.0).abs() < 1e-9);
        // Whichever way the outline runs, the angle opens anticlockwise from its first side.
        for found in [at_b, at_c, between("C", c, [b, a]).unwrap()] {
            assert!(found.sides[0].cross(found.sides[1]) > 0.0);
        }
    }

    #[test]
    fn straight_on_is_no_corner() {
        let [a, b, c] = [0.0, 1000.0, 2500.0].map(|x| Point::new(x, 10.0));
        assert_eq!(between("B", b, [a, c]), None);
    }
}
