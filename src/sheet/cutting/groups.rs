//! Cut panels that are drawn alike, so that each drawing stands once.
//!
//! In: the panels that are cut. Out: groups of those whose drawings say the same: the same lines
//! at the same printed dimensions, the same locking sides, pieces on the same side of the cuts.

use std::collections::BTreeMap;

use crate::geom::clip;
use crate::panels::CutPanel;

/// Panels that are drawn as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Its number, from 1, in the order of laying of its first panel.
    pub number: usize,
    /// The panels, as indices, in order of laying.
    pub panels: Vec<usize>,
}

/// Groups panels that are drawn alike; `printed` is how a dimension is printed, and curves are
/// marked at every so many millimetres.
pub fn groups(panels: &[CutPanel], every: f64, printed: &dyn Fn(f64) -> String) -> Vec<Group> {
    let mut by_drawing: BTreeMap<String, usize> = BTreeMap::new();
    let mut groups: Vec<Group> = Vec::new();
    for (index, panel) in panels.iter().enumerate() {
        let next = groups.len();
        let group = *by_drawing
            .entry(drawing(panel, every, printed))
            .or_insert(next);
        if group == next {
            groups.push(Group {
                number: next + 1,
                panels: Vec::new(),
            });
        }
        groups[group].panels.push(index);
    }
    groups
}

/// All that a drawing says, but for marks.
fn drawing(panel: &CutPanel, every: f64, printed: &dyn Fn(f64) -> String) -> String {
    let place = |at: [f64; 2]| format!("{},{} ", printed(at[0]), printed(at[1]));
    let mut says = if panel.mirrored { "m" } else { "" }.to_string();
    for piece in &panel.pieces {
        if let Some(bounds) = clip::bounds(&piece.shape) {
            says += "|";
            says += &place([bounds.min.x, bounds.min.y]);
            says += &place([bounds.max.x, bounds.max.y]);
        }
        for cut in &piece.cuts {
            says += if cut.is_curved() { ";c" } else { ";" };
            says.extend(cut.marks(every).into_iter().map(place));
        }
        let mut locks: Vec<String> = piece
            .locks
            .iter()
            .map(|lock| lock.map(place).concat())
            .collect();
        locks.sort();
        says += "#";
        says += &locks.concat();
    }
    says
}
