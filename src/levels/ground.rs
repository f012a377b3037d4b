//! The existing ground from spot levels.
//!
//! In: spot levels in millimetres. Out: the ground's level anywhere, and the surface cut into
//! convex facets of one plane each, for exact volumes. The spots are joined by a Delaunay
//! triangulation (every triangle's circle is empty of spots); where four spots lie on one circle
//! the diagonal with the smaller level difference is taken (of more than four the flattest
//! diagonals first), and of two with the same difference the one that has the spot written first,
//! so that neither turning nor moving the site changes the ground. Outside the hull the ground has the nearest hull level; one spot, or spots in a line
//! (within 0.5 mm), give the nearest level on them everywhere. Break lines are left out.

use std::collections::BTreeMap;

use spade::{DelaunayTriangulation, HasPosition, Point2, Triangulation};

use super::facet::{Facet, line_facets, outside_facets, point_facet};
use super::plane::Plane;
use super::spec::Spot;
use crate::geom::{Point, Vector};

/// Spots off a line by no more than this are in a line, in millimetres.
const IN_LINE: f64 = 0.5;
/// Triangles on the rim that are no higher than this are part of the rim, in millimetres.
const SLIVER: f64 = 1e-3;
/// On a circle with more spots than this the triangles stay as they are.
const MANY: usize = 100;
/// Level differences closer than this are the same, in millimetres.
const SAME: f64 = 1e-6;

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

struct Site {
    position: Point2<f64>,
    spot: usize,
}

impl HasPosition for Site {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.position
    }
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

/// Distance of a point left of the line through two others, in millimetres.
fn side(from: Point, to: Point, point: Point) -> f64 {
    let along = to - from;
    along.cross(point - from) / along.length()
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
    let triangles = triangulate(spots)?;
    // Slivers first: their circles are so wide that every spot seems to lie on them.
    let (triangles, rim) = trim_rim(spots, triangles);
    let triangles = turn_diagonals(spots, triangles);
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

fn triangulate(spots: &[Spot]) -> Option<Vec<[usize; 3]>> {
    // The triangulation takes no coordinates next to zero; a nanometre is nothing on site.
    let clean = |value: f64| if value.abs() < SAME { 0.0 } else { value };
    let sites = spots.iter().enumerate().map(|(spot, s)| Site {
        position: Point2::new(clean(s.at.x), clean(s.at.y)),
        spot,
    });
    let joined = DelaunayTriangulation::<Site>::bulk_load_stable(sites.collect()).ok()?;
    let faces = joined.inner_faces();
    Some(
        faces
            .map(|face| face.vertices().map(|vertex| vertex.data().spot))
            .collect(),
    )
}

/// For each side, as a pair of spots in the triangle's own sense, the triangle it belongs to.
fn sides(triangles: &[[usize; 3]]) -> BTreeMap<(usize, usize), usize> {
    let mut map = BTreeMap::new();
    for (index, [a, b, c]) in triangles.iter().enumerate() {
        map.extend([((*a, *b), index), ((*b, *c), index), ((*c, *a), index)]);
    }
    map
}

fn third(triangle: &[usize; 3], a: usize, b: usize) -> usize {
    let apex = triangle.iter().find(|i| **i != a && **i != b);
    *apex.expect("a triangle has three different corners")
}

/// Takes, of four spots on one circle, the diagonal with the smaller level difference; of more,
/// the flattest diagonals first, each that crosses none before it.
fn turn_diagonals(spots: &[Spot], triangles: Vec<[usize; 3]>) -> Vec<[usize; 3]> {
    let mut done = Vec::with_capacity(triangles.len());
    for group in circles(spots, &triangles) {
        let old: Vec<[usize; 3]> = group.iter().map(|i| triangles[*i]).collect();
        let map = sides(&old);
        let next: BTreeMap<usize, usize> = map
            .keys()
            .filter(|(a, b)| !map.contains_key(&(*b, *a)))
            .copied()
            .collect();
        let ring = walk_rim(&next);
        let whole = ring.len() == old.len() + 2;
        if old.len() < 2 || !whole || ring.len() > MANY {
            done.extend(old);
            continue;
        }
        let new = flattest(spots, &ring);
        let sound = |t: &[usize; 3]| side(spots[t[0]].at, spots[t[1]].at, spots[t[2]].at) > 0.0;
        done.extend(if new.iter().all(sound) { new } else { old });
    }
    done
}

/// The triangles, by index, in groups that share one circle and hang together.
fn circles(spots: &[Spot], triangles: &[[usize; 3]]) -> Vec<Vec<usize>> {
    let map = sides(triangles);
    let mut seen = vec![false; triangles.len()];
    let mut groups = Vec::new();
    for first in 0..triangles.len() {
        if seen[first] {
            continue;
        }
        seen[first] = true;
        let mut group = vec![first];
        let mut next = 0;
        while next < group.len() {
            let [a, b, c] = triangles[group[next]];
            next += 1;
            for (from, to, apex) in [(a, b, c), (b, c, a), (c, a, b)] {
                let Some(&beyond) = map.get(&(to, from)) else {
                    continue;
                };
                let far = third(&triangles[beyond], from, to);
                let four = [from, to, apex, far].map(|i| spots[i].at);
                if !seen[beyond] && on_one_circle(four) {
                    seen[beyond] = true;
                    group.push(beyond);
                }
            }
        }
        groups.push(group);
    }
    groups
}

/// Triangles of a convex ring of spots by its flattest diagonals.
fn flattest(spots: &[Spot], ring: &[usize]) -> Vec<[usize; 3]> {
    let count = ring.len();
    let mut diagonals = Vec::new();
    for i in 0..count {
        for j in i + 2..count {
            if (i, j) != (0, count - 1) {
                let [a, b] = [ring[i].min(ring[j]), ring[i].max(ring[j])];
                let difference = (spots[a].level - spots[b].level).abs();
                diagonals.push(((difference / SAME).round(), a, b, i, j));
            }
        }
    }
    diagonals.sort_by(|p, q| p.0.total_cmp(&q.0).then((p.1, p.2).cmp(&(q.1, q.2))));
    let mut kept: Vec<(usize, usize)> = Vec::new();
    for (.., i, j) in diagonals {
        let crosses =
            |&(k, l): &(usize, usize)| (i < k && k < j && j < l) || (k < i && i < l && l < j);
        if !kept.iter().any(crosses) {
            kept.push((i, j));
        }
    }
    let mut parts = vec![(0..count).collect::<Vec<usize>>()];
    let mut triangles = Vec::new();
    while let Some(part) = parts.pop() {
        if let [i, j, k] = part[..] {
            triangles.push([ring[i], ring[j], ring[k]]);
            continue;
        }
        let cut = kept.iter().find_map(|(i, j)| {
            let i = part.iter().position(|p| p == i)?;
            let j = part.iter().position(|p| p == j)?;
            (j - i > 1 && j - i < part.len() - 1).then_some((i, j))
        });
        let (i, j) = cut.expect("a ring of more than three corners has a diagonal left");
        parts.push(part[i..=j].to_vec());
        parts.push([&part[..=i], &part[j..]].concat());
    }
    triangles
}

fn on_one_circle([a, b, c, d]: [Point; 4]) -> bool {
    let (u, v) = (b - a, c - a);
    let twice = 2.0 * u.cross(v);
    let (uu, vv) = (u.dot(u), v.dot(v));
    let centre = Vector::new((v.y * uu - u.y * vv) / twice, (u.x * vv - v.x * uu) / twice);
    let radius = centre.length();
    ((d - (a + centre)).length() - radius).abs() <= (1e-6 + 1e-9 * radius).min(SLIVER)
}

/// Drops slivers from the rim, so that spots in line on it stay on it however the site is turned;
/// gives the triangles left and the rim, anticlockwise.
fn trim_rim(spots: &[Spot], mut triangles: Vec<[usize; 3]>) -> (Vec<[usize; 3]>, Vec<usize>) {
    loop {
        let map = sides(&triangles);
        let sliver = map.iter().find(|((a, b), index)| {
            let apex = spots[third(&triangles[**index], *a, *b)].at;
            let (from, to) = (spots[*a].at, spots[*b].at);
            let station = (apex - from).dot(to - from) / (to - from).dot(to - from);
            !map.contains_key(&(*b, *a))
                && side(from, to, apex) <= SLIVER
                && (0.0..=1.0).contains(&station)
        });
        let Some((_, &index)) = sliver else {
            let next: BTreeMap<usize, usize> = map
                .keys()
                .filter(|(a, b)| !map.contains_key(&(*b, *a)))
                .copied()
                .collect();
            return (triangles, walk_rim(&next));
        };
        triangles.swap_remove(index);
    }
}

fn walk_rim(next: &BTreeMap<usize, usize>) -> Vec<usize> {
    let mut rim = Vec::with_capacity(next.len());
    let Some((&first, _)) = next.iter().next() else {
        return rim;
    };
    let mut at = first;
    while rim.len() < next.len() {
        rim.push(at);
        match next.get(&at) {
            Some(&to) if to != first => at = to,
            _ => break,
        }
    }
    rim
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spot(x: f64, y: f64, level: f64) -> Spot {
        Spot {
            at: Point::new(x, y),
            level,
        }
    }

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
