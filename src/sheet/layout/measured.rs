//! How blocks would fill columns, told without drawing them.
//!
//! In: blocks, columns, how many of the blocks must stand. Out: the share of the columns that is
//! taken, the share of the text that is left over, and whether those that must stand do. Each block
//! is measured once per breadth of column. Paper millimetres.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::super::column::{AFTER, Block, Parting};
use super::arrange::Wanted;
use super::views;
use crate::draw::paper::Rect;

/// What is wanted as it is measured: the plan's size, and heights of blocks in columns, each found
/// once per breadth.
pub(super) struct Measured<'a> {
    /// The plan's size; none without a plan.
    pub(super) plan: Option<views::Size>,
    blocks: &'a [Block],
    heights: RefCell<BTreeMap<(usize, u64), f64>>,
}

impl<'a> Measured<'a> {
    pub(super) fn of(wanted: Wanted<'a>) -> Self {
        Self {
            plan: wanted.plan.map(views::Size::of),
            blocks: wanted.blocks,
            heights: RefCell::default(),
        }
    }

    fn height(&self, index: usize, breadth: f64) -> f64 {
        *self
            .heights
            .borrow_mut()
            .entry((index, breadth.to_bits()))
            .or_insert_with(|| self.blocks[index].height(breadth) - AFTER)
    }

    /// Fills the columns as the flow does, without drawing: the share of the columns that is used,
    /// the share of the text that is left over, and whether the essential blocks stand.
    pub(super) fn filled(&self, columns: &[Rect], essential: usize) -> (f64, f64, bool) {
        let mut rooms: Vec<f64> = columns.iter().map(|c| c.height().max(0.0)).collect();
        let whole: f64 = rooms.iter().sum();
        let Some(breadth) = columns.first().map(|c| c.width()) else {
            return (0.0, 1.0, essential == 0);
        };
        let (mut all, mut left, mut stand) = (0.0, 0.0, true);
        for (index, block) in self.blocks.iter().enumerate() {
            let mut rest = self.height(index, breadth);
            all += rest;
            if let Some(room) = rooms.iter_mut().find(|room| **room >= rest) {
                *room -= rest + AFTER;
                continue;
            }
            if block.parting == Parting::Allowed && index >= essential {
                for room in rooms.iter_mut().filter(|room| **room >= 35.0) {
                    let part = rest.min(*room);
                    rest -= part;
                    *room -= part + AFTER;
                }
            }
            left += rest;
            stand &= index >= essential || rest <= 0.0;
        }
        let free: f64 = rooms.iter().map(|room| room.max(0.0)).sum();
        (
            1.0 - free / whole.max(1.0),
            if all > 0.0 { left / all } else { 0.0 },
            stand,
        )
    }
}
