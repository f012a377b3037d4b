//! Layout of the set: which sheets there are, and what stands on each.
//!
//! In: the content. Out: sheets, all of the same paper, which `choice.rs` chooses; a further sheet
//! with a plan or a section of its own follows at the same scale rules; blocks that need no view
//! fill what the general sheet leaves, where they fit whole, and then share the further sheets. What
//! finds no room flows on at the same lettering. The sheets are set again where their numbers are
//! printed on them as an index.

mod arrange;
mod choice;
mod further;
mod general;
mod in_parts;
mod index;
mod left_off;
mod measured;
mod numbered;
mod strip;
mod tables;
mod views;
mod zones;

use super::column::Block;
use super::content::{Content, FurtherSheet};
use crate::draw::scale::Scale;
use crate::draw::{Item, Sheet};
use crate::language::say;
use arrange::{Arrangement, Wanted};
use further::{Decided, Further};
pub use in_parts::{LeftScale, MOST_PARTS};
use index::{IndexRoom, index, index_block};
use tables::Waiting;

/// Most sheets of a set.
pub const MOST: usize = 60;
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
        GENERAL if content.apart => content.name_alone.clone(),
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
    /// Titles of the blocks that it says are left off.
    left_off: Vec<String>,
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

/// The views that a layout has drawn; none is where it is only to be told how many sheets it takes.
#[derive(Debug, Default)]
struct Views {
    drawn: Vec<Drawn>,
    /// Whether views are left undrawn.
    dry: bool,
}

/// The sheets of a set, and what of the job they do not follow.
pub struct Laid {
    /// The sheets, the general one first.
    pub sheets: Vec<Sheet>,
    /// The stated scale, where it would take too many sheets.
    pub left: Option<LeftScale>,
    /// Titles of the blocks for which a set of [`MOST`] sheets has no room.
    pub left_off: Vec<String>,
}

/// Lays the content out on as many sheets as it takes.
pub fn sheets(content: &Content) -> Laid {
    let split = in_parts::split_up(content);
    let stated = content.scale.clone();
    let content = split.as_ref().map_or(content, |split| &split.content);
    let Paged {
        content,
        pages,
        views,
    } = paged(content);
    let left = split.as_ref().and_then(|split| {
        let whole = pages.first().map(|page| page.arrangement.scale.clone());
        Some(LeftScale {
            stated: stated?,
            parts: split.too_many?,
            drawn: split.scale.clone().or(whole)?,
        })
    });
    let left_off = left_off(&pages);
    Laid {
        sheets: numbered::numbered(&content, pages, views.drawn),
        left,
        left_off,
    }
}

/// Titles of what found no room in the set.
fn left_off(pages: &[Page]) -> Vec<String> {
    pages
        .iter()
        .flat_map(|page| page.left_off.clone())
        .collect()
}

/// A set as it is laid out: its content on its paper, its pages, and their views.
struct Paged {
    content: Content,
    pages: Vec<Page>,
    views: Views,
}

/// The pages of a set: on the paper that is chosen, or on a larger one where the index of the sheets
/// leaves its plan under the smallest scale, or where it takes more than [`MOST`] sheets.
fn paged(content: &Content) -> Paged {
    let free = content.paper.is_none();
    let mut set = match content.paper {
        Some(paper) => choice::on(content, paper),
        None => choice::free(content),
    };
    loop {
        let (mut laid, parts) = (set.content, set.parts);
        let mut views = Views::default();
        let larger = laid.paper.filter(|_| free);
        let larger = larger.and_then(|paper| arrange::next(paper, laid.system));
        let pages = rounds(&mut laid, &parts, &mut views, larger.is_some());
        let lacking = !legible(&pages, &laid) || !left_off(&pages).is_empty();
        match larger.filter(|_| lacking) {
            Some(larger) => set = choice::on(content, larger),
            None => {
                return Paged {
                    content: laid,
                    pages,
                    views,
                };
            }
        }
    }
}

/// Whether the plan of the general sheet is not under the smallest scale.
fn legible(pages: &[Page], content: &Content) -> bool {
    let smallest = arrange::smallest(content.system) + 1e-9;
    let scale = |page: &Page| page.arrangement.scale.ratio;
    content.scale.is_some() || pages.first().is_none_or(|page| scale(page) <= smallest)
}

/// The pages, laid out again until the index of the sheets says what it did before; given up as soon
/// as the plan is not legible where an `or_larger` paper may be taken.
fn rounds(
    content: &mut Content,
    parts: &[FurtherSheet],
    views: &mut Views,
    or_larger: bool,
) -> Vec<Page> {
    let mut room = IndexRoom::default();
    let mut decided = Decided::default();
    let expected = IndexRoom::expected(parts, content.languages);
    let mut pages = laid_out(content, parts, &[], expected, views, &mut decided);
    // The sheets are turned once, so that the index cannot change it.
    content.turned = pages.first().map(|first| first.arrangement.turned);
    let mut highest: f64 = 0.0;
    for round in 0..ROUNDS {
        room.sheets = room.sheets.max(pages.len());
        let block = index_block(&pages, room, content);
        highest = highest.max(block.map_or(0.0, |block| block.height(zones::NARROW)));
        if round >= FREE {
            room.height = highest;
        }
        let next = laid_out(content, parts, &pages, room, views, &mut decided);
        let same = index(&next) == index(&pages);
        pages = next;
        if same || or_larger && !legible(&pages, content) {
            break;
        }
    }
    pages
}

/// The parts of the set, the general sheet first.
fn parts(content: &Content) -> Vec<FurtherSheet> {
    let languages = content.languages;
    let (shown, others) = content.sections.split_at(content.sections.len().min(1));
    let mut general = FurtherSheet {
        name: GENERAL.to_string(),
        plan: Some(content.plan.clone()),
        ..FurtherSheet::default()
    };
    let views = FurtherSheet {
        name: match (shown, &content.detail) {
            ([section, ..], None) => section.title.clone(),
            ([], _) => say!(languages, "Edge detail"),
            (_, Some(_)) => say!(languages, "Section and edge detail"),
        },
        sections: shown.to_vec(),
        detail: content.detail.clone(),
        ..FurtherSheet::default()
    };
    let mut parts = if content.apart {
        vec![general, views]
    } else {
        (general.sections, general.detail) = (views.sections, views.detail);
        vec![general]
    };
    parts.retain(|part| part.has_views());
    parts.extend(content.further.iter().cloned());
    if !others.is_empty() {
        parts.push(FurtherSheet {
            name: say!(languages, "Sections"),
            sections: others.to_vec(),
            ..FurtherSheet::default()
        });
    }
    parts
}

/// The blocks of a set in order, without those of sheets with views, and how many of them must
/// stand on the general sheet: the first ones.
fn blocks(
    content: &Content,
    parts: &[FurtherSheet],
    before: &[Page],
    room: IndexRoom,
) -> (Vec<Waiting>, usize) {
    let mut blocks: Vec<Waiting> = Vec::new();
    let wait = |name: &str, block: Block, alone: bool| match alone {
        true => Waiting::whole(name, block),
        false => Waiting::one_of_several(name, block),
    };
    let mut first = content.essential.clone();
    let index = index_block(before, room, content);
    let essential = if content.apart {
        first.sort_by_key(|block| !block.is_key());
        let keys = first.iter().filter(|block| block.is_key()).count();
        let must = keys + usize::from(index.is_some());
        first.splice(keys..keys, index);
        must
    } else {
        let last = first.len().saturating_sub(1);
        first.splice(last..last, index);
        // Beside the overview of a plan in parts, cautions may flow on: the index is long.
        let flows_on = usize::from(!content.plan.parts.is_empty());
        first.len().saturating_sub(flows_on)
    };
    blocks.extend(first.into_iter().map(|block| wait(GENERAL, block, true)));
    let bare = |early: bool| {
        let parts = parts.iter();
        let parts = parts.filter(move |part| !part.has_views() && part.early == early);
        parts.flat_map(|part| {
            let blocks = part.blocks.iter();
            blocks.map(|block| wait(&part.name, block.clone(), part.blocks.len() == 1))
        })
    };
    blocks.extend(bare(true));
    let notes = content.general.iter();
    blocks.extend(notes.map(|block| wait(NOTES, block.clone(), false)));
    blocks.extend(bare(false));
    (blocks, essential)
}

/// Every page, with the numbers that an earlier round gave.
fn laid_out(
    content: &Content,
    parts: &[FurtherSheet],
    before: &[Page],
    room: IndexRoom,
    views: &mut Views,
    decided: &mut Decided,
) -> Vec<Page> {
    let (mut blocks, essential) = blocks(content, parts, before, room);
    let set = general::arrangement(content, parts, &blocks, essential);
    let (view, keyed) = views_of(content, parts, 0, &set, views);
    let keyed = keyed.into_iter();
    let keyed = keyed.map(|block| Waiting::whole(GENERAL, block));
    blocks.splice(essential..essential, keyed);
    let (page, waiting) = general::page(view, set.clone(), &blocks, content);
    let rest = Further {
        content,
        parts,
        set: &set,
        left: &waiting,
        only_counted: views.dry,
    };
    let known = known_tables(&views.drawn);
    let mut draw =
        |part: usize, chosen: &Arrangement| views_of(content, parts, part, chosen, views);
    let mut pages = vec![page];
    pages.extend(
        rest.pages(decided, &known, &mut draw)
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
    Views { drawn, dry }: &mut Views,
) -> (Option<usize>, Vec<Block>) {
    if *dry {
        return (None, Vec::new());
    }
    let known = drawn
        .iter()
        .position(|d| d.part == part && d.arrangement.same_views(arrangement));
    let index = known.unwrap_or_else(|| {
        let wanted = wanted(parts, part, 0, &[]);
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
    (Some(index), drawn[index].keyed.clone())
}

/// What a part wants on its sheet.
fn wanted<'a>(
    parts: &'a [FurtherSheet],
    part: usize,
    essential: usize,
    blocks: &'a [Block],
) -> Wanted<'a> {
    Wanted {
        plan: parts[part].plan.as_deref(),
        sections: &parts[part].sections,
        detail: parts[part].detail.as_ref(),
        essential,
        blocks,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::sample;

    /// A section that stands apart without an edge detail is called what it is called itself.
    #[test]
    fn a_section_alone_has_its_own_name() {
        let mut content = sample::content();
        content.sections.truncate(1);
        content.sections[0].title = "Section B–B".to_string();
        (content.apart, content.detail) = (true, None);
        let names: Vec<String> = parts(&content).into_iter().map(|part| part.name).collect();
        assert_eq!(names[..2], [GENERAL, "Section B–B"]);
    }
}
