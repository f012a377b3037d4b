//! The resolved site: lettered corners, named edges with a kind for every stretch, structures, and
//! what was noted on the way. Millimetres.

use super::spec::{EdgeKind, StructureSpec};
use crate::geom::{Edge, Point, Ring, Shape, clip};
use crate::language::{Phrase, phrase};
use crate::units::{Length, Precision, System, print};

/// The site with nothing left open.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Corners, each name once, in the order written.
    pub corners: Vec<Corner>,
    /// Paved areas in the order written.
    pub areas: Vec<SiteArea>,
    /// Structures as given.
    pub structures: Vec<StructureSpec>,
    /// What was put right or looks wrong.
    pub notes: Vec<SiteNote>,
}

/// A named corner.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// Its letter, or the name of the point it was given by.
    pub name: String,
    /// Where it is.
    pub at: Point,
}

/// One paved area.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteArea {
    /// Its name.
    pub name: String,
    /// The outer ring, anticlockwise, then the holes, clockwise: paving is on the left of every
    /// edge.
    pub rings: Vec<SiteRing>,
}

/// One ring of a paved area.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteRing {
    /// Its edges in order along the ring.
    pub edges: Vec<SiteEdge>,
}

/// The name of a circle's only edge, which has no corners to be named by.
pub const ROUND: &str = "edge";

/// An edge where its name stands alone.
pub fn edge_told(name: &str) -> Phrase {
    match name {
        ROUND => phrase!("edge of the circle"),
        edge => phrase!("edge {edge}", edge),
    }
}

/// An edge's name within a sentence: of a circle the sign of its diameter, which the plan letters.
pub fn edge_named(name: &str) -> &str {
    match name {
        ROUND => "Ø",
        edge => edge,
    }
}

/// One edge, from corner to corner.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteEdge {
    /// Its name, first corner as written first: `A-B`, `A-B/2`, or [`ROUND`].
    pub name: String,
    /// Its two corners in the order written, as indices into [`Site::corners`]; `None` for a circle.
    pub corners: Option<[usize; 2]>,
    /// Index of the edge in the outline as written.
    pub written: usize,
    /// Whether the ring runs against the order written, so that the second corner comes first.
    pub against_writing: bool,
    /// Its course along the ring.
    pub edge: Edge,
    /// The kind the job states.
    pub stated_kind: Option<EdgeKind>,
    /// The extension the job states.
    pub stated_extension: Option<f64>,
    /// What it meets, stretch by stretch along the ring; the stretches make up the edge.
    pub stretches: Vec<Stretch>,
}

/// A stretch of an edge that meets one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Its course along the ring.
    pub edge: Edge,
    /// What it meets.
    pub kind: EdgeKind,
    /// Its own base extension, when the job states one.
    pub extension: Option<f64>,
    /// Whether the kind was found by the program rather than stated.
    pub found: bool,
    /// What it runs along, when that is known.
    pub against: Option<Against>,
}

/// What a stretch runs along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Against {
    /// A structure, by index into [`Site::structures`].
    Structure(usize),
    /// Another area, by index into [`Site::areas`].
    Area(usize),
}

/// Where in the job's areas and structures something is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SitePlace {
    /// A structure, by index.
    Structure(usize),
    /// An area as a whole, by index.
    Area(usize),
    /// Something of one outline.
    Outline {
        /// Index of the area.
        area: usize,
        /// 0 for the outer outline, n for the nth hole.
        ring: usize,
        /// What of it.
        item: OutlineItem,
    },
}

/// A part of an outline, indices as written from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OutlineItem {
    /// All of it.
    Whole,
    /// The ith corner.
    Corner(usize),
    /// The edge that starts at the ith corner.
    Edge(usize),
    /// The ith entry under `edges`.
    Entry(usize),
}

/// Why a site is refused.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteError {
    /// Where.
    pub place: SitePlace,
    /// What was found.
    pub found: Phrase,
    /// Where on the site, when that tells more than the place in the job.
    pub at: Option<Point>,
    /// What would be right.
    pub wanted: Phrase,
}

impl SiteError {
    /// What was found, with its place on the site in those units.
    pub fn phrase(&self, system: System) -> Phrase {
        let Some(at) = self.at else {
            return self.found.clone();
        };
        let told = |mm| print::length(Length::from_mm(mm), system, Precision::Drawing);
        phrase!(
            "{found} at x {x}, y {y}",
            found = self.found.clone(),
            x = told(at.x),
            y = told(at.y)
        )
    }
}

/// Something to tell that does not stop the job.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteNote {
    /// Where.
    pub place: SitePlace,
    /// What.
    pub kind: NoteKind,
}

/// Sorts of note.
#[derive(Clone, Debug, PartialEq)]
pub enum NoteKind {
    /// A corner measured a little inside a building or wall was taken as on its face.
    CornerOnFace {
        /// The structure's name.
        structure: String,
        /// How far inside it was measured, in millimetres.
        depth: f64,
    },
    /// An edge named open runs along a building.
    OpenAtWall {
        /// The edge's name.
        edge: String,
        /// The building's name.
        building: String,
    },
}

impl NoteKind {
    /// A sentence for the reader, in the job's units.
    pub fn phrase(&self, system: System) -> Phrase {
        match self {
            NoteKind::CornerOnFace { structure, depth } => phrase!(
                "measured {depth} inside {structure}, taken as on its face",
                depth = print::some(Length::from_mm(*depth), system, Precision::Thickness),
                structure
            ),
            NoteKind::OpenAtWall { edge, building } => phrase!(
                "edge {edge} is named open but runs along {building}",
                edge = edge_named(edge),
                building
            ),
        }
    }
}

impl Site {
    /// The stretches of every edge of every area, in the order written.
    pub fn stretches(&self) -> impl Iterator<Item = &Stretch> {
        let edges = self.areas.iter().flat_map(SiteArea::edges);
        edges.flat_map(|edge| &edge.stretches)
    }

    /// The corner of a name.
    pub fn corner(&self, name: &str) -> Option<&Corner> {
        self.corners.iter().find(|corner| corner.name == name)
    }

    /// The first edge of a name, either order of the corners, with its area's index.
    pub fn edge(&self, name: &str) -> Option<(usize, &SiteEdge)> {
        let edges = self.areas.iter().enumerate().flat_map(|(index, area)| {
            let edges = area.rings.iter().flat_map(|ring| &ring.edges);
            edges.map(move |edge| (index, edge))
        });
        let mut edges = edges;
        edges.find(|(_, edge)| self.bears(edge, name))
    }

    /// The edge of a name on one area, either order of the corners.
    pub fn edge_of(&self, area: usize, name: &str) -> Option<&SiteEdge> {
        let rings = self.areas.get(area)?.rings.iter();
        let mut edges = rings.flat_map(|ring| &ring.edges);
        edges.find(|edge| self.bears(edge, name))
    }

    /// Whether an edge bears a name, either order of the corners.
    pub fn bears(&self, edge: &SiteEdge, name: &str) -> bool {
        if edge.name == name {
            return true;
        }
        let Some([first, last]) = edge.corners else {
            return false;
        };
        let forward = format!("{}-{}", self.corners[first].name, self.corners[last].name);
        let backward = format!("{}-{}", self.corners[last].name, self.corners[first].name);
        // What follows the corners, `/2`, stays behind them.
        [forward, backward].iter().any(|corners| {
            let tail = edge.name.rfind('/').map_or("", |at| &edge.name[at..]);
            let own_tail = tail.len() > 1 && tail[1..].bytes().all(|b| b.is_ascii_digit());
            let tail = if own_tail { tail } else { "" };
            name.strip_prefix(corners.as_str()) == Some(tail)
        })
    }
}

impl SiteArea {
    /// What the area covers, arcs flattened.
    pub fn shape(&self) -> Shape {
        let mut rings = self.rings.iter().map(|ring| clip::shape_of(&ring.ring()));
        let outer = rings
            .next()
            .unwrap_or_else(|| geo::MultiPolygon(Vec::new()));
        let holes: Vec<_> = rings.flatten().collect();
        if holes.is_empty() {
            return outer;
        }
        clip::difference(&outer, &geo::MultiPolygon(holes))
    }

    /// Area in square millimetres, holes taken off, exact for arcs.
    pub fn area_mm2(&self) -> f64 {
        let rings = self.rings.iter();
        rings.map(|ring| ring.ring().signed_area()).sum()
    }

    /// Perimeter in millimetres, holes counted, exact for arcs.
    pub fn perimeter_mm(&self) -> f64 {
        self.rings.iter().map(|ring| ring.ring().perimeter()).sum()
    }

    /// All edges, ring by ring.
    pub fn edges(&self) -> impl Iterator<Item = &SiteEdge> {
        self.rings.iter().flat_map(|ring| &ring.edges)
    }
}

impl SiteRing {
    /// The bare ring.
    pub fn ring(&self) -> Ring {
        Ring {
            edges: self.edges.iter().map(|edge| edge.edge).collect(),
        }
    }
}

impl SiteEdge {
    /// Whether any stretch is of a kind.
    pub fn has(&self, kind: EdgeKind) -> bool {
        self.stretches.iter().any(|stretch| stretch.kind == kind)
    }
}
