//! Blocks of text under headings: their heights, how they are drawn, and where they part.
//!
//! In: blocks of entries and a column width. Out: items, or the two parts of a block. Lettering
//! never shrinks. Paper millimetres, y down.

use std::borrow::Cow;

use super::figure::{self, Figure};
use super::lettering::{HEADING, NOTE, PITCH, baselines, wrap};
use super::pen;
use super::signs::{self, Sign};
use super::table::Table;
use crate::draw::{Anchor, Face, Item, Pt};
use crate::language::{Languages, say};

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
    /// The key to signs.
    Signs(Vec<Sign>),
    /// Figures of known sizes, side by side in rows; may be parted between rows.
    Figures(Vec<Figure>),
}

/// Height of a heading of one line with its rule.
const HEAD: f64 = HEADING + 4.4;
/// Pitch of the lines of a heading.
const HEAD_LINE: f64 = HEADING * 1.4;
/// Clear height after a block.
pub const AFTER: f64 = 4.0;
/// Clear height between a table and words below it.
const UNDER_TABLE: f64 = 1.2;
/// Width of the hanging mark.
const MARK: f64 = 6.0;
/// Pitch of notes.
pub const LINE: f64 = NOTE * PITCH;

impl Block {
    /// A block of numbered or marked paragraphs.
    pub fn paragraphs(title: impl AsRef<str>, entries: Vec<Entry>) -> Self {
        Self {
            title: title.as_ref().to_string(),
            entries,
            parting: Parting::Allowed,
        }
    }

    /// A block that holds one table, without columns that say nothing.
    pub fn table(title: impl AsRef<str>, table: Table) -> Self {
        Self {
            title: title.as_ref().to_string(),
            entries: vec![Entry::Table(table.without_empty())],
            parting: Parting::Allowed,
        }
    }

    /// A table under lines of explanation.
    pub fn explained(title: impl AsRef<str>, words: &[String], table: Table) -> Self {
        let mut entries: Vec<Entry> = words.iter().map(Entry::plain).collect();
        entries.push(Entry::Table(table));
        Self::paragraphs(title, entries)
    }

    /// A key to signs, each with its words.
    pub fn signs<S: AsRef<str>>(title: impl AsRef<str>, rows: Vec<(Vec<Item>, S)>) -> Self {
        let signs = rows.into_iter().map(|(symbol, words)| Sign {
            symbol,
            words: words.as_ref().to_string(),
        });
        Self {
            title: title.as_ref().to_string(),
            entries: vec![Entry::Signs(signs.collect())],
            parting: Parting::Whole,
        }
    }

    /// Height of the block in a column of that width, heading and clear space included.
    pub fn height(&self, width: f64) -> f64 {
        let entries = self.entries.iter().enumerate();
        let body: f64 = entries.map(|(i, e)| self.gap(i) + e.height(width)).sum();
        head_height(&self.title, width) + body + AFTER
    }

    /// The block with its tables in parts that are no wider than a width.
    pub fn narrowed(&self, width: f64) -> Cow<'_, Block> {
        let parts = |entry: &Entry| match entry {
            Entry::Table(table) => table.narrowed(width),
            _ => Vec::new(),
        };
        let parts: Vec<Vec<Table>> = self.entries.iter().map(parts).collect();
        if parts.iter().all(Vec::is_empty) {
            return Cow::Borrowed(self);
        }
        let entries = self.entries.iter().zip(parts).flat_map(|(entry, parts)| {
            let whole = parts.is_empty().then(|| entry.clone());
            whole.into_iter().chain(parts.into_iter().map(Entry::Table))
        });
        Cow::Owned(Block {
            title: self.title.clone(),
            entries: entries.collect(),
            parting: self.parting,
        })
    }

    /// Whether the block is surely higher than that in any column: it is told from the number of
    /// rows of its tables, so that long ones are not measured again and again.
    pub fn is_over(&self, height: f64) -> bool {
        let least = self.entries.iter().map(|entry| match entry {
            Entry::Table(table) => table.least_height(),
            _ => 0.0,
        });
        least.sum::<f64>() > height + AFTER
    }

    /// Whether it is the key to the signs of a view.
    pub fn is_key(&self) -> bool {
        self.entries
            .iter()
            .any(|entry| matches!(entry, Entry::Signs(_)))
    }

    /// Least width that its tables need.
    pub fn least_width(&self) -> f64 {
        self.entries
            .iter()
            .map(|entry| match entry {
                Entry::Table(table) => table.least_width(),
                Entry::Figures(figures) => figures.iter().map(Figure::breadth).fold(0.0, f64::max),
                Entry::Signs(signs) => signs::least_width(signs),
                Entry::Paragraph { .. } | Entry::Drawing { .. } => 40.0,
            })
            .fold(0.0, f64::max)
    }

    /// Clear height over an entry: words keep off the rule at the foot of a table.
    fn gap(&self, index: usize) -> f64 {
        let before = index.checked_sub(1).and_then(|i| self.entries.get(i));
        match (before, self.entries.get(index)) {
            (Some(Entry::Table(_)), Some(Entry::Paragraph { .. })) => UNDER_TABLE,
            _ => 0.0,
        }
    }

    /// Draws the block; gives its items and the y below it.
    pub fn draw(&self, at: Pt, width: f64) -> (Vec<Item>, f64) {
        let mut items = heading(&self.title, at, width);
        let mut y = at.y + head_height(&self.title, width);
        for (index, entry) in self.entries.iter().enumerate() {
            y += self.gap(index);
            items.extend(entry.draw(Pt::new(at.x, y), width));
            y += entry.height(width);
        }
        (items, y + AFTER)
    }

    /// Parts the block so that the first part is no higher than `room`; `None` when not even the
    /// heading with one entry fits.
    pub fn parted(&self, width: f64, room: f64, languages: Languages) -> Option<(Block, Block)> {
        if self.parting == Parting::Whole {
            return None;
        }
        let mut left = room - head_height(&self.title, width) - AFTER;
        let mut first = Vec::new();
        let mut rest = Vec::new();
        for (index, entry) in self.entries.iter().enumerate() {
            if !rest.is_empty() {
                rest.push(entry.clone());
                continue;
            }
            left -= self.gap(index);
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
        // No entry stands alone before or after the break.
        if rest.len() == 1 && first.len() > 2 && matches!(rest[0], Entry::Paragraph { .. }) {
            rest.insert(0, first.remove(first.len() - 1));
        }
        if first.len() == 1 && rest.len() > 1 && matches!(first[0], Entry::Paragraph { .. }) {
            return None;
        }
        let with = |title: String, entries| Block {
            title,
            entries,
            parting: self.parting,
        };
        (!first.is_empty() && !rest.is_empty()).then(|| {
            let ending = say!(languages, " (cont.)");
            let more = format!("{}{ending}", self.title.trim_end_matches(&ending));
            (with(self.title.clone(), first), with(more, rest))
        })
    }
}

impl Entry {
    /// A paragraph without a mark.
    pub fn plain(words: impl AsRef<str>) -> Self {
        Self::marked("", words)
    }

    /// A paragraph with a hanging mark.
    pub fn marked(mark: &str, words: impl AsRef<str>) -> Self {
        Self::Paragraph {
            mark: mark.to_string(),
            words: words.as_ref().to_string(),
            face: Face::Regular,
        }
    }

    /// A paragraph in the semi-bold face.
    pub fn strong(mark: &str, words: impl AsRef<str>) -> Self {
        Self::Paragraph {
            mark: mark.to_string(),
            words: words.as_ref().to_string(),
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
                LINE + baselines(&lines, NOTE, *face)
                    .last()
                    .copied()
                    .unwrap_or(0.0)
                    + 0.8
            }
            Entry::Table(table) => table.height(width),
            Entry::Drawing { height, .. } => *height,
            Entry::Signs(signs) => signs::height(signs, width),
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
                let lines = wrap(words, NOTE, *face, width - indent);
                for (line, down) in lines.iter().zip(baselines(&lines, NOTE, *face)) {
                    let p = Pt::new(at.x + indent, at.y + NOTE + down);
                    items.push(pen::lettered(p, 0.0, NOTE, *face, Anchor::Start, line));
                }
                items
            }
            Entry::Table(table) => table.draw(at, width),
            Entry::Drawing { items, .. } => items
                .iter()
                .map(|i| super::shift::shifted(i, at.x, at.y))
                .collect(),
            Entry::Signs(signs) => signs::draw(signs, at, width),
            Entry::Figures(figures) => figure::draw(figures, at, width),
        }
    }
}

/// Lines of a heading in a column of that width.
fn head_lines(title: &str, width: f64) -> Vec<String> {
    wrap(title, HEADING, Face::SemiBold, width)
}

/// Height of a heading with its rule.
fn head_height(title: &str, width: f64) -> f64 {
    let more = head_lines(title, width).len().saturating_sub(1);
    HEAD + HEAD_LINE * more as f64
}

/// A heading over a rule.
fn heading(title: &str, at: Pt, width: f64) -> Vec<Item> {
    let rule = pen::solid(crate::draw::LineWidth::W35, crate::draw::Colour::BLACK);
    let mut base = at.y + HEADING;
    let mut items = Vec::new();
    for (i, line) in head_lines(title, width).iter().enumerate() {
        base = at.y + HEADING + HEAD_LINE * i as f64;
        items.push(pen::bold(Pt::new(at.x, base), HEADING, Anchor::Start, line));
    }
    let y = base + 1.9;
    let across = [Pt::new(at.x, y), Pt::new(at.x + width, y)];
    items.push(pen::line(across[0], across[1], rule));
    items
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Mm, Sheet, conflicts};
    use crate::sheet::table::Align;

    /// An accent on a capital keeps off what hangs above it.
    #[test]
    fn an_accented_capital_keeps_off_the_line_above() {
        for above in ["pppppppp", "[///§§§]", "{@@@@@@}"] {
            let words =
                format!("Panneaux et coupe, {above} {above} {above} ÀÉÊÀÉÊÀÉÊÀÉÊÀÉÊÀÉÊÀÉÊÀÉÊ");
            let block = Block::paragraphs("Feuilles", vec![Entry::plain(words)]);
            let (items, foot) = block.draw(Pt::new(20.0, 20.0), 60.0);
            assert!((foot - 20.0 - block.height(60.0)).abs() < 1e-9);
            assert_eq!(on_a_sheet(items), [], "{above}");
        }
    }

    fn on_a_sheet(items: Vec<Item>) -> Vec<crate::draw::Conflict> {
        conflicts(&Sheet {
            width: Mm(130.0),
            height: Mm(100.0),
            title: String::new(),
            language: String::new(),
            layers: Vec::new(),
            items,
        })
    }

    /// The words under a table keep off its last rule, and the block is higher by as much.
    #[test]
    fn words_under_a_table_keep_off_its_rule() {
        let mut table = Table::new(&[("", Align::Stretch), ("USD", Align::Right)]);
        table.row(vec!["Priced so far".to_string(), "1,240.00".to_string()]);
        let words = Entry::strong(
            "!",
            "Not priced yet, and not in the sum: ¾″ outside, 10′-0″.",
        );
        let block = Block {
            title: "Price".to_string(),
            entries: vec![Entry::Table(table), words],
            parting: Parting::Allowed,
        };
        let (items, foot) = block.draw(Pt::new(20.0, 20.0), 90.0);
        assert!((foot - 20.0 - block.height(90.0)).abs() < 1e-9);
        assert_eq!(on_a_sheet(items), []);
    }

    /// A heading wider than its column takes lines, and what stands below it moves down by them.
    #[test]
    fn a_long_heading_is_never_cut_short() {
        let title = "Levels and rod readings; datum Back door sill 100.00′";
        let block = Block::paragraphs(title, vec![Entry::plain("Read the rod.")]);
        let (items, foot) = block.draw(Pt::new(0.0, 0.0), 60.0);
        let lines: Vec<&str> = items
            .iter()
            .filter_map(|item| match item {
                Item::Text(text) if text.face == Face::SemiBold => Some(text.text.as_str()),
                _ => None,
            })
            .collect();
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), title);
        assert!((foot - block.height(60.0)).abs() < 1e-9);
        assert!(block.height(60.0) > block.height(200.0) + 4.0);
    }
}
