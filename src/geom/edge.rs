//! What one edge, straight or along an arc, can be asked: length, points and tangents along it,
//! distance, the part of an area it bounds, flattening.
//!
//! Millimetres; a fraction runs from 0 at the start to 1 at the end, evenly by length.

use std::f64::consts::{PI, TAU};

use super::cross::{circle_circle, line_circle, line_line};
use super::point::{Point, Vector};
use super::ring::{Arc, Bounds, Edge};

/// Ends nearer than this, in millimetres, make an arc edge the whole circle.
const SAME: f64 = 1e-9;

impl Arc {
    /// The place reached from `start`, on the circle, after turning by `radians` in the arc's
    /// direction.
    pub fn at_angle_from(&self, start: Point, radians: f64) -> Point {
        let turn = if self.anticlockwise {
            radians
        } else {
            -radians
        };
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let spoke = start - self.centre;
        let spoke = spoke * (self.radius / spoke.length().max(f64::MIN_POSITIVE));
        self.centre + Vector::new(spoke.x * cos - spoke.y * sin, spoke.x * sin + spoke.y * cos)
    }
}

/// Angle turned along an arc from `from` to `to`, in radians, 0 to below 2π.
pub fn sweep_between(arc: &Arc, from: Point, to: Point) -> f64 {
    let (a, b) = (from - arc.centre, to - arc.centre);
    let turn = libm::atan2(a.cross(b), a.dot(b));
    let turn = if arc.anticlockwise { turn } else { -turn };
    if turn < 0.0 { turn + TAU } else { turn }
}

impl Edge {
    /// The straight edge between two points.
    pub const fn straight(from: Point, to: Point) -> Self {
        Self {
            from,
            to,
            arc: None,
        }
    }

    /// The whole anticlockwise circle, from its rightmost point.
    pub fn circle(centre: Point, radius: f64) -> Self {
        let from = Point::new(centre.x + radius, centre.y);
        Self {
            from,
            to: from,
            arc: Some(Arc {
                centre,
                radius,
                anticlockwise: true,
            }),
        }
    }

    /// Whether the edge is a whole circle.
    pub fn is_circle(&self) -> bool {
        self.arc.is_some() && self.from.distance(self.to) <= SAME
    }

    /// Angle turned about the centre, in radians, above 0 to 2π whichever way the arc runs; 0 for a
    /// straight edge.
    pub fn sweep(&self) -> f64 {
        let Some(arc) = &self.arc else {
            return 0.0;
        };
        if self.is_circle() {
            return TAU;
        }
        sweep_between(arc, self.from, self.to)
    }

    /// Length, in millimetres.
    pub fn length(&self) -> f64 {
        match &self.arc {
            Some(arc) => arc.radius * self.sweep(),
            None => self.from.distance(self.to),
        }
    }

    /// The place at a fraction of the length.
    pub fn point_at(&self, fraction: f64) -> Point {
        if fraction == 0.0 {
            return self.from;
        }
        if fraction == 1.0 {
            return self.to;
        }
        match &self.arc {
            Some(arc) => arc.at_angle_from(self.from, self.sweep() * fraction),
            None => self.from + (self.to - self.from) * fraction,
        }
    }

    /// Unit direction of travel at a fraction of the length; `None` for an edge of no length.
    pub fn tangent(&self, fraction: f64) -> Option<Vector> {
        match &self.arc {
            Some(arc) => {
                let spoke = (self.point_at(fraction) - arc.centre).unit()?;
                Some(if arc.anticlockwise {
                    spoke.left()
                } else {
                    -spoke.left()
                })
            }
            None => (self.to - self.from).unit(),
        }
    }

    /// The same edge run the other way.
    pub fn reversed(&self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            arc: self.arc.map(|arc| Arc {
                anticlockwise: !arc.anticlockwise,
                ..arc
            }),
        }
    }

    /// The stretch between two fractions of the length, run the same way.
    pub fn part(&self, start: f64, end: f64) -> Self {
        Self {
            from: self.point_at(start),
            to: self.point_at(end),
            arc: self.arc,
        }
    }

    /// Fraction of the length at the place on the edge nearest to a point.
    pub fn fraction_near(&self, at: Point) -> f64 {
        match &self.arc {
            Some(arc) => {
                let sweep = self.sweep();
                let turned = sweep_between(arc, self.from, at);
                if turned <= sweep {
                    return turned / sweep;
                }
                // Beyond the end: whichever end is nearer.
                if turned - sweep < TAU - turned {
                    1.0
                } else {
                    0.0
                }
            }
            None => {
                let along = self.to - self.from;
                let square = along.dot(along);
                if square == 0.0 {
                    return 0.0;
                }
                ((at - self.from).dot(along) / square).clamp(0.0, 1.0)
            }
        }
    }

    /// Distance from a point to the nearest place on the edge, in millimetres.
    pub fn distance(&self, at: Point) -> f64 {
        if let Some(arc) = &self.arc {
            let from_centre = arc.centre.distance(at);
            if from_centre == 0.0 {
                return arc.radius;
            }
            if sweep_between(arc, self.from, at) <= self.sweep() {
                return (from_centre - arc.radius).abs();
            }
            return self.from.distance(at).min(self.to.distance(at));
        }
        self.point_at(self.fraction_near(at)).distance(at)
    }

    /// Signed area swept by the line from `pole` to a point that runs along the edge, in square
    /// millimetres; summed over a closed ring it is the ring's area, positive anticlockwise.
    pub fn area_seen_from(&self, pole: Point) -> f64 {
        let triangle = (self.from - pole).cross(self.to - pole) / 2.0;
        let Some(arc) = &self.arc else {
            return triangle;
        };
        let sweep = self.sweep();
        let segment = arc.radius * arc.radius * (sweep - libm::sin(sweep)) / 2.0;
        if arc.anticlockwise {
            triangle + segment
        } else {
            triangle - segment
        }
    }

    /// The box around the edge.
    pub fn bounds(&self) -> Bounds {
        let ends = Bounds {
            min: self.from,
            max: self.from,
        }
        .with(self.to);
        let Some(arc) = &self.arc else {
            return ends;
        };
        let sweep = self.sweep();
        let quarters = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
        quarters.iter().fold(ends, |bounds, (x, y)| {
            let extreme = arc.centre + Vector::new(*x, *y) * arc.radius;
            if self.is_circle() || sweep_between(arc, self.from, extreme) <= sweep {
                bounds.with(extreme)
            } else {
                bounds
            }
        })
    }

    /// Points along the edge, both ends included; an arc strays from its chords by at most
    /// `sagitta` millimetres, and a whole circle has at least twelve.
    pub fn flatten(&self, sagitta: f64) -> Vec<Point> {
        let Some(arc) = &self.arc else {
            return vec![self.from, self.to];
        };
        let sweep = self.sweep();
        let coarsest = PI / 6.0;
        let step = if sagitta < arc.radius {
            (2.0 * libm::acos(1.0 - sagitta / arc.radius)).min(coarsest)
        } else {
            coarsest
        };
        let chords = (sweep / step).ceil().clamp(1.0, 1e6) as usize;
        (0..=chords)
            .map(|k| self.point_at(k as f64 / chords as f64))
            .collect()
    }

    /// Places that lie on both edges within `reach` millimetres: where they cross, and ends of one
    /// that lie on the other.
    pub fn meetings(&self, other: &Edge, reach: f64) -> Vec<Point> {
        let carriers = match (&self.arc, &other.arc) {
            (None, None) => {
                let (d, e) = (self.to - self.from, other.to - other.from);
                line_line(self.from, d, other.from, e).into_iter().collect()
            }
            (None, Some(arc)) => {
                line_circle(self.from, self.to - self.from, arc.centre, arc.radius)
            }
            (Some(arc), None) => {
                line_circle(other.from, other.to - other.from, arc.centre, arc.radius)
            }
            (Some(a), Some(b)) => circle_circle(a.centre, a.radius, b.centre, b.radius),
        };
        let ends = [self.from, self.to, other.from, other.to];
        carriers
            .into_iter()
            .chain(ends)
            .filter(|at| self.distance(*at) <= reach && other.distance(*at) <= reach)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quarter() -> Edge {
        Edge {
            from: Point::new(10.0, 0.0),
            to: Point::new(0.0, 10.0),
            arc: Some(Arc {
                centre: Point::new(0.0, 0.0),
                radius: 10.0,
                anticlockwise: true,
            }),
        }
    }

    #[test]
    fn quarter_circle_by_hand() {
        let edge = quarter();
        assert!((edge.length() - 5.0 * PI).abs() < 1e-12);
        assert!((edge.area_seen_from(Point::new(0.0, 0.0)) - 25.0 * PI).abs() < 1e-12);
        let half = edge.point_at(0.5);
        assert!((half.x - half.y).abs() < 1e-12);
        assert!((edge.distance(Point::new(6.0, 8.0))).abs() < 1e-12);
        assert!((edge.distance(Point::new(13.0, -4.0)) - 5.0).abs() < 1e-12);
        let bounds = edge.bounds();
        assert_eq!((bounds.width(), bounds.height()), (10.0, 10.0));
    }

    #[test]
    fn reversed_is_the_same_line_the_other_way() {
        let (edge, back) = (quarter(), quarter().reversed());
        assert!((edge.length() - back.length()).abs() < 1e-12);
        assert!(edge.point_at(0.3).distance(back.point_at(0.7)) < 1e-12);
        let pole = Point::new(3.0, 1.0);
        assert!((edge.area_seen_from(pole) + back.area_seen_from(pole)).abs() < 1e-9);
    }

    #[test]
    fn chords_stay_within_the_sagitta() {
        let edge = Edge::circle(Point::new(0.0, 0.0), 1000.0);
        let points = edge.flatten(0.02);
        for pair in points.windows(2) {
            let middle = pair[0].midpoint(pair[1]);
            let sagitta = 1000.0 - middle.distance(Point::new(0.0, 0.0));
            assert!(sagitta <= 0.02 + 1e-9, "{sagitta}");
        }
    }
}
