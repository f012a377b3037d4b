//! What a moved ring sweeps over, and which rings have to be looked at together for it.
//!
//! In: rings with the strips that their edges sweep, millimetres. Out: groups of rings; rings of
//! different groups stay clear of each other, so that each group is moved by itself and many holes
//! cost no more than as many sites with one. A hole that stays clear inside an outer ring is not
//! of its group.

use crate::geom::{Bounds, Groups, Point, Ring, SAGITTA, Shape, clip, each_near};

/// Rings nearer than this are looked at together, in millimetres.
const CLEAR: f64 = 1.0;

/// What a ring sweeps over when it is moved.
pub struct Swath<'a> {
    outer: bool,
    bounds: Bounds,
    strips: Vec<(Bounds, &'a Shape)>,
    /// The ring itself, edge by edge.
    edges: Vec<(Bounds, Vec<Point>)>,
}

impl<'a> Swath<'a> {
    /// Of a ring and the strips that its edges sweep.
    pub fn new(ring: &Ring, strips: &'a [Shape]) -> Self {
        let around = |points: &[Point]| {
            let boxes = points.iter().map(|p| Bounds { min: *p, max: *p });
            boxes.reduce(Bounds::union)
        };
        let edges: Vec<(Bounds, Vec<Point>)> = ring
            .edges
            .iter()
            .map(|edge| edge.flatten(SAGITTA))
            .filter_map(|points| Some((around(&points)?, points)))
            .collect();
        let strips: Vec<(Bounds, &Shape)> = strips
            .iter()
            .filter_map(|strip| Some((clip::bounds(strip)?, strip)))
            .collect();
        let boxes = edges.iter().map(|(bounds, _)| *bounds);
        let all = boxes.chain(strips.iter().map(|(bounds, _)| *bounds));
        let nowhere = Point::new(0.0, 0.0);
        Self {
            outer: ring.is_anticlockwise(),
            bounds: all.reduce(Bounds::union).unwrap_or(Bounds {
                min: nowhere,
                max: nowhere,
            }),
            strips,
            edges,
        }
    }

    /// Whether two rings whose boxes come near each other have to be looked at together; never
    /// falsely not.
    fn meets(&self, other: &Self) -> bool {
        match (self.outer, other.outer) {
            (true, false) => self.touches(other.bounds),
            (false, true) => other.touches(self.bounds),
            _ => true,
        }
    }

    /// Whether the ring or one of its strips comes near a box.
    fn touches(&self, bounds: Bounds) -> bool {
        let corners = [
            bounds.min,
            Point::new(bounds.max.x, bounds.min.y),
            bounds.max,
            Point::new(bounds.min.x, bounds.max.y),
        ];
        let mut edges = self.edges.iter();
        let mut strips = self.strips.iter();
        edges.any(|(around, points)| {
            let mut sides = points.windows(2);
            around.near(bounds, CLEAR) && sides.any(|side| comes_near(&corners, [side[0], side[1]]))
        }) || strips.any(|(around, strip)| {
            let lines = || strip.iter().flat_map(|part| part.exterior().lines());
            let mut sides = lines().map(|side| {
                let (a, b) = (side.start, side.end);
                [Point::new(a.x, a.y), Point::new(b.x, b.y)]
            });
            around.near(bounds, CLEAR)
                && (sides.any(|side| comes_near(&corners, side))
                    || clip::contains(strip, corners[0]))
        })
    }
}

/// Whether a side comes near an upright box, by its corners: no line along the box or along the
/// side parts them.
fn comes_near(corners: &[Point; 4], [a, b]: [Point; 2]) -> bool {
    let [low, high] = [corners[0], corners[2]];
    let upright = a.x.min(b.x) <= high.x + CLEAR
        && a.x.max(b.x) >= low.x - CLEAR
        && a.y.min(b.y) <= high.y + CLEAR
        && a.y.max(b.y) >= low.y - CLEAR;
    let Some(along) = (b - a).unit() else {
        return upright;
    };
    let off = corners.map(|corner| along.cross(corner - a));
    let (least, most) = off
        .into_iter()
        .fold((f64::MAX, f64::MIN), |(l, m), off| (l.min(off), m.max(off)));
    upright && least <= CLEAR && most >= -CLEAR
}

/// The rings in groups, each group and all of them in order.
pub fn groups(swaths: &[Swath]) -> Vec<Vec<usize>> {
    let boxes: Vec<Bounds> = swaths.iter().map(|swath| swath.bounds).collect();
    let mut groups = Groups::apart(swaths.len());
    each_near(&boxes, CLEAR, |a, b| {
        if swaths[a].meets(&swaths[b]) {
            groups.join(a, b);
        }
    });
    groups.lists()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square field with round holes: one in the middle, two that nearly touch, one across the
    /// strip at the field's slanting side, one that lies in the side's box but clear of it.
    #[test]
    fn rings_clear_of_each_other_are_apart() {
        let corners = [(0.0, 0.0), (9000.0, 0.0), (9000.0, 3000.0), (0.0, 9000.0)];
        let field = Ring::polygon(&corners.map(|(x, y)| Point::new(x, y)));
        let hole = |x: f64, y: f64, radius: f64| Ring::circle(Point::new(x, y), radius).reversed();
        let rings = [
            field,
            hole(3000.0, 3000.0, 200.0),
            hole(6000.0, 2000.0, 200.0),
            hole(6400.5, 2000.0, 200.0),
            hole(4500.0, 5700.0, 300.0),
            hole(2000.0, 6200.0, 300.0),
        ];
        let along = (Point::new(0.0, 9000.0) - Point::new(9000.0, 3000.0))
            .unit()
            .expect("a direction");
        let inward = along.left() * 200.0;
        let strip = [
            Point::new(9000.0, 3000.0),
            Point::new(0.0, 9000.0),
            Point::new(0.0, 9000.0) + inward,
            Point::new(9000.0, 3000.0) + inward,
        ];
        let strips = [clip::shape_of_points(&strip)];
        let swaths: Vec<Swath> = rings
            .iter()
            .enumerate()
            .map(|(at, ring)| Swath::new(ring, if at == 0 { &strips } else { &[] }))
            .collect();
        assert_eq!(groups(&swaths), [vec![0, 4], vec![1], vec![2, 3], vec![5]]);
    }
}
