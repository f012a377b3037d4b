//! Closed rings of straight and arc edges, with exact lengths and areas.
//!
//! In: edges that join end to start, millimetres. Out: area, perimeter, bounding box, a flattened
//! line string, where the ring meets itself. Arcs count exactly (circular segments added to the
//! shoelace formula); only `flatten` approximates, to a stated sagitta.

use super::edge::sweep_between;
use super::point::Point;

/// The circle an arc edge follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre of the circle.
    pub centre: Point,
    /// Radius, in millimetres.
    pub radius: f64,
    /// Whether the edge goes anticlockwise about the centre.
    pub anticlockwise: bool,
}

/// One edge of a ring: straight, or along an arc. An arc edge that ends where it starts is the
/// whole circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
    /// The arc it follows, if it is not straight.
    pub arc: Option<Arc>,
}

/// A closed ring: each edge starts where the one before it ends, the first where the last ends.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ring {
    /// The edges in order.
    pub edges: Vec<Edge>,
}

/// An upright box, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Lower left corner.
    pub min: Point,
    /// Upper right corner.
    pub max: Point,
}

/// Where a ring meets itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SelfCrossing {
    /// Index of the earlier edge.
    pub first: usize,
    /// Index of the later edge.
    pub second: usize,
    /// A point on both.
    pub at: Point,
}

/// Two edges closer than this meet, in millimetres.
const MEET: f64 = 1e-4;

/// Neighbours that part by less than this beside their common corner do not cross there.
const TANGENT_SLACK: f64 = 0.5;

impl Bounds {
    /// The box grown to hold a point.
    pub fn with(self, p: Point) -> Self {
        Self {
            min: Point::new(self.min.x.min(p.x), self.min.y.min(p.y)),
            max: Point::new(self.max.x.max(p.x), self.max.y.max(p.y)),
        }
    }

    /// The box around two boxes.
    pub fn union(self, other: Self) -> Self {
        self.with(other.min).with(other.max)
    }

    /// Whether two boxes come within `gap` millimetres of each other.
    pub fn near(self, other: Self, gap: f64) -> bool {
        self.min.x <= other.max.x + gap
            && other.min.x <= self.max.x + gap
            && self.min.y <= other.max.y + gap
            && other.min.y <= self.max.y + gap
    }

    /// Width along x, in millimetres.
    pub fn width(self) -> f64 {
        self.max.x - self.min.x
    }

    /// Height along y, in millimetres.
    pub fn height(self) -> f64 {
        self.max.y - self.min.y
    }
}

impl Ring {
    /// The ring of straight edges through points; the last joins the first.
    pub fn polygon(points: &[Point]) -> Self {
        let next = points.iter().cycle().skip(1);
        let edges = points.iter().zip(next).map(|(a, b)| Edge::straight(*a, *b));
        Self {
            edges: edges.collect(),
        }
    }

    /// The anticlockwise circle, as one edge that starts at its rightmost point.
    pub fn circle(centre: Point, radius: f64) -> Self {
        Self {
            edges: vec![Edge::circle(centre, radius)],
        }
    }

    /// Enclosed area in square millimetres, exact for arcs: positive when the ring runs
    /// anticlockwise.
    ///
    /// A unit square run anticlockwise has 1; a circle of radius 2 run clockwise has −4π.
    pub fn signed_area(&self) -> f64 {
        let Some(first) = self.edges.first() else {
            return 0.0;
        };
        self.edges
            .iter()
            .map(|edge| edge.area_seen_from(first.from))
            .sum()
    }

    /// Enclosed area in square millimetres, whichever way round the ring runs.
    pub fn area(&self) -> f64 {
        self.signed_area().abs()
    }

    /// Length all round, in millimetres, exact for arcs.
    pub fn perimeter(&self) -> f64 {
        self.edges.iter().map(Edge::length).sum()
    }

    /// Whether the ring runs anticlockwise.
    pub fn is_anticlockwise(&self) -> bool {
        self.signed_area() > 0.0
    }

    /// The same ring the other way round; its first edge is the old last one.
    pub fn reversed(&self) -> Self {
        Self {
            edges: self.edges.iter().rev().map(Edge::reversed).collect(),
        }
    }

    /// The ring run anticlockwise.
    pub fn anticlockwise(&self) -> Self {
        if self.signed_area() < 0.0 {
            self.reversed()
        } else {
            self.clone()
        }
    }

    /// The box around the ring; `None` when it has no edges.
    pub fn bounds(&self) -> Option<Bounds> {
        let boxes = self.edges.iter().map(Edge::bounds);
        boxes.reduce(Bounds::union)
    }

    /// Distance from a point to the nearest place on the ring, in millimetres.
    pub fn distance(&self, at: Point) -> f64 {
        let distances = self.edges.iter().map(|edge| edge.distance(at));
        distances.fold(f64::INFINITY, f64::min)
    }

    /// The corners of the flattened ring, without the first repeated; arcs stray from their chords
    /// by at most `sagitta` millimetres.
    pub fn flat_points(&self, sagitta: f64) -> Vec<Point> {
        let edges = self.edges.iter();
        edges
            .flat_map(|edge| {
                let mut points = edge.flatten(sagitta);
                points.pop();
                points
            })
            .collect()
    }

    /// The flattened ring, closed (first point repeated); arcs stray from their chords by at most
    /// `sagitta` millimetres.
    pub fn flatten(&self, sagitta: f64) -> geo::LineString<f64> {
        let mut points = self.flat_points(sagitta);
        points.extend(points.first().copied());
        points.into_iter().map(|p| (p.x, p.y)).collect()
    }

    /// Where the ring crosses or touches itself, if it does. Neighbours that part by less than half
    /// a millimetre beside their common corner (a line running into a rounded corner) do not count;
    /// a spike, where an edge turns back on the one before, does.
    pub fn self_crossing(&self) -> Option<SelfCrossing> {
        let count = self.edges.len();
        let boxes: Vec<Bounds> = self.edges.iter().map(Edge::bounds).collect();
        for first in 0..count {
            for second in first + 1..count {
                if !boxes[first].near(boxes[second], MEET) {
                    continue;
                }
                if let Some(at) = self.crossing_of(first, second) {
                    return Some(SelfCrossing { first, second, at });
                }
            }
        }
        None
    }

    /// A point where two edges meet though they should not.
    fn crossing_of(&self, first: usize, second: usize) -> Option<Point> {
        let (a, b) = (&self.edges[first], &self.edges[second]);
        let count = self.edges.len();
        let mut meetings = a.meetings(b, MEET);
        if second == first + 1 {
            meetings.retain(|at| !meets_rightly(a, b, *at));
        }
        if (second + 1) % count == first {
            meetings.retain(|at| !meets_rightly(b, a, *at));
        }
        meetings.first().copied()
    }
}

/// Whether `at`, on both an edge and its follower, is their common corner or so near the common
/// tangent there that it is the same corner.
fn meets_rightly(before: &Edge, after: &Edge, at: Point) -> bool {
    let corner = before.to;
    if corner.distance(at) <= 2.0 * MEET {
        return true;
    }
    let (Some(arriving), Some(leaving)) = (before.tangent(1.0), after.tangent(0.0)) else {
        return false;
    };
    if arriving.dot(leaving) <= 0.0 {
        return false;
    }
    // From the corner on to the meeting point along `after`, and on from it along `before`.
    let half = match after.arc {
        Some(arc) => {
            let sweep = sweep_between(&arc, corner, at);
            arc.at_angle_from(corner, sweep / 2.0)
        }
        None => corner.midpoint(at),
    };
    before.distance(half) <= TANGENT_SLACK
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(list: &[(f64, f64)]) -> Vec<Point> {
        list.iter().map(|(x, y)| Point::new(*x, *y)).collect()
    }

    /// Coordinate area of Mahun, Open Access Surveying Library, area problem H-2 (northing,
    /// easting, feet): 140,494 ft² printed, 140,493.1 from the unrounded sums.
    #[test]
    fn coordinate_area_h2() {
        let ring = Ring::polygon(&points(&[
            (1259.97, 406.31),
            (1489.47, 235.12),
            (1126.40, 65.81),
            (942.04, 317.89),
            (1282.54, 675.32),
        ]));
        assert!((ring.area() - 140_493.1).abs() < 0.1, "{}", ring.area());
    }

    /// Mahun, Open Access Surveying Library, coordinate area problem 1: 38,970 ft² printed.
    #[test]
    fn coordinate_area_problem_1() {
        let ring = Ring::polygon(&points(&[
            (2215.890, 1541.207),
            (2336.574, 1373.915),
            (2350.205, 1299.818),
            (2523.212, 1343.189),
            (2359.080, 1569.360),
        ]));
        assert!((ring.area() - 38_965.8).abs() < 0.1, "{}", ring.area());
        assert!((ring.area() - 38_970.0).abs() / 38_970.0 < 2e-4);
    }

    /// NAVEDTRA 14070, chapter 7: the same figure before and after the origin is moved.
    #[test]
    fn coordinate_area_keeps_when_moved() {
        let before = Ring::polygon(&points(&[
            (32.68, 742.34),
            (158.34, 998.30),
            (748.99, 844.77),
            (556.30, 150.70),
        ]));
        let after = Ring::polygon(&points(&[
            (0.0, 591.64),
            (125.66, 847.60),
            (716.31, 694.07),
            (523.62, 0.0),
        ]));
        assert!((before.area() - 323_953.7).abs() < 0.1);
        assert!((before.area() - after.area()).abs() < 1e-6);
    }

    /// Hicks, civil engineering calculations handbook: balanced latitudes and departures close and
    /// enclose 72,106.2 ft².
    #[test]
    fn coordinate_area_of_a_closed_traverse() {
        let courses = [
            (-132.3, -135.6),
            (9.6, -77.5),
            (97.9, -198.5),
            (161.9, 143.6),
            (-35.3, 246.7),
            (-101.8, 21.3),
        ];
        let mut at = Point::new(0.0, 0.0);
        let mut corners = Vec::new();
        for (latitude, departure) in courses {
            corners.push(at);
            at = Point::new(at.x + departure, at.y + latitude);
        }
        assert!(at.distance(Point::new(0.0, 0.0)) < 1e-9);
        let area = Ring::polygon(&corners).area();
        assert!((area - 72_106.2).abs() < 0.1, "{area}");
    }

    #[test]
    fn circle_is_exact_both_ways() {
        let ring = Ring::circle(Point::new(5.0, -3.0), 2.0);
        let pi = std::f64::consts::PI;
        assert!((ring.signed_area() - 4.0 * pi).abs() < 1e-12);
        assert!((ring.perimeter() - 4.0 * pi).abs() < 1e-12);
        assert!((ring.reversed().signed_area() + 4.0 * pi).abs() < 1e-12);
    }

    #[test]
    fn rounded_corner_does_not_cross_itself() {
        // The arc's centre is a hundredth of a millimetre off, so that it bulges past the line.
        let centre = Point::new(3000.0, 2000.0);
        let radius = 1000.0;
        let from = Point::new(centre.x + libm::sqrt(radius * radius - 9.0), 1997.0);
        let to = Point::new(3000.0, 3000.0);
        let ring = Ring {
            edges: vec![
                Edge::straight(Point::new(0.0, 0.0), Point::new(from.x, 0.0)),
                Edge::straight(Point::new(from.x, 0.0), from),
                Edge {
                    from,
                    to,
                    arc: Some(Arc {
                        centre,
                        radius,
                        anticlockwise: true,
                    }),
                },
                Edge::straight(to, Point::new(0.0, 3000.0)),
                Edge::straight(Point::new(0.0, 3000.0), Point::new(0.0, 0.0)),
            ],
        };
        assert_eq!(ring.self_crossing(), None);
    }

    #[test]
    fn bow_tie_and_spike_are_found() {
        let bow = Ring::polygon(&points(&[
            (0.0, 0.0),
            (10.0, 10.0),
            (10.0, 0.0),
            (0.0, 10.0),
        ]));
        let found = bow.self_crossing().expect("a bow tie crosses itself");
        assert_eq!((found.first, found.second), (0, 2));
        assert!(found.at.distance(Point::new(5.0, 5.0)) < 1e-9);
        let spike = Ring::polygon(&points(&[(0.0, 0.0), (10.0, 0.0), (5.0, 0.0), (5.0, 9.0)]));
        assert!(spike.self_crossing().is_some());
        let square = Ring::polygon(&points(&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0)]));
        assert_eq!(square.self_crossing(), None);
    }
}
