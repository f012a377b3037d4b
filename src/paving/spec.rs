//! What the job says of pavers. Millimetres and degrees.

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
}

/// The pattern the field is laid in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the trade's word itself")]
pub enum Bond {
    Running,
    Stack,
    Herringbone,
    Basketweave,
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
    /// Border courses from the outside in.
    pub border: Vec<BorderSpec>,
}
