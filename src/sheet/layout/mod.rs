//! Layout of the set: which sheets there are, and what stands on each.
//!
//! In: the content. Out: sheets, all of the same paper. The general sheet chooses the paper; a
//! further sheet with a plan or a section of its own follows at the same scale rules; blocks that
//! need no view fill what the general sheet leaves, where they fit whole, and then share the
//! further sheets. What finds no room flows on at the same lettering. The sheets are set again where their
//! numbers are printed on them as an index.

mod arrange;
mod further;
mod in_parts;
mod index;
mod strip;
mod tables;
mod views;
mod zones;

use super::column::Block;
use super::content::{Content, FurtherSheet};
use super::flow::Flow;
use super::plan::layers;
use super::title_block::TitleBlock;
use super::{frame, pen, symbol};
use crate::draw::scale::Scale;
use crate::draw::{Item, Layer, Sheet};
use crate::language::{Languages, say};
use crate::units::System;
use arrange::{Arrangement, Wanted};
use further::{Decided, Further};
pub use in_parts::{LeftScale, MOST_PARTS};
use index::{IndexRoom, index, index_block};
use tables::Waiting;

/// Most sheets of a set.
const MOST: usize = 60;
/// Most times that a set is laid out until its numbers stand.
const ROUNDS: usize = 7;
/// Rounds after which the index keeps the height of the highest before: two layouts whose indexes
/// are of different heights may else follow each other for ever.
const FREE: usize = 3;
/// The sheet of the general plan, as it is told apart; [`shown`] says it.
const GENERAL: &str = "General";
/// What the blocks of the general sheet are called that found no room on it.
const NOTES: &str = "Notes";

/// What the sheets of those names show, in words.
fn shown(names: &[String], content: &Content) -> String {
    let words = names.iter().map(|name| match name.as_str() {
        GENERAL => content.name.clone(),
        NOTES => say!(content.languages, "Notes"),
        other => other.to_string(),
    });
    words
        .collect::<Vec<_>>()
        .join(&say!(content.languages, "; "))
}

/// What stands on a sheet before it is drawn.
#[derive(Clone, Debug)]
struct Page {
    /// What it shows, name by name.
    names: Vec<String>,
    /// Which of the drawn views stand on it; none on a sheet of blocks.
    view: Option<usize>,
    /// Its zones and scale.
    arrangement: Arrangement,
    /// Its text.
    text: Vec<Item>,
}

/// The views of a sheet, drawn.
#[derive(Debug)]
struct Drawn {
    /// Which part of the set they are of: 0 is the general sheet.
    part: usize,
    /// Where they stand.
    arrangement: Arrangement,
    /// Scale of the plan; none without a plan.
    scale: Option<Scale>,
    items: Vec<Item>,
    /// Tables of what found no place in them.
    keyed: Vec<Block>,
}

/// The sheets of a set, and what of the job they do not follow.
pub struct Laid {
    /// The sheets, the general one first.
    pub sheets: Vec<Sheet>,
    /// The stated scale, where it would take too many sheets.
    pub left: Option<LeftScale>,
}

/// Lays the content out on as many sheets as it takes.
pub fn sheets(content: &Content) -> Laid {
    let split = in_parts::split_up(content);
    let stated = content.scale.clone();
    let content = split.as_ref().map_or(content, |split| &split.content);
    let parts = parts(content);
    let (content, pages, drawn) = paged(content, &parts);
    let left = split.as_ref().and_then(|split| {
        let whole = pages.first().map(|page| page.arrangement.scale.clone());
        Some(LeftScale {
            stated: stated?,
            parts: split.too_many?,
            drawn: split.scale.clone().or(whole)?,
        })
    });
    Laid {
        sheets: numbered(&content, pages, drawn),
        left,
    }
}

/// The pages of a set: on the paper that is chosen, or on a larger one where the index of the sheets
/// leaves its plan under the smallest scale.
fn paged(content: &Content, parts: &[FurtherSheet]) -> (Content, Vec<Page>, Vec<Drawn>) {
    let papers = arrange::papers(content.system);
    let mut content = content.clone();
    let chosen = content.paper.is_none() && content.scale.is_none();
    loop {
        let (turned, mut drawn) = (content.turned, Vec::new());
        let pages = rounds(&mut content, parts, &mut drawn, chosen);
        let at = papers
            .iter()
            .position(|paper| Some(*paper) == content.paper);
        let next = at.and_then(|at| papers.get(at + 1));
        match next.filter(|_| chosen && !legible(&pages, content.system)) {
            Some(next) => (content.paper, content.turned) = (Some(*next), turned),
            None => return (content, pages, drawn),
        }
    }
}

/// Whether the plan of the general sheet is not under the smallest scale.
fn legible(pages: &[Page], system: System) -> bool {
    let smallest = arrange::smallest(system) + 1e-9;
    pages
        .first()
        .is_none_or(|page| page.arrangement.scale.ratio <= smallest)
}

/// The pages, laid out again until the index of the sheets says what it did before; given up as soon
/// as the plan is not legible where `or_larger` paper may be taken.
fn rounds(
    content: &mut Content,
    parts: &[FurtherSheet],
    drawn: &mut Vec<Drawn>,
    or_larger: bool,
) -> Vec<Page> {
    let mut room = IndexRoom::default();
    let mut decided = Decided::default();
    let expected = IndexRoom::expected(parts, content.languages);
    let mut pages = laid_out(content, parts, &[], expected, drawn, &mut decided);
    // The paper is chosen once, so that the index cannot change it.
    if let Some(first) = pages.first() {
        content.paper = Some(first.arrangement.paper);
        content.turned = Some(first.arrangement.turned);
    }
    let largest = arrange::papers(content.system).last() == content.paper.as_ref();
    let or_larger = or_larger && !largest;
    let mut highest: f64 = 0.0;
    for round in 0..ROUNDS {
        room.sheets = room.sheets.max(pages.len());
        let block = index_block(&pages, room, content);
        highest = highest.max(block.map_or(0.0, |block| block.height(zones::NARROW)));
        if round >= FREE {
            room.height = highest;
        }
        let next = laid_out(content, parts, &pages, room, drawn, &mut decided);
        let same = index(&next) == index(&pages);
        pages = next;
        if same || or_larger && !legible(&pages, content.system) {
            break;
        }
    }
    pages
}

/// The parts of the set, the general sheet first.
fn parts(content: &Content) -> Vec<FurtherSheet> {
    let shown = content.sections.len().min(1);
    let mut parts = vec![FurtherSheet {
        name: GENERAL.to_string(),
        plan: Some(content.plan.clone()),
        sections: content.sections[..shown].to_vec(),
        ..FurtherSheet::default()
    }];
    parts.extend(content.further.iter().cloned());
    if content.sections.len() > shown {
        parts.push(FurtherSheet {
            name: say!(content.languages, "Sections"),
            sections: content.sections[shown..].to_vec(),
            ..FurtherSheet::default()
        });
    }
    parts
}

/// Every page, with the numbers that an earlier round gave.
fn laid_out(
    content: &Content,
    parts: &[FurtherSheet],
    before: &[Page],
    room: IndexRoom,
    drawn: &mut Vec<Drawn>,
    decided: &mut Decided,
) -> Vec<Page> {
    let mut blocks: Vec<Waiting> = Vec::new();
    let wait = |name: &str, block: Block| Waiting {
        name: name.to_string(),
        block,
    };
    let mut first = content.essential.clone();
    let last = first.len().saturating_sub(1);
    first.splice(last..last, index_block(before, room, content));
    // Beside the overview of a plan in parts, cautions may flow on: the index is long.
    let flows_on = usize::from(!content.plan.parts.is_empty());
    let essential = first.len().saturating_sub(flows_on);
    blocks.extend(first.into_iter().map(|block| wait(GENERAL, block)));
    let bare = |early: bool| {
        let parts = parts.iter();
        let parts = parts.filter(move |part| !part.has_views() && part.early == early);
        parts.flat_map(|part| {
            let blocks = part.blocks.iter();
            blocks.map(|block| wait(&part.name, block.clone()))
        })
    };
    blocks.extend(bare(true));
    let notes = content.general.iter();
    blocks.extend(notes.map(|block| wait(NOTES, block.clone())));
    blocks.extend(bare(false));
    let set = {
        let plain: Vec<Block> = blocks.iter().map(|w| w.block.clone()).collect();
        let general = wanted(content, parts, 0, essential, &plain);
        arrange::first(content, general)
    };
    let (view, keyed) = views_of(content, parts, 0, &set, drawn);
    let keyed = keyed.into_iter().map(|block| wait(GENERAL, block));
    blocks.splice(essential..essential, keyed);
    let (page, waiting) = general(view, set.clone(), &blocks, content.languages);
    let rest = Further {
        content,
        parts,
        set: &set,
        left: &waiting,
    };
    let known = known_tables(drawn);
    let mut views = |part: usize, chosen: &Arrangement| {
        let (view, keyed) = views_of(content, parts, part, chosen, drawn);
        (Some(view), keyed)
    };
    let mut pages = vec![page];
    pages.extend(
        rest.pages(decided, &known, &mut views)
            .into_iter()
            .map(|(_, page)| page),
    );
    pages
}

/// The tables of views that an earlier round drew, by part and arrangement.
fn known_tables(drawn: &[Drawn]) -> impl Fn(usize, &Arrangement) -> Vec<Block> + use<> {
    let known: Vec<(usize, Arrangement, Vec<Block>)> = drawn
        .iter()
        .map(|d| (d.part, d.arrangement.clone(), d.keyed.clone()))
        .collect();
    move |part, chosen| {
        let found = known
            .iter()
            .find(|(of, arrangement, _)| *of == part && arrangement.same_views(chosen));
        found.map(|(.., keyed)| keyed.clone()).unwrap_or_default()
    }
}

/// The views of a part drawn in an arrangement, and the tables of what found no place in them;
/// drawn anew only when an earlier round did not.
fn views_of(
    content: &Content,
    parts: &[FurtherSheet],
    part: usize,
    arrangement: &Arrangement,
    drawn: &mut Vec<Drawn>,
) -> (usize, Vec<Block>) {
    let known = drawn
        .iter()
        .position(|d| d.part == part && d.arrangement.same_views(arrangement));
    let index = known.unwrap_or_else(|| {
        let wanted = wanted(content, parts, part, 0, &[]);
        let (items, keyed) = views::draw(
            wanted,
            arrangement,
            content.system,
            content.north,
            content.languages,
        );
        drawn.push(Drawn {
            part,
            scale: wanted.plan.map(|_| arrangement.scale.clone()),
            arrangement: arrangement.clone(),
            items,
            keyed,
        });
        drawn.len() - 1
    });
    (index, drawn[index].keyed.clone())
}

/// What a part wants on its sheet.
fn wanted<'a>(
    content: &'a Content,
    parts: &'a [FurtherSheet],
    part: usize,
    essential: usize,
    blocks: &'a [Block],
) -> Wanted<'a> {
    Wanted {
        plan: parts[part].plan.as_deref(),
        sections: &parts[part].sections,
        detail: content.detail.as_ref().filter(|_| part == 0),
        essential,
        blocks,
    }
}

/// The general sheet: its own blocks and the notes may be parted, those of other sheets stand on it
/// whole or not at all.
fn general(
    view: usize,
    arrangement: Arrangement,
    blocks: &[Waiting],
    languages: Languages,
) -> (Page, Vec<Waiting>) {
    let mut flow = Flow::new(arrangement.columns.clone(), languages);
    let mut names = vec![GENERAL.to_string()];
    let mut left = Vec::new();
    for waiting in blocks {
        let own = waiting.name == GENERAL || waiting.name == NOTES;
        let rest = if own {
            flow.put(&waiting.block)
        } else if flow.put_whole(&waiting.block) {
            None
        } else {
            Some(waiting.block.clone())
        };
        if !own && rest.is_none() && !names.contains(&waiting.name) {
            names.push(waiting.name.clone());
        }
        // What flows on from the general sheet is no longer general.
        let name = match waiting.name.as_str() {
            GENERAL => NOTES,
            other => other,
        };
        left.extend(rest.map(|block| Waiting {
            name: name.to_string(),
            block,
        }));
    }
    let page = Page {
        names,
        view: Some(view),
        arrangement,
        text: flow.items,
    };
    (page, left)
}

/// The sheets with their numbers, frames and title blocks.
fn numbered(content: &Content, pages: Vec<Page>, mut drawn: Vec<Drawn>) -> Vec<Sheet> {
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
    let block = title.draw(chosen.title);
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
