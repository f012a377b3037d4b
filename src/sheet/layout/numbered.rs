//! The pages of a set as sheets: numbered, each with its frame and title block.
//!
//! In: the pages in order, and the views that were drawn for them. Out: sheets of the display list.

use super::super::content::Content;
use super::super::plan::layers;
use super::super::title_block::TitleBlock;
use super::super::{frame, pen, symbol};
use super::arrange::Arrangement;
use super::{Drawn, Page, shown};
use crate::draw::{Item, Layer, Sheet};
use crate::language::say;

/// The sheets with their numbers, frames and title blocks.
pub(super) fn numbered(content: &Content, pages: Vec<Page>, mut drawn: Vec<Drawn>) -> Vec<Sheet> {
    let count = pages.len();
    // Views are large: the last page that shows one has it for itself.
    let mut uses: Vec<usize> = vec![0; drawn.len()];
    for view in pages.iter().filter_map(|page| page.view) {
        uses[view] += 1;
    }
    pages
        .into_iter()
        .enumerate()
        .map(|(index, page)| {
            let mut items = Vec::new();
            let mut scale = None;
            if let Some(view) = page.view {
                uses[view] -= 1;
                items = match uses[view] {
                    0 => std::mem::take(&mut drawn[view].items),
                    _ => drawn[view].items.clone(),
                };
                scale = drawn[view].scale.clone();
            }
            items.push(pen::group(
                "text",
                &say!(content.languages, "Text"),
                "sheet",
                page.text,
            ));
            let title = TitleBlock {
                shows: shown(&page.names, content),
                scale: scale.as_ref().map(symbol::scale_words),
                paper: page.arrangement.paper.printed().say(content.languages),
                sheet: (index + 1, count),
                ..content.title.clone()
            };
            sheet(&page.arrangement, &title, items)
        })
        .collect()
}

/// A sheet with frame and title block round what it shows.
fn sheet(chosen: &Arrangement, title: &TitleBlock, shown: Vec<Item>) -> Sheet {
    let (width, height) = chosen.paper.size(chosen.turned);
    let languages = title.languages;
    let line = frame::frame(chosen.paper, chosen.turned);
    let mut items = vec![pen::group(
        "frame",
        &say!(languages, "Frame"),
        "sheet",
        line,
    )];
    items.extend(shown);
    let block = title.draw(chosen.title, chosen.paper);
    items.push(pen::group(
        "title-block",
        &say!(languages, "Title block"),
        "sheet",
        block,
    ));
    let (number, count) = title.sheet;
    Sheet {
        width,
        height,
        title: say!(
            languages,
            "{title} – sheet {number} of {count}: {shows}",
            title = title.title,
            number,
            count,
            shows = title.shows
        ),
        language: title.languages.first.code().to_string(),
        layers: layers()
            .into_iter()
            .map(|(id, title)| Layer {
                id: id.to_string(),
                title: title.say(languages),
            })
            .collect(),
        items,
    }
}
