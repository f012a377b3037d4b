//! Layout of the set: which sheets there are, and what stands on each.
//!
//! In: the content. Out: sheets, all of the same paper. The general sheet chooses the paper; a
//! further sheet with a plan or a section of its own follows at the same scale rules; blocks that
//! need no view share sheets, in order. What finds no room flows on at the same lettering.

mod arrange;
mod tables;
mod views;
mod zones;

use super::column::{self, Block};
use super::content::{Content, FurtherSheet};
use super::plan::LAYERS;
use super::title_block::TitleBlock;
use super::{frame, pen, symbol};
use crate::draw::scale::Scale;
use crate::draw::{Item, Layer, Sheet};
use arrange::{Arrangement, Wanted};
use tables::Waiting;

/// Most sheets of a set.
const MOST: usize = 60;
/// What the general sheet shows.
const GENERAL: &str = "Plan, section, edge detail and general notes";
/// What the blocks of the general sheet are called that found no room on it.
const NOTES: &str = "Order of work and notes";

/// One sheet before it is numbered.
struct Page {
    /// What it shows.
    shows: String,
    /// Scale of its plan; none without a plan.
    scale: Option<Scale>,
    /// Where its title block stands.
    arrangement: Arrangement,
    items: Vec<Item>,
}

/// Lays the content out on as many sheets as it takes.
pub fn sheets(content: &Content) -> Vec<Sheet> {
    let shown = content.sections.len().min(1);
    let wanted = Wanted {
        plan: Some(&content.plan),
        sections: &content.sections[..shown],
        detail: content.detail.as_ref(),
        essential: &content.essential,
        blocks: &content.general,
    };
    let set = arrange::first(content, wanted);
    let (general, left) = page(content, GENERAL, wanted, set.clone());
    let mut parts = content.further.clone();
    if content.sections.len() > shown {
        parts.push(FurtherSheet {
            name: "Sections".to_string(),
            sections: content.sections[shown..].to_vec(),
            ..FurtherSheet::default()
        });
    }
    if !left.is_empty() {
        parts.push(FurtherSheet::of_blocks(NOTES, left));
    }
    let mut pages = vec![general];
    pages.extend(further(content, &parts, &set));
    pages.truncate(MOST);
    numbered(content, pages)
}

/// The pages after the first, in the order of the parts. Blocks of parts without views, and those
/// that found no room beside a view, share pages; such a page stands where its first part would.
fn further(content: &Content, parts: &[FurtherSheet], set: &Arrangement) -> Vec<Page> {
    let mut pages: Vec<(usize, Page)> = Vec::new();
    let mut waiting: Vec<Waiting> = Vec::new();
    let wait = |part: &FurtherSheet, blocks: Vec<Block>| -> Vec<Waiting> {
        let named = |block| Waiting {
            name: part.name.clone(),
            block,
        };
        blocks.into_iter().map(named).collect()
    };
    for (index, part) in parts.iter().enumerate() {
        if !part.has_views() {
            waiting.extend(wait(part, part.blocks.clone()));
            continue;
        }
        let wanted = Wanted {
            plan: part.plan.as_ref(),
            sections: &part.sections,
            detail: None,
            essential: &[],
            blocks: &part.blocks,
        };
        let chosen = arrange::further(content, wanted, set);
        let (page, left) = page(content, &part.name, wanted, chosen);
        pages.push((index, page));
        waiting.extend(wait(part, left));
    }
    while !waiting.is_empty() && pages.len() < MOST {
        let filled = tables::fill(set, &waiting);
        if filled.items.is_empty() {
            break;
        }
        let place = |name: &String| parts.iter().position(|part| part.name == *name);
        let first = filled.names.iter().filter_map(place).min().unwrap_or(0);
        let page = Page {
            shows: filled.names.join("; "),
            scale: None,
            arrangement: set.clone(),
            items: vec![pen::group("text", "Text", "sheet", filled.items)],
        };
        pages.push((first, page));
        waiting = filled.left;
    }
    pages.sort_by_key(|(index, _)| *index);
    pages.into_iter().map(|(_, page)| page).collect()
}

/// A page with views and the blocks that find room beside them, and those that do not.
fn page(
    content: &Content,
    shows: &str,
    wanted: Wanted,
    arrangement: Arrangement,
) -> (Page, Vec<Block>) {
    let (mut items, keyed) = views::draw(wanted, &arrangement, content.system, content.north);
    let blocks: Vec<Block> = wanted
        .essential
        .iter()
        .chain(&keyed)
        .chain(wanted.blocks)
        .cloned()
        .collect();
    let (text, left) = column::flow(&blocks, &arrangement.columns);
    items.push(pen::group("text", "Text", "sheet", text));
    let page = Page {
        shows: shows.to_string(),
        scale: wanted.plan.map(|_| arrangement.scale.clone()),
        arrangement,
        items,
    };
    (page, left)
}

/// The sheets with their numbers, frames and title blocks.
fn numbered(content: &Content, pages: Vec<Page>) -> Vec<Sheet> {
    let count = pages.len();
    pages
        .into_iter()
        .enumerate()
        .map(|(index, page)| {
            let title = TitleBlock {
                shows: page.shows.clone(),
                scale: page.scale.as_ref().map(symbol::scale_words),
                paper: page.arrangement.paper.name().to_string(),
                sheet: (index + 1, count),
                ..content.title.clone()
            };
            sheet(page, &title)
        })
        .collect()
}

/// A sheet with frame and title block round what it shows.
fn sheet(page: Page, title: &TitleBlock) -> Sheet {
    let chosen = page.arrangement;
    let (width, height) = chosen.paper.size(chosen.turned);
    let line = frame::frame(chosen.paper, chosen.turned);
    let mut items = vec![pen::group("frame", "Frame", "sheet", line)];
    items.extend(page.items);
    let block = title.draw(chosen.title);
    items.push(pen::group("title-block", "Title block", "sheet", block));
    Sheet {
        width,
        height,
        title: format!(
            "{} – sheet {} of {}: {}",
            title.title, title.sheet.0, title.sheet.1, page.shows
        ),
        layers: LAYERS
            .iter()
            .map(|(id, title)| Layer {
                id: (*id).to_string(),
                title: (*title).to_string(),
            })
            .collect(),
        items,
    }
}
