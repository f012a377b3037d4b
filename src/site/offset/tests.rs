//! Moving rings in groups gives what moving them all together gives.

use super::*;
use crate::site::EdgeKind;

fn courses(ring: Ring) -> Vec<Course> {
    let course = |edge: &Edge| Course {
        edge: *edge,
        kind: EdgeKind::Open,
        extension: None,
    };
    ring.edges.iter().map(course).collect()
}

/// A slanting field of 12 m with holes wherever they clear each other: round ones and notched ones,
/// some near enough to each other or to the edge to run together, some that vanish; an island in
/// the largest.
fn rings(turn: u32) -> Vec<Vec<Course>> {
    let p = |x: f64, y: f64| {
        let at = Point::new(x, y) - Point::new(0.0, 0.0);
        Point::new(0.0, 0.0) + at.turned(f64::from(turn) * 17.0)
    };
    let field = [
        (0.0, 0.0),
        (12_000.0, 500.0),
        (11_000.0, 12_000.0),
        (800.0, 11_000.0),
    ];
    let mut rings = vec![Ring::polygon(&field.map(|(x, y)| p(x, y)))];
    let big = [
        (4000.0, 4000.0),
        (8000.0, 4000.0),
        (8000.0, 8000.0),
        (4000.0, 8000.0),
    ];
    rings.push(Ring::polygon(&big.map(|(x, y)| p(x, y))).reversed());
    let island = [
        (5500.0, 5500.0),
        (6500.0, 5500.0),
        (6500.0, 6500.0),
        (5500.0, 6500.0),
    ];
    rings.push(Ring::polygon(&island.map(|(x, y)| p(x, y))));
    for k in 0..8_u32 {
        let (x, y) = (
            1500.0 + 1100.0 * f64::from(k),
            1800.0 + 90.0 * f64::from(k % 3),
        );
        rings.push(Ring::circle(p(x, y), 140.0 + 55.0 * f64::from(k)).reversed());
        let (x, y) = (2400.0 + 900.0 * f64::from(k), 10_000.0);
        let notched = [
            (x, y),
            (x + 600.0, y),
            (x + 600.0, y + 500.0),
            (x + 400.0, y + 500.0),
            (x + 300.0, y + 120.0),
            (x + 200.0, y + 500.0),
            (x, y + 500.0),
        ];
        if k % 2 == 0 {
            rings.push(Ring::polygon(&notched.map(|(x, y)| p(x, y))).reversed());
        }
    }
    rings.into_iter().map(courses).collect()
}

#[test]
fn groups_move_as_all_together() {
    let (mut most, mut strayed_some) = (0, 0);
    for turn in 0..6 {
        let rings = rings(turn);
        for by in [40.0, 90.0, 150.0, 260.0, 420.0] {
            let distances: Vec<Vec<f64>> = rings.iter().map(|r| vec![by; r.len()]).collect();
            let swept = || -> Vec<Swept> {
                let each = rings.iter().zip(&distances);
                each.map(|(r, d)| Swept::new(ring_of(r), d)).collect()
            };
            let found = moved(&rings, &distances);
            let all: Vec<usize> = (0..rings.len()).collect();
            let together = assembled(swept(), &[all]);
            let length: f64 = found.rings.iter().map(Ring::perimeter).sum();
            let off = apart(&found.shape, &together.shape);
            assert!(off <= 0.004 * length + 20.0, "{turn} {by}: {off}");
            let area: f64 = found.rings.iter().map(Ring::signed_area).sum();
            assert!((area - clip::area(&found.shape)).abs() <= 0.01 * length);
            assert_eq!(found.joins, together.joins);

            let swept = swept();
            let swaths = swept.iter().map(|one| Swath::new(&one.ring, &one.strips));
            let groups = swath::groups(&swaths.collect::<Vec<_>>());
            most = most.max(groups.len());
            strayed_some += groups
                .iter()
                .filter(|group| {
                    let members: Vec<&Swept> = group.iter().map(|at| &swept[*at]).collect();
                    strayed(&members).is_some()
                })
                .count();
        }
    }
    assert!(most > 8 && strayed_some > 20, "{most} {strayed_some}");
}

/// A ring in waves of many edges: united neighbours first, its strips enclose what they do united
/// in one go.
#[test]
fn many_strips_are_united_neighbours_first() {
    let corners: Vec<Point> = (0..120)
        .map(|k| {
            let (sin, cos) = libm::sincos(f64::from(k) * std::f64::consts::TAU / 120.0);
            let radius = 9000.0 + 900.0 * libm::sin(f64::from(k) * 0.6);
            Point::new(radius * cos, radius * sin)
        })
        .collect();
    let ring = Ring::polygon(&corners);
    let swept = Swept::new(ring, &[150.0; 120]);
    assert!(swept.strips.len() > TOGETHER);
    let strips: Vec<&Shape> = swept.strips.iter().collect();
    let off = apart(&gathered(&strips), &clip::union(strips.iter().copied()));
    assert!(off < 100.0, "{off}");
}
