//! Spot levels joined by triangles.
//!
//! In: spots in millimetres, not all in a line. Out: triangles and the rim round them, by spot
//! index. Method: Delaunay triangulation (every triangle's circle is empty of spots). Where four
//! spots lie on one circle the diagonal with the smaller level difference is taken (of more than
//! four the flattest diagonals first), and of two with the same difference the one that has the
//! spot written first, so that neither turning nor moving the site changes the ground. Break lines
//! are left out.

use std::collections::BTreeMap;

use spade::{DelaunayTriangulation, HasPosition, Point2, Triangulation};

use super::spec::Spot;
use crate::geom::{Point, Vector};

/// Level differences closer than this are the same, in millimetres.
pub(super) const SAME: f64 = 1e-6;
/// Triangles on the rim that are no higher than this are part of the rim, in millimetres.
pub(super) const SLIVER: f64 = 1e-3;
/// On a circle with more spots than this the triangles stay as they are.
const MANY: usize = 100;

/// The triangles over some spots and the rim round them, both anticlockwise, by spot index; none
/// when they cannot be joined.
pub(super) fn triangles(spots: &[Spot]) -> Option<(Vec<[usize; 3]>, Vec<usize>)> {
    let triangles = triangulate(spots)?;
    // Slivers first: their circles are so wide that every spot seems to lie on them.
    let (triangles, rim) = trim_rim(spots, triangles);
    Some((turn_diagonals(spots, triangles), rim))
}

/// Distance of a point left of the line through two others, in millimetres.
pub(super) fn side(from: Point, to: Point, point: Point) -> f64 {
    let along = to - from;
    along.cross(point - from) / along.length()
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
