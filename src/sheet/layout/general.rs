//! The general sheet: the plan with the blocks that explain it, then whatever else there is room
//! for.
//!
//! In: the blocks of the set in order. Out: the arrangement of the sheet; its page, and the blocks
//! that flow on.

use super::super::column::Block;
use super::super::content::{Content, FurtherSheet};
use super::super::flow::Flow;
use super::super::frame;
use super::arrange::{self, Arrangement};
use super::tables::{self, Waiting};
use super::{GENERAL, NOTES, Page, wanted, zones};

/// The arrangement of the general sheet with those blocks, of which so many must stand on it.
pub(super) fn arrangement(
    content: &Content,
    parts: &[FurtherSheet],
    blocks: &[Waiting],
    essential: usize,
) -> Arrangement {
    let plain: Vec<Block> = blocks.iter().map(|w| w.block.clone()).collect();
    arrange::first(content, wanted(parts, 0, essential, &plain))
}

/// What is higher than this share of the paper is parted wherever it stands.
const PARTED: f64 = 0.7;

/// The general sheet: its own blocks and the notes may be parted, those of other sheets stand on it
/// whole or not at all; so does what is essential where it may flow on, unless it is higher than a
/// column.
pub(super) fn page(
    view: Option<usize>,
    arrangement: Arrangement,
    blocks: &[Waiting],
    content: &Content,
) -> (Page, Vec<Waiting>) {
    let mut flow = Flow::new(arrangement.columns.clone(), content.languages);
    let (mut others, mut left) = (Vec::new(), Vec::new());
    let column = frame::room(arrangement.paper, arrangement.turned).height() * PARTED;
    for waiting in blocks {
        let general = waiting.name == GENERAL;
        let own = general || waiting.name == NOTES;
        let whole = content.apart && general && waiting.block.height(zones::NARROW) < column;
        let rest = if own && !whole {
            flow.put(&waiting.block)
        } else if flow.put_whole(&waiting.block) {
            None
        } else {
            Some(waiting.block.clone())
        };
        if !own && rest.is_none() {
            others.push(waiting);
        }
        // What flows on from the general sheet is no longer general: where that is expected, it is
        // found under its own title.
        left.extend(rest.map(|rest| match general {
            true if content.apart => Waiting::whole(&waiting.block.title, rest),
            true => Waiting::one_of_several(NOTES, waiting.block.clone()).rest(rest),
            false => waiting.rest(rest),
        }));
    }
    let mut names = vec![GENERAL.to_string()];
    names.extend(tables::called(others));
    let page = Page {
        names,
        view,
        arrangement,
        text: flow.items,
        left_off: Vec::new(),
    };
    (page, left)
}
