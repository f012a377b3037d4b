//! What the plan shows, in plain geometry and finished words: the step between the computed
//! design and the marks on paper.
//!
//! Site millimetres, x right, y up; words are ready to print.

use std::sync::Arc;

use super::dimension::Origin;
use crate::geom::{Point, Vector};
use crate::language::Languages;
use crate::levels::Held;
use crate::paving::Whole;
use crate::site::StructureKind;
use crate::units::System;

/// Everything that the plan shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanModel {
    /// Units of the words.
    pub units: System,
    /// Languages of the words.
    pub languages: Languages,
    /// Structures.
    pub structures: Vec<Structure>,
    /// Faces of walls that no structure stands for, with the paving on their left.
    pub walls: Vec<Vec<Point>>,
    /// Paved areas.
    pub areas: Vec<Area>,
    /// Lettered corners.
    pub corners: Vec<Corner>,
    /// Rings of the base outline.
    pub base: Vec<Vec<Point>>,
    /// Rings of the dig outline.
    pub dig: Vec<Vec<Point>>,
    /// Panels as laid.
    pub pieces: Vec<Piece>,
    /// Courses of panels.
    pub courses: Vec<Course>,
    /// The foot of the edge restraint, piece by piece.
    pub edging: Vec<Vec<Point>>,
    /// Nails.
    pub nails: Vec<Point>,
    /// Stretches of panel joint under straight paver joints, where they are shown.
    pub joints_over_joints: Vec<[Point; 2]>,
    /// Screed rails.
    pub rails: Vec<[Point; 2]>,
    /// Words of the rails' spacing where no chain gives it.
    pub rail_words: Option<String>,
    /// Dimensions.
    pub chains: Vec<SiteChain>,
    /// What the parts of a large plan take their dimensions from.
    pub stations: Vec<Stations>,
    /// Radii and diameters.
    pub radii: Vec<Radius>,
    /// Section lines: the letter at their ends, and from where to where.
    pub sections: Vec<(String, [Point; 2])>,
    /// Sills: name, level, place.
    pub sills: Vec<(String, Point)>,
    /// Edges where areas meet, with what is lettered along them.
    pub shared_edges: Vec<SharedEdge>,
    /// Edges along existing surfaces, with the names of the surfaces.
    pub surfaces: Vec<SharedEdge>,
    /// Drains and outlets of downspouts.
    pub drains: Vec<Drain>,
    /// Buried services.
    pub services: Vec<Service>,
    /// The ground and the depth of dig, on the plan that is about them.
    pub earth: Option<Earth>,
    /// What a plan that shows only a part is cut to.
    pub window: Option<Window>,
    /// Match lines of an overview.
    pub match_lines: Vec<MatchLine>,
    /// Names of the parts that an overview is split into, and their middles.
    pub parts: Vec<(String, Point)>,
    /// What the newest revision changed.
    pub clouds: Vec<Cloud>,
    /// Base line and stakes, on the plan that is about them.
    pub setout: Option<Setout>,
    /// Places of what the checks found.
    pub troubles: Vec<Trouble>,
}

/// What the corners are set out from, and the strings along the edges.
#[derive(Clone, Debug, PartialEq)]
pub struct Setout {
    /// The base line's ends with their names.
    pub base_line: [(String, Point); 2],
    /// The words along it.
    pub words: String,
    /// The ends of the strings.
    pub stakes: Vec<StakeMark>,
    /// Corners that are neither square nor straight.
    pub angles: Vec<AngleMark>,
    /// What else is taped.
    pub points: Vec<Taped>,
    /// The runs of rails that are taped, with their names.
    pub rails: Vec<(String, [Point; 2])>,
}

/// A point beside the corners that is taped.
#[derive(Clone, Debug, PartialEq)]
pub struct Taped {
    /// Where it is.
    pub at: Point,
    /// Its words; none where the plan has them already.
    pub words: String,
    /// Its words where the name of the structure whose middle it is stands on the plan; none for
    /// what is no middle.
    pub of_middle: Option<String>,
}

/// The angle of a corner.
#[derive(Clone, Debug, PartialEq)]
pub struct AngleMark {
    /// The corner.
    pub at: Point,
    /// Directions of its sides at unit length; the angle opens anticlockwise from the first.
    pub sides: [Vector; 2],
    /// Lengths of the sides.
    pub lengths: [f64; 2],
    /// The angle.
    pub degrees: f64,
    /// Its words.
    pub words: String,
}

/// One end of a string.
#[derive(Clone, Debug, PartialEq)]
pub struct StakeMark {
    /// Its name.
    pub name: String,
    /// The corner that the string runs on from.
    pub corner: Point,
    /// Where it is held.
    pub at: Point,
    /// The direction in which the string runs past the corner, at unit length.
    pub beyond: Vector,
    /// How it is held.
    pub held: Held,
}

/// The place of what a check found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trouble {
    /// Its number in the list of checks.
    pub number: usize,
    /// Which of several places of that number it is, from 1.
    pub fault: Option<usize>,
    /// Where it is.
    pub at: Point,
}

impl Trouble {
    /// What its sign says: `2`, or `2.5` for the fifth of several places.
    pub fn words(&self) -> String {
        match self.fault {
            Some(fault) => format!("{}.{fault}", self.number),
            None => self.number.to_string(),
        }
    }
}

/// What a plan is cut to, with the match lines at its inner sides.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Lowest and highest corner.
    pub corners: [Point; 2],
    /// Sides beyond which nothing is dug: left, right, bottom, top.
    pub open: [bool; 4],
    /// Where it meets its neighbours; they lie inside it by the lap.
    pub lines: Vec<MatchLine>,
}

/// A line along which two parts of a plan meet.
#[derive(Clone, Debug, PartialEq)]
pub struct MatchLine {
    /// Its ends.
    pub ends: [Point; 2],
    /// Which part lies beyond; may be empty.
    pub words: String,
}

/// A cloud round what a revision changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloud {
    /// The revision's mark.
    pub mark: String,
    /// What it goes round.
    pub points: Vec<Point>,
}

/// An edge where two areas meet, or where the paving meets an existing surface.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedEdge {
    /// Its name.
    pub name: String,
    /// Its course.
    pub run: Vec<Point>,
    /// The place half way along.
    pub middle: Point,
    /// The words along it.
    pub words: String,
}

/// A drain or the outlet of a downspout.
#[derive(Clone, Debug, PartialEq)]
pub struct Drain {
    /// The grate's corners; empty for a downspout.
    pub grate: Vec<Point>,
    /// Its middle.
    pub at: Point,
    /// Its words, line by line.
    pub words: Vec<String>,
}

/// A structure.
#[derive(Clone, Debug, PartialEq)]
pub struct Structure {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: StructureKind,
    /// Whether it stands on the paving, which runs under it.
    pub on_paving: bool,
    /// Its outline.
    pub ring: Vec<Point>,
}

/// A paved area.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Area {
    /// Its name.
    pub name: String,
    /// Outline and holes.
    pub rings: Vec<Vec<Point>>,
    /// The way water runs, and the words of the fall; none when it is level.
    pub fall: Option<(Vector, String)>,
    /// Whether its name is lettered on it.
    pub named: bool,
    /// Pavers of the part-field, each as a ring.
    pub pavers: Vec<Vec<Point>>,
    /// What the part-field is cut to: the broken edge runs from the first point to the last but
    /// one, the last closes the ring round the start corner.
    pub patch: Vec<Point>,
    /// Every paver, by course, where the finished surface is shown whole; else empty. Shared by all
    /// copies of the plan: there may be millions.
    pub surface: Arc<Vec<Surface>>,
    /// How the surface is filled.
    pub filling: Filling,
    /// Where the pavers start, where that is shown.
    pub start: Option<Start>,
}

/// How the pavers of a surface are filled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Filling {
    /// Tinted by course, as the client will see it.
    #[default]
    Tinted,
    /// By what is sawn: whole pavers blank, cut ones hatched, slivers filled.
    BySaw,
}

/// The pavers of one course of the finished surface, those that are cut as rings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Surface {
    /// 0 for the field, else the number of the border course from the outside in.
    pub border: usize,
    /// Whole pavers.
    pub whole: Whole,
    /// Pavers that are cut.
    pub cut: Vec<Vec<Point>>,
    /// Cut pavers that are slivers.
    pub slivers: Vec<Vec<Point>>,
}

/// Where the pavers of an area start: the place, a point along the first course, and the words.
#[derive(Clone, Debug, PartialEq)]
pub struct Start {
    /// The place and a point along the first course.
    pub line: [Point; 2],
    /// Where the bond is shifted: the start corner, and the foot of the place on the start edge.
    pub measured: Option<[Point; 2]>,
    /// The bond and its turn, and how far a shifted bond starts from the start corner.
    pub words: Vec<String>,
}

/// A lettered corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// Its letter or name.
    pub name: String,
    /// Where it is.
    pub at: Point,
    /// Away from the paving.
    pub outward: Vector,
    /// Finish over formation; of each area where they meet at a step, highest first.
    pub levels: Vec<CornerLevels>,
}

/// The levels lettered at a corner.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CornerLevels {
    /// Whose they are; empty where all that meets there has them.
    pub area: String,
    /// Finish level.
    pub finish: String,
    /// Formation level.
    pub formation: String,
}

/// A panel as laid.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Number of its course.
    pub course: usize,
    /// Its mark.
    pub mark: String,
    /// Its outline.
    pub rings: Vec<Vec<Point>>,
    /// Where its mark may stand: its middle.
    pub middle: Point,
    /// Whether it is trimmed.
    pub trimmed: bool,
}

/// A course of panels.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Its number.
    pub number: usize,
    /// How far from the start line it begins; under zero behind it.
    pub from_start_mm: f64,
    /// Its number and the length of its first piece.
    pub words: String,
    /// The middle of the end it starts at.
    pub at: Point,
    /// The way it runs.
    pub along: Vector,
}

/// A chain of dimensions on site.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteChain {
    /// The features, in order: one more than there are words.
    pub features: Vec<Point>,
    /// The words of each span.
    pub words: Vec<String>,
    /// Which side of the dig the dimension line runs on: unit vector out of the dig.
    pub outward: Vector,
    /// Which line from the dig, from 0.
    pub tier: usize,
    /// For running dimensions where they count from; the words of a span are then those of its end
    /// away from there.
    pub origin: Option<Origin>,
}

/// How far corners lie along a direction from one end of the base line.
#[derive(Clone, Debug, PartialEq)]
pub struct Stations {
    /// The direction.
    pub along: Vector,
    /// Which side of the dig its dimension lines run on, where there is a choice.
    pub outward: Vector,
    /// Where they count from.
    pub from: Point,
    /// Its name.
    pub name: String,
    /// The corners in order, with their distances in words.
    pub corners: Vec<(Point, String)>,
}

/// A radius or a diameter.
#[derive(Clone, Debug, PartialEq)]
pub struct Radius {
    /// The centre of the arc.
    pub centre: Point,
    /// Points on the arc, its middle first, each with the direction there that is square to the arc
    /// and leads out of the paving, at unit length.
    pub places: Vec<(Point, Vector)>,
    /// The words.
    pub words: String,
}

/// A buried service.
#[derive(Clone, Debug, PartialEq)]
pub struct Service {
    /// Its name, and that it is dug by hand where it is near the dig.
    pub words: String,
    /// Its course.
    pub line: Vec<Point>,
    /// Rings of the band of the dig within its tolerance zone.
    pub bands: Vec<Vec<Point>>,
}

/// The existing ground and how deep the dig is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Earth {
    /// Contours: level, and runs of points.
    pub contours: Vec<(String, Vec<Vec<Point>>)>,
    /// Spot levels.
    pub spots: Vec<(Point, String)>,
    /// Depths of dig on a grid.
    pub depths: Vec<(Point, String)>,
    /// Least and greatest depth.
    pub extremes: Vec<(Point, String)>,
    /// Where the formation meets the ground.
    pub no_depth: Vec<[Point; 2]>,
    /// Where the ground outside an edge stands highest above its finish, with its height.
    pub banks: Vec<(Point, String)>,
}
