//! Setting out an arc with tapes: by its centre and radius, by offsets from its chord, or point by
//! point.
//!
//! In: an arc edge and how far apart the points are to be, in millimetres. Out: stations along the
//! chord with the offset square from it to the arc; where the arc turns by more than half a circle
//! its chord says nothing, so points along it instead. Offsets from the chord are those of any text
//! on curve ranging: o(x) = √(r² − (x − c/2)²) − √(r² − (c/2)²), c the chord.

use std::f64::consts::PI;

use crate::geom::{Edge, Point, Shape, clip};

/// An arc as set out.
#[derive(Clone, Debug, PartialEq)]
pub struct ArcMarks {
    /// Centre.
    pub centre: Point,
    /// Radius.
    pub radius: f64,
    /// Length of the chord and rise of the arc over it, in millimetres; `None` for an arc of more
    /// than half a circle.
    pub chord: Option<[f64; 2]>,
    /// The points on the arc between its ends, in order along the edge.
    pub points: Vec<ArcPoint>,
}

/// One point of an arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ArcPoint {
    /// Where it is.
    pub at: Point,
    /// Station along the chord from the arc's first end and offset square from the chord to the
    /// arc; `None` for an arc of more than half a circle.
    pub chord: Option<[f64; 2]>,
}

/// The marks of an arc edge about `every` apart; `None` for a straight edge. Up to half a circle
/// the stations are whole multiples of `every` along the chord from the first end; a larger arc is
/// cut into equal parts, at least four.
///
/// # Example
/// A quarter of a circle of 4 ft, marks every 2 ft along its chord of 5.657 ft: at 2 ft the offset
/// is √(16 − 0.828²) − 2.828 = 1.085 ft.
/// ```
/// use groundsheet::geom::{Arc, Edge, Point};
/// let arc = Arc { centre: Point::new(0.0, 0.0), radius: 4.0, anticlockwise: true };
/// let edge = Edge { from: Point::new(4.0, 0.0), to: Point::new(0.0, 4.0), arc: Some(arc) };
/// let marks = groundsheet::levels::arc_marks(&edge, 2.0).unwrap();
/// let [station, offset] = marks.points[0].chord.unwrap();
/// assert!((station - 2.0).abs() < 1e-9 && (offset - 1.085).abs() < 5e-4);
/// ```
pub fn arc_marks(edge: &Edge, every: f64) -> Option<ArcMarks> {
    let arc = edge.arc?;
    let chord = edge.from.distance(edge.to);
    let mut points = Vec::new();
    let mut flat = None;
    if edge.is_circle() || edge.sweep() > PI + 1e-9 {
        let parts = (edge.length() / every).ceil().clamp(4.0, 64.0) as u32;
        let first = if edge.is_circle() { 0 } else { 1 };
        points.extend((first..parts).map(|i| ArcPoint {
            at: edge.point_at(f64::from(i) / f64::from(parts)),
            chord: None,
        }));
    } else if let Some(along) = (edge.to - edge.from).unit() {
        let half = chord / 2.0;
        // How far the chord is from the centre.
        let inner = libm::sqrt((arc.radius * arc.radius - half * half).max(0.0));
        flat = Some([chord, arc.radius - inner]);
        // The arc bulges to the right of its way when it turns left, and the other way round.
        let side = if arc.anticlockwise { -1.0 } else { 1.0 };
        let mut station = every;
        // A mark next to the end tells nothing.
        while station < chord - every / 4.0 && points.len() < 200 {
            let from_middle = station - half;
            let square = (arc.radius * arc.radius - from_middle * from_middle).max(0.0);
            let offset = libm::sqrt(square) - inner;
            points.push(ArcPoint {
                at: edge.from + along * station + along.left() * (side * offset),
                chord: Some([station, offset]),
            });
            station += every;
        }
    }
    Some(ArcMarks {
        centre: arc.centre,
        radius: arc.radius,
        chord: flat,
        points,
    })
}

/// Whether a tape held at an arc's centre reaches every part of the arc with nothing in the way.
pub fn centre_is_free(edge: &Edge, obstacles: &Shape) -> bool {
    let Some(arc) = &edge.arc else {
        return false;
    };
    if clip::contains(obstacles, arc.centre) {
        return false;
    }
    // Ends stand on faces at times, so the last of each ray does not count.
    let rays: Vec<(Point, Point)> = (0..=8)
        .map(|i| edge.point_at(f64::from(i) / 8.0))
        .map(|at| (arc.centre, arc.centre + (at - arc.centre) * 0.98))
        .collect();
    let inside = clip::clip_lines(&rays, obstacles);
    inside.iter().all(|(a, b)| a.distance(*b) < 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Arc;

    fn arc(from: (f64, f64), to: (f64, f64), radius: f64, anticlockwise: bool) -> Edge {
        Edge {
            from: Point::new(from.0, from.1),
            to: Point::new(to.0, to.1),
            arc: Some(Arc {
                centre: Point::default(),
                radius,
                anticlockwise,
            }),
        }
    }

    #[test]
    fn every_mark_lies_on_the_arc() {
        for edge in [
            arc((2e3, 0.0), (0.0, 2e3), 2e3, true),
            arc((0.0, 2e3), (2e3, 0.0), 2e3, false),
            arc((2e3, 0.0), (-2e3, 0.0), 2e3, true),
            arc((2e3, 0.0), (0.0, -2e3), 2e3, true),
            Edge::circle(Point::default(), 700.0),
        ] {
            let marks = arc_marks(&edge, 300.0).unwrap();
            assert!(marks.points.len() >= 4, "{edge:?}");
            for mark in &marks.points {
                assert!(edge.distance(mark.at) < 1e-6, "{edge:?} {mark:?}");
            }
        }
        assert_eq!(arc_marks(&arc_free(), 300.0), None);
    }

    fn arc_free() -> Edge {
        Edge::straight(Point::default(), Point::new(1.0, 0.0))
    }

    #[test]
    fn a_centre_in_a_structure_or_behind_one_is_not_free() {
        let edge = arc((2e3, 0.0), (0.0, 2e3), 2e3, true);
        let square = |x: f64, y: f64, size: f64| {
            clip::shape_of_points(&[
                Point::new(x, y),
                Point::new(x + size, y),
                Point::new(x + size, y + size),
                Point::new(x, y + size),
            ])
        };
        assert!(centre_is_free(&edge, &square(-3e3, -3e3, 1e3)));
        assert!(!centre_is_free(&edge, &square(-500.0, -500.0, 1e3)));
        assert!(!centre_is_free(&edge, &square(800.0, 800.0, 300.0)));
    }
}
