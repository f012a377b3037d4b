//! A traverse: legs walked from a known point, their misclosure and its adjustment.
//!
//! In: the start, bearings or turns and distances (millimetres, degrees clockwise from up the
//! plan). Out: latitude (up the plan) and departure (right) of each leg, the misclosure as a
//! length and as 1:n, and the points, adjusted by the compass (Bowditch) rule when asked for:
//! each leg takes of the misclosure a share in proportion to its length. Described in every text
//! on plane surveying. Angles are taken as measured: no angular balance before.

use super::spec::{Traverse, Turning};
use crate::geom::{Point, Vector};

/// Misclosures smaller than this are none, in millimetres.
const CLOSED: f64 = 1e-6;

/// A traverse worked through.
#[derive(Clone, Debug, PartialEq)]
pub struct TraverseResult {
    /// The legs in order.
    pub legs: Vec<LegResult>,
    /// Sum of the legs' lengths, in millimetres.
    pub length_mm: f64,
    /// By how much the last leg misses the known point it ends at, as walked, in millimetres;
    /// `None` for a traverse that ends at a new point.
    pub misclosure: Option<Vector>,
    /// Length of the misclosure, in millimetres.
    pub misclosure_mm: Option<f64>,
    /// The n of 1:n, length of the traverse over misclosure; `None` when it closes exactly.
    pub ratio: Option<f64>,
    /// Whether the misclosure was spread over the legs.
    pub adjusted: bool,
}

/// One leg of a traverse worked through.
#[derive(Clone, Debug, PartialEq)]
pub struct LegResult {
    /// The point it ends at.
    pub to: String,
    /// Its bearing as measured, in degrees clockwise from up the plan, 0 to 360.
    pub bearing_deg: f64,
    /// Its length as measured, in millimetres.
    pub distance_mm: f64,
    /// Latitude (y) and departure (x) as measured, in millimetres.
    pub measured: Vector,
    /// The same after adjustment.
    pub adjusted: Vector,
    /// Where it ends after adjustment.
    pub at: Point,
}

impl LegResult {
    /// Bearing after adjustment, in degrees clockwise from up the plan, 0 to 360.
    pub fn adjusted_bearing_deg(&self) -> f64 {
        bearing(self.adjusted)
    }

    /// Length after adjustment, in millimetres.
    pub fn adjusted_distance_mm(&self) -> f64 {
        self.adjusted.length()
    }
}

/// Bearing of a direction, in degrees clockwise from up the plan, 0 to 360.
pub fn bearing(direction: Vector) -> f64 {
    let degrees = libm::atan2(direction.x, direction.y).to_degrees();
    if degrees < 0.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

/// The unit vector of a bearing in degrees clockwise from up the plan; quarter turns are exact.
pub fn along_bearing(degrees: f64) -> Vector {
    Vector::new(0.0, 1.0).turned(-degrees)
}

/// Works a traverse from `start`; `close` is the known place of the last leg's end, if it is known.
pub fn walk(traverse: &Traverse, start: Point, close: Option<Point>) -> TraverseResult {
    let mut back = traverse.back_bearing;
    let mut at = start;
    let mut legs: Vec<LegResult> = Vec::with_capacity(traverse.legs.len());
    for leg in &traverse.legs {
        let forward = match leg.turning {
            Turning::Turn(turn) => back + turn,
            Turning::Bearing(bearing) => bearing,
        }
        .rem_euclid(360.0);
        let measured = along_bearing(forward) * leg.distance;
        at = at + measured;
        legs.push(LegResult {
            to: leg.to.clone(),
            bearing_deg: forward,
            distance_mm: leg.distance,
            measured,
            adjusted: measured,
            at,
        });
        back = forward + 180.0;
    }
    let length_mm: f64 = legs.iter().map(|leg| leg.distance_mm).sum();
    let misclosure = close.map(|close| at - close);
    let misclosure_mm = misclosure.map(Vector::length);
    let ratio = misclosure_mm.and_then(|by| (by > CLOSED).then(|| length_mm / by));
    let spread = misclosure.filter(|_| traverse.adjust && length_mm > 0.0);
    if let Some(by) = spread {
        let mut at = start;
        for leg in &mut legs {
            leg.adjusted = leg.measured - by * (leg.distance_mm / length_mm);
            at = at + leg.adjusted;
            leg.at = at;
        }
    }
    TraverseResult {
        legs,
        length_mm,
        misclosure,
        misclosure_mm,
        ratio,
        adjusted: spread.is_some(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::spec::Leg;

    fn leg(to: &str, turning: Turning, distance: f64) -> Leg {
        Leg {
            to: to.into(),
            turning,
            distance,
        }
    }

    fn dms(degrees: f64, minutes: f64, seconds: f64) -> f64 {
        degrees + minutes / 60.0 + seconds / 3600.0
    }

    fn mahun() -> Traverse {
        let legs = vec![
            leg("B", Turning::Bearing(180.0 + dms(68.0, 5.0, 35.0)), 472.68),
            leg("C", Turning::Bearing(360.0 - dms(19.0, 46.0, 0.0)), 216.13),
            leg("D", Turning::Bearing(dms(45.0, 55.0, 20.0)), 276.52),
            leg("A", Turning::Bearing(180.0 - dms(54.0, 59.0, 15.0)), 382.24),
        ];
        Traverse {
            start: "A".into(),
            back_bearing: 0.0,
            legs,
            adjust: true,
            limit: 500.0,
        }
    }

    /// J. Mahun, Open Access Surveying Library, traverse chapters: start A N 500.000 E 2000.000 ft.
    #[test]
    fn published_traverse_by_the_compass_rule() {
        let start = Point::new(2000.0, 500.0);
        let done = walk(&mahun(), start, Some(start));
        let printed = [
            (-176.357, -438.548),
            (203.395, -73.093),
            (192.357, 198.651),
            (-219.312, 313.065),
        ];
        for (leg, (latitude, departure)) in done.legs.iter().zip(printed) {
            assert!((leg.measured.y - latitude).abs() < 0.002, "{leg:?}");
            assert!((leg.measured.x - departure).abs() < 0.002, "{leg:?}");
        }
        assert!((done.length_mm - 1347.57).abs() < 1e-9);
        let by = done.misclosure.unwrap();
        assert!((by.y - 0.083).abs() < 0.002 && (by.x - 0.075).abs() < 0.002);
        assert!((done.misclosure_mm.unwrap() - 0.111).abs() < 0.002);
        assert!((done.ratio.unwrap() - 12_100.0).abs() < 100.0);
        let printed = [
            (323.614, 1561.426),
            (526.996, 1488.321),
            (719.336, 1686.956),
            (500.0, 2000.0),
        ];
        for (leg, (north, east)) in done.legs.iter().zip(printed) {
            assert!((leg.at.y - north).abs() < 0.002, "{leg:?}");
            assert!((leg.at.x - east).abs() < 0.002, "{leg:?}");
        }
        let first = &done.legs[0];
        assert!((first.adjusted_distance_mm() - 472.72).abs() < 0.005);
        let adjusted = 180.0 + dms(68.0, 5.0, 27.0);
        assert!((first.adjusted_bearing_deg() - adjusted).abs() < dms(0.0, 0.0, 1.0));
    }

    /// The same walk by turns to the right gives the same legs.
    #[test]
    fn turns_agree_with_bearings() {
        let by_bearing = mahun();
        let mut by_turn = by_bearing.clone();
        let mut back = by_turn.back_bearing;
        for leg in &mut by_turn.legs {
            let Turning::Bearing(forward) = leg.turning else {
                panic!("all legs are by bearing")
            };
            leg.turning = Turning::Turn((forward - back).rem_euclid(360.0));
            back = forward + 180.0;
        }
        let start = Point::new(2000.0, 500.0);
        let a = walk(&by_bearing, start, Some(start));
        let b = walk(&by_turn, start, Some(start));
        for (a, b) in a.legs.iter().zip(&b.legs) {
            assert!(a.at.distance(b.at) < 1e-9);
        }
    }

    #[test]
    fn a_square_walked_by_right_turns_closes() {
        let legs = ["P2", "P3", "P4", "P1"]
            .map(|to| leg(to, Turning::Turn(90.0), 1000.0))
            .to_vec();
        let square = Traverse {
            start: "P1".into(),
            back_bearing: 90.0,
            legs,
            adjust: true,
            limit: 500.0,
        };
        let start = Point::new(0.0, 0.0);
        let done = walk(&square, start, Some(start));
        // Back line to the right (east), 90 degrees clockwise from it: down the plan.
        assert_eq!(done.legs[0].at, Point::new(0.0, -1000.0));
        // Back line now up; clockwise from up: to the right.
        assert_eq!(done.legs[1].at, Point::new(1000.0, -1000.0));
        assert_eq!(done.misclosure_mm, Some(0.0));
        assert_eq!(done.ratio, None);
        let open = walk(&square, start, None);
        assert_eq!(open.misclosure_mm, None);
    }

    /// J. Mahun, coordinate geometry chapter, direction-distance: J on azimuth 329°46′45″ to T,
    /// 738.15 from K; the distance J–T is 878.915.
    #[test]
    fn published_direction_distance() {
        let (j, k) = (Point::new(3511.69, 1419.51), Point::new(2341.36, 2056.64));
        let t = j + along_bearing(dms(329.0, 46.0, 45.0)) * 878.915;
        assert!((t.distance(k) - 738.15).abs() < 0.002);
        assert!(t.distance(Point::new(3069.30, 2178.97)) < 0.01);
        let tie = crate::survey::tie([j, k], [878.915, 738.15]).unwrap();
        assert!(tie.right.distance(t) < 0.005, "{tie:?}");
        assert!((bearing(tie.right - j) - dms(329.0, 46.0, 45.0)).abs() < 1e-3);
    }
}
