//! Columns of text: blocks with a heading, and their flow through columns and on to further
//! sheets.
//!
//! In: blocks of entries and columns on paper. Out: items, and the blocks that found no room.
//! Heights are whole multiples of the lettering's pitch; lettering never shrinks: what does not
//! fit is handed back, a block with its heading repeated. Paper millimetres, y down.

use super::figure::{self, Figure};
use super::lettering::{HEADING, NOTE, PITCH, wrap};
use super::pen;
use super::table::Table;
use crate::draw::paper::Rect;
use crate::draw::{Anchor, Face, Item, Pt};

/// A block of text under a heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Heading.
    pub title: String,
    /// What is in it, in order.
    pub entries: Vec<Entry>,
    /// Whether it may be cut between entries when it meets the foot of a column.
    pub parting: Parting,
}

/// Whether a block may be parted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parting {
    /// Between entries.
    Allowed,
    /// Never: it moves on as a whole.
    Whole,
}

/// One entry of a block.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// A paragraph with a hanging mark (a number, a dash) or none.
    Paragraph {
        /// The hanging mark; may be empty.
        mark: String,
        /// The words.
        words: String,
        /// The face.
        face: Face,
    },
    /// A table.
    Table(Table),
    /// Drawn marks of a given height: a function of the top left corner and the width.
    Drawing {
        /// Height of the marks.
        height: f64,
        /// The marks, relative to the top left corner.
        items: Vec<Item>,
    },
    /// Figures of known sizes, side by side in rows; may be parted between rows.
    Figures(Vec<Figure>),
}

/// Height of a heading with its rule.
pub const HEAD: f64 = HEADING + 4.4;
/// Least height of a column that the first part of a block is put in.
const LEAST: f64 = 35.0;
/// Clear height after a block.
pub const AFTER: f64 = 4.0;
/// Width of the hanging mark.
const MARK: f64 = 6.0;
/// Pitch of notes.
pub const LINE: f64 = NOTE * PITCH;

impl Block {
    /// A block of numbered or marked paragraphs.
    pub fn paragraphs(title: &str, entries: Vec<Entry>) -> Self {
        Self {
            title: title.to_string(),
            entries,
            parting: Parting::Allowed,
        }
    }

    /// A block that holds one table.
    pub fn table(title: &str, table: Table) -> Self {
        Self {
            title: title.to_string(),
            entries: vec![Entry::Table(table)],
            parting: Parting::Allowed,
        }
    }

    /// Height of the block in a column of that width, heading and clear space included.
    pub fn height(&self, width: f64) -> f64 {
        let body: f64 = self.entries.iter().map(|e| e.height(width)).sum();
        HEAD + body + AFTER
    }

    /// Least width that its tables need.
    pub fn least_width(&self) -> f64 {
        self.entries
            .iter()
            .map(|entry| match entry {
                Entry::Table(table) => table.least_width(),
                Entry::Figures(figures) => figures.iter().map(Figure::breadth).fold(0.0, f64::max),
                _ => 40.0,
            })
            .fold(0.0, f64::max)
    }

    /// Draws the block; gives its items and the y below it.
    pub fn draw(&self, at: Pt, width: f64) -> (Vec<Item>, f64) {
        let mut items = heading(&self.title, at, width);
        let mut y = at.y + HEAD;
        for entry in &self.entries {
            items.extend(entry.draw(Pt::new(at.x, y), width));
            y += entry.height(width);
        }
        (items, y + AFTER)
    }

    /// Parts the block so that the first part is no higher than `room`; `None` when not even the
    /// heading with one entry fits.
    fn parted(&self, width: f64, room: f64) -> Option<(Block, Block)> {
        if self.parting == Parting::Whole {
            return None;
        }
        let mut left = room - HEAD - AFTER;
        let mut first = Vec::new();
        let mut rest = Vec::new();
        for entry in &self.entries {
            if !rest.is_empty() {
                rest.push(entry.clone());
                continue;
            }
            if entry.height(width) <= left {
                left -= entry.height(width);
                first.push(entry.clone());
                continue;
            }
            if let Entry::Table(table) = entry
                && let Some((head, tail)) = table.parted(width, left)
            {
                first.push(Entry::Table(head));
                rest.push(Entry::Table(tail));
                continue;
            }
            if let Entry::Figures(figures) = entry {
                let count = figure::that_fit(figures, width, left);
                if count > 0 {
                    first.push(Entry::Figures(figures[..count].to_vec()));
                    rest.push(Entry::Figures(figures[count..].to_vec()));
                    continue;
                }
            }
            rest.push(entry.clone());
        }
        let with = |title: String, entries| Block {
            title,
            entries,
            parting: self.parting,
        };
        (!first.is_empty() && !rest.is_empty()).then(|| {
            let more = format!("{} (cont.)", self.title.trim_end_matches(" (cont.)"));
            (with(self.title.clone(), first), with(more, rest))
        })
    }
}

impl Entry {
    /// A paragraph without a mark.
    pub fn plain(words: &str) -> Self {
        Self::marked("", words)
    }

    /// A paragraph with a hanging mark.
    pub fn marked(mark: &str, words: &str) -> Self {
        Self::Paragraph {
            mark: mark.to_string(),
            words: words.to_string(),
            face: Face::Regular,
        }
    }

    /// A paragraph in the semi-bold face.
    pub fn strong(mark: &str, words: &str) -> Self {
        Self::Paragraph {
            mark: mark.to_string(),
            words: words.to_string(),
            face: Face::SemiBold,
        }
    }

    fn indent(mark: &str) -> f64 {
        if mark.is_empty() { 0.0 } else { MARK }
    }

    /// Height in a column of that width.
    pub fn height(&self, width: f64) -> f64 {
        match self {
            Entry::Paragraph { mark, words, face } => {
                let lines = wrap(words, NOTE, *face, width - Self::indent(mark));
                LINE * lines.len().max(1) as f64 + 0.8
            }
            Entry::Table(table) => table.height(width),
            Entry::Drawing { height, .. } => *height,
            Entry::Figures(figures) => figure::height(figures, width),
        }
    }

    fn draw(&self, at: Pt, width: f64) -> Vec<Item> {
        match self {
            Entry::Paragraph { mark, words, face } => {
                let indent = Self::indent(mark);
                let mut items = Vec::new();
                if !mark.is_empty() {
                    let p = Pt::new(at.x, at.y + NOTE);
                    items.push(pen::bold(p, NOTE, Anchor::Start, mark));
                }
                for (i, line) in wrap(words, NOTE, *face, width - indent).iter().enumerate() {
                    let p = Pt::new(at.x + indent, at.y + NOTE + LINE * i as f64);
                    items.push(pen::lettered(p, 0.0, NOTE, *face, Anchor::Start, line));
                }
                items
            }
            Entry::Table(table) => table.draw(at, width),
            Entry::Drawing { items, .. } => items
                .iter()
                .map(|i| super::shift::shifted(i, at.x, at.y))
                .collect(),
            Entry::Figures(figures) => figure::draw(figures, at, width),
        }
    }
}

/// A heading over a rule.
fn heading(title: &str, at: Pt, width: f64) -> Vec<Item> {
    let y = at.y + HEADING + 1.9;
    let rule = pen::solid(crate::draw::LineWidth::W35, crate::draw::Colour::BLACK);
    let words = super::lettering::fitted(title, HEADING, Face::SemiBold, width);
    vec![
        pen::bold(
            Pt::new(at.x, at.y + HEADING),
            HEADING,
            Anchor::Start,
            &words,
        ),
        pen::line(Pt::new(at.x, y), Pt::new(at.x + width, y), rule),
    ]
}

/// Flows blocks through columns in order, each block where there is room; gives the items and
/// what found none.
pub fn flow(blocks: &[Block], columns: &[Rect]) -> (Vec<Item>, Vec<Block>) {
    let mut flow = Flow::new(columns.to_vec());
    let left = blocks.iter().filter_map(|block| flow.put(block)).collect();
    (flow.items, left)
}

/// Columns being filled.
#[derive(Clone, Debug)]
pub struct Flow {
    columns: Vec<Rect>,
    tops: Vec<f64>,
    /// What has been drawn.
    pub items: Vec<Item>,
}

impl Flow {
    /// Empty columns.
    pub fn new(columns: Vec<Rect>) -> Self {
        Self {
            tops: columns.iter().map(|c| c.top).collect(),
            columns,
            items: Vec::new(),
        }
    }

    /// Where the fullest column is filled to.
    pub fn foot(&self) -> f64 {
        self.tops.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    }

    /// Puts one block where it fits, whole in any column before in parts; gives back what did
    /// not. A block is parted only where a good piece of it fits.
    pub fn put(&mut self, block: &Block) -> Option<Block> {
        let whole = (0..self.columns.len()).find(|k| block.height(self.width(*k)) <= self.room(*k));
        if let Some(k) = whole {
            self.draw(k, block);
            return None;
        }
        let mut rest = block.clone();
        for k in 0..self.columns.len() {
            if rest.height(self.width(k)) <= self.room(k) {
                self.draw(k, &rest);
                return None;
            }
            if self.room(k) < LEAST {
                continue;
            }
            if let Some((head, tail)) = rest.parted(self.width(k), self.room(k)) {
                self.draw(k, &head);
                rest = tail;
            }
        }
        Some(rest)
    }

    fn width(&self, column: usize) -> f64 {
        self.columns[column].width()
    }

    /// Height left in a column, for a block with the clear space after it.
    fn room(&self, column: usize) -> f64 {
        self.columns[column].bottom - self.tops[column] + AFTER
    }

    fn draw(&mut self, column: usize, block: &Block) {
        let at = Pt::new(self.columns[column].left, self.tops[column]);
        let (drawn, below) = block.draw(at, self.width(column));
        self.items.extend(drawn);
        self.tops[column] = below;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(entries: usize) -> Block {
        let entries = (0..entries)
            .map(|i| Entry::marked(&format!("{i}."), "Sweep the joints."))
            .collect();
        Block::paragraphs("Order of work", entries)
    }

    #[test]
    fn what_does_not_fit_comes_back_whole_in_number() {
        let column = Rect::between(Pt::new(0.0, 0.0), Pt::new(80.0, 60.0));
        let (items, left) = flow(&[block(30)], &[column]);
        assert!(!items.is_empty());
        assert_eq!(left.len(), 1);
        assert!(left[0].title.ends_with("(cont.)"));
        let drawn = items
            .iter()
            .filter(|i| matches!(i, Item::Text(t) if t.text == "Sweep the joints."))
            .count();
        assert_eq!(drawn + left[0].entries.len(), 30);
    }

    #[test]
    fn a_block_takes_the_next_column() {
        let a = Rect::between(Pt::new(0.0, 0.0), Pt::new(80.0, 40.0));
        let b = Rect::between(Pt::new(90.0, 0.0), Pt::new(170.0, 200.0));
        let (_, left) = flow(&[block(20)], &[a, b]);
        assert!(left.is_empty());
    }
}
