//! The index of the set on the general sheet.
//!
//! In: the pages of an earlier round of the layout, and what the rounds before keep for the index.
//! Out: a block with the number of each sheet and what it shows.

use super::super::column::{Block, Entry, Parting};
use super::super::content::{Content, FurtherSheet};
use super::{Page, shown, zones};
use crate::language::{Languages, say};

/// Which sheets each name stands on, by number.
pub(super) fn index(pages: &[Page]) -> Vec<(usize, String)> {
    pages
        .iter()
        .enumerate()
        .flat_map(|(number, page)| page.names.iter().map(move |n| (number + 1, n.clone())))
        .collect()
}

/// What earlier rounds of the layout keep for the index.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct IndexRoom {
    /// Most sheets that the set had.
    pub(super) sheets: usize,
    /// Height that it keeps, in the narrowest column.
    pub(super) height: f64,
}

impl IndexRoom {
    /// What the index will take at least, before any sheet is laid out: a line for each part with
    /// views.
    pub(super) fn expected(parts: &[FurtherSheet], languages: Languages) -> Self {
        let views = parts.iter().filter(|part| part.has_views());
        let lines = views.map(|part| Entry::marked("1", &part.name));
        let entries: Vec<Entry> = lines.collect();
        let sheets = entries.len();
        let block = Block::paragraphs(say!(languages, "Sheets of this set"), entries);
        Self {
            sheets,
            height: block.height(zones::NARROW),
        }
    }
}

/// The index of the set, when it has more than two sheets, or had before the index was set.
pub(super) fn index_block(pages: &[Page], room: IndexRoom, content: &Content) -> Option<Block> {
    if room.sheets < 3 {
        return None;
    }
    let entries = pages
        .iter()
        .enumerate()
        .map(|(number, page)| {
            Entry::marked(&format!("{}", number + 1), shown(&page.names, content))
        })
        .collect();
    let mut block = Block {
        title: say!(content.languages, "Sheets of this set"),
        entries,
        parting: Parting::Whole,
    };
    let height = room.height - block.height(zones::NARROW);
    if height > 0.0 {
        let items = Vec::new();
        block.entries.push(Entry::Drawing { height, items });
    }
    Some(block)
}
