//! The existing ground from spot levels.
//!
//! In: spot levels in millimetres. Out: the ground's level anywhere, and the surface cut into
//! convex facets of one plane each, for exact volumes. The spots are joined by triangles (see
//! `triangles`). Outside the hull the ground has the nearest hull level; one spot, or spots in a
//! line (within 0.5 mm), give the nearest level on them everywhere. Break lines are left out.

use super::facet::{Facet, line_facets, outside_facets, point_facet};
use super::plane::Plane;
use super::spec::Spot;
use super::triangles::{SAME, SLIVER, side, triangles};
use crate::geom::{Point, Vector};

/// Spots off a line by no more than this are in a line, in millimetres.
const IN_LINE: f64 = 0.5;

/// The ground surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    spots: Vec<Spot>,
    shape: Shape,
}

/// What the spots make up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// One spot: the ground is level at it.
    One,
    /// Spots in a line: the nearest level on the line.
    Line,
    /// Spots that span triangles.
    Wide,
}

#[derive(Clone, Debug, PartialEq)]
enum Shape {
    One,
    /// Spot indices along the line.
    Line(Vec<usize>),
    /// Triangles and the rim, both anticlockwise, by spot index.
    Wide {
        triangles: Vec<[usize; 3]>,
        rim: Vec<usize>,
    },
}

impl Ground {
    /// The ground through spot levels; `None` without spots or with one that is not finite. Of
    /// several spots at one place the first counts.
    pub fn through(spots: &[Spot]) -> Option<Self> {
        let finite =
            |spot: &Spot| spot.at.x.is_finite() && spot.at.y.is_finite() && spot.level.is_finite();
        if spots.is_empty() || !spots.iter().all(finite) {
            return None;
        }
        let mut kept: Vec<Spot> = Vec::with_capacity(spots.len());
        let mut taken = std::collections::BTreeSet::new();
        for spot in spots {
            // A micrometre apart is apart; -0 and 0 are one place.
            let key = |value: f64| (value * 1e3).round() as i64;
            if taken.insert((key(spot.at.x), key(spot.at.y))) {
                kept.push(*spot);
            }
        }
        let shape = spread(&kept)?;
        Some(Self { spots: kept, shape })
    }

    /// What the spots make up.
    pub fn spread(&self) -> Spread {
        match self.shape {
            Shape::One => Spread::One,
            Shape::Line(_) => Spread::Line,
            Shape::Wide { .. } => Spread::Wide,
        }
    }

    /// The spots, without repeated ones.
    pub fn spots(&self) -> &[Spot] {
        &self.spots
    }

    /// The triangles, anticlockwise, as indices of [`Ground::spots`].
    pub fn triangles(&self) -> &[[usize; 3]] {
        match &self.shape {
            Shape::Wide { triangles, .. } => triangles,
            _ => &[],
        }
    }

    /// The ground's level at a point, in millimetres.
    pub fn level_at(&self, point: Point) -> f64 {
        match &self.shape {
            Shape::One => self.spots[0].level,
            Shape::Line(order) => self.nearest(order.windows(2).map(|w| [w[0], w[1]]), point),
            Shape::Wide { triangles, rim } => triangles
                .iter()
                .find(|triangle| self.holds(triangle, point))
                .map(|triangle| self.plane(triangle).level_at(point))
                .unwrap_or_else(|| {
                    let next = rim.iter().cycle().skip(1);
                    self.nearest(rim.iter().zip(next).map(|(a, b)| [*a, *b]), point)
                }),
        }
    }

    /// Whether the level at a point is taken from the nearest spots rather than between them.
    pub fn is_extrapolated(&self, point: Point) -> bool {
        !self
            .triangles()
            .iter()
            .any(|triangle| self.holds(triangle, point))
    }

    /// The surface as facets that together cover everything within `reach` millimetres of the
    /// spots.
    pub fn facets(&self, reach: f64) -> Vec<Facet> {
        match &self.shape {
            Shape::One => vec![point_facet(self.spots[0], reach)],
            Shape::Line(order) => {
                let spots: Vec<Spot> = order.iter().map(|i| self.spots[*i]).collect();
                line_facets(&spots, reach)
            }
            Shape::Wide { triangles, rim } => {
                let inside = triangles.iter().map(|triangle| Facet {
                    corners: triangle.map(|i| self.spots[i].at).to_vec(),
                    plane: self.plane(triangle),
                    extrapolated: false,
                });
                let rim: Vec<Spot> = rim.iter().map(|i| self.spots[*i]).collect();
                inside.chain(outside_facets(&rim, reach)).collect()
            }
        }
    }

    /// The ground along a straight line: distance from its start and level, at both ends and
    /// wherever the ground changes its slope under it.
    pub fn profile(&self, from: Point, to: Point) -> Vec<[f64; 2]> {
        let length = from.distance(to);
        let Some(along) = (to - from).unit() else {
            return vec![[0.0, self.level_at(from)]];
        };
        let far = self.spots.iter().map(|spot| spot.at.distance(from));
        let reach = far.fold(length, f64::max) * 2.0 + 1000.0;
        let mut breaks = vec![0.0, length];
        for facet in self.facets(reach) {
            let count = facet.corners.len();
            for (i, &corner) in facet.corners.iter().enumerate() {
                let side = facet.corners[(i + 1) % count] - corner;
                let turn = along.cross(side);
                if turn.abs() < SAME {
                    continue;
                }
                let station = (corner - from).cross(side) / turn;
                let share = (corner - from).cross(along) / turn;
                if (0.0..=1.0).contains(&share) && station > 0.0 && station < length {
                    breaks.push(station);
                }
            }
        }
        breaks.sort_by(f64::total_cmp);
        breaks.dedup_by(|a, b| (*a - *b).abs() < SLIVER);
        let level = |station: &f64| [*station, self.level_at(from + along * *station)];
        breaks.iter().map(level).collect()
    }

    fn holds(&self, triangle: &[usize; 3], point: Point) -> bool {
        let [a, b, c] = triangle.map(|i| self.spots[i].at);
        [[a, b], [b, c], [c, a]]
            .iter()
            .all(|[from, to]| side(*from, *to, point) >= -SAME)
    }

    fn plane(&self, triangle: &[usize; 3]) -> Plane {
        let [a, b, c] = triangle.map(|i| self.spots[i]);
        let (u, v) = (b.at - a.at, c.at - a.at);
        let (du, dv) = (b.level - a.level, c.level - a.level);
        let twice = u.cross(v);
        Plane {
            at: a.at,
            level: a.level,
            gradient: Vector::new((du * v.y - dv * u.y) / twice, (dv * u.x - du * v.x) / twice),
        }
    }

    /// The level at the nearest place on some lines between spots.
    fn nearest(&self, lines: impl Iterator<Item = [usize; 2]>, point: Point) -> f64 {
        let mut best = (f64::INFINITY, 0.0);
        for [a, b] in lines {
            let (a, b) = (self.spots[a], self.spots[b]);
            let along = b.at - a.at;
            let share = ((point - a.at).dot(along) / along.dot(along)).clamp(0.0, 1.0);
            let away = point.distance(a.at + along * share);
            if away < best.0 {
                best = (away, a.level + (b.level - a.level) * share);
            }
        }
        best.1
    }
}

fn spread(spots: &[Spot]) -> Option<Shape> {
    let first = spots[0].at;
    let far = furthest(spots, first);
    if far == first {
        return Some(Shape::One);
    }
    let near = furthest(spots, far);
    let off_line = |spot: &Spot| side(near, far, spot.at).abs() > IN_LINE;
    if !spots.iter().any(off_line) {
        return Some(Shape::Line(along_line(spots, near, far)));
    }
    let (triangles, rim) = triangles(spots)?;
    if triangles.is_empty() {
        return Some(Shape::Line(along_line(spots, near, far)));
    }
    Some(Shape::Wide { triangles, rim })
}

fn furthest(spots: &[Spot], from: Point) -> Point {
    let mut best = from;
    for spot in spots {
        if spot.at.distance(from) > best.distance(from) {
            best = spot.at;
        }
    }
    best
}

fn along_line(spots: &[Spot], near: Point, far: Point) -> Vec<usize> {
    let mut order: Vec<usize> = (0..spots.len()).collect();
    let station = |i: usize| (spots[i].at - near).dot(far - near);
    order.sort_by(|a, b| station(*a).total_cmp(&station(*b)));
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::samples::spot;

    #[test]
    fn no_spots_no_ground() {
        assert_eq!(Ground::through(&[]), None);
        assert_eq!(Ground::through(&[spot(0.0, f64::NAN, 0.0)]), None);
    }

    #[test]
    fn one_spot_is_level_everywhere() {
        let twice = [spot(3.0, 4.0, 7.0), spot(3.0, 4.0, 7.0)];
        let ground = Ground::through(&twice).unwrap();
        assert_eq!(ground.spread(), Spread::One);
        assert_eq!(ground.level_at(Point::new(900.0, -5.0)), 7.0);
        assert!(ground.is_extrapolated(Point::new(3.0, 4.0)));
    }

    #[test]
    fn spots_in_a_line_give_the_nearest_level() {
        let line = [
            spot(2000.0, 2000.0, 30.0),
            spot(0.0, 0.0, 10.0),
            spot(1000.0, 1000.0, 0.0),
        ];
        let ground = Ground::through(&line).unwrap();
        assert_eq!(ground.spread(), Spread::Line);
        assert!((ground.level_at(Point::new(0.0, 1000.0)) - 5.0).abs() < 1e-9);
        assert_eq!(ground.level_at(Point::new(-50.0, -90.0)), 10.0);
        assert_eq!(ground.level_at(Point::new(9000.0, 2000.0)), 30.0);
    }

    /// A square with unequal corners: the diagonal joins the two nearer in level, whichever way
    /// the spots are written or the site is turned.
    #[test]
    fn of_four_on_a_circle_the_flatter_diagonal() {
        for turn in [0.0, 17.0, 90.0, 143.0] {
            let corners = [
                (0.0, 0.0, 0.0),
                (1000.0, 0.0, 90.0),
                (1000.0, 1000.0, 10.0),
                (0.0, 1000.0, 50.0),
            ];
            let place = |x: f64, y: f64| Point::new(70.0, -30.0) + Vector::new(x, y).turned(turn);
            let mut spots = corners.map(|(x, y, level)| Spot {
                at: place(x, y),
                level,
            });
            for _ in 0..4 {
                spots.rotate_left(1);
                let ground = Ground::through(&spots).unwrap();
                assert_eq!(ground.triangles().len(), 2);
                // Differences: 10 on one diagonal, 40 on the other.
                assert!((ground.level_at(place(500.0, 500.0)) - 5.0).abs() < 1e-6);
            }
        }
    }

    /// Between the breaks of a profile the ground is straight, in the hull and out of it.
    #[test]
    fn a_profile_breaks_where_the_ground_does() {
        let spots = [
            spot(0.0, 0.0, 0.0),
            spot(3000.0, 0.0, 300.0),
            spot(3000.0, 2000.0, -100.0),
            spot(0.0, 2000.0, 50.0),
            spot(1200.0, 900.0, 400.0),
        ];
        let ground = Ground::through(&spots).unwrap();
        let (from, to) = (Point::new(-900.0, 300.0), Point::new(4000.0, 1700.0));
        let profile = ground.profile(from, to);
        assert!(profile.len() > 4, "{profile:?}");
        assert!((profile[profile.len() - 1][0] - from.distance(to)).abs() < 1e-9);
        for pair in profile.windows(2) {
            for share in [0.25, 0.5, 0.75] {
                let station = pair[0][0] + (pair[1][0] - pair[0][0]) * share;
                let at = from + (to - from).unit().unwrap() * station;
                let straight = pair[0][1] + (pair[1][1] - pair[0][1]) * share;
                assert!((ground.level_at(at) - straight).abs() < 1e-3);
            }
        }
        let one = Ground::through(&spots[..1]).unwrap();
        assert_eq!(one.profile(from, to).iter().map(|p| p[1]).sum::<f64>(), 0.0);
    }

    #[test]
    fn outside_the_hull_the_nearest_hull_level() {
        let spots = [
            spot(0.0, 0.0, 0.0),
            spot(1000.0, 0.0, 100.0),
            spot(500.0, 0.0, 20.0),
            spot(0.0, 1000.0, 40.0),
        ];
        for turn in [0.0, 31.0] {
            let turned = spots.map(|s| Spot {
                at: Point::default() + (s.at - Point::default()).turned(turn),
                ..s
            });
            let ground = Ground::through(&turned).unwrap();
            let at =
                |x: f64, y: f64| ground.level_at(Point::default() + Vector::new(x, y).turned(turn));
            assert!((at(250.0, -800.0) - 10.0).abs() < 1e-6);
            assert!((at(750.0, -800.0) - 60.0).abs() < 1e-6);
            assert!((at(-300.0, -300.0) - 0.0).abs() < 1e-6);
            assert!((at(-300.0, 500.0) - 20.0).abs() < 1e-6);
            assert!((at(1100.0, 1100.0) - 70.0).abs() < 1e-6);
        }
    }
}
