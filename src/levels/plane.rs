//! The finish plane of an area and any plane parallel to it.
//!
//! In: a place, the level there, a fall and the way downhill. Out: the level anywhere. A plane is
//! z(p) = level + gradient · (p − at); levels and coordinates in millimetres, the gradient in
//! millimetres per millimetre and pointing uphill.

use super::spec::{BuildUp, FallDirection, FinishSpec};
use crate::geom::{Point, Vector};
use crate::survey::traverse::{along_bearing, bearing};

/// A plane of levels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Where the level is stated.
    pub at: Point,
    /// The level there, in millimetres.
    pub level: f64,
    /// Rise per millimetre to the right and up the plan: points uphill.
    pub gradient: Vector,
}

impl Plane {
    /// A level plane.
    pub fn flat(level: f64) -> Self {
        Self {
            at: Point::default(),
            level,
            gradient: Vector::default(),
        }
    }

    /// The plane through `level` at `at` that falls by `fall` (rise over run) along the unit
    /// vector `downhill`.
    pub fn falling(at: Point, level: f64, fall: f64, downhill: Vector) -> Self {
        Self {
            at,
            level,
            gradient: downhill * -fall,
        }
    }

    /// The finish plane of an area; `away` is the unit vector square to the edge it falls away
    /// from, into the paving (see [`away_from`]), used when the area says so.
    pub fn finish(spec: &FinishSpec, away: Vector) -> Self {
        let downhill = match spec.direction {
            FallDirection::AwayFrom(_) => away,
            FallDirection::Towards(bearing) => towards(bearing),
        };
        Self::falling(spec.at, spec.level, spec.fall, downhill)
    }

    /// The level at a point, in millimetres.
    pub fn level_at(&self, point: Point) -> f64 {
        self.level + self.gradient.dot(point - self.at)
    }

    /// The plane `depth` millimetres below.
    pub fn lowered(&self, depth: f64) -> Self {
        Self {
            level: self.level - depth,
            ..*self
        }
    }

    /// The formation under a finish plane: finish less paver, panel and compacted bedding.
    pub fn formation(&self, build_up: BuildUp) -> Self {
        self.lowered(build_up.total())
    }

    /// The fall as rise over run, never negative.
    pub fn fall(&self) -> f64 {
        self.gradient.length()
    }

    /// The bearing downhill, in degrees clockwise from up the plan, 0 to 360; `None` for a level
    /// plane.
    pub fn towards_deg(&self) -> Option<f64> {
        self.downhill().map(bearing)
    }

    /// The unit vector downhill; `None` for a level plane.
    pub fn downhill(&self) -> Option<Vector> {
        (-self.gradient).unit()
    }

    /// The fall along a unit vector: positive where it leads downhill.
    pub fn fall_along(&self, direction: Vector) -> f64 {
        -self.gradient.dot(direction)
    }
}

/// The unit vector of a bearing in degrees clockwise from up the plan; quarter turns are exact.
pub fn towards(bearing: f64) -> Vector {
    along_bearing(bearing)
}

/// The unit vector square to an edge and into the paving, which lies left of the edge's way
/// (outer rings anticlockwise, holes clockwise); `None` for an edge of no length. For an arc edge
/// give the chord.
pub fn away_from(edge: [Point; 2]) -> Option<Vector> {
    (edge[1] - edge[0]).unit().map(Vector::left)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn finish(direction: FallDirection) -> FinishSpec {
        FinishSpec {
            at: Point::new(1000.0, 0.0),
            level: 500.0,
            fall: 0.02,
            direction,
        }
    }

    #[test]
    fn falls_away_from_the_edge_into_the_paving() {
        let away = away_from([Point::new(0.0, 0.0), Point::new(4000.0, 0.0)]).unwrap();
        let plane = Plane::finish(&finish(FallDirection::AwayFrom("A-B".into())), away);
        assert_eq!(plane.level_at(Point::new(3000.0, 0.0)), 500.0);
        assert!((plane.level_at(Point::new(3000.0, 1000.0)) - 480.0).abs() < 1e-9);
        assert_eq!(plane.towards_deg(), Some(0.0));
        assert_eq!(plane.fall(), 0.02);
    }

    #[test]
    fn bearings_go_clockwise_from_up_the_plan() {
        for bearing in [0.0, 37.0, 90.0, 180.0, 270.0, 315.0] {
            let plane = Plane::finish(&finish(FallDirection::Towards(bearing)), Vector::default());
            assert!((plane.towards_deg().unwrap() - bearing).abs() < 1e-9);
        }
        let right = Plane::finish(&finish(FallDirection::Towards(90.0)), Vector::default());
        assert!((right.level_at(Point::new(2000.0, 7.0)) - 480.0).abs() < 1e-9);
        assert_eq!(right.fall_along(Vector::new(1.0, 0.0)), 0.02);
        assert_eq!(Plane::flat(3.0).towards_deg(), None);
    }

    /// A quarter inch per foot is 1:48, 2.0833 %, 1.1935° (arithmetic; BIA Technical Note 14A
    /// gives the quarter inch): over 12 ft the finish drops 3 in.
    #[test]
    fn a_quarter_inch_per_foot() {
        let fall: f64 = 6.35 / 304.8;
        assert!((fall - 1.0 / 48.0).abs() < 1e-12);
        assert!((libm::atan(fall).to_degrees() - 1.1935).abs() < 5e-5);
        let plane = Plane::falling(Point::default(), 0.0, fall, Vector::new(0.0, 1.0));
        assert!((plane.level_at(Point::new(0.0, 12.0 * 304.8)) + 3.0 * 25.4).abs() < 1e-9);
    }

    /// 3 1/8 in paver, 3/4 in panel and 1/2 in of compacted bedding make a dig of 4 3/8 in
    /// (common practice, no source).
    #[test]
    fn formation_is_below_the_build_up() {
        let build_up = BuildUp {
            paver: 3.125 * 25.4,
            panel: 0.75 * 25.4,
            bedding_loose: 0.75 * 25.4,
            bedding_compacted: 0.5 * 25.4,
        };
        let formation = Plane::flat(100.0).formation(build_up);
        assert!((100.0 - formation.level - 4.375 * 25.4).abs() < 1e-9);
    }
}
