//! What the job says of levels. All values in millimetres unless said otherwise.

use crate::geom::Point;
use crate::units::Rod;

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

/// What fills the dig beside the paving once the restraint is nailed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackfillSpec {
    /// How far its top stays below the paving's edge, so that water leaves.
    pub drop: f64,
    /// Thickness of the topsoil at its top; less where the backfill is thinner.
    pub topsoil: f64,
    /// Density of the topsoil, kg/m³.
    pub density: f64,
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
    /// Levels of the treads between sill and paving, from the sill down.
    pub steps: Vec<f64>,
}

/// An existing surface that an edge of the paving must meet.
#[derive(Clone, Debug, PartialEq)]
pub struct FixedEdge {
    /// What it is, such as the drive.
    pub surface: String,
    /// The edge's name.
    pub edge: String,
    /// Its levels along the edge, as measured.
    pub levels: Vec<Spot>,
    /// Largest difference in level between finish and surface.
    pub lip: f64,
}

/// The lowest part of a structure's wall that paving must stay clear of: cladding, weep holes.
#[derive(Clone, Debug, PartialEq)]
pub struct WallLevel {
    /// The structure, by index.
    pub structure: usize,
    /// The paving's edge along it that this level is of; `None` for every edge along it.
    pub edge: Option<String>,
    /// The level of the cladding's foot or the weep holes.
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
    /// What readings on the rod are printed in.
    pub rod: Rod,
    /// Existing surfaces that edges must meet.
    pub fixed: Vec<FixedEdge>,
    /// What walls must be kept clear of.
    pub walls: Vec<WallLevel>,
}
