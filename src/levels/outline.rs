//! Plain questions about a flattened shape: its rings and segments, whether a place lies in it.
//!
//! In: a shape in millimetres, its rings wound either way. Out: rings wound so that signed sums
//! over them count exteriors once and holes against them; inside by the even-odd (ray crossing)
//! rule.

use super::facet::integral;
use crate::geom::{Point, Shape, clip};

/// A place this near to an outline is on it, in millimetres.
const ON_OUTLINE: f64 = 1e-3;

/// The rings of a shape, exteriors anticlockwise and interiors clockwise, not closed.
pub(super) fn rings(shape: &Shape) -> Vec<Vec<Point>> {
    let mut all = Vec::new();
    for polygon in shape {
        all.extend(ring(polygon.exterior(), 1.0));
        for hole in polygon.interiors() {
            all.extend(ring(hole, -1.0));
        }
    }
    all
}

fn ring(line: &geo::LineString<f64>, sense: f64) -> Option<Vec<Point>> {
    let mut points: Vec<Point> = line.coords().map(|c| Point::new(c.x, c.y)).collect();
    if points.first() == points.last() {
        points.pop();
    }
    if points.len() < 3 {
        return None;
    }
    if integral(&points, |_| 0.0).0 * sense < 0.0 {
        points.reverse();
    }
    Some(points)
}

/// Whether a place lies in a shape or on its outline.
pub(super) fn is_in(shape: &Shape, at: Point) -> bool {
    outline_distance(shape, at) <= ON_OUTLINE || is_inside(shape, at)
}

/// Whether a place lies in a shape, by the even-odd rule; on the outline either answer may come.
pub(super) fn is_inside(shape: &Shape, at: Point) -> bool {
    let mut inside = false;
    for [a, b] in segments(shape) {
        if (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) * (b.x - a.x) / (b.y - a.y) {
            inside = !inside;
        }
    }
    inside
}

/// Distance from a place to a shape's outline, in millimetres.
pub(super) fn outline_distance(shape: &Shape, at: Point) -> f64 {
    let mut least = f64::INFINITY;
    for [a, b] in segments(shape) {
        let along = b - a;
        let square = along.dot(along);
        let share = if square > 0.0 {
            ((at - a).dot(along) / square).clamp(0.0, 1.0)
        } else {
            0.0
        };
        least = least.min(at.distance(a + along * share));
    }
    least
}

/// The straight pieces of a shape's outline.
pub(super) fn segments(shape: &Shape) -> impl Iterator<Item = [Point; 2]> + '_ {
    clip::rings(shape)
        .flat_map(|line| line.lines())
        .map(|line| {
            [
                Point::new(line.start.x, line.start.y),
                Point::new(line.end.x, line.end.y),
            ]
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Coord, LineString, Polygon};

    fn square(low: f64, high: f64) -> LineString<f64> {
        let corners = [(low, low), (low, high), (high, high), (high, low)];
        LineString::new(corners.iter().map(|&(x, y)| Coord { x, y }).collect())
    }

    #[test]
    fn rings_wound_any_way_sum_to_the_area() {
        let shape = Shape::new(vec![Polygon::new(
            square(0.0, 10.0),
            vec![square(4.0, 6.0)],
        )]);
        let area: f64 = rings(&shape).iter().map(|r| integral(r, |_| 0.0).0).sum();
        assert!((area - 96.0).abs() < 1e-12);
        assert!(is_in(&shape, Point::new(1.0, 9.0)));
        assert!(!is_in(&shape, Point::new(5.0, 5.0)));
        assert!(is_in(&shape, Point::new(4.0, 5.0)));
        assert!(!is_in(&shape, Point::new(10.1, 5.0)));
        assert!((outline_distance(&shape, Point::new(5.0, 5.2)) - 0.8).abs() < 1e-12);
    }
}
