//! The flow of blocks through columns.
//!
//! In: equal columns side by side, from left to right, and blocks in order. Out: items, and the
//! blocks that found no room. A block that needs more breadth than one column spans several. It is
//! parted, with its heading repeated, only where no column takes it whole and a good piece of it
//! fits. Paper millimetres, y down.

use super::column::{AFTER, Block};
use crate::draw::paper::Rect;
use crate::draw::{Item, Pt};
use crate::language::Languages;

/// Least height of a column that the first part of a block is put in.
const LEAST: f64 = 35.0;

/// Height that a block in one piece may leave empty above it.
const EMPTY: f64 = 60.0;

/// Flows blocks through columns; gives the items and what found no room.
pub fn flow(blocks: &[Block], columns: &[Rect], languages: Languages) -> (Vec<Item>, Vec<Block>) {
    let mut flow = Flow::new(columns.to_vec(), languages);
    let left = blocks.iter().filter_map(|block| flow.put(block)).collect();
    (flow.items, left)
}

/// Columns being filled.
#[derive(Clone, Debug)]
pub struct Flow {
    columns: Vec<Rect>,
    tops: Vec<f64>,
    languages: Languages,
    /// What has been drawn.
    pub items: Vec<Item>,
    /// How often a block goes on in another column.
    pub breaks: usize,
}

impl Flow {
    /// Empty columns.
    pub fn new(columns: Vec<Rect>, languages: Languages) -> Self {
        Self {
            tops: columns.iter().map(|c| c.top).collect(),
            columns,
            languages,
            items: Vec::new(),
            breaks: 0,
        }
    }

    /// Puts a block where it fits as a whole; whether it does. Its tables stay in one piece where
    /// that leaves little room empty above them, else they are parted to fit fewer columns.
    pub fn put_whole(&mut self, block: &Block) -> bool {
        let highest = self.columns.iter().map(|c| c.height()).fold(0.0, f64::max);
        if block.is_over(highest) {
            return false;
        }
        let mut first = None;
        for span in (1..=self.columns.len()).rev() {
            let block = block.narrowed(self.zone(0, span).width());
            let Some((zone, empty)) = self.place(&block) else {
                continue;
            };
            if empty <= EMPTY {
                self.draw(zone, &block);
                return true;
            }
            first.get_or_insert((block, zone));
        }
        if let Some((block, zone)) = &first {
            self.draw(*zone, block);
        }
        first.is_some()
    }

    /// Where a block fits as a whole, and the height left empty above it in its columns together.
    fn place(&self, block: &Block) -> Option<(Rect, f64)> {
        let span = self.span(block);
        let mut best: Option<(usize, Rect)> = None;
        for k in 0..=self.columns.len().saturating_sub(span) {
            let zone = self.zone(k, span);
            let fits = !block.is_over(zone.height())
                && block.height(zone.width()) - AFTER <= zone.height();
            // A spanning block goes as high as it can, so that little is lost above it.
            let higher = best.is_none_or(|(_, b)| span > 1 && zone.top < b.top - 1e-9);
            if fits && higher {
                best = Some((k, zone));
            }
        }
        let (k, zone) = best?;
        let empty = self.tops[k..k + span].iter().map(|top| zone.top - top);
        Some((zone, empty.sum()))
    }

    /// Puts a block where it fits, whole before in parts; gives back what did not.
    pub fn put(&mut self, block: &Block) -> Option<Block> {
        let block = block.narrowed(self.zone(0, self.columns.len()).width());
        if self.put_whole(&block) {
            return None;
        }
        let span = self.span(&block);
        let mut rest = block.into_owned();
        let mut k = 0;
        while k + span <= self.columns.len() {
            let zone = self.zone(k, span);
            k += span;
            if !rest.is_over(zone.height()) && rest.height(zone.width()) - AFTER <= zone.height() {
                self.draw(zone, &rest);
                return None;
            }
            if zone.height() < LEAST {
                continue;
            }
            if let Some((head, tail)) =
                rest.parted(zone.width(), zone.height() + AFTER, self.languages)
            {
                self.draw(zone, &head);
                self.breaks += 1;
                rest = tail;
            }
        }
        Some(rest)
    }

    /// Puts a block completely, in one piece or in parts, or not at all; whether it does.
    pub fn put_all(&mut self, block: &Block) -> bool {
        let (tops, drawn, breaks) = (self.tops.clone(), self.items.len(), self.breaks);
        let stands = self.put(block).is_none();
        if !stands {
            self.tops = tops;
            self.items.truncate(drawn);
            self.breaks = breaks;
        }
        stands
    }

    /// The same with its tables as wide as they are: none is parted to fit fewer columns.
    pub fn put_as_it_is(&mut self, block: &Block) -> bool {
        if block.least_width() > self.breadth(self.columns.len()) + 1e-6 {
            return false;
        }
        if let Some((zone, _)) = self.place(block) {
            self.draw(zone, block);
            return true;
        }
        self.span(block) == 1 && self.put_all(block)
    }

    /// Height taken in all columns together.
    pub fn taken(&self) -> f64 {
        let heights = self.columns.iter().zip(&self.tops);
        heights.map(|(column, top)| top - column.top).sum()
    }

    /// How many columns a block spans.
    fn span(&self, block: &Block) -> usize {
        let least = block.least_width();
        let count = self.columns.len();
        (1..=count)
            .find(|span| least <= self.breadth(*span) + 1e-6)
            .unwrap_or(count)
            .max(1)
    }

    fn breadth(&self, span: usize) -> f64 {
        match (self.columns.first(), self.columns.get(span.wrapping_sub(1))) {
            (Some(first), Some(last)) => last.right - first.left,
            _ => 0.0,
        }
    }

    /// The free room of neighbouring columns.
    fn zone(&self, from: usize, span: usize) -> Rect {
        let columns = &self.columns[from..from + span];
        let tops = &self.tops[from..from + span];
        Rect {
            left: columns[0].left,
            right: columns[span - 1].right,
            top: tops.iter().copied().fold(f64::NEG_INFINITY, f64::max),
            bottom: columns
                .iter()
                .map(|c| c.bottom)
                .fold(f64::INFINITY, f64::min),
        }
    }

    fn draw(&mut self, zone: Rect, block: &Block) {
        let (drawn, below) = block.draw(Pt::new(zone.left, zone.top), zone.width());
        self.items.extend(drawn);
        for (column, top) in self.columns.iter().zip(&mut self.tops) {
            if column.left < zone.right && zone.left < column.right {
                *top = below;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::column::{Entry, Parting};
    use super::super::table::{Align, Table};
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
        let (items, left) = flow(&[block(30)], &[column], Languages::default());
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
        let (_, left) = flow(&[block(20)], &[a, b], Languages::default());
        assert!(left.is_empty());
    }

    /// What does not fit completely leaves no part behind.
    #[test]
    fn all_of_a_block_stands_or_none_of_it() {
        let a = Rect::between(Pt::new(0.0, 0.0), Pt::new(80.0, 60.0));
        let b = Rect::between(Pt::new(90.0, 0.0), Pt::new(170.0, 60.0));
        let mut flow = Flow::new(vec![a, b], Languages::default());
        assert!(!flow.put_all(&block(40)));
        assert_eq!((flow.items.len(), &flow.tops[..]), (0, &[0.0, 0.0][..]));
        assert!(flow.put_all(&block(20)), "in two columns");
    }

    /// A table that needs 150 mm stands across two columns of 100 mm, and what follows under it.
    #[test]
    fn a_wide_table_spans_columns() {
        let columns: Vec<Rect> = [0.0, 106.0, 212.0]
            .map(|x| Rect::between(Pt::new(x, 0.0), Pt::new(x + 100.0, 150.0)))
            .to_vec();
        let heads = ["Formation level of the corner"; 4].map(|head| (head, Align::Left));
        let mut table = Table::new(&heads);
        table.row(vec!["1".to_string(); 4]);
        let wide = Block::table("Set-out", table);
        assert!(wide.least_width() > 100.0 && wide.least_width() < 206.0);
        let mut flow = Flow::new(columns, Languages::default());
        assert_eq!(flow.put(&wide), None);
        assert!(flow.tops[0] > 10.0 && flow.tops[0] == flow.tops[1] && flow.tops[2] == 0.0);
        assert!(flow.put_whole(&block(2)));
        assert!(flow.tops[0] > flow.tops[1]);
        assert_eq!(block(2).parting, Parting::Allowed);
    }

    /// A table across two of three columns stays in one piece where it leaves little room empty
    /// above it, and is parted to stand in one where it would leave more.
    #[test]
    fn a_table_is_parted_rather_than_leaving_a_column_empty() {
        let columns: Vec<Rect> = [0.0, 106.0, 212.0]
            .map(|x| Rect::between(Pt::new(x, 0.0), Pt::new(x + 100.0, 150.0)))
            .to_vec();
        let heads = ["Formation level of the corner"; 4].map(|head| (head, Align::Left));
        let mut table = Table::new(&heads);
        table.row(vec!["1".to_string(); 4]);
        let wide = Block::table("Set-out", table);
        let put = |beside: f64| {
            let mut flow = Flow::new(columns.clone(), Languages::default());
            flow.tops = vec![beside, 0.0, beside];
            assert!(flow.put_whole(&wide));
            flow.tops
        };
        let whole = put(EMPTY - 1.0);
        assert!(whole[0] > EMPTY && whole[0] == whole[1] && whole[2] == EMPTY - 1.0);
        let parted = put(EMPTY + 1.0);
        // The parts stand below each other in the first column that takes them.
        assert_eq!([parted[1], parted[2]], [0.0, EMPTY + 1.0]);
        assert!(parted[0] - (EMPTY + 1.0) > 1.5 * (whole[0] - (EMPTY - 1.0)));
    }
}
