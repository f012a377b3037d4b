//! What the job says of pavers. Millimetres and degrees.

use crate::geom::Vector;

/// A kind of paver.
#[derive(Clone, Debug, PartialEq)]
pub struct PaverSpec {
    /// Its name under `pavers`.
    pub name: String,
    /// Long side.
    pub length: f64,
    /// Short side.
    pub width: f64,
    /// Thickness.
    pub thickness: f64,
    /// Joint width.
    pub joint: f64,
    /// Pavers on one pallet, when stated.
    pub per_pallet: Option<u32>,
    /// Pavers in one layer of a pallet, when stated.
    pub per_layer: Option<u32>,
    /// Density, kg/m³.
    pub density: f64,
}

/// Whether a unit is laid and settled as a paver or as a slab.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Settled with a plate compactor.
    Paver,
    /// Too large or too thin for one.
    Slab,
}

/// Largest face of a paver, in square millimetres: 101 in².
///
/// # Source
/// ASTM C936, section 5.
pub const LARGEST_FACE: f64 = 101.0 * 645.16;

/// Largest length of a paver over its thickness, for foot traffic and driveways.
///
/// # Source
/// ASTM C936, section 5; Construction Tolerances and Recommendations for Interlocking Concrete
/// Pavements.
pub const LARGEST_ASPECT: f64 = 4.0;

impl PaverSpec {
    /// Paver or slab, by its face and its length over its thickness.
    ///
    /// Hand check: 8 × 4 × 3⅛ in has a face of 32 in² and an aspect of 2.56, a paver; 12 × 12 × 2
    /// in has 144 in² and 6, a slab.
    pub fn form(&self) -> Form {
        let small = self.length * self.width <= LARGEST_FACE * (1.0 + 1e-9);
        if small && self.aspect() <= LARGEST_ASPECT * (1.0 + 1e-9) {
            Form::Paver
        } else {
            Form::Slab
        }
    }

    /// Length over thickness.
    pub fn aspect(&self) -> f64 {
        self.length / self.thickness
    }
}

/// The pattern the field is laid in.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "each is the trade's word itself")]
pub enum Bond {
    Running,
    Stack,
    Herringbone,
    Basketweave,
    /// A repeating cell of the job's own, of one or more sizes.
    Modular(Modular),
}

impl Bond {
    /// Its name as a job writes it.
    pub fn name(&self) -> &str {
        match self {
            Bond::Running => "running",
            Bond::Stack => "stack",
            Bond::Herringbone => "herringbone",
            Bond::Basketweave => "basketweave",
            Bond::Modular(modular) => &modular.name,
        }
    }
}

impl Form {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Form::Paver => "paver",
            Form::Slab => "slab",
        }
    }
}

/// A bond as a repeating cell that the job gives. Its frame is the bond's: the origin at the start
/// corner, x along the start edge, y into the paving. Millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Modular {
    /// Its name under `bonds`.
    pub name: String,
    /// The two steps by which the cell repeats.
    pub steps: [Vector; 2],
    /// The pavers of one cell.
    pub pavers: Vec<ModularPaver>,
}

/// A paver of a cell.
#[derive(Clone, Debug, PartialEq)]
pub struct ModularPaver {
    /// Index into the job's pavers.
    pub paver: usize,
    /// Lower left corner of the paver.
    pub at: [f64; 2],
    /// Whether its long side lies along x or along y.
    pub long_side: Axis,
    /// What it takes up along x and y, its joints at the right and at the top included; `None`: its
    /// size and one joint.
    pub takes: Option<[f64; 2]>,
}

/// An axis of the bond's frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Along the first course.
    X,
    /// From course to course.
    Y,
}

/// How the pavers of a border course stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lay {
    /// Long side square to the edge.
    Soldier,
    /// Long side along the edge.
    Sailor,
}

/// One border course.
#[derive(Clone, Debug, PartialEq)]
pub struct BorderSpec {
    /// Index into the job's pavers.
    pub paver: usize,
    /// How they stand.
    pub lay: Lay,
    /// How its edges meet at corners.
    pub corners: Corners,
}

/// How the edges of a border course meet at a corner between straight edges. At an arc, and where
/// the outline turns by less than 30° or more than 150°, they are mitred.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Corners {
    /// Both cut to the corner's bisector.
    Mitred,
    /// The edge that starts there, going round anticlockwise, runs through; the one that ends
    /// there stops against its inner side.
    Butted,
}

/// Where a bond sits against the start corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shift {
    /// This far along the bond's axes, in millimetres.
    Stated([f64; 2]),
    /// Where a search finds the fewest slivers, then the fewest cuts.
    Best,
}

/// How one area is paved.
#[derive(Clone, Debug, PartialEq)]
pub struct PavingSpec {
    /// Index into the job's pavers.
    pub paver: usize,
    /// The pattern.
    pub bond: Bond,
    /// Turn of the bond from the start edge towards the paving, in degrees.
    pub turn: f64,
    /// Where the bond sits against the start corner.
    pub shift: Shift,
    /// Border courses from the outside in.
    pub border: Vec<BorderSpec>,
}

impl PavingSpec {
    /// A field from the start corner along the start edge, without borders.
    pub fn plain(paver: usize, bond: Bond) -> PavingSpec {
        PavingSpec {
            paver,
            bond,
            turn: 0.0,
            shift: Shift::Stated([0.0, 0.0]),
            border: Vec::new(),
        }
    }
}
