//! The base: its parts, each with its own start, and the totals over them.

use std::collections::BTreeSet;

use crate::geom::Shape;
use crate::panels::{Best, Layout, Purchase};
use crate::site::StartSpec;

/// One part of the base, laid from one start.
#[derive(Clone, Debug)]
pub struct BasePart {
    /// The areas that it carries, by index.
    pub areas: Vec<usize>,
    /// Its outline.
    pub shape: Shape,
    /// The corner that its courses start from and the edge that they go along; none where they start
    /// at the lower left of its box.
    pub start: Option<StartSpec>,
    /// Courses and pieces, in the frame of the start corner.
    pub layout: Layout,
    /// What a search for the best layout found, where the job asks for one.
    pub best: Option<Best>,
}

/// Totals over the parts of the base.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Totals {
    /// Courses.
    pub courses: usize,
    /// Pieces.
    pub pieces: usize,
    /// Whole panels among them.
    pub whole: usize,
    /// Trimmed pieces among them.
    pub trimmed: usize,
    /// Panels to buy when trimmed pieces share a panel where they can.
    pub buy: usize,
    /// Panels to buy when none is shared.
    pub buy_unshared: usize,
    /// Panels to buy when each course starts with the last course's offcut and no other is used.
    pub buy_installer: usize,
    /// Fewest panels by area.
    pub lower_bound: usize,
    /// Fewest panels that can give the pieces under the rules of sharing, as far as is proved.
    pub sharing_bound: usize,
    /// Whether `buy` is proved the least.
    pub proved: bool,
    /// Narrowest piece, in millimetres.
    pub narrowest_mm: Option<f64>,
}

impl Totals {
    /// Adds up the parts, with the panels to buy for all of them.
    pub fn of(parts: &[BasePart], purchase: &Purchase) -> Self {
        let sum = |count: fn(&BasePart) -> usize| parts.iter().map(count).sum::<usize>();
        let pieces = sum(|part| part.layout.pieces.len());
        let whole = sum(|part| part.layout.whole());
        Self {
            courses: sum(|part| {
                let numbers: BTreeSet<usize> =
                    part.layout.courses.iter().map(|c| c.number).collect();
                numbers.len()
            }),
            pieces,
            whole,
            trimmed: pieces - whole,
            buy: purchase.buy,
            buy_unshared: purchase.buy_unshared,
            buy_installer: purchase.buy_installer,
            lower_bound: purchase.lower_bound,
            sharing_bound: purchase.sharing_bound,
            proved: purchase.proved,
            narrowest_mm: parts
                .iter()
                .filter_map(|part| part.layout.narrowest_mm())
                .min_by(f64::total_cmp),
        }
    }
}
