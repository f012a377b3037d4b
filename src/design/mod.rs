//! The design: every computation run in order, and its result held in one place.
//!
//! In: a resolved job. Out: [`Design`], which the takeoff, the checks, the report and the sheets
//! read; none of them computes geometry again. Millimetres unless a name says otherwise.

mod angles;
mod base;
pub mod base_line;
pub mod circles;
pub mod dig;
pub mod earth;
mod features;
pub mod field;
pub mod parts;
pub mod rail_ties;
mod runs;
pub mod section;
pub mod services;
pub mod setout;
pub mod water;
pub mod work;

pub use angles::CornerAngle;
pub use base::{BasePart, Totals};
pub use circles::Quarters;
pub use dig::Dig;
pub use earth::EarthPlan;
pub use features::{Feature, What};
pub use field::{ArcSetout, Field, Proof, SquareCorner, StakeSet};
pub use rail_ties::RailRun;
pub use services::ServiceDesign;
pub use setout::{SetoutRow, StepLevels};
pub use water::DrainDesign;
pub use work::run;

use crate::edging::Edging;
use crate::geom::{Frame, Point, Shape, Vector, clip};
use crate::job::{Job, SectionLine};
use crate::jointing::Jointing;
use crate::levels::water::bank::Bank;
use crate::levels::{Backfill, BuildUp, Meet, Plane, Water};
use crate::panels::{CrossJoints, Purchase};
use crate::paving::{OverJoints, Paving};
use crate::screed::{Bedding, Rails};
use crate::site::Extents;
use crate::textile::Textile;
use crate::units::System;

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
    /// Panels to buy, and which pieces share one.
    pub purchase: Purchase,
    /// Cross joints of all parts, found from the pieces as laid.
    pub cross_joints: CrossJoints,
    /// Totals over the parts of the base.
    pub panels: Totals,
    /// Where areas meet: steps, valleys, ridges.
    pub meets: Vec<Meet>,
    /// Where the water of the paving leaves.
    pub water: Water,
    /// The drains as designed, one for each of the job's.
    pub drains: Vec<DrainDesign>,
    /// The ground beyond the edges that water leaves over, where spot levels tell it.
    pub banks: Vec<Bank>,
    /// The dig.
    pub dig: Dig,
    /// The existing ground and the depth of the dig on plan, when spot levels are given.
    pub earth: Option<EarthPlan>,
    /// Buried services, in the job's order.
    pub services: Vec<ServiceDesign>,
    /// What fills the dig beside the paving.
    pub backfill: Backfill,
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
    pub joints_over_joints: OverJoints,
    /// Set-out and levels, corner by corner.
    pub setout: Vec<SetoutRow>,
    /// The quarter points of circles, which stand among the corners of the set-out.
    pub quarters: Vec<Quarters>,
    /// Set-out beside the corners: stakes, proofs, arcs, features.
    pub field: Field,
    /// The base line that ties are taken from: names and places of its ends.
    pub base_line: [(String, Point); 2],
    /// The direction the rails run: down the fall.
    pub downhill: Vector,
    /// Section lines in order, A–A first; never empty.
    pub sections: Vec<SectionLine>,
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

impl AreaDesign {
    /// Whether a point lies on the area or within a millimetre of it.
    pub fn shape_touches(&self, at: Point) -> bool {
        clip::distance(&self.shape, at) <= 1.0
    }
}

impl Design {
    /// How far apart the points along a curve are marked on a panel, in millimetres: 6 in or
    /// 150 mm, common practice, no source.
    pub fn marks_every(&self) -> f64 {
        match self.job.sheet.units {
            System::Metric => 150.0,
            System::FeetInches | System::Dual => 152.4,
        }
    }

    /// The names of some areas, as one.
    pub fn area_names(&self, areas: &[usize]) -> String {
        let names = areas.iter().map(|&index| self.areas[index].name.as_str());
        names.collect::<Vec<_>>().join(", ")
    }

    /// The buried services whose band to dig by hand meets the dig.
    pub fn near_services(&self) -> impl Iterator<Item = &ServiceDesign> {
        let services = self.services.iter();
        services.filter(|service| !service.buried.band.0.is_empty())
    }

    /// The banks that hold the water until they are graded away.
    pub fn holding_banks(&self) -> impl Iterator<Item = &Bank> {
        self.banks.iter().filter(|bank| bank.holds())
    }

    /// The area nearest a point.
    pub fn area_nearest(&self, at: Point) -> Option<&AreaDesign> {
        self.areas
            .iter()
            .min_by(|a, b| clip::distance(&a.shape, at).total_cmp(&clip::distance(&b.shape, at)))
    }
}
