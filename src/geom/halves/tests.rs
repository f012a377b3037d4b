//! Halves of shapes by hand, and against the general clipping.

use super::*;
use crate::geom::Point;

fn rectangle([left, right]: [f64; 2], [low, high]: [f64; 2]) -> Shape {
    clip::shape_of_points(&[
        Point::new(left, low),
        Point::new(right, low),
        Point::new(right, high),
        Point::new(left, high),
    ])
}

/// Corners of the rectangle that a shape is; none of another shape.
fn box_of(shape: &Shape) -> Option<[f64; 4]> {
    let bounds = clip::bounds(shape).filter(|_| shape.0[0].exterior().0.len() == 5)?;
    let full = bounds.width() * bounds.height();
    let plain = shape.0.len() == 1 && (clip::area(shape) - full).abs() < 1e-9;
    plain.then_some([bounds.min.x, bounds.max.x, bounds.min.y, bounds.max.y])
}

/// Area in which two shapes differ.
fn differ(a: &Shape, b: &Shape) -> f64 {
    clip::area(&clip::difference(a, b)) + clip::area(&clip::difference(b, a))
}

#[test]
fn a_side_on_the_line_belongs_to_the_part_it_bounds() {
    // a notch from the right whose floor is at 3; cut there, the foot is a plain rectangle
    let body = rectangle([0.0, 10.0], [0.0, 6.0]);
    let notch = rectangle([4.0, 10.0], [3.0, 6.0]);
    let rings = Rings::new(&clip::difference(&body, &notch));
    let [foot, head] = rings.parted(1, [3.0, 3.0]).map(Rings::shape);
    assert_eq!(box_of(&foot), Some([0.0, 10.0, 0.0, 3.0]));
    assert_eq!(box_of(&head), Some([0.0, 4.0, 3.0, 6.0]));
}

#[test]
fn a_hole_on_the_line_is_split_and_one_beside_it_stays() {
    let body = rectangle([0.0, 20.0], [0.0, 10.0]);
    let body = clip::difference(&body, &rectangle([8.0, 12.0], [4.0, 6.0]));
    let body = clip::difference(&body, &rectangle([1.0, 2.0], [1.0, 2.0]));
    let [left, right] = Rings::new(&body).parted(0, [10.0, 10.0]).map(Rings::shape);
    assert_eq!((left.0.len(), left.0[0].interiors().len()), (1, 1));
    assert_eq!((right.0.len(), right.0[0].interiors().len()), (1, 0));
    assert!((clip::area(&left) - (100.0 - 4.0 - 1.0)).abs() < 1e-9);
    assert!((clip::area(&right) - (100.0 - 4.0)).abs() < 1e-9);
}

#[test]
fn what_lies_between_two_lines_goes_to_neither_part() {
    let rings = Rings::new(&rectangle([0.0, 10.0], [0.0, 5.0]));
    let [before, beyond] = rings.parted(0, [4.0, 4.5]).map(Rings::shape);
    assert_eq!(box_of(&before), Some([0.0, 4.0, 0.0, 5.0]));
    assert_eq!(box_of(&beyond), Some([4.5, 10.0, 0.0, 5.0]));
}

#[test]
fn cells_are_visited_in_order_and_their_areas_add_up() {
    let points: Vec<Point> = (0..90)
        .map(|k| {
            let (sin, cos) = libm::sincos(f64::from(k) / 90.0 * std::f64::consts::TAU);
            let radius = if k % 2 == 0 { 90.0 } else { 20.0 };
            Point::new(radius * cos, radius * sin)
        })
        .collect();
    let star = clip::shape_of_points(&points);
    let cells: Vec<[f64; 2]> = (-12..9)
        .map(|k| [k, k + 1].map(|k| f64::from(k) * 10.0))
        .collect();
    let (mut seen, mut area) = (Vec::new(), 0.0);
    Rings::new(&star).each_cell(0, &cells, &mut |number, part| {
        let [low, high] = cells[number];
        let wanted = clip::intersection(&star, &rectangle([low, high], [-100.0, 100.0]));
        // half a micrometre at each end of some thirty sides of up to 70 mm
        assert!((part.area() - clip::area(&wanted)).abs() < 0.5);
        area += part.area();
        assert!(differ(&part.shape(), &wanted) < 0.5);
        seen.push(number);
    });
    assert_eq!(seen, (3..21).collect::<Vec<_>>());
    assert!((area - clip::area(&star)).abs() < 0.5);
}

/// Small numbers, so that corners and sides fall on lines and on each other as often as may be.
#[test]
fn halves_are_what_general_clipping_gives() {
    let mut seed = 20_260_117_u64;
    let mut below = |count: u64| {
        seed = seed * 48_271 % 2_147_483_647;
        (seed % count) as f64
    };
    let mut cut = 0;
    for round in 0..1500 {
        let mut shape = Shape::new(Vec::new());
        for _ in 0..2 + round % 4 {
            let p: Vec<Point> = (0..3).map(|_| Point::new(below(9), below(9))).collect();
            let (x, y) = (below(7), below(7));
            let block = if round % 2 == 0 {
                rectangle([x, x + 1.0 + below(4)], [y, y + 1.0 + below(4)])
            } else {
                clip::shape_of_points(&p)
            };
            shape = if below(4) == 0.0 {
                clip::difference(&shape, &block)
            } else {
                clip::union([&shape, &block])
            };
        }
        for axis in [0, 1] {
            let (low, gap) = (1.0 + below(8), below(3) / 2.0);
            let high = low + gap;
            let halves = Rings::new(&shape)
                .parted(axis, [low, high])
                .map(Rings::shape);
            let room = |side: usize| {
                let own = [[-50.0, low], [high, 50.0]][side];
                match axis {
                    0 => rectangle(own, [-50.0, 50.0]),
                    _ => rectangle([-50.0, 50.0], own),
                }
            };
            for (side, half) in halves.iter().enumerate() {
                let wanted = clip::intersection(&shape, &room(side));
                assert!(differ(half, &wanted) < 1e-2, "round {round} {axis} {side}");
                assert!((clip::area(half) - clip::area(&wanted)).abs() < 1e-2);
                let corners = |shape: &Shape| -> usize {
                    shape.iter().map(|part| part.exterior().0.len()).sum()
                };
                cut += usize::from(corners(half) > 0);
            }
        }
    }
    assert!(cut > 3000, "{cut}");
}
