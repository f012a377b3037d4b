//! Areas and structures as measured: the input of the site.

use crate::geom::{Point, Ring};
use crate::language::{Phrase, phrase};

/// What an edge of the paving meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EdgeKind {
    /// Lawn, planting, a free edge: base and dig extend, edge restraint is laid.
    Open,
    /// A structure's face: water must run away from it.
    Wall,
    /// A kerb, coping, slab or other hard edge that already holds the pavers.
    Flush,
    /// Another paving area.
    Joined,
}

/// One paved area.
#[derive(Clone, Debug, PartialEq)]
pub struct AreaSpec {
    /// Its name.
    pub name: String,
    /// Its outer outline.
    pub outline: OutlineSpec,
    /// Outlines of its holes.
    pub holes: Vec<OutlineSpec>,
}

/// A closed outline with what the job says of its edges.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlineSpec {
    /// The edges in the order written, either way round.
    pub ring: Ring,
    /// One entry per edge of `ring`: the corner it starts at. Empty for a circle.
    pub corners: Vec<CornerSpec>,
    /// What the job says of single edges.
    pub edges: Vec<EdgeSpec>,
}

/// A corner as written.
#[derive(Clone, Debug, PartialEq)]
pub struct CornerSpec {
    /// Where it is.
    pub at: Point,
    /// The name of the measured point it was given by.
    pub name: Option<String>,
}

/// What the job says of one edge.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeSpec {
    /// The edge's name as written: `A-B`, `A-B/2`, `edge`.
    pub name: String,
    /// Its kind, when stated.
    pub kind: Option<EdgeKind>,
    /// Its own base extension in millimetres, when stated.
    pub extension: Option<f64>,
}

/// Something that stands on the site.
#[derive(Clone, Debug, PartialEq)]
pub struct StructureSpec {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: StructureKind,
    /// Its outline on plan.
    pub ring: Ring,
    /// Whether it stands on the finished surface, so that the base runs under it.
    pub on_paving: bool,
}

/// What a structure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the word itself")]
pub enum StructureKind {
    Building,
    Wall,
    Pool,
    Tree,
    Post,
    Step,
    Other,
}

/// Where courses start: a corner of an outline and the edge they run along, by name.
#[derive(Clone, Debug, PartialEq)]
pub struct StartSpec {
    /// The corner's name.
    pub corner: String,
    /// The edge's name.
    pub along: String,
}

/// A buried pipe or cable.
#[derive(Clone, Debug, PartialEq)]
pub struct ServiceSpec {
    /// Its name.
    pub name: String,
    /// What it carries.
    pub kind: ServiceKind,
    /// Its course on plan, two points or more.
    pub line: Vec<Point>,
    /// How deep its top lies, when known.
    pub top: Option<ServiceTop>,
    /// The tolerance zone: within this distance of its course it may lie anywhere, in millimetres.
    pub zone: f64,
}

impl ServiceSpec {
    /// Its name, with what it carries where the name does not say so.
    pub fn called(&self) -> Phrase {
        let kind = self.kind.phrase();
        if self.name == self.kind.word() {
            return kind;
        }
        match self.name.to_lowercase().contains(self.kind.word()) {
            true => Phrase::own(&self.name),
            false => phrase!("{name} ({kind})", name = self.name, kind),
        }
    }
}

/// What a buried service carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the word itself")]
pub enum ServiceKind {
    Gas,
    Water,
    Electric,
    Telecom,
    Sewer,
    Drain,
    Irrigation,
    Other,
}

impl ServiceKind {
    /// The word for it.
    pub fn word(self) -> &'static str {
        self.phrase().word()
    }

    /// The word as a phrase.
    pub fn phrase(self) -> Phrase {
        match self {
            Self::Gas => phrase!("gas"),
            Self::Water => phrase!("water"),
            Self::Electric => phrase!("electric"),
            Self::Telecom => phrase!("telecom"),
            Self::Sewer => phrase!("sewer"),
            Self::Drain => phrase!("drain"),
            Self::Irrigation => phrase!("irrigation"),
            Self::Other => phrase!("buried service"),
        }
    }
}

/// Where the top of a buried service lies, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ServiceTop {
    /// So far below the existing ground.
    Depth(f64),
    /// At this level.
    Level(f64),
}
