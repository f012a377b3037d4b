//! Where lines and circles cross, in closed form. Millimetres.
//!
//! Carriers only: an endless line through a point along a direction, a whole circle. Whether a
//! crossing lies on an edge is for the caller to ask.

use super::point::{Point, Vector};

/// Sine of the angle below which two lines count as parallel.
const PARALLEL: f64 = 1e-12;

/// The crossing of the line through `p` along `d` with the line through `q` along `e`; `None` when
/// they are parallel.
pub fn line_line(p: Point, d: Vector, q: Point, e: Vector) -> Option<Point> {
    let turn = d.cross(e);
    if turn.abs() <= PARALLEL * d.length() * e.length() {
        return None;
    }
    Some(p + d * ((q - p).cross(e) / turn))
}

/// The crossings of the line through `p` along `d` with a circle, in order along `d`: none, one
/// (touching) or two.
pub fn line_circle(p: Point, d: Vector, centre: Point, radius: f64) -> Vec<Point> {
    let Some(d) = d.unit() else {
        return Vec::new();
    };
    let foot = p + d * (centre - p).dot(d);
    let off = foot.distance(centre);
    let square = (radius - off) * (radius + off);
    if square < 0.0 {
        // A line that touches may miss by rounding.
        let touches = off - radius <= 1e-9 * radius.max(1.0);
        return if touches { vec![foot] } else { Vec::new() };
    }
    let half = square.sqrt();
    if half == 0.0 {
        return vec![foot];
    }
    vec![foot + d * -half, foot + d * half]
}

/// The crossings of two circles: none (apart, one within the other, or the same circle), one
/// (touching) or two, the one to the left of the line from the first centre to the second first.
pub fn circle_circle(a: Point, ra: f64, b: Point, rb: f64) -> Vec<Point> {
    let between = b - a;
    let distance = between.length();
    let slack = 1e-9 * ra.max(rb).max(1.0);
    if distance <= slack || distance > ra + rb + slack || distance < (ra - rb).abs() - slack {
        return Vec::new();
    }
    let along = (distance * distance + (ra - rb) * (ra + rb)) / (2.0 * distance);
    let direction = between * (1.0 / distance);
    let foot = a + direction * along;
    let square = (ra - along) * (ra + along);
    if square <= 0.0 {
        return vec![foot];
    }
    let half = square.sqrt();
    vec![
        foot + direction.left() * half,
        foot + direction.left() * -half,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two circles, printed with intermediate values at userpages.umbc.edu/~squire/download/
    /// circle_circle_c.out: (1.696964, −1.078021) and (0.055856, 1.793918).
    #[test]
    fn circles_of_the_published_run() {
        let found = circle_circle(Point::new(-0.1, -0.2), 2.0, Point::new(2.0, 1.0), 2.1);
        assert!(found[0].distance(Point::new(0.055856, 1.793918)) < 1e-6);
        assert!(found[1].distance(Point::new(1.696964, -1.078021)) < 1e-6);
    }

    #[test]
    fn touching_apart_and_concentric() {
        let o = Point::new(0.0, 0.0);
        assert_eq!(circle_circle(o, 2.0, Point::new(5.0, 0.0), 3.0).len(), 1);
        assert!(circle_circle(o, 2.0, Point::new(6.0, 0.0), 3.0).is_empty());
        assert!(circle_circle(o, 2.0, o, 2.0).is_empty());
        assert!(circle_circle(o, 5.0, Point::new(1.0, 0.0), 3.0).is_empty());
    }

    #[test]
    fn lines_by_hand() {
        let o = Point::new(0.0, 0.0);
        let at = line_line(
            o,
            Vector::new(1.0, 1.0),
            Point::new(4.0, 0.0),
            Vector::new(0.0, 2.0),
        );
        assert_eq!(at, Some(Point::new(4.0, 4.0)));
        let none = line_line(
            o,
            Vector::new(1.0, 1.0),
            Point::new(4.0, 0.0),
            Vector::new(3.0, 3.0),
        );
        assert_eq!(none, None);
        let two = line_circle(Point::new(-9.0, 3.0), Vector::new(2.0, 0.0), o, 5.0);
        assert_eq!(two, vec![Point::new(-4.0, 3.0), Point::new(4.0, 3.0)]);
    }
}
