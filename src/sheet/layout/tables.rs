//! Sheets without views: wide tables across the top, the rest in columns below.
//!
//! In: blocks, each with the name of the sheet it belongs to. Out: items of one sheet, the names
//! of what stands on it, and the blocks that found no room.

use super::super::column::{Block, Flow};
use super::super::frame;
use super::arrange::Arrangement;
use super::zones::{self, COLUMN};
use crate::draw::Item;
use crate::draw::paper::Rect;

/// A block that waits for paper.
#[derive(Clone, Debug)]
pub struct Waiting {
    /// Name of the sheet it belongs to.
    pub name: String,
    /// The block.
    pub block: Block,
}

/// One sheet of blocks.
#[derive(Clone, Debug, Default)]
pub struct Filled {
    /// What is on it.
    pub items: Vec<Item>,
    /// The names of what stands on it, each once, in order.
    pub names: Vec<String>,
    /// What found no room.
    pub left: Vec<Waiting>,
}

/// Fills one sheet of the set's paper.
pub fn fill(set: &Arrangement, blocks: &[Waiting]) -> Filled {
    let room = frame::room(set.paper, set.turned);
    let mut free = Rect {
        top: room.top + 1.0,
        ..room
    };
    let count = zones::across(free.width(), COLUMN * 0.95);
    let breadth = zones::breadth(free, count);
    let mut filled = Filled::default();
    for waiting in blocks {
        let least = waiting.block.least_width();
        if least <= breadth {
            continue;
        }
        let width = free.width().min((least * 1.2).max(breadth));
        let zone = Rect {
            right: free.left + width,
            ..free
        };
        let mut flow = Flow::new(vec![zones::clear_of(set.title, zone)]);
        let rest = flow.put(&waiting.block);
        free.top = match &rest {
            None => flow.foot(),
            Some(_) if flow.items.is_empty() => free.top,
            Some(_) => free.bottom,
        };
        filled.note(waiting, flow.items, rest);
    }
    let mut flow = Flow::new(zones::columns(free, count, set.title));
    for waiting in blocks {
        if waiting.block.least_width() > breadth {
            continue;
        }
        let rest = flow.put(&waiting.block);
        let drawn = std::mem::take(&mut flow.items);
        filled.note(waiting, drawn, rest);
    }
    filled
}

impl Filled {
    fn note(&mut self, waiting: &Waiting, drawn: Vec<Item>, rest: Option<Block>) {
        if !drawn.is_empty() && !self.names.contains(&waiting.name) {
            self.names.push(waiting.name.clone());
        }
        self.items.extend(drawn);
        self.left.extend(rest.map(|block| Waiting {
            name: waiting.name.clone(),
            block,
        }));
    }
}
