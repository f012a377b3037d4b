//! Groups of rings against general clipping of all of them at once.

use super::super::Shape;
use super::*;

/// Numbers between 0 and 1, the same on every run.
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (self.0 >> 33) as f64 / f64::from(1_u32 << 31)
    }
}

fn disc(x: f64, y: f64, radius: f64, corners: u32) -> Shape {
    let points: Vec<Point> = (0..corners)
        .map(|k| libm::sincos(f64::from(k) / f64::from(corners) * std::f64::consts::TAU))
        .map(|(sin, cos)| Point::new(x + radius * cos, y + radius * sin))
        .collect();
    clip::shape_of_points(&points)
}

/// A ring of ground with an island in its hole, all at once or a disc.
fn patch(numbers: &mut Numbers, reach: f64) -> Shape {
    let (x, y) = (reach * numbers.next(), reach * numbers.next());
    let radius = 20.0 + 130.0 * numbers.next() * numbers.next();
    let body = disc(x, y, radius, 3 + (numbers.next() * 20.0) as u32);
    if numbers.next() < 0.5 {
        return body;
    }
    let hole = disc(x, y, radius * 0.7, 9);
    let island = disc(x, y, radius * 0.4, 7);
    let grid = |shape: &Shape| clip::grid(shape);
    let ring = ClipperInt::difference(&grid(&body), &grid(&hole));
    clip::from_grid(&ClipperInt::union(&ring, &grid(&island)))
}

fn all(shapes: &[Shape]) -> MultiPolygon<i64> {
    MultiPolygon(
        shapes
            .iter()
            .flat_map(|shape| clip::grid(shape).0)
            .collect(),
    )
}

/// Area in which two regions differ, in mm², by general clipping.
fn differ(a: &MultiPolygon<i64>, b: &MultiPolygon<i64>) -> f64 {
    let area = |shape: MultiPolygon<i64>| clip::area(&clip::from_grid(&shape));
    area(ClipperInt::difference(a, b)) + area(ClipperInt::difference(b, a))
}

/// Scattered patches less others, from sparse to crowded: the same region as from clipping all at
/// once, holes in the polygons that hold them, and no polygon over another.
#[test]
fn groups_give_what_clipping_all_at_once_gives() {
    let mut numbers = Numbers(26);
    let (mut several, mut holes) = (0, 0);
    for round in 0..60 {
        let reach = 700.0 + 60.0 * f64::from(round);
        let mut some = |count: usize| -> Vec<Shape> {
            (0..count).map(|_| patch(&mut numbers, reach)).collect()
        };
        let (on, mut off) = (some(24), some(20));
        let mut on = on;
        if round % 3 == 0 {
            on.push(disc(reach / 2.0, reach / 2.0, reach, 300));
        }
        if round % 7 == 0 {
            off.push(disc(reach / 2.0, reach / 2.0, reach / 3.0, 60));
        }
        let (on, off) = (all(&on), all(&off));
        let found = left(&on, &off).expect("the groups lie apart");
        let wanted = ClipperInt::difference(&on, &off);
        let area = clip::area(&clip::from_grid(&wanted));
        assert!(differ(&found, &wanted) < 1.0 + 1e-6 * area, "round {round}");
        let own = clip::area(&clip::from_grid(&found));
        assert!((own - area).abs() < 1.0, "round {round}: {own} {area}");
        several += found.0.len();
        holes += found
            .iter()
            .map(|part| part.interiors().len())
            .sum::<usize>();
    }
    assert!(several > 500 && holes > 500, "{several} {holes}");
}

/// Grounds in holes of grounds, seven deep, less a disc in the innermost: each hole is in the
/// polygon round it.
#[test]
fn islands_in_holes_keep_their_places() {
    let rings = |from: u32| -> Vec<Shape> {
        let radius = |k: u32| 1000.0 - 100.0 * f64::from(k);
        (from..8)
            .step_by(2)
            .map(|k| disc(0.0, 0.0, radius(k), 40))
            .collect()
    };
    // Each ground as a polygon with its hole, in an order of their own.
    let mut grounds: Vec<Polygon<i64>> = rings(0)
        .iter()
        .zip(rings(1))
        .map(|(body, hole)| {
            let hole = clip::grid(&hole).0[0].exterior().clone();
            let turned = LineString(hole.0.into_iter().rev().collect());
            Polygon::new(clip::grid(body).0[0].exterior().clone(), vec![turned])
        })
        .collect();
    grounds.rotate_left(2);
    let on = MultiPolygon(grounds);
    let spot = all(&[disc(350.0, 0.0, 15.0, 12)]);
    let found = left(&on, &spot).expect("the groups lie apart");
    let wanted = ClipperInt::difference(&on, &spot);
    assert_eq!(found.0.len(), 4);
    let holes: Vec<usize> = found.iter().map(|part| part.interiors().len()).collect();
    assert_eq!(holes.iter().sum::<usize>(), 5);
    assert!(differ(&found, &wanted) < 1e-9);
    for part in &found {
        let outer = Loop::new(part.exterior(), false).expect("a ring");
        for hole in part.interiors() {
            let hole = Loop::new(hole, false).expect("a ring");
            assert_eq!(outer.winds_round(hole.first()).abs(), 1);
            assert!(outer.bounds.union(hole.bounds) == outer.bounds);
        }
    }
}

/// Nothing on, nothing off, all taken off.
#[test]
fn nothing_is_left_of_nothing() {
    let none = MultiPolygon(Vec::new());
    let disc = all(&[disc(0.0, 0.0, 10.0, 20)]);
    let count =
        |on: &MultiPolygon<i64>, off: &MultiPolygon<i64>| left(on, off).map(|shape| shape.0.len());
    assert_eq!(count(&none, &none), Some(0));
    assert_eq!(count(&none, &disc), Some(0));
    assert_eq!(count(&disc, &none), Some(1));
    assert_eq!(count(&disc, &disc), Some(0));
}
