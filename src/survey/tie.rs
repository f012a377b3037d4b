//! One point from two known points: the two-tape tie and station and offset.
//!
//! In: two known points and two distances, in millimetres. Out: the point, the other place where
//! the same tapes would meet, and the angle at which they cross. The method is the intersection of
//! two circles (distance-distance intersection of plane surveying). Nothing is adjusted: further
//! tapes give residuals elsewhere.

use crate::geom::Point;

/// Distances that differ by less than this are the same, in millimetres: the tapes just touch.
const TOUCH: f64 = 1e-6;

/// Where two tapes meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tie {
    /// Left of the line from the first known point to the second.
    pub left: Point,
    /// Right of it; the same place as `left` where the tapes only just meet.
    pub right: Point,
    /// The angle between the two tapes at the point, in degrees, 0 to 180.
    pub crossing_deg: f64,
}

/// Why two tapes do not meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TieFault {
    /// The two known points are one place.
    SamePlace,
    /// A distance is not a positive number.
    NotADistance,
    /// The two distances together fall short of the line between the known points by so many
    /// millimetres.
    TooShort(f64),
    /// The first distance (index 0) or the second (index 1) reaches past the other's circle
    /// altogether: the other falls short by so many millimetres.
    OtherTooShort {
        /// Which of the two distances is the short one, 0 or 1.
        short: usize,
        /// By how much, in millimetres.
        by: f64,
    },
}

/// The two places that lie `distance[0]` from `from[0]` and `distance[1]` from `from[1]`.
///
/// # Errors
/// When the circles have no point in common, or all of them; see [`TieFault`].
///
/// # Example
/// From (0, 0) and (4000, 0) with 3000 and 5000: a right angle at the first point.
/// ```
/// use groundsheet::geom::Point;
/// let tie = groundsheet::survey::tie(
///     [Point::new(0.0, 0.0), Point::new(4000.0, 0.0)], [3000.0, 5000.0]).unwrap();
/// assert!(tie.left.distance(Point::new(0.0, 3000.0)) < 1e-9);
/// ```
pub fn tie(from: [Point; 2], distance: [f64; 2]) -> Result<Tie, TieFault> {
    let [d0, d1] = distance;
    if !(d0 > 0.0 && d1 > 0.0 && d0.is_finite() && d1.is_finite()) {
        return Err(TieFault::NotADistance);
    }
    let base = from[1] - from[0];
    let c = base.length();
    let Some(along) = base.unit().filter(|_| c > TOUCH) else {
        return Err(TieFault::SamePlace);
    };
    if c - d0 - d1 > TOUCH {
        return Err(TieFault::TooShort(c - d0 - d1));
    }
    if (d0 - d1).abs() - c > TOUCH {
        return Err(TieFault::OtherTooShort {
            short: usize::from(d1 < d0),
            by: (d0 - d1).abs() - c,
        });
    }
    let station = ((d0 - d1) * (d0 + d1) / c + c) / 2.0;
    let out = ((d0 - station) * (d0 + station)).max(0.0).sqrt();
    let foot = from[0] + along * station;
    let left = foot + along.left() * out;
    let right = foot + along.left() * -out;
    let (a, b) = (from[0] - left, from[1] - left);
    let crossing_deg = libm::atan2(a.cross(b).abs(), a.dot(b)).to_degrees();
    Ok(Tie {
        left,
        right,
        crossing_deg,
    })
}

/// The point at station `at` along the line between two points and `out` square from it, left of
/// the line positive; `None` when the two points are one place. Millimetres.
pub fn offset(along: [Point; 2], at: f64, out: f64) -> Option<Point> {
    let base = along[1] - along[0];
    let unit = base.unit().filter(|_| base.length() > TOUCH)?;
    Some(along[0] + unit * at + unit.left() * out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// W. Squire, circle-circle intersection, printed output (UMBC), recomputed.
    #[test]
    fn two_circles_of_the_published_example() {
        let found = tie([Point::new(-0.1, -0.2), Point::new(2.0, 1.0)], [2.0, 2.1]).unwrap();
        assert!(found.right.distance(Point::new(1.696964, -1.078021)) < 2e-6);
        assert!(found.left.distance(Point::new(0.055856, 1.793918)) < 2e-6);
    }

    #[test]
    fn tapes_that_just_touch_meet_on_the_line() {
        let ends = [Point::new(0.0, 0.0), Point::new(10.0, 0.0)];
        let found = tie(ends, [4.0, 6.0]).unwrap();
        assert!(found.left.distance(Point::new(4.0, 0.0)) < 1e-6);
        assert!((found.crossing_deg - 180.0).abs() < 1e-3);
        let inside = tie(ends, [14.0, 4.0]).unwrap();
        assert!(inside.left.distance(Point::new(14.0, 0.0)) < 1e-6);
        assert!(inside.crossing_deg < 1e-3);
    }

    #[test]
    fn tapes_that_cannot_meet_say_by_how_much() {
        let ends = [Point::new(0.0, 0.0), Point::new(10.0, 0.0)];
        assert_eq!(tie(ends, [4.0, 5.0]), Err(TieFault::TooShort(1.0)));
        assert_eq!(
            tie(ends, [18.0, 5.0]),
            Err(TieFault::OtherTooShort { short: 1, by: 3.0 })
        );
        assert_eq!(
            tie(ends, [5.0, 18.0]),
            Err(TieFault::OtherTooShort { short: 0, by: 3.0 })
        );
        assert_eq!(
            tie([ends[0], ends[0]], [1.0, 1.0]),
            Err(TieFault::SamePlace)
        );
        assert_eq!(tie(ends, [f64::NAN, 1.0]), Err(TieFault::NotADistance));
        assert_eq!(tie(ends, [0.0, 10.0]), Err(TieFault::NotADistance));
    }

    #[test]
    fn offset_is_left_of_the_line() {
        let up = [Point::new(1.0, 1.0), Point::new(1.0, 9.0)];
        assert_eq!(offset(up, 2.0, 3.0), Some(Point::new(-2.0, 3.0)));
        assert_eq!(offset(up, 2.0, -3.0), Some(Point::new(4.0, 3.0)));
        assert_eq!(offset([up[0], up[0]], 2.0, 3.0), None);
    }
}
