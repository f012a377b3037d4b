//! The resolved job. Every default is filled in; what the job did not state is listed in
//! `assumed`.

use std::collections::BTreeMap;

use crate::crew::{AccessSpec, CrewSpec};
use crate::diag::{Diagnostic, Place};
use crate::edging::EdgingSpec;
use crate::geom::Point;
use crate::jointing::JointingSpec;
use crate::language::Languages;
use crate::levels::{BackfillSpec, DrainSpec, FinishSpec, LevelsSpec, Rainfall};
use crate::panels::{CourseStarts, PanelsSpec};
use crate::paving::{PaverSpec, PavingSpec};
use crate::screed::BeddingSpec;
use crate::site::{AreaSpec, StartSpec, StructureSpec};
use crate::survey::{Levelling, LevellingResult, PointSpec, Traverse};
use crate::textile::TextileSpec;

/// One job.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// Who, where, when.
    pub info: Info,
    /// How the sheet is to be drawn.
    pub sheet: SheetSpec,
    /// Named points.
    pub points: Vec<PointSpec>,
    /// The traverse, when there is one.
    pub traverse: Option<Traverse>,
    /// The points as worked: coordinates, crossing angles, misclosure.
    pub survey: crate::survey::Survey,
    /// The run of levelling as booked and as reduced, when there is one.
    pub levelling: Option<(Levelling, LevellingResult)>,
    /// The base line that the job states: names and places of its ends.
    pub base_line: Option<[(String, Point); 2]>,
    /// The site as resolved: corner letters, named edges with their kinds.
    pub site: crate::site::Site,
    /// Structures.
    pub structures: Vec<StructureSpec>,
    /// Buried services.
    pub services: Vec<crate::site::ServiceSpec>,
    /// Paved areas, in order; points are resolved to coordinates.
    pub areas: Vec<AreaSpec>,
    /// How each area is paved, one per area.
    pub paving: Vec<PavingSpec>,
    /// Where each area's pavers start, one per area; `None` for a circle without a stated start.
    pub paving_starts: Vec<Option<StartSpec>>,
    /// Finish plane of each area, one per area.
    pub finishes: Vec<FinishSpec>,
    /// The kinds of paver, in the order written.
    pub pavers: Vec<PaverSpec>,
    /// Base panels.
    pub panels: PanelsSpec,
    /// First panels as laid in the part of the base that an area is on, by area.
    pub course_starts_of: BTreeMap<usize, CourseStarts>,
    /// Density of a panel, kg/m³.
    pub panel_density: f64,
    /// Where the panels start; `None` for a circle without a stated start.
    pub panels_start: Option<StartSpec>,
    /// Base extension past open edges, in millimetres.
    pub base_extension: f64,
    /// Dig extension past open edges, in millimetres.
    pub dig_extension: f64,
    /// Swell of the spoil as a ratio (0.25 is 25 %).
    pub swell: f64,
    /// One load of spoil, in cubic metres.
    pub load: f64,
    /// Density of the loose spoil, kg/m³.
    pub spoil_density: f64,
    /// What fills the dig beside the paving.
    pub backfill: BackfillSpec,
    /// Bedding and rails.
    pub bedding: BeddingSpec,
    /// Geotextile.
    pub textile: TextileSpec,
    /// Edge restraint.
    pub edging: EdgingSpec,
    /// Jointing material.
    pub jointing: JointingSpec,
    /// Levels beside the finish planes.
    pub levels: LevelsSpec,
    /// Drains and outlets of downspouts, in order.
    pub drains: Vec<DrainSpec>,
    /// The rain that drains are to take, when stated.
    pub rainfall: Option<Rainfall>,
    /// Thickness of base and bedding of a conventional build-up, in millimetres, when asked for.
    pub conventional: Option<Conventional>,
    /// Waste as ratios.
    pub waste: Waste,
    /// The crew.
    pub crew: CrewSpec,
    /// The way in, when given.
    pub access: Option<AccessSpec>,
    /// Prices, when given.
    pub prices: Option<Prices>,
    /// Defaults that the job did not state: dotted key and value as a job would write it.
    pub assumed: Vec<Assumed>,
    /// What the program found by itself, printed as found.
    pub found: Vec<Assumed>,
    /// Warnings of the reader.
    pub warnings: Vec<Diagnostic>,
    /// Where each key stands in the file, by dotted path (`levels.finish.fall`,
    /// `paving[0].outline[2]`).
    pub places: BTreeMap<String, Place>,
}

/// Who, where, when.
#[derive(Clone, Debug, Default, PartialEq)]
#[expect(missing_docs, reason = "each is the key of the job file itself")]
pub struct Info {
    pub title: String,
    pub number: Option<String>,
    pub client: Option<String>,
    pub site: Option<String>,
    pub prepared_by: Option<String>,
    pub checked_by: Option<String>,
    /// As `YYYY-MM-DD`.
    pub date: Option<String>,
    pub revisions: Vec<Revision>,
    /// Terms of the offer, printed on a bid sheet.
    pub terms: Vec<String>,
}

/// One row of the revision table.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "each is the key of the job file itself")]
pub struct Revision {
    pub mark: String,
    pub date: Option<String>,
    pub note: String,
    /// What it changed, clouded on the plan: one point, or several that the cloud goes round.
    pub at: Vec<Point>,
}

/// How the sheet is to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetSpec {
    /// Units of what is printed.
    pub units: crate::units::System,
    /// Paper by name, `None` for automatic.
    pub paper: Option<String>,
    /// Landscape or portrait, `None` for automatic.
    pub landscape: Option<bool>,
    /// Scale of the plan.
    pub scale: ScaleChoice,
    /// Clockwise from up the plan to true north, in degrees; `None` when not stated.
    pub north: Option<f64>,
    /// Who the sheets are for.
    pub audience: Audience,
    /// Whom further sets of sheets are for, when more than one audience is named.
    pub further_audiences: Vec<Audience>,
    /// Section lines on plan, in order; empty: one is chosen by the program.
    pub sections: Vec<SectionLine>,
    /// Languages of what is printed.
    pub languages: Languages,
}

/// A section line on plan.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionLine {
    /// The letter at both its ends: `A` for section A–A.
    pub name: String,
    /// From where to where, in site millimetres; the viewer looks to its left.
    pub line: [Point; 2],
}

/// Scale of the plan.
#[derive(Clone, Debug, PartialEq)]
pub enum ScaleChoice {
    /// The largest standard scale that fits.
    Auto,
    /// Site millimetres per paper millimetre, with the text as written.
    Stated(f64, String),
}

/// Who the sheet is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the word itself")]
pub enum Audience {
    Crew,
    Bid,
}

impl Audience {
    /// The word as a job writes it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Crew => "crew",
            Self::Bid => "bid",
        }
    }
}

/// The build-up that the same paver would need otherwise. Millimetres; `density` is the bulk density of
/// the base's aggregate, kg/m³.
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(missing_docs, reason = "each is the key of the job file itself")]
pub struct Conventional {
    pub base: f64,
    pub bedding: f64,
    pub density: f64,
}

/// Waste as ratios (0.05 is 5 %).
#[derive(Clone, Copy, Debug, PartialEq)]
#[expect(missing_docs, reason = "each is the key of the job file itself")]
pub struct Waste {
    pub panels: f64,
    pub pavers: f64,
    pub bedding: f64,
    pub jointing: f64,
    pub geotextile: f64,
}

/// Prices in the job's currency.
#[derive(Clone, Debug, PartialEq)]
pub struct Prices {
    /// Currency code.
    pub currency: String,
    /// Price by item, as dotted under `prices` (`panel`, `paver.field`, `labour_hour`).
    pub items: BTreeMap<String, rust_decimal::Decimal>,
    /// Markup as a ratio.
    pub markup: rust_decimal::Decimal,
    /// Tax as a ratio.
    pub tax: rust_decimal::Decimal,
}

/// A value the job did not state, with its dotted key, as a job would write it.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is what it says")]
pub struct Assumed {
    pub key: String,
    pub value: String,
}
