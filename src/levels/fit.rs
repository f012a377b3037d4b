//! The best plane through fixed levels: ordinary least squares on the level differences.
//!
//! In: points with levels, in millimetres. Out: the plane that makes the sum of the squares of the
//! level differences least. Method: linear least squares by normal equations about the centroid,
//! where the plane passes through the mean level (C. F. Gauss, Theoria combinationis, 1823; any
//! text on the adjustment of observations). Coordinates count as free of error, and all levels as
//! equally good.

use super::plane::Plane;
use super::spec::Spot;
use crate::geom::{Point, Vector};

/// Points whose spread across their best line is under this, in millimetres, lie in a line.
const IN_LINE: f64 = 5.0;

/// The best plane; `None` for fewer than three points, or points in a line, which fix no plane.
///
/// # Example
/// Four corners of a square 1 m wide with one of them 4 mm high: the plane takes up 1 mm of it at
/// every corner and leaves 1 mm, +1 at the high corner and its opposite, −1 at the others.
/// ```
/// use groundsheet::geom::Point;
/// use groundsheet::levels::{Spot, best_plane};
/// let spot = |x, y, level| Spot { at: Point::new(x, y), level };
/// let spots = [spot(0., 0., 0.), spot(1e3, 0., 0.), spot(1e3, 1e3, 4.), spot(0., 1e3, 0.)];
/// let plane = best_plane(&spots).unwrap();
/// assert!((plane.level_at(Point::new(1e3, 1e3)) - 3.0).abs() < 1e-9);
/// assert!((plane.level_at(Point::new(0.0, 0.0)) + 1.0).abs() < 1e-9);
/// ```
pub fn best_plane(spots: &[Spot]) -> Option<Plane> {
    fit(spots).map(|fit| fit.plane)
}

/// A plane with how well its points fix it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// The plane.
    pub plane: Plane,
    /// Share of one point in the mean: one over their number.
    share: f64,
    /// Sums of squares and of products of the coordinates about the centroid.
    xx: f64,
    xy: f64,
    yy: f64,
}

impl Fit {
    /// Variance of the plane's level at a place, in that of one measured level: well under one
    /// among the points, and growing with the square of the distance outside them (the leverage of
    /// regression analysis).
    pub fn leverage(&self, at: Point) -> f64 {
        let d = at - self.plane.at;
        let determinant = self.xx * self.yy - self.xy * self.xy;
        let square = d.x * d.x * self.yy - 2.0 * d.x * d.y * self.xy + d.y * d.y * self.xx;
        self.share + square / determinant
    }
}

/// The best plane with how well it is fixed; `None` as for [`best_plane`].
pub fn fit(spots: &[Spot]) -> Option<Fit> {
    if spots.len() < 3 {
        return None;
    }
    let share = 1.0 / spots.len() as f64;
    let mut middle = Vector::default();
    let mut level = 0.0;
    for spot in spots {
        middle = middle + (spot.at - Point::default()) * share;
        level += spot.level * share;
    }
    let at = Point::default() + middle;
    let (mut xx, mut xy, mut yy, mut xz, mut yz) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for spot in spots {
        let d = spot.at - at;
        let z = spot.level - level;
        xx += d.x * d.x;
        xy += d.x * d.y;
        yy += d.y * d.y;
        xz += d.x * z;
        yz += d.y * z;
    }
    // The smaller eigenvalue is the sum of the squares of the distances from the best line.
    let half = (xx + yy) / 2.0;
    let off = libm::hypot((xx - yy) / 2.0, xy);
    if libm::sqrt((half - off).max(0.0) * share) < IN_LINE {
        return None;
    }
    let determinant = xx * yy - xy * xy;
    let gradient = Vector::new(
        (xz * yy - yz * xy) / determinant,
        (yz * xx - xz * xy) / determinant,
    );
    let plane = Plane {
        at,
        level,
        gradient,
    };
    Some(Fit {
        plane,
        share,
        xx,
        xy,
        yy,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::samples::spot;
    use proptest::prelude::*;

    #[test]
    fn points_in_a_line_fix_no_plane() {
        assert_eq!(
            best_plane(&[spot(0.0, 0.0, 1.0), spot(1e3, 0.0, 2.0)]),
            None
        );
        let line = [
            spot(0.0, 0.0, 1.0),
            spot(1e3, 1e3, 2.0),
            spot(3e3, 3e3, 5.0),
        ];
        assert_eq!(best_plane(&line), None);
    }

    /// Three points carry their own plane: at each of them its level is as good as the one measured,
    /// at their middle three times as good.
    #[test]
    fn leverage_grows_outside_the_points() {
        let found = fit(&[
            spot(0.0, 0.0, 1.0),
            spot(3e3, 0.0, 2.0),
            spot(0.0, 3e3, 5.0),
        ])
        .unwrap();
        assert!((found.leverage(Point::new(3e3, 0.0)) - 1.0).abs() < 1e-9);
        assert!((found.leverage(Point::new(1e3, 1e3)) - 1.0 / 3.0).abs() < 1e-9);
        assert!(found.leverage(Point::new(9e3, 9e3)) > 10.0);
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// On a plane the fit is that plane; off it the residuals sum to nothing, also weighted by
        /// either coordinate, which is what makes their squares least.
        #[test]
        fn residuals_are_square_to_the_plane(
            noise in prop::collection::vec(-50.0..50.0_f64, 6),
            (gx, gy) in (-0.1..0.1_f64, -0.1..0.1_f64),
        ) {
            let places = [(0.0, 0.0), (4e3, 0.0), (4e3, 3e3), (0.0, 3e3), (1e3, 2e3), (2e3, -1e3)];
            let level = |x: f64, y: f64| 100.0 + gx * x + gy * y;
            let exact: Vec<Spot> = places.iter().map(|&(x, y)| spot(x, y, level(x, y))).collect();
            let plane = best_plane(&exact).unwrap();
            for s in &exact {
                prop_assert!((plane.level_at(s.at) - s.level).abs() < 1e-7);
            }
            let rough: Vec<Spot> = exact
                .iter()
                .zip(&noise)
                .map(|(s, by)| Spot { level: s.level + by, ..*s })
                .collect();
            let plane = best_plane(&rough).unwrap();
            let off = |s: &Spot| s.level - plane.level_at(s.at);
            let sums = rough.iter().fold([0.0; 3], |sum, s| {
                [sum[0] + off(s), sum[1] + off(s) * s.at.x, sum[2] + off(s) * s.at.y]
            });
            prop_assert!(sums[0].abs() < 1e-6 && sums[1].abs() < 1e-2 && sums[2].abs() < 1e-2);
        }
    }
}
