//! The design: every computation run in order, and its result held in one place.
//!
//! In: a resolved job. Out: [`Design`], which the takeoff, the checks, the report and the sheets
//! read; none of them computes geometry again. Millimetres unless a name says otherwise.

pub mod base;
pub mod dig;
pub mod setout;
pub mod work;

pub use base::{BasePart, Totals};
pub use dig::{Dig, DigPart};
pub use setout::SetoutRow;
pub use work::run;

use crate::edging::Edging;
use crate::geom::{Frame, Point, Shape, Vector};
use crate::job::Job;
use crate::jointing::Jointing;
use crate::levels::{BuildUp, Plane};
use crate::paving::{Paving, Segment};
use crate::screed::{Bedding, Rails};
use crate::site::Extents;
use crate::textile::Textile;

/// Everything computed for one job.
#[derive(Clone, Debug)]
pub struct Design {
    /// The job it was computed from.
    pub job: Job,
    /// Paved union, base outline and dig outline.
    pub extents: Extents,
    /// The areas, in the job's order.
    pub areas: Vec<AreaDesign>,
    /// The parts of the base, each with its own start; one unless panel tops break it.
    pub base: Vec<BasePart>,
    /// Totals over the parts of the base.
    pub panels: Totals,
    /// The dig.
    pub dig: Dig,
    /// Edge restraint.
    pub edging: Edging,
    /// Screed rails.
    pub rails: Rails,
    /// Bedding.
    pub bedding: Bedding,
    /// Geotextile.
    pub textile: Textile,
    /// Jointing material, waste included in the bags.
    pub jointing: Jointing,
    /// Panel joints under straight paver joints.
    pub joints_over_joints: JointsUnder,
    /// Set-out and levels, corner by corner.
    pub setout: Vec<SetoutRow>,
    /// The base line that ties are taken from: names and places of its ends.
    pub base_line: [(String, Point); 2],
    /// The direction the rails run: down the fall.
    pub downhill: Vector,
    /// Section line A–A.
    pub section: [Point; 2],
}

/// One area as designed.
#[derive(Clone, Debug)]
pub struct AreaDesign {
    /// Its name.
    pub name: String,
    /// Its outline, flattened, less its holes.
    pub shape: Shape,
    /// Area in square metres, arcs exact.
    pub area_m2: f64,
    /// Perimeter in metres, holes and joined edges included, arcs exact.
    pub perimeter_m: f64,
    /// Its finish plane.
    pub plane: Plane,
    /// Its layers.
    pub build_up: BuildUp,
    /// Frame of the start corner of its pavers.
    pub frame: Frame,
    /// Its pavers.
    pub paving: Paving,
}

/// Panel joints that lie under a straight run of paver joint.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JointsUnder {
    /// Total length, in millimetres.
    pub length_mm: f64,
    /// Share of the panel joint that lies under the field.
    pub share: f64,
    /// Length along the worst line, in millimetres.
    pub worst_mm: f64,
    /// Where they lie.
    pub at: Vec<Segment>,
}
