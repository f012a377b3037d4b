//! Banks: open edges that water runs to with the ground outside higher than the finish.
//!
//! In: where the water leaves, the ground from spot levels, the finish planes. Out: for each edge
//! the greatest height of the ground at the lip of the dig above the finish at the edge, and where.
//! Taken every `EVERY` along the edge and at its ends, only inside the spots' hull: what lies
//! outside is no measurement. Levels and lengths in millimetres.

use super::{Outlet, Water};
use crate::geom::Point;
use crate::levels::ground::Ground;
use crate::levels::plane::Plane;

/// Ground outside an open edge may stand this far above the finish: what spot levels do not tell, in
/// millimetres.
pub const UNTOLD: f64 = 6.0;
/// Heights within this are equal, in millimetres.
const SAME: f64 = 0.5;
/// Distance between places looked at, in millimetres.
const EVERY: f64 = 100.0;

/// Ground outside an open edge, above the finish.
#[derive(Clone, Debug, PartialEq)]
pub struct Bank {
    /// Index of the area.
    pub area: usize,
    /// Name of the edge.
    pub edge: String,
    /// How far the ground stands above the finish; below it when negative.
    pub above: f64,
    /// Where on the edge.
    pub at: Point,
}

impl Bank {
    /// Whether it holds the water back until it is graded away.
    pub fn holds(&self) -> bool {
        holds(self.above)
    }
}

/// Whether ground so far above the finish beside it holds the water back.
pub fn holds(above: f64) -> bool {
    above > UNTOLD + SAME
}

/// The ground beside each open edge that water leaves over, in the order of the outlets: at the
/// place where it stands highest above the finish. `out` is the distance from the edge to the lip
/// of the dig, where the ground stays as it is; `free` says whether a place there is ground at all
/// rather than paving or a structure.
pub fn banks(
    water: &Water,
    ground: &Ground,
    planes: &[Plane],
    out: f64,
    free: impl Fn(Point) -> bool,
) -> Vec<Bank> {
    let mut banks = Vec::new();
    for drained in &water.outlets {
        let Outlet::Open { area, edge } = &drained.outlet else {
            continue;
        };
        let highest = drained
            .reached
            .iter()
            .flat_map(|stretch| along(*stretch, out))
            .filter(|(_, outside)| !ground.is_extrapolated(*outside) && free(*outside))
            .map(|(at, outside)| (ground.level_at(outside) - planes[*area].level_at(at), at))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((above, at)) = highest {
            banks.push(Bank {
                area: *area,
                edge: edge.clone(),
                above,
                at,
            });
        }
    }
    banks
}

/// Places along a stretch of edge with the places `out` beyond them.
fn along([from, to]: [Point; 2], out: f64) -> Vec<(Point, Point)> {
    let Some(way) = (to - from).unit() else {
        return Vec::new();
    };
    let length = from.distance(to);
    let count = (length / EVERY).ceil().max(1.0);
    let places = (0..=count as usize).map(|k| from + way * (length * k as f64 / count));
    places.map(|at| (at, at + way.left() * -out)).collect()
}
