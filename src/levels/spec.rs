//! What the job says of levels. All values in millimetres unless said otherwise.

use crate::geom::Point;

/// A spot level of the existing ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Where it was taken.
    pub at: Point,
    /// The level.
    pub level: f64,
}

/// The level that all others are measured from.
#[derive(Clone, Debug, PartialEq)]
pub struct Datum {
    /// What it is, such as the back door sill.
    pub name: String,
    /// Its level.
    pub level: f64,
}

/// The finish plane of one area.
#[derive(Clone, Debug, PartialEq)]
pub struct FinishSpec {
    /// Where the level is stated.
    pub at: Point,
    /// The finish level there.
    pub level: f64,
    /// The fall as rise over run.
    pub fall: f64,
    /// Which way it falls.
    pub direction: FallDirection,
}

/// Which way a plane falls.
#[derive(Clone, Debug, PartialEq)]
pub enum FallDirection {
    /// Square away from an edge, by name, into the paving.
    AwayFrom(String),
    /// Towards a bearing, in degrees clockwise from up the plan.
    Towards(f64),
}

/// The layers between finish and formation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BuildUp {
    /// Paver thickness.
    pub paver: f64,
    /// Panel thickness.
    pub panel: f64,
    /// Bedding as spread.
    pub bedding_loose: f64,
    /// Bedding once compacted.
    pub bedding_compacted: f64,
}

impl BuildUp {
    /// Finish to formation: paver, panel and compacted bedding.
    pub fn total(self) -> f64 {
        self.paver + self.panel + self.bedding_compacted
    }
}

/// A sill that paving must stay below.
#[derive(Clone, Debug, PartialEq)]
pub struct SillSpec {
    /// Its name.
    pub name: String,
    /// Where it is.
    pub at: Point,
    /// Its level.
    pub level: f64,
    /// How far below it the paving must stay.
    pub clear: f64,
}

/// What the job says of levels beside the finish planes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LevelsSpec {
    /// The datum, when stated.
    pub datum: Option<Datum>,
    /// Least fall as rise over run, when stated.
    pub minimum_fall: Option<f64>,
    /// Sills, in order.
    pub sills: Vec<SillSpec>,
    /// Height of the laser's plane, when stated.
    pub instrument: Option<f64>,
    /// Existing spot levels.
    pub ground: Vec<Spot>,
}
