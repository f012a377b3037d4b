//! Set-out from a base line with two tapes, and what proves it.
//!
//! In: the base line's ends and the corners, in millimetres. Out: the two tape ties of each
//! corner, the diagonals that prove the shape, and for a right angle the 3-4-5 proof with the
//! largest whole multiple that fits along its two sides (FAO R7021E chapter 4, 1985).

use crate::geom::Point;

/// A corner is square, and a side long enough, within this, in millimetres.
const TOLERANCE: f64 = 0.5;

/// A corner taped from the two ends of the base line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CornerTies {
    /// Distances from the first and the second end, in millimetres.
    pub distance: [f64; 2],
    /// On which side of the base line, going from the first end to the second, it lies.
    pub side: Side,
    /// The angle at which the tapes cross, in degrees, 0 to 180; 0 at an end of the base line.
    pub crossing_deg: f64,
    /// Station along the base line from its first end, in millimetres.
    pub station: f64,
    /// Offset square from the base line, left positive, in millimetres.
    pub offset: f64,
}

/// A side of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Left, going along.
    Left,
    /// Right, going along.
    Right,
    /// On the line, within half a millimetre.
    On,
}

/// A diagonal between two corners of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagonal {
    /// Its corners, as indices in the order given.
    pub corners: [usize; 2],
    /// Its length, in millimetres.
    pub length: f64,
}

/// The 3-4-5 proof of a right angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RightAngle {
    /// The multiple: sides of 3, 4 and 5 times this many units.
    pub multiple: u32,
    /// Lengths to mark along the side to the corner before and to the corner after, in
    /// millimetres.
    pub marks: [f64; 2],
    /// The length between the marks when the angle is right, in millimetres.
    pub across: f64,
}

/// The two tape ties of a point from the base line's ends.
pub fn ties(base: [Point; 2], point: Point) -> CornerTies {
    let (a, b) = (base[0] - point, base[1] - point);
    let line = base[1] - base[0];
    let unit = line.unit().unwrap_or_default();
    let out = unit.cross(point - base[0]);
    let side = if out.abs() <= TOLERANCE {
        Side::On
    } else if out > 0.0 {
        Side::Left
    } else {
        Side::Right
    };
    CornerTies {
        distance: [a.length(), b.length()],
        side,
        crossing_deg: libm::atan2(a.cross(b).abs(), a.dot(b)).to_degrees(),
        station: unit.dot(point - base[0]),
        offset: out,
    }
}

/// The diagonals that, with the sides, prove an outline of corners in order: both of a
/// quadrilateral; of more corners those from the first one, which with the sides fix the shape.
pub fn diagonals(corners: &[Point]) -> Vec<Diagonal> {
    let count = corners.len();
    let mut pairs: Vec<[usize; 2]> = (2..count.saturating_sub(1)).map(|to| [0, to]).collect();
    if count == 4 {
        pairs.push([1, 3]);
    }
    pairs
        .into_iter()
        .map(|pair| Diagonal {
            corners: pair,
            length: corners[pair[0]].distance(corners[pair[1]]),
        })
        .collect()
}

/// The 3-4-5 proof at `corner` between its straight sides to `before` and `after`, in whole
/// multiples of `unit` millimetres (a foot, say, or 100 mm). The 4 goes along the side that lets
/// the multiple be larger, along the one before if both do. `None` where the angle is not right or
/// not even 3-4-5 fits.
///
/// # Example
/// Sides of 14 ft and 12 ft: 9-12-15 fits; 12-16-20 does not, as no side has 16 ft.
/// ```
/// use groundsheet::geom::Point;
/// let foot = 304.8;
/// let proof = groundsheet::levels::right_angle(
///     Point::new(14.0 * foot, 0.0), Point::new(0.0, 0.0), Point::new(0.0, 12.0 * foot), foot);
/// assert_eq!(proof.unwrap().multiple, 3);
/// ```
pub fn right_angle(before: Point, corner: Point, after: Point, unit: f64) -> Option<RightAngle> {
    let (a, b) = (before - corner, after - corner);
    let (la, lb) = (a.length(), b.length());
    if !(la > 0.0 && lb > 0.0 && unit > 0.0) {
        return None;
    }
    // How far the end of the shorter side stands off the square.
    if a.dot(b).abs() / la.max(lb) > TOLERANCE {
        return None;
    }
    let fits = |length: f64, share: f64| ((length + TOLERANCE) / (share * unit)).floor();
    let four_before = fits(la, 4.0).min(fits(lb, 3.0));
    let four_after = fits(la, 3.0).min(fits(lb, 4.0));
    let multiple = four_before.max(four_after).min(1e6);
    if multiple < 1.0 {
        return None;
    }
    let shares = if four_before >= four_after {
        [4.0, 3.0]
    } else {
        [3.0, 4.0]
    };
    Some(RightAngle {
        multiple: multiple as u32,
        marks: shares.map(|share| share * multiple * unit),
        across: 5.0 * multiple * unit,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::tie;

    #[test]
    fn ties_set_the_corner_out_again() {
        let base = [Point::new(100.0, 50.0), Point::new(4100.0, 250.0)];
        for corner in [Point::new(1200.0, 3000.0), Point::new(900.0, -2000.0)] {
            let found = ties(base, corner);
            let again = tie(base, found.distance).unwrap();
            let at = if found.side == Side::Left {
                again.left
            } else {
                again.right
            };
            assert!(at.distance(corner) < 1e-6);
            assert!((again.crossing_deg - found.crossing_deg).abs() < 1e-6);
            let square = crate::survey::offset(base, found.station, found.offset).unwrap();
            assert!(square.distance(corner) < 1e-6);
        }
        assert_eq!(ties(base, base[0]).side, Side::On);
        assert_eq!(ties(base, base[0]).distance[0], 0.0);
    }

    #[test]
    fn diagonals_of_a_rectangle_are_equal() {
        let corners =
            [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)].map(|(x, y)| Point::new(x, y));
        let found = diagonals(&corners);
        assert_eq!(
            found.iter().map(|d| d.length).collect::<Vec<_>>(),
            [5.0, 5.0]
        );
        assert_eq!(diagonals(&corners[..3]), []);
        let six: Vec<Point> = (0..6)
            .map(|i| Point::new(f64::from(i), f64::from(i * i)))
            .collect();
        assert_eq!(diagonals(&six).len(), 3);
    }

    /// FAO R7021E chapter 4 gives 3-4-5, 6-8-10 and 9-12-15; the Noble Foundation 24-32-40.
    #[test]
    fn published_multiples() {
        let o = Point::new(0.0, 0.0);
        for (a, b, multiple, marks) in [
            (4.0, 3.0, 1, [4.0, 3.0]),
            (6.0, 8.0, 2, [6.0, 8.0]),
            (12.5, 9.9, 3, [12.0, 9.0]),
            (24.0, 32.0, 8, [24.0, 32.0]),
        ] {
            let proof = right_angle(
                Point::new(a * 1000.0, 0.0),
                o,
                Point::new(0.0, b * 1000.0),
                1000.0,
            )
            .unwrap();
            assert_eq!(proof.multiple, multiple);
            assert_eq!(proof.marks, marks.map(|m| m * 1000.0));
            assert_eq!(proof.across, f64::from(multiple) * 5000.0);
        }
        let near = right_angle(Point::new(4000.0, 0.0), o, Point::new(1.0, 3000.0), 1000.0);
        assert_eq!(near, None);
        let short = right_angle(Point::new(2900.0, 0.0), o, Point::new(0.0, 3900.0), 1000.0);
        assert_eq!(short, None);
    }
}
