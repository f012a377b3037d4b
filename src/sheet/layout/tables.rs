//! Sheets without views: blocks in columns, wide ones across several.
//!
//! In: blocks, each with the name of the sheet it belongs to. Out: items of one sheet, the names
//! of what stands on it, and the blocks that found no room. Where everything fits with room to
//! spare, the columns end at one height, so that the sheet is filled from the top.

use super::super::column::{Block, Parting};
use super::super::flow::Flow;
use super::arrange::Arrangement;
use super::zones;
use crate::draw::Item;
use crate::draw::paper::Rect;
use crate::language::Languages;

/// A block that waits for paper.
#[derive(Clone, Debug, PartialEq)]
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
    /// How many blocks stand on it in part.
    pub parted: usize,
    /// How often a block goes on in another column.
    pub breaks: usize,
    /// The share of its columns that is taken.
    pub taken: f64,
}

/// How blocks are kept on one sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Keep {
    /// A block that would be parted waits for the next sheet, which may take it completely.
    Together,
    /// A block that meets the end of a sheet is parted there.
    InOrder,
}

/// Shares of the sheet's height that the columns are tried at.
const SHARES: [f64; 5] = [0.4, 0.52, 0.64, 0.76, 0.88];

/// Fills one sheet of the set's paper. At least one block, or a part of one, is placed.
pub fn fill(set: &Arrangement, blocks: &[Waiting], keep: Keep, languages: Languages) -> Filled {
    let free = Rect {
        top: set.room.top + 1.0,
        ..set.room
    };
    let whole = filled(set, free, blocks, keep, languages);
    if !whole.left.is_empty() {
        return if whole.items.is_empty() {
            forced(set, free, blocks, languages)
        } else {
            whole
        };
    }
    SHARES
        .into_iter()
        .map(|share| {
            let bottom = free.top + free.height() * share;
            filled(set, Rect { bottom, ..free }, blocks, keep, languages)
        })
        .find(|lower| lower.left.is_empty())
        .unwrap_or(whole)
}

fn filled(
    set: &Arrangement,
    free: Rect,
    blocks: &[Waiting],
    keep: Keep,
    languages: Languages,
) -> Filled {
    let count = zones::across(free.width(), zones::NARROW + 8.0);
    let empty = Flow::new(zones::columns(free, count, set.title), languages);
    let mut flow = empty.clone();
    let mut filled = Filled::default();
    for waiting in blocks {
        let rest = match keep {
            Keep::InOrder => flow.put(&waiting.block),
            Keep::Together if flow.put_all(&waiting.block) => None,
            // What no sheet takes completely is parted here as well as elsewhere.
            Keep::Together if empty.clone().put_all(&waiting.block) => Some(waiting.block.clone()),
            Keep::Together => flow.put(&waiting.block),
        };
        let drawn = std::mem::take(&mut flow.items);
        if !drawn.is_empty() && !filled.names.contains(&waiting.name) {
            filled.names.push(waiting.name.clone());
        }
        filled.parted += usize::from(rest.is_some() && !drawn.is_empty());
        filled.items.extend(drawn);
        filled.left.extend(rest.map(|block| Waiting {
            name: waiting.name.clone(),
            block,
        }));
    }
    filled.breaks = flow.breaks;
    let whole = zones::columns(set.room, count, set.title);
    let whole: f64 = whole.iter().map(|column| column.height()).sum();
    filled.taken = flow.taken() / whole.max(1.0);
    filled
}

/// For a block that is higher than a sheet: parts it although it should stay whole, and if it
/// cannot be parted draws it as it is.
fn forced(set: &Arrangement, free: Rect, blocks: &[Waiting], languages: Languages) -> Filled {
    let Some((first, others)) = blocks.split_first() else {
        return Filled::default();
    };
    let mut block = first.block.clone();
    block.parting = Parting::Allowed;
    let one = Waiting {
        block,
        ..first.clone()
    };
    let one_alone = std::slice::from_ref(&one);
    let mut found = filled(set, free, one_alone, Keep::InOrder, languages);
    if found.items.is_empty() {
        let at = crate::draw::Pt::new(free.left, free.top);
        found.items = one.block.draw(at, free.width()).0;
        found.names = vec![one.name.clone()];
        found.left.clear();
    }
    found.left.extend_from_slice(others);
    found
}
