//! Ruled tables: columns as wide as their words, the widest text column taking what is left.
//!
//! In: headings and rows of words, optional drawn symbols in the first cell. Out: items in paper
//! millimetres. Cells of a stretching column wrap; others never do. Rows are never parted.

use super::column::LINE;
use super::lettering::{NOTE, width, wrap};
use super::pen;
use crate::draw::{Anchor, Cell, Colour, Face, Item, LineWidth, Pt};

/// A table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows; each has one cell per column.
    pub rows: Vec<Row>,
}

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Heading; may break into lines at `\n`.
    pub head: String,
    /// Where its words stand.
    pub align: Align,
}

/// Where the words of a column stand, and whether it stretches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// To the left, as wide as the widest.
    Left,
    /// To the right, as figures do.
    Right,
    /// To the left; takes what width is left and wraps.
    Stretch,
    /// A drawn symbol of fixed width.
    Symbol,
    /// Left empty, wide enough to write a figure or a name by hand.
    Blank,
}

/// One row.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// Words, one per column.
    pub cells: Vec<String>,
    /// The symbol of the symbol column, relative to the top left corner of a cell of
    /// [`SYMBOL_WIDTH`] by [`SYMBOL_HEIGHT`].
    pub symbol: Vec<Item>,
    /// The face of the row.
    pub face: Option<Face>,
}

/// Width of a drawn symbol.
pub const SYMBOL_WIDTH: f64 = 14.0;
/// Height of a drawn symbol.
pub const SYMBOL_HEIGHT: f64 = 4.2;
/// Width of a column that is written in by hand.
const WRITTEN: f64 = 16.0;
/// Most lines of one cell; a longer note belongs elsewhere.
const MOST_LINES: usize = 20;
/// Clear width between columns.
const GAP: f64 = 2.6;
/// Clear height above and below the words of a row.
const PAD: f64 = 0.9;

impl Table {
    /// A table of columns without rows yet.
    pub fn new<S: AsRef<str>>(columns: &[(S, Align)]) -> Self {
        Self {
            columns: columns
                .iter()
                .map(|(head, align)| Column {
                    head: head.as_ref().to_string(),
                    align: *align,
                })
                .collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row of words.
    pub fn row(&mut self, cells: Vec<String>) {
        self.rows.push(Row {
            cells,
            ..Row::default()
        });
    }

    /// The table without the columns of words in which no row has any; the first one stays.
    pub fn without_empty(self) -> Table {
        let said = |index: usize| {
            let mut cells = self.rows.iter().filter_map(|row| row.cells.get(index));
            cells.any(|cell| !cell.is_empty())
        };
        let kept: Vec<usize> = (0..self.columns.len())
            .filter(|index| {
                let by_hand = matches!(self.columns[*index].align, Align::Symbol | Align::Blank);
                *index == 0 || by_hand || self.rows.is_empty() || said(*index)
            })
            .collect();
        if kept.len() == self.columns.len() {
            return self;
        }
        self.of_columns(&kept)
    }

    /// The table of some of its columns.
    fn of_columns(&self, kept: &[usize]) -> Table {
        let cells = |row: &Row| {
            let cells = kept.iter().map(|index| row.cells.get(*index).cloned());
            cells.map(Option::unwrap_or_default).collect()
        };
        let part = |row: &Row| Row {
            cells: cells(row),
            ..row.clone()
        };
        Table {
            columns: kept.iter().map(|i| self.columns[*i].clone()).collect(),
            rows: self.rows.iter().map(part).collect(),
        }
    }

    fn natural(&self, index: usize) -> f64 {
        let column = &self.columns[index];
        let head = column
            .head
            .split('\n')
            .map(|line| width(line, NOTE, Face::SemiBold))
            .fold(0.0, f64::max);
        match column.align {
            Align::Symbol => SYMBOL_WIDTH.max(head),
            Align::Blank => WRITTEN.max(head),
            Align::Stretch => head.max(28.0),
            Align::Left | Align::Right => self
                .rows
                .iter()
                .filter_map(|row| row.cells.get(index))
                .map(|cell| width(cell, NOTE, Face::SemiBold))
                .fold(head, f64::max),
        }
    }

    /// Least width that the table needs.
    pub fn least_width(&self) -> f64 {
        self.together(&self.naturals())
    }

    /// Least width of every column.
    fn naturals(&self) -> Vec<f64> {
        (0..self.columns.len()).map(|i| self.natural(i)).collect()
    }

    /// Least width of all columns with what is clear between them.
    fn together(&self, naturals: &[f64]) -> f64 {
        naturals.iter().sum::<f64>() + GAP * self.columns.len().saturating_sub(1) as f64
    }

    /// The table in parts that are no wider than a width, each beginning with the first column;
    /// none where it fits as it is.
    pub fn narrowed(&self, width: f64) -> Vec<Table> {
        let natural = self.naturals();
        if self.together(&natural) <= width + 1e-9 || self.columns.len() < 3 {
            return Vec::new();
        }
        // As few parts as the width takes, and then none wider than it must be.
        let mut groups = self.groups(&natural, width);
        let count = groups.len();
        let mut less = width;
        while less > 1.0 {
            less -= 1.0;
            let narrower = self.groups(&natural, less);
            if narrower.len() > count {
                break;
            }
            groups = narrower;
        }
        groups.iter().map(|group| self.of_columns(group)).collect()
    }

    /// Columns that go together in parts no wider than a width, the first one in each. What is
    /// written in by hand stays beside the figure it is read against. `natural` are the columns'
    /// widths.
    fn groups(&self, natural: &[f64], width: f64) -> Vec<Vec<usize>> {
        let mut units: Vec<Vec<usize>> = Vec::new();
        for index in 1..self.columns.len() {
            let written = matches!(self.columns[index].align, Align::Symbol | Align::Blank);
            match units.last_mut() {
                Some(unit) if written => unit.push(index),
                _ => units.push(vec![index]),
            }
        }
        let mut groups: Vec<Vec<usize>> = Vec::new();
        let mut used = f64::INFINITY;
        for unit in units {
            let wide: f64 = unit.iter().map(|index| natural[*index] + GAP).sum();
            if used + wide > width + 1e-9 {
                groups.push(vec![0]);
                used = natural[0];
            }
            used += wide;
            groups.last_mut().expect("a group was begun").extend(unit);
        }
        groups
    }

    /// Width of each column in a table of that width.
    fn widths(&self, total: f64) -> Vec<f64> {
        let mut widths = self.naturals();
        let spare = (total - self.together(&widths)).max(0.0);
        let stretching: Vec<usize> = self
            .columns
            .iter()
            .enumerate()
            .filter(|(_, c)| c.align == Align::Stretch)
            .map(|(i, _)| i)
            .collect();
        for i in &stretching {
            widths[*i] += spare / stretching.len() as f64;
        }
        if stretching.is_empty() && !widths.is_empty() {
            let each = (spare / widths.len() as f64).min(6.0);
            widths.iter_mut().for_each(|w| *w += each);
        }
        widths
    }

    fn head_height(&self) -> f64 {
        let lines = self
            .columns
            .iter()
            .map(|c| c.head.split('\n').count())
            .max()
            .unwrap_or(0);
        if self.columns.iter().all(|c| c.head.is_empty()) {
            return 0.0;
        }
        LINE * lines as f64 + 2.0 * PAD
    }

    fn cell_lines(&self, row: &Row, index: usize, width: f64) -> Vec<String> {
        let Some(words) = row.cells.get(index) else {
            return Vec::new();
        };
        match self.columns[index].align {
            Align::Stretch => {
                let mut lines = wrap(words, NOTE, row.face.unwrap_or(Face::Regular), width);
                lines.truncate(MOST_LINES);
                lines
            }
            Align::Symbol | Align::Blank => Vec::new(),
            Align::Left | Align::Right => vec![words.clone()],
        }
    }

    fn row_height(&self, row: &Row, widths: &[f64]) -> f64 {
        let lines = (0..self.columns.len())
            .map(|i| self.cell_lines(row, i, widths[i]).len())
            .max()
            .unwrap_or(1)
            .max(1);
        let words = LINE * lines as f64 + 2.0 * PAD;
        if row.symbol.is_empty() {
            words
        } else {
            words.max(SYMBOL_HEIGHT + 1.6)
        }
    }

    /// Height in a column of that width.
    pub fn height(&self, total: f64) -> f64 {
        let widths = self.widths(total);
        let rows: f64 = self.rows.iter().map(|r| self.row_height(r, &widths)).sum();
        self.head_height() + rows + 0.5
    }

    /// No column, however wide, makes the table less high.
    pub fn least_height(&self) -> f64 {
        self.head_height() + 0.5 + (LINE + 2.0 * PAD) * self.rows.len() as f64
    }

    /// Parts the table so that the first part is no higher than `room`, with the heading on both
    /// and no row alone on either.
    pub fn parted(&self, total: f64, room: f64) -> Option<(Table, Table)> {
        let widths = self.widths(total);
        let mut used = self.head_height() + 0.5;
        let mut count = 0;
        for row in &self.rows {
            let height = self.row_height(row, &widths);
            if used + height > room {
                break;
            }
            used += height;
            count += 1;
        }
        if count + 1 == self.rows.len() {
            count = count.saturating_sub(1);
        }
        let part = |rows: &[Row]| Table {
            columns: self.columns.clone(),
            rows: rows.to_vec(),
        };
        (count > 1 && count < self.rows.len())
            .then(|| (part(&self.rows[..count]), part(&self.rows[count..])))
    }

    fn cell(&self, row: usize, column: usize, head: bool) -> Cell {
        Cell {
            row,
            column,
            columns: self.columns.len(),
            head,
        }
    }

    /// The table drawn with its top left corner at a point.
    pub fn draw(&self, at: Pt, total: f64) -> Vec<Item> {
        let widths = self.widths(total);
        let right = at.x + total;
        let rule = |y: f64, stroke| pen::line(Pt::new(at.x, y), Pt::new(right, y), stroke);
        let fine = pen::solid(LineWidth::W18, pen::GREY);
        let mut items = Vec::new();
        let mut y = at.y;
        if self.head_height() > 0.0 {
            items.push(pen::rect(
                at,
                total,
                self.head_height(),
                None,
                Some(pen::BAND),
            ));
            let mut x = at.x;
            for (index, (column, wide)) in self.columns.iter().zip(&widths).enumerate() {
                let cell = self.cell(0, index, true);
                let (px, anchor) = place(column.align, x, *wide);
                let lines: Vec<&str> = column.head.split('\n').collect();
                let drop = self.head_height() - PAD - LINE * lines.len() as f64;
                for (i, line) in lines.iter().enumerate() {
                    let base = y + drop + LINE * (i as f64 + 1.0) - (LINE - NOTE) / 2.0;
                    let words = pen::bold(Pt::new(px, base), NOTE, anchor, line);
                    items.push(in_cell(words, cell));
                }
                x += wide + GAP;
            }
            y += self.head_height();
            items.push(rule(y, pen::solid(LineWidth::W25, Colour::BLACK)));
        }
        for (number, row) in self.rows.iter().enumerate() {
            let height = self.row_height(row, &widths);
            let mut x = at.x;
            for (i, wide) in widths.iter().enumerate() {
                let (px, anchor) = place(self.columns[i].align, x, *wide);
                if self.columns[i].align == Align::Symbol {
                    let top = y + (height - SYMBOL_HEIGHT) / 2.0;
                    items.extend(row.symbol.iter().map(|s| super::shift::shifted(s, x, top)));
                }
                for (k, line) in self.cell_lines(row, i, *wide).iter().enumerate() {
                    let base = y + PAD + (LINE - NOTE) / 2.0 + NOTE + LINE * k as f64;
                    let face = row.face.unwrap_or(Face::Regular);
                    let words = pen::lettered(Pt::new(px, base), 0.0, NOTE, face, anchor, line);
                    items.push(in_cell(words, self.cell(number + 1, i, false)));
                }
                x += wide + GAP;
            }
            y += height;
            items.push(rule(y, fine));
        }
        items
    }
}

/// Words that stand in a cell.
fn in_cell(mut item: Item, cell: Cell) -> Item {
    if let Item::Text(text) = &mut item {
        text.cell = Some(cell);
    }
    item
}

fn place(align: Align, x: f64, wide: f64) -> (f64, Anchor) {
    match align {
        Align::Right => (x + wide, Anchor::End),
        Align::Left | Align::Stretch | Align::Symbol | Align::Blank => (x, Anchor::Start),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heads(table: &Table) -> Vec<&str> {
        table.columns.iter().map(|c| c.head.as_str()).collect()
    }

    /// A column that says nothing in any row is none; blanks to write in stay.
    #[test]
    fn empty_columns_are_left_out() {
        let mut table = Table::new(&[
            ("Edge", Align::Left),
            ("Step", Align::Left),
            ("Higher", Align::Left),
            ("Read", Align::Blank),
        ]);
        table.row(["B-C", "none", "", ""].map(String::from).to_vec());
        table.row(["D-A", "none", "", ""].map(String::from).to_vec());
        let full = |table: &Table| table.clone().without_empty();
        assert_eq!(heads(&full(&table)), ["Edge", "Step", "Read"]);
        table.row(["E-F", "20 mm", "Terrace", ""].map(String::from).to_vec());
        assert_eq!(full(&table), table);
    }

    /// A blank to write in goes with its figure, every part names its rows, none stands alone that
    /// another could share with, and no column is lost.
    #[test]
    fn a_narrowed_table_keeps_blanks_beside_their_figures() {
        let mut table = Table::new(&[
            ("Corner", Align::Left),
            ("Formation", Align::Right),
            ("Read", Align::Symbol),
            ("Rail", Align::Right),
            ("Read", Align::Blank),
            ("Bedding", Align::Right),
            ("Panel", Align::Right),
            ("Finish", Align::Right),
        ]);
        let cells = ["A", "4.80′", "", "4.74′", "", "4.77′", "4.71′", "4.51′"];
        table.row(cells.map(String::from).to_vec());
        let whole = table.least_width();
        assert_eq!(table.narrowed(whole), []);
        let parts = table.narrowed(whole - 1.0);
        assert_eq!(
            parts.iter().map(heads).collect::<Vec<_>>(),
            [
                vec!["Corner", "Formation", "Read", "Rail", "Read"],
                vec!["Corner", "Bedding", "Panel", "Finish"],
            ]
        );
        assert!(parts.iter().all(|part| part.rows[0].cells[0] == "A"));
        assert_eq!(parts[1].rows[0].cells[1..], ["4.77′", "4.71′", "4.51′"]);
        // However narrow, a figure keeps its blank.
        let narrow = table.narrowed(1.0);
        let heads = |part: &Table| part.columns[1..].iter().map(|c| c.head.clone()).collect();
        let heads: Vec<Vec<String>> = narrow.iter().map(heads).collect();
        let rest = ["Bedding", "Panel", "Finish"].map(|head| vec![head.to_string()]);
        let beside = ["Formation", "Rail"].map(|head| vec![head.to_string(), "Read".to_string()]);
        assert_eq!(heads, [beside.to_vec(), rest.to_vec()].concat());
    }
}
