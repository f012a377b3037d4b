//! Sheets without views: blocks in columns, wide ones across several.
//!
//! In: blocks, each with the name of the sheet it belongs to. Out: items of one sheet, what stands on
//! it and what it is called for that, and the blocks that found no room. Where everything fits with room to
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
    /// What a sheet is called for it where nothing else of that name stands; none where that name
    /// stands for it alone.
    pub alone: Option<String>,
    /// The block.
    pub block: Block,
}

impl Waiting {
    /// A block of a sheet that it does not fill: it has a title of its own there.
    pub fn one_of_several(name: &str, block: Block) -> Self {
        Self {
            name: name.to_string(),
            alone: Some(short(&block.title)),
            block,
        }
    }

    /// All that stands under a name.
    pub fn whole(name: &str, block: Block) -> Self {
        Self {
            name: name.to_string(),
            alone: None,
            block,
        }
    }

    /// What is left of it.
    pub fn rest(&self, block: Block) -> Self {
        Self {
            block,
            ..self.clone()
        }
    }
}

/// A title without what follows it: a scale, a datum, a remark.
fn short(title: &str) -> String {
    let end = title.find([',', ';', ':', '(']).unwrap_or(title.len());
    title[..end].trim_end().to_string()
}

/// What a sheet is called for what stands there: each name once, in order, or where one block alone
/// stands of a name the title of that.
pub fn called<'a>(stands: impl IntoIterator<Item = &'a Waiting>) -> Vec<String> {
    let mut names: Vec<(&str, Option<&String>)> = Vec::new();
    for waiting in stands {
        let alone = waiting.alone.as_ref();
        match names.iter_mut().find(|(name, _)| *name == waiting.name) {
            Some((_, one)) if *one != alone => *one = None,
            Some(_) => {}
            None => names.push((&waiting.name, alone)),
        }
    }
    let names = names.into_iter();
    names
        .map(|(name, alone)| alone.map_or(name, String::as_str).to_string())
        .collect()
}

/// One sheet of blocks.
#[derive(Clone, Debug, Default)]
pub struct Filled {
    /// What is on it.
    pub items: Vec<Item>,
    /// What stands on it, completely or in part, in order.
    pub stands: Vec<Waiting>,
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
        if !drawn.is_empty() {
            filled.stands.push(waiting.clone());
        }
        filled.parted += usize::from(rest.is_some() && !drawn.is_empty());
        filled.items.extend(drawn);
        filled.left.extend(rest.map(|block| waiting.rest(block)));
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
    let one = first.rest(block);
    let one_alone = std::slice::from_ref(&one);
    let mut found = filled(set, free, one_alone, Keep::InOrder, languages);
    if found.items.is_empty() {
        let at = crate::draw::Pt::new(free.left, free.top);
        found.items = one.block.draw(at, free.width()).0;
        found.stands = vec![one.clone()];
        found.left.clear();
    }
    found.left.extend_from_slice(others);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sheet is called for what stands on it: for a block that stands alone by that one's title,
    /// without scale and remarks, for several of a kind by what they belong to.
    #[test]
    fn a_sheet_is_called_for_what_stands_on_it() {
        let block = |title: &str| Block::paragraphs(title, Vec::new());
        let several = |name: &str, title: &str| Waiting::one_of_several(name, block(title));
        let strips = several("Panels and cutting list", "Geotextile strips, 1:200");
        let starts = several("Panels and cutting list", "Course starts");
        let order = Waiting::whole("Order of work", block("Order of work, laid twice"));
        let checks = several("Notes", "Checks (cont.)");
        assert_eq!(
            called([&strips, &order, &checks, &checks.rest(block("Checks"))]),
            ["Geotextile strips", "Order of work", "Checks"]
        );
        assert_eq!(
            called([&strips, &checks, &starts]),
            ["Panels and cutting list", "Checks"]
        );
    }
}
