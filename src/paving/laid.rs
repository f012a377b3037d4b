//! What laying gives: pavers whole and cut, by course, with their joints and saw cuts.
//!
//! Lengths are millimetres, areas square millimetres, places site coordinates. Whole pavers are
//! kept as rows, cut ones as the region that is left of them. Waste, pallets and
//! masses belong to the takeoff.

use std::fmt;

use super::modular::Fault;
use super::unfit::Unfit;
use super::whole::Whole;
use crate::geom::{Point, Shape};
use crate::language::{Phrase, phrase};
use crate::units::{Length, System, print};

/// One area as paved.
#[derive(Clone, Debug)]
pub struct Paving {
    /// The field first, one entry per kind of paver, then the border courses from the outside in.
    pub courses: Vec<Laid>,
    /// The region the field was clipped to: the area inside its border courses.
    pub field: Shape,
    /// Where the bond starts and which way it runs: the start corner or, where the bond is
    /// shifted, the place nearest it that repeats the bond's corner; and a point one paver length
    /// along the first course.
    pub start: Segment,
    /// Centre lines of field joints that run straight and unbroken through the field.
    pub runs: Vec<Segment>,
    /// What the search for the start found, where there was one.
    pub search: Option<Search>,
}

/// What a search for the place of the bond found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Search {
    /// How far the bond was shifted along its own axes, in millimetres.
    pub shift: [f64; 2],
    /// How many places were tried.
    pub tried: usize,
    /// The field's cuts with the bond's corner at the start corner.
    pub fixed: Tally,
    /// The field's cuts at the place found.
    pub best: Tally,
}

/// How a field is cut. Fewer slivers come first, then fewer cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tally {
    /// Cut pavers of less than a third.
    pub slivers: usize,
    /// Cut pavers, slivers among them.
    pub cuts: usize,
}

/// The pavers of one kind in one place.
#[derive(Clone, Debug)]
pub struct Laid {
    /// Field or border course.
    pub place: Place,
    /// Index into the job's pavers.
    pub paver: usize,
    /// The whole pavers.
    pub whole: Whole,
    /// Each paver that the saw has touched, slivers among them.
    pub cut: Vec<CutPaver>,
    /// Pavers needed, cut pieces sharing a paver where two fit one; no waste.
    pub buy: usize,
    /// Total length of saw cut.
    pub cut_length: f64,
    /// Total length of joint between pavers, along centre lines and through crossings.
    pub joint_length: f64,
    /// The widest of these joints: as stated, as the bond makes it up, or as a fan opens it.
    pub widest_joint: f64,
    /// How its pavers go round each arc, for a border course.
    pub arcs: Vec<RoundArc>,
    /// Length times width of each joint, added up: wider than the stated joint where the bond makes
    /// it up.
    pub joint_area: f64,
}

/// How the pavers of a border course go round an arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundArc {
    /// Radius of the arc of the outline, in millimetres.
    pub radius: f64,
    /// Pavers laid along it.
    pub pieces: usize,
    /// How many of them are whole.
    pub whole: usize,
    /// Whole, or cut.
    pub form: RoundForm,
}

/// Whether the pavers of a border course are cut to go round an arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RoundForm {
    /// Whole but at corners: the joints between them open from the first of these widths to the second,
    /// in millimetres.
    Fanned([f64; 2]),
    /// Cut to wedges that stand a joint apart: their widths at the narrow and at the wide end, in
    /// millimetres.
    Wedges([f64; 2]),
}

/// What is left of a paver that the saw has touched.
#[derive(Clone, Debug)]
pub struct CutPaver {
    /// The whole paver it is cut from, at its place.
    pub cell: [Point; 4],
    /// The region that is laid.
    pub shape: Shape,
    /// Its area.
    pub area: f64,
    /// Cut or sliver.
    pub state: CutState,
}

/// How much is left of a cut paver.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CutState {
    /// At least a third of the paver's area.
    Cut,
    /// Less than a third of the paver's area.
    Sliver,
}

/// Where pavers of an area lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// Inside the border courses.
    Field,
    /// The border course of this number, counted from 1 at the outside.
    Border(usize),
}

impl Place {
    /// What the place is called in the area of that name.
    pub fn in_area(self, area: &str) -> Phrase {
        match self {
            Place::Field => Phrase::own(area),
            Place::Border(number) => phrase!("{area}, border {number}", area, number),
        }
    }
}

/// A straight stretch on site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

/// Why an area cannot be paved as asked.
#[derive(Clone, Debug, PartialEq)]
pub enum PavingError {
    /// The bond cannot be laid with this paver.
    Bond(Unfit),
    /// The bond's cell does not tile.
    Cell(Fault),
    /// An index of the job's pavers is out of range.
    NoPaver(usize),
    /// The border courses leave no field.
    NoField {
        /// How many of them take all of it.
        courses: usize,
        /// How far they reach in from every edge, in millimetres.
        depth: f64,
    },
    /// More pavers than is reasonable.
    TooMany,
}

/// Most pavers that one area may take.
pub const MOST_PAVERS: usize = 5_000_000;

/// A cut paver of less than this share of its area is a sliver. Common practice, no source.
pub const SLIVER_SHARE: f64 = 1.0 / 3.0;

impl Laid {
    /// A kind of paver of which nothing is laid yet.
    pub fn nothing(place: Place, paver: usize) -> Laid {
        Laid {
            place,
            paver,
            whole: Whole::default(),
            cut: Vec::new(),
            buy: 0,
            cut_length: 0.0,
            joint_length: 0.0,
            joint_area: 0.0,
            widest_joint: 0.0,
            arcs: Vec::new(),
        }
    }

    /// Number of pavers that are cut, slivers among them.
    pub fn cut_count(&self) -> usize {
        self.cut.len()
    }

    /// Number of cut pavers that are slivers.
    pub fn sliver_count(&self) -> usize {
        self.cut
            .iter()
            .filter(|piece| piece.state == CutState::Sliver)
            .count()
    }
}

impl Paving {
    /// Total joint length of field and borders, in millimetres.
    pub fn joint_length(&self) -> f64 {
        self.courses.iter().map(|laid| laid.joint_length).sum()
    }
}

impl Segment {
    /// Length, in millimetres.
    pub fn length(&self) -> f64 {
        self.from.distance(self.to)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Field => write!(out, "field"),
            Place::Border(number) => write!(out, "border-{number}"),
        }
    }
}

impl PavingError {
    /// What is wrong, in words.
    pub fn phrase(&self, system: System) -> Phrase {
        match self {
            PavingError::Bond(unfit) => unfit.phrase(system),
            PavingError::Cell(fault) => fault.phrase(system),
            PavingError::NoField { courses, depth } => phrase!(
                "border course {number} leaves no field: the courses take {depth} from every edge",
                number = *courses,
                depth = print::taped(Length::from_mm(*depth), system)
            ),
            PavingError::NoPaver(index) => Unfit::NoPaver(*index).phrase(system),
            PavingError::TooMany => {
                phrase!("more than {most} pavers in one area", most = MOST_PAVERS)
            }
        }
    }
}

impl fmt::Display for PavingError {
    /// The English words, sizes in millimetres.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.phrase(System::Metric).fmt(out)
    }
}

impl std::error::Error for PavingError {}
