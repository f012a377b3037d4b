//! Rings and the shapes they enclose.
//!
//! In: rings of the site, outer ones anticlockwise and holes clockwise, millimetres. Out: the
//! flattened shape, and back from a flattened shape its rings. Rings do not cross one another.

use geo::CoordsIter as _;

use crate::geom::{Edge, Point, Ring, Shape, clip};

/// The rings of a flattened shape.
pub fn rings_of_shape(shape: &Shape) -> Vec<Ring> {
    let lines = clip::rings(shape);
    lines
        .map(|line| {
            let sides = line.lines();
            let point = |c: geo::Coord<f64>| Point::new(c.x, c.y);
            let edges = sides.map(|side| Edge::straight(point(side.start), point(side.end)));
            Ring {
                edges: edges.collect(),
            }
        })
        .collect()
}

/// What rings enclose: anticlockwise ones add, clockwise ones take off; what lies in a hole is an
/// island, and stands.
pub fn shape_of_rings(rings: &[Ring]) -> Shape {
    let of = |wanted: bool| -> Vec<Shape> {
        let rings = rings.iter().filter(|r| r.is_anticlockwise() == wanted);
        rings.map(clip::shape_of).collect()
    };
    enclosed(of(true), of(false))
}

/// What outer rings enclose less the holes in them, each ring as the shape within it.
fn enclosed(outer: Vec<Shape>, holes: Vec<Shape>) -> Shape {
    let (islands, outer) = within(outer, &holes);
    if outer.is_empty() {
        return clip::difference(&clip::union(&islands), &clip::union(&holes));
    }
    if islands.is_empty() {
        return clip::difference(&clip::union(&outer), &clip::union(&holes));
    }
    let (own, holes) = within(holes, &islands);
    let around = clip::difference(&clip::union(&outer), &clip::union(&holes));
    clip::union([&around, &enclosed(islands, own)])
}

/// The shapes that lie in a larger one of some others, and the rest.
fn within(shapes: Vec<Shape>, others: &[Shape]) -> (Vec<Shape>, Vec<Shape>) {
    let others: Vec<_> = others
        .iter()
        .map(|other| (clip::bounds(other), other))
        .collect();
    shapes.into_iter().partition(|shape| {
        let (Some(own), Some(first)) = (clip::bounds(shape), shape.coords_iter().next()) else {
            return false;
        };
        others.iter().any(|(bounds, other)| {
            bounds.is_some_and(|around| around.union(own) == around)
                && clip::area(shape) < clip::area(other)
                && clip::contains(other, Point::new(first.x, first.y))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(middle: f64, half: f64) -> Ring {
        let corners = [(-half, -half), (half, -half), (half, half), (-half, half)];
        Ring::polygon(&corners.map(|(x, y)| Point::new(middle + x, middle + y)))
    }

    /// A square of 10 m with a hole of 6 m, in it a square of 4 m with a hole of 2 m, in that one
    /// of 1 m, and a second hole beside; however they are listed.
    #[test]
    fn islands_in_holes_stand() {
        let rings = [
            square(0.0, 5000.0),
            square(0.0, 3000.0).reversed(),
            square(0.0, 2000.0),
            square(0.0, 1000.0).reversed(),
            square(0.0, 500.0),
            square(4000.0, 500.0).reversed(),
        ];
        let area = 100.0 - 36.0 + 16.0 - 4.0 + 1.0 - 1.0;
        for turn in 0..rings.len() {
            let mut listed = rings.to_vec();
            listed.rotate_left(turn);
            let shape = shape_of_rings(&listed);
            assert!((clip::area(&shape) / 1e6 - area).abs() < 1e-9);
            for (at, paved) in [(0.0, true), (700.0, false), (1500.0, true), (2500.0, false)] {
                assert_eq!(clip::contains(&shape, Point::new(at, 10.0)), paved, "{at}");
            }
            let back: f64 = rings_of_shape(&shape).iter().map(Ring::signed_area).sum();
            assert!((back / 1e6 - area).abs() < 1e-9);
        }
    }
}
