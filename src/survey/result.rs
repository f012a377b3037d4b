//! What the survey gives: points with how they were got, the traverse, and what is wrong.
//! Coordinates and distances in site millimetres, angles in degrees.

use super::traverse::TraverseResult;
use crate::geom::Point;
use crate::language::Phrase;

/// The survey worked through.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// The points: as written, those of the traverse where they were first needed or last.
    pub points: Vec<SurveyPoint>,
    /// The traverse, when there is one and it could be worked.
    pub traverse: Option<TraverseResult>,
    /// What is wrong, in order of place.
    pub errors: Vec<SurveyError>,
}

/// A measured point this near to a place is at it, in millimetres.
const AT_POINT: f64 = 1.0;

impl Survey {
    /// The name of the measured point at a place.
    pub fn name_at(&self, at: Point) -> Option<&str> {
        let mut points = self.points.iter();
        let point = points.find(|point| point.at.distance(at) < AT_POINT)?;
        Some(&point.name)
    }

    /// The place of a named point.
    pub fn at(&self, name: &str) -> Option<Point> {
        self.points
            .iter()
            .find(|point| point.name == name)
            .map(|point| point.at)
    }
}

/// A point with its coordinates.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyPoint {
    /// Its name.
    pub name: String,
    /// Where it is, in site millimetres.
    pub at: Point,
    /// How it was got.
    pub how: How,
    /// The angle at which the tapes of a tie cross, in degrees, 0 to 180.
    pub crossing_deg: Option<f64>,
    /// The other place where the tapes of a tie would meet.
    pub other: Option<Point>,
    /// What further tapes say.
    pub residuals: Vec<Residual>,
}

/// How a point was got.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// By coordinates.
    Given,
    /// By a two-tape tie.
    Tie,
    /// By station and offset.
    Offset,
    /// By a leg of the traverse.
    Traverse,
}

impl How {
    /// The word for it: `given`, `tie`, `offset`, `traverse`.
    pub const fn word(self) -> &'static str {
        match self {
            How::Given => "given",
            How::Tie => "tie",
            How::Offset => "offset",
            How::Traverse => "traverse",
        }
    }
}

/// A further tape compared with the point as placed. Millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Residual {
    /// The point taped from.
    pub from: String,
    /// The distance taped.
    pub measured_mm: f64,
    /// The distance between the points as placed.
    pub computed_mm: f64,
}

impl Residual {
    /// Measured less computed, in millimetres.
    pub fn residual_mm(&self) -> f64 {
        self.measured_mm - self.computed_mm
    }
}

/// Something that cannot be worked.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyError {
    /// Which measurement.
    pub place: ErrorPlace,
    /// What was found.
    pub found: Phrase,
    /// What would be right.
    pub wanted: Phrase,
}

/// Which measurement an error is about. Indices count from 0 in the order written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ErrorPlace {
    /// The point with this index.
    Point(usize),
    /// The traverse's start.
    Start,
    /// The traverse's leg with this index.
    Leg(usize),
}
