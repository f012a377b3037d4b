//! A place well inside a shape, to mark it by.
//!
//! In: [`Shape`], millimetres. Out: the middle of the widest stretch of a level line half way up
//! one of its parts. Method: the line is cut by the rings it crosses (even-odd); where it would run
//! through a corner it is moved half way to the next one, so that it crosses sides alone.

use super::point::Point;
use super::{Shape, clip};

/// A place inside a shape, in that of its parts where there is most room beside it; none in a shape
/// without area.
///
/// # Example
/// ```
/// use groundsheet::geom::{Point, clip, inside};
/// let corners = [(0.0, 0.0), (8.0, 0.0), (8.0, 1.0), (2.0, 1.0), (2.0, 6.0), (0.0, 6.0)];
/// let shape = clip::shape_of_points(&corners.map(|(x, y)| Point::new(x, y)));
/// assert_eq!(inside(&shape), Some(Point::new(1.0, 3.0)));
/// ```
pub fn inside(shape: &Shape) -> Option<Point> {
    let parts = shape.iter().map(|part| Shape::new(vec![part.clone()]));
    let widest = parts.filter_map(|part| widest(&part));
    let most = widest.reduce(|most, next| if next.0 > most.0 { next } else { most });
    most.map(|(_, middle)| middle)
}

/// The widest stretch of the level line through one part: its length and its middle.
fn widest(part: &Shape) -> Option<(f64, Point)> {
    let sides = || clip::rings(part).flat_map(|ring| ring.lines());
    let y = height(part)?;
    let crossed = sides().filter(|side| (side.start.y > y) != (side.end.y > y));
    let mut crossings: Vec<f64> = crossed
        .map(|side| {
            let share = (y - side.start.y) / (side.end.y - side.start.y);
            side.start.x + (side.end.x - side.start.x) * share
        })
        .collect();
    crossings.sort_by(f64::total_cmp);
    let stretches = crossings.chunks_exact(2).map(|ends| {
        let middle = Point::new(f64::midpoint(ends[0], ends[1]), y);
        (ends[1] - ends[0], middle)
    });
    let stretches = stretches.filter(|(length, _)| *length > 0.0);
    stretches.reduce(|most, next| if next.0 > most.0 { next } else { most })
}

/// The height half way up one part, or by the nearest corner to it where it is a corner's.
fn height(part: &Shape) -> Option<f64> {
    let bounds = clip::bounds(part)?;
    let middle = f64::midpoint(bounds.min.y, bounds.max.y);
    let corners = || clip::rings(part).flat_map(|ring| ring.coords());
    if corners().all(|corner| corner.y != middle) {
        return Some(middle);
    }
    let others = corners().map(|corner| corner.y).filter(|y| *y != middle);
    let next = others.min_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()))?;
    Some(f64::midpoint(middle, next))
}

#[cfg(test)]
mod tests {
    use super::super::Vector;
    use super::*;

    fn ring(corners: usize, radius: f64) -> Vec<Point> {
        let turn = |corner: usize| std::f64::consts::TAU * corner as f64 / corners as f64;
        let tenth = |mm: f64| (mm * 10.0).round() / 10.0;
        (0..corners)
            .map(turn)
            .map(|turn| {
                Point::new(
                    tenth(radius * libm::cos(turn)),
                    tenth(radius * libm::sin(turn)),
                )
            })
            .collect()
    }

    /// Corners as a job writes them, to a tenth of a millimetre: the sides by the middle are all but
    /// upright, and a corner stands at the very height of the middle.
    #[test]
    fn a_figure_of_many_corners_has_an_inside() {
        for corners in [3, 4, 99, 100, 300, 600] {
            let shape = clip::shape_of_points(&ring(corners, 6000.0));
            let at = inside(&shape).unwrap();
            for (x, y) in [(500.0, 0.0), (-500.0, 0.0), (0.0, 500.0), (0.0, -500.0)] {
                let beside = at + Vector::new(x, y);
                assert!(clip::contains(&shape, beside), "{corners}: {at:?}");
            }
        }
    }

    /// Of two parts that with the wider stretch is taken, and beside a hole, not in it.
    #[test]
    fn it_lies_in_the_widest_part_beside_its_hole() {
        let square = |x: f64, size: f64| {
            let corners = [(x, 0.0), (x + size, 0.0), (x + size, size), (x, size)];
            clip::shape_of_points(&corners.map(|(x, y)| Point::new(x, y)))
        };
        let holed = clip::difference(&square(0.0, 100.0), &square(10.0, 80.0));
        let two = clip::union([&holed, &square(200.0, 9.0)]);
        // the hole reaches from 10 to 90 across and from 0 to 80 up: 20 are left above it, 10 beside
        assert!(inside(&two).unwrap().distance(Point::new(5.0, 50.0)) < 1e-9);
        let three = clip::union([&two, &square(300.0, 30.0)]);
        let middle = Point::new(315.0, 15.0);
        assert!(inside(&three).unwrap().distance(middle) < 1e-9);
        assert_eq!(inside(&Shape::new(Vec::new())), None);
    }
}
