//! Union, intersection and difference of flattened shapes, and the part of a line within one.
//!
//! In and out: [`Shape`], site millimetres, exteriors anticlockwise and interiors clockwise. The
//! polygon operations are Vatti's algorithm as the Clipper library has it, on whole micrometres,
//! non-zero winding; what comes out lies on that grid. Coordinates must be finite and within
//! 1,000 km of the origin, which every resolved site is; others are a defect of the caller.

use geo::algorithm::orient::{Direction, Orient};
use geo::algorithm::{Area, BoundingRect};
use geo::{Coord, LineString, MultiPolygon, Polygon};
use geo_clipper::{Clipper as _, ClipperInt, PolyFillType};

use super::point::Point;
use super::ring::{Bounds, Ring};
use super::sides::Sides;
use super::{SAGITTA, Shape, groups};

/// Clipper's units in a millimetre.
pub(super) const FACTOR: f64 = 1000.0;

/// Farthest a coordinate may lie from the origin, in millimetres.
const FARTHEST: f64 = 1e9;

/// A point nearer than this to the boundary, in millimetres, lies on it.
const ON_BOUNDARY: f64 = 1.5e-3;

/// What lies in any of the shapes.
pub fn union<'a>(shapes: impl IntoIterator<Item = &'a Shape>) -> Shape {
    let all: Vec<Polygon<i64>> = shapes.into_iter().flat_map(|s| grid(s).0).collect();
    let (all, none) = (MultiPolygon(all), MultiPolygon(Vec::new()));
    let found = many(&all, &none)
        .then(|| groups::left(&all, &none))
        .flatten();
    from_grid(&found.unwrap_or_else(|| ClipperInt::union(&all, &none)))
}

/// What lies in both shapes.
pub fn intersection(a: &Shape, b: &Shape) -> Shape {
    if !overlap_boxes(a, b) {
        return MultiPolygon(Vec::new());
    }
    from_grid(&ClipperInt::intersection(&grid(a), &grid(b)))
}

/// What lies in `a` but not in `b`.
pub fn difference(a: &Shape, b: &Shape) -> Shape {
    if !overlap_boxes(a, b) {
        return a.clone();
    }
    let (a, b) = (grid(a), grid(b));
    let found = many(&a, &b).then(|| groups::left(&a, &b)).flatten();
    from_grid(&found.unwrap_or_else(|| ClipperInt::difference(&a, &b)))
}

/// Most rings that are clipped all at once: it takes time by their square.
const TOGETHER: usize = 64;

/// Whether there are more rings than that.
fn many(a: &MultiPolygon<i64>, b: &MultiPolygon<i64>) -> bool {
    rings(a).chain(rings(b)).nth(TOGETHER).is_some()
}

/// What rings of points wind round once or more anticlockwise (positive winding): rings that cross
/// themselves lose the loops that run clockwise. The rings are taken as they run.
pub fn wound(rings: &[Vec<Point>]) -> Shape {
    let polygons = rings.iter().filter(|ring| ring.len() >= 3).map(|ring| {
        let line: LineString<f64> = ring.iter().map(|p| whole(p.x, p.y)).collect();
        Polygon::new(line, Vec::new())
    });
    let polygons = MultiPolygon(polygons.collect());
    if polygons.0.is_empty() {
        return polygons;
    }
    let simple = polygons.simplify(PolyFillType::Positive, 1.0);
    // Clipper returns anticlockwise rings as outer and clockwise ones as holes.
    let (outer, holes): (Vec<_>, Vec<_>) = simple
        .0
        .into_iter()
        .map(|line| Polygon::new(line, Vec::new()))
        .filter(|polygon| polygon.signed_area() != 0.0)
        .partition(|polygon| polygon.signed_area() > 0.0);
    let to_int = |polygons: Vec<Polygon<f64>>| -> MultiPolygon<i64> {
        let millimetres = polygons.iter().map(|p| {
            let line = p.exterior().0.iter().map(|c| Coord {
                x: c.x / FACTOR,
                y: c.y / FACTOR,
            });
            Polygon::new(line.collect(), Vec::new())
        });
        grid(&MultiPolygon(millimetres.collect()))
    };
    from_grid(&ClipperInt::difference(&to_int(outer), &to_int(holes)))
}

/// The shape within a ring, arcs flattened to [`SAGITTA`]; whichever way the ring runs.
pub fn shape_of(ring: &Ring) -> Shape {
    let polygon = Polygon::new(ring.flatten(SAGITTA), Vec::new());
    MultiPolygon(vec![polygon.orient(Direction::Default)])
}

/// The shape within a polygon of points, whichever way it runs.
pub fn shape_of_points(points: &[Point]) -> Shape {
    let line: LineString<f64> = points.iter().map(|p| (p.x, p.y)).collect();
    MultiPolygon(vec![
        Polygon::new(line, Vec::new()).orient(Direction::Default),
    ])
}

/// The rings of a shape: of each polygon the outer one, then its holes.
pub fn rings<T: geo::CoordNum>(shape: &MultiPolygon<T>) -> impl Iterator<Item = &LineString<T>> {
    let polygons = shape.iter();
    polygons.flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()))
}

/// Area, in square millimetres.
pub fn area(shape: &Shape) -> f64 {
    shape.unsigned_area()
}

/// How far a place lies from a shape, in millimetres; zero inside it.
pub fn distance(shape: &Shape, at: Point) -> f64 {
    use geo::{Distance, Euclidean};
    Euclidean.distance(&geo::Point::new(at.x, at.y), shape)
}

/// The box around a shape; `None` when it is empty.
pub fn bounds(shape: &Shape) -> Option<Bounds> {
    let rect = shape.bounding_rect()?;
    Some(Bounds {
        min: Point::new(rect.min().x, rect.min().y),
        max: Point::new(rect.max().x, rect.max().y),
    })
}

/// Whether a point lies in a shape; its boundary belongs to it.
pub fn contains(shape: &Shape, at: Point) -> bool {
    let sides = Sides::one_band(shape);
    on_boundary(&sides, at) || winds_round(&sides, at)
}

/// The parts of straight lines that run within a shape, line by line, each run as its line runs. A
/// stretch that runs along the boundary is left out.
pub fn clip_lines(lines: &[(Point, Point)], shape: &Shape) -> Vec<(Point, Point)> {
    let sides = Sides::new(shape);
    lines
        .iter()
        .flat_map(|line| clip_line(*line, &sides))
        .collect()
}

fn clip_line((from, to): (Point, Point), sides: &Sides) -> Vec<(Point, Point)> {
    let along = to - from;
    let length = along.length();
    if length == 0.0 {
        return Vec::new();
    }
    let line = Bounds {
        min: from,
        max: from,
    }
    .with(to);
    let mut cuts = vec![0.0, 1.0];
    for (a, b) in sides.near(line, ON_BOUNDARY) {
        let side = *b - *a;
        let turn = along.cross(side);
        // Ends of sides that lie on the line, which is all there is when they run along it.
        for end in [*a, *b] {
            let off = along.cross(end - from) / length;
            if off.abs() <= ON_BOUNDARY {
                cuts.push((end - from).dot(along) / (length * length));
            }
        }
        if turn != 0.0 {
            let on_side = (from - *a).cross(along) / -turn;
            if (-1e-9..=1.0 + 1e-9).contains(&on_side) {
                cuts.push((*a - from).cross(side) / turn);
            }
        }
    }
    cuts.retain(|cut| (0.0..=1.0).contains(cut));
    cuts.sort_by(f64::total_cmp);
    let mut parts: Vec<(f64, f64)> = Vec::new();
    for pair in cuts.windows(2) {
        let (start, end) = (pair[0], pair[1]);
        if (end - start) * length <= 1e-6 {
            continue;
        }
        let middle = from + along * ((start + end) / 2.0);
        if on_boundary(sides, middle) || !winds_round(sides, middle) {
            continue;
        }
        match parts.last_mut() {
            Some(last) if (start - last.1) * length <= 1e-6 => last.1 = end,
            _ => parts.push((start, end)),
        }
    }
    let place = |cut: f64| match cut {
        0.0 => from,
        1.0 => to,
        _ => from + along * cut,
    };
    let placed = parts
        .iter()
        .map(|(start, end)| (place(*start), place(*end)));
    placed.collect()
}

fn on_boundary(sides: &Sides, at: Point) -> bool {
    let spot = Bounds { min: at, max: at };
    sides
        .near(spot, ON_BOUNDARY)
        .any(|(a, b)| super::Edge::straight(*a, *b).distance(at) <= ON_BOUNDARY)
}

fn winds_round(sides: &Sides, at: Point) -> bool {
    let mut inside = false;
    for (a, b) in sides.at_height(at.y) {
        if (a.y > at.y) == (b.y > at.y) {
            continue;
        }
        if at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}

fn overlap_boxes(a: &Shape, b: &Shape) -> bool {
    match (bounds(a), bounds(b)) {
        (Some(a), Some(b)) => a.near(b, 2.0 / FACTOR),
        _ => false,
    }
}

fn whole(x: f64, y: f64) -> (f64, f64) {
    assert!(
        x.abs() <= FARTHEST && y.abs() <= FARTHEST,
        "clipping needs finite coordinates within 1,000 km, found ({x}, {y})"
    );
    ((x * FACTOR).round(), (y * FACTOR).round())
}

pub(super) fn grid(shape: &Shape) -> MultiPolygon<i64> {
    let line = |line: &LineString<f64>| -> LineString<i64> {
        line.0
            .iter()
            .map(|c| {
                let (x, y) = whole(c.x, c.y);
                (x as i64, y as i64)
            })
            .collect()
    };
    let oriented = shape.orient(Direction::Default);
    let polygons = oriented.iter().map(|polygon| {
        Polygon::new(
            line(polygon.exterior()),
            polygon.interiors().iter().map(line).collect(),
        )
    });
    MultiPolygon(polygons.collect())
}

pub(super) fn from_grid(shape: &MultiPolygon<i64>) -> Shape {
    let line = |line: &LineString<i64>| -> LineString<f64> {
        let points = line.0.iter();
        points
            .map(|c| (c.x as f64 / FACTOR, c.y as f64 / FACTOR))
            .collect()
    };
    let polygons = shape.iter().map(|polygon| {
        Polygon::new(
            line(polygon.exterior()),
            polygon.interiors().iter().map(line).collect(),
        )
        .orient(Direction::Default)
    });
    MultiPolygon(polygons.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Shape {
        shape_of_points(&[
            Point::new(x, y),
            Point::new(x + width, y),
            Point::new(x + width, y + height),
            Point::new(x, y + height),
        ])
    }

    #[test]
    fn areas_of_two_rectangles_add_up() {
        let (a, b) = (
            rectangle(0.0, 0.0, 10.0, 10.0),
            rectangle(6.0, 7.0, 10.0, 10.0),
        );
        assert!((area(&intersection(&a, &b)) - 12.0).abs() < 1e-9);
        assert!((area(&union([&a, &b])) - 188.0).abs() < 1e-9);
        assert!((area(&difference(&a, &b)) - 88.0).abs() < 1e-9);
        let far = rectangle(100.0, 0.0, 5.0, 5.0);
        assert!(intersection(&a, &far).0.is_empty());
        assert_eq!(difference(&a, &far), a);
    }

    #[test]
    fn hole_stays_a_hole_and_an_island_in_it_stays() {
        let ring = difference(
            &rectangle(0.0, 0.0, 100.0, 100.0),
            &rectangle(10.0, 10.0, 80.0, 80.0),
        );
        let shape = union([&ring, &rectangle(40.0, 40.0, 20.0, 20.0)]);
        assert!((area(&shape) - (3600.0 + 400.0)).abs() < 1e-9);
        assert!(!contains(&shape, Point::new(20.0, 20.0)));
        assert!(contains(&shape, Point::new(50.0, 50.0)));
        assert!(
            contains(&shape, Point::new(10.0, 50.0)),
            "the boundary belongs to the shape"
        );
        // A hole wound like its shell is a hole all the same.
        let flipped = geo::MultiPolygon(vec![Polygon::new(
            ring.0[0].exterior().clone(),
            vec![ring.0[0].interiors()[0].0.iter().rev().copied().collect()],
        )]);
        assert!((area(&union([&flipped])) - 3600.0).abs() < 1e-9);
    }

    #[test]
    fn line_through_a_ring_shows_twice() {
        let ring = difference(
            &rectangle(0.0, 0.0, 100.0, 100.0),
            &rectangle(10.0, 10.0, 80.0, 80.0),
        );
        let cut = |a: (f64, f64), b: (f64, f64)| {
            clip_lines(&[(Point::new(a.0, a.1), Point::new(b.0, b.1))], &ring)
        };
        let parts = cut((-20.0, 50.0), (120.0, 50.0));
        let p = Point::new;
        assert_eq!(parts.len(), 2);
        assert!(parts[0].0.distance(p(0.0, 50.0)) < 1e-9);
        assert!(parts[0].1.distance(p(10.0, 50.0)) < 1e-9);
        assert!(parts[1].0.distance(p(90.0, 50.0)) < 1e-9);
        // Along the outer boundary: left out. Along the inner one: only beyond its ends.
        assert!(cut((-20.0, 0.0), (120.0, 0.0)).is_empty());
        let beside = cut((0.0, 10.0), (100.0, 10.0));
        let total: f64 = beside.iter().map(|(a, b)| a.distance(*b)).sum();
        assert!((total - 20.0).abs() < 1e-9, "{beside:?}");
        // Corner to corner.
        let diagonal = cut((0.0, 0.0), (100.0, 100.0));
        let total: f64 = diagonal.iter().map(|(a, b)| a.distance(*b)).sum();
        assert!((total - 20.0 * 2f64.sqrt()).abs() < 1e-9, "{diagonal:?}");
    }

    #[test]
    fn positive_winding_drops_the_reversed_loop() {
        // An anticlockwise square of side 10 whose last corner overshoots into a clockwise loop.
        let ring = [
            (0.0, 0.0),
            (10.0, 0.0),
            (10.0, 10.0),
            (4.0, 10.0),
            (4.0, 14.0),
            (2.0, 14.0),
            (2.0, 8.0),
            (0.0, 8.0),
        ];
        let points: Vec<Point> = ring.iter().map(|(x, y)| Point::new(*x, *y)).collect();
        let plain = area(&shape_of_points(&points));
        assert!((area(&wound(std::slice::from_ref(&points))) - plain).abs() < 1e-9);
        let backward: Vec<Point> = points.iter().rev().copied().collect();
        assert!(wound(&[backward]).0.is_empty());
        let bow = [(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)];
        let bow: Vec<Point> = bow.iter().map(|(x, y)| Point::new(*x, *y)).collect();
        assert!((area(&wound(&[bow])) - 25.0).abs() < 1e-9);
    }
}
