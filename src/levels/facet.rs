//! Convex facets of one plane each, that the ground is cut into, and clipping to half planes.
//!
//! In: spots on a point, a line or the rim of a triangulation. Out: facets that cover the ground
//! around them out to a stated reach: square out from an edge of the rim the nearest hull level
//! varies along the edge alone, and in the wedge at a corner of the rim it is the corner's.
//! Clipping is by Sutherland and Hodgman, one half plane at a time: what a ring that is not convex
//! leaves behind along the clip line has no area, so that signed sums over rings stay exact.

use super::plane::Plane;
use super::spec::Spot;
use crate::geom::{Point, Vector};

/// Edges of the rim that turn by no more than this (a sine) go straight on: no wedge between.
const STRAIGHT: f64 = 1e-9;

/// A convex piece of the ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Facet {
    /// Its corners, anticlockwise, in millimetres.
    pub corners: Vec<Point>,
    /// The ground's plane on it.
    pub plane: Plane,
    /// Whether it lies outside the spots' hull.
    pub extrapolated: bool,
}

/// The facet around a single spot.
pub(super) fn point_facet(spot: Spot, reach: f64) -> Facet {
    let [right, up] = [Vector::new(reach, 0.0), Vector::new(0.0, reach)];
    let corners = vec![
        spot.at + -right + -up,
        spot.at + right + -up,
        spot.at + right + up,
        spot.at + -right + up,
    ];
    flat(corners, spot.level)
}

/// The facets around spots in a line, in order along it.
pub(super) fn line_facets(spots: &[Spot], reach: f64) -> Vec<Facet> {
    let (Some(first), Some(last)) = (spots.first(), spots.last()) else {
        return Vec::new();
    };
    let Some(along) = (last.at - first.at).unit() else {
        return vec![point_facet(*first, reach)];
    };
    let (out, end) = (along.left() * reach, along * reach);
    let mut facets = vec![
        flat(
            vec![
                first.at + -out,
                first.at + out,
                first.at + out + -end,
                first.at + -out + -end,
            ],
            first.level,
        ),
        flat(
            vec![
                last.at + out,
                last.at + -out,
                last.at + -out + end,
                last.at + out + end,
            ],
            last.level,
        ),
    ];
    for pair in spots.windows(2) {
        // Square to the common line, so that neighbouring strips share their border.
        let [a, b] = [pair[0], pair[1]];
        let run = (b.at - a.at).dot(along);
        if run <= 0.0 {
            continue;
        }
        facets.push(Facet {
            corners: vec![a.at + -out, b.at + -out, b.at + out, a.at + out],
            plane: Plane {
                at: a.at,
                level: a.level,
                gradient: along * ((b.level - a.level) / run),
            },
            extrapolated: true,
        });
    }
    facets
}

/// The facets outside a rim of spots, anticlockwise and convex.
pub(super) fn outside_facets(rim: &[Spot], reach: f64) -> Vec<Facet> {
    let mut facets = Vec::with_capacity(2 * rim.len());
    let count = rim.len();
    for (i, b) in rim.iter().enumerate() {
        let a = rim[(i + count - 1) % count];
        let c = rim[(i + 1) % count];
        let (Some(before), Some(after)) = ((b.at - a.at).unit(), (c.at - b.at).unit()) else {
            continue;
        };
        let (out_before, out_after) = (-before.left(), -after.left());
        facets.push(Facet {
            corners: vec![
                a.at,
                a.at + out_before * reach,
                b.at + out_before * reach,
                b.at,
            ],
            plane: Plane {
                at: a.at,
                level: a.level,
                gradient: before * ((b.level - a.level) / a.at.distance(b.at)),
            },
            extrapolated: true,
        });
        if before.cross(after) <= STRAIGHT {
            continue;
        }
        // A fan in steps of 60 degrees or less, twice as far out, covers the reach.
        let turn = libm::atan2(before.cross(after), before.dot(after)).to_degrees();
        let steps = (turn / 60.0).ceil().max(1.0);
        let mut corners = vec![b.at, b.at + out_before * (2.0 * reach)];
        let mut step = 1.0;
        while step < steps {
            let way = out_before.turned(turn * step / steps);
            corners.push(b.at + way * (2.0 * reach));
            step += 1.0;
        }
        corners.push(b.at + out_after * (2.0 * reach));
        facets.push(flat(corners, b.level));
    }
    facets
}

fn flat(corners: Vec<Point>, level: f64) -> Facet {
    Facet {
        corners,
        plane: Plane::flat(level),
        extrapolated: true,
    }
}

/// A ring clipped to where `height`, a linear function of place, is not negative.
pub(super) fn clip(ring: &[Point], height: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::with_capacity(ring.len() + 2);
    let Some(mut from) = ring.last().copied() else {
        return kept;
    };
    let mut from_height = height(from);
    for &to in ring {
        let to_height = height(to);
        if (from_height < 0.0) != (to_height < 0.0) {
            let share = from_height / (from_height - to_height);
            kept.push(from + (to - from) * share);
        }
        if to_height >= 0.0 {
            kept.push(to);
        }
        (from, from_height) = (to, to_height);
    }
    kept
}

/// A ring clipped to a convex facet.
pub(super) fn clip_to(ring: &[Point], facet: &Facet) -> Vec<Point> {
    let mut kept = ring.to_vec();
    let count = facet.corners.len();
    for (i, &from) in facet.corners.iter().enumerate() {
        let Some(along) = (facet.corners[(i + 1) % count] - from).unit() else {
            continue;
        };
        kept = clip(&kept, |point| along.cross(point - from));
        if kept.is_empty() {
            break;
        }
    }
    kept
}

/// Signed area of a ring (anticlockwise positive), in square millimetres, and the integral over
/// it of a linear function of place.
pub(super) fn integral(ring: &[Point], height: impl Fn(Point) -> f64) -> (f64, f64) {
    let (mut area, mut volume) = (0.0, 0.0);
    let Some(&apex) = ring.first() else {
        return (0.0, 0.0);
    };
    for pair in ring.windows(2).skip(1) {
        let part = (pair[0] - apex).cross(pair[1] - apex) / 2.0;
        area += part;
        volume += part * (height(apex) + height(pair[0]) + height(pair[1])) / 3.0;
    }
    (area, volume)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half-cell prism of plane survey (University of Melbourne): (h1 + h2 + h3) s² / 6.
    #[test]
    fn triangular_prism() {
        let half = [(0.0, 0.0), (3.0, 0.0), (0.0, 3.0)].map(|(x, y)| Point::new(x, y));
        // Heights 1, 4 and 7 at the corners.
        let (area, volume) = integral(&half, |p| 1.0 + p.x + 2.0 * p.y);
        assert!((area - 4.5).abs() < 1e-12);
        assert!((volume - (1.0 + 4.0 + 7.0) * 9.0 / 6.0).abs() < 1e-12);
    }

    #[test]
    fn clipping_a_notched_ring_keeps_its_area() {
        let notched = [
            (0.0, 0.0),
            (6.0, 0.0),
            (6.0, 4.0),
            (4.0, 4.0),
            (4.0, 1.0),
            (2.0, 1.0),
            (2.0, 4.0),
            (0.0, 4.0),
        ]
        .map(|(x, y)| Point::new(x, y));
        let upper = clip(&notched, |p| p.y - 2.0);
        let lower = clip(&notched, |p| 2.0 - p.y);
        let area = |ring: &[Point]| integral(ring, |_| 0.0).0;
        assert!((area(&upper) - 8.0).abs() < 1e-12);
        assert!((area(&lower) - 10.0).abs() < 1e-12);
    }
}
