//! Edge restraint along open edges: pieces, cuts, holes and nails, with their positions.
//!
//! In: the open edges and what the job says of the restraint. Out: every piece as laid, with its
//! foot's outline and its nails in the site frame, and what to buy. Millimetres. Mitres where
//! edges meet at a corner are left to the crew: each edge is laid from corner to corner.

mod clear;
mod lay;
mod spec;

pub use clear::{Spared, keep_clear};
pub use lay::lay;
pub use spec::EdgingSpec;

use crate::geom::{Edge, Point, Shape};

/// One named open edge: straight and arc stretches, each starting where the one before ends.
/// The paving lies to the left going along, so the restraint lies to the right.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeRun {
    /// The edge's name.
    pub name: String,
    /// Its stretches in order.
    pub edges: Vec<Edge>,
}

/// The restraint of all the open edges.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Edging {
    /// Exact length along the edges.
    pub length_mm: f64,
    /// Pieces to buy: those laid whole and those that the remainders are cut from.
    pub pieces: usize,
    /// Nails.
    pub nails: usize,
    /// Boxes of nails, when the job says how many are in one.
    pub boxes: Option<usize>,
    /// Edge by edge, in the order given.
    pub by_edge: Vec<EdgeRestraint>,
}

/// The restraint of one edge.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeRestraint {
    /// The edge's name.
    pub edge: String,
    /// Exact length along the edge.
    pub length_mm: f64,
    /// How many whole pieces it takes.
    pub whole: usize,
    /// Length of the cut piece that ends it; zero when whole pieces fill it.
    pub remainder_mm: f64,
    /// Nails along it.
    pub nails: usize,
    /// The pieces in order, whole ones first.
    pub laid: Vec<LaidPiece>,
}

impl EdgeRestraint {
    /// The tightest radius that a piece of it is bent to; `None` where it is straight.
    pub fn bend_mm(&self) -> Option<f64> {
        let bends = self.laid.iter().filter_map(|piece| piece.bend_mm);
        bends.min_by(f64::total_cmp)
    }
}

/// One piece of edge restraint as laid.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidPiece {
    /// Where along the edge it starts.
    pub station_mm: f64,
    /// Its length along the edge.
    pub length_mm: f64,
    /// For a cut piece, which of the pieces bought for cutting it comes from, numbered from 0
    /// across all the edges; `None` for a whole piece.
    pub cut_from: Option<usize>,
    /// Outline of its foot in the site frame.
    pub outline: Shape,
    /// Radius of the paving's edge that it is bent to, the tightest along it; `None` for a
    /// straight piece.
    pub bend_mm: Option<f64>,
    /// Its nails in the site frame, in order along the edge: half the foot's width outside the
    /// paving's edge.
    pub nails: Vec<Point>,
}
