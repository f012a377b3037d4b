//! The key to signs: each sign drawn with its words, in as many columns as the block's width holds.
//!
//! In: signs, each drawn from the top left corner of a cell of a table's symbol. Out: items, filled
//! down one column before the next. Paper millimetres, y down.

use super::lettering::{NOTE, width};
use super::pen;
use super::shift::shifted;
use super::table::{SYMBOL_HEIGHT, SYMBOL_WIDTH};
use crate::draw::{Anchor, Face, Item, Pt};

/// A sign with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct Sign {
    /// The marks.
    pub symbol: Vec<Item>,
    /// What they stand for.
    pub words: String,
}

/// Pitch of the rows.
const PITCH: f64 = SYMBOL_HEIGHT + 1.2;
/// Clear width between a sign and its words.
const GAP: f64 = 1.5;
/// Clear width between columns.
const BETWEEN: f64 = 4.0;

/// Width of one column.
fn cell(signs: &[Sign]) -> f64 {
    let words = signs
        .iter()
        .map(|sign| width(&sign.words, NOTE, Face::Regular))
        .fold(0.0, f64::max);
    SYMBOL_WIDTH + GAP + words
}

/// Columns and rows in that width.
fn grid(signs: &[Sign], column: f64) -> (usize, usize) {
    let columns = ((column + BETWEEN) / (cell(signs) + BETWEEN))
        .floor()
        .max(1.0) as usize;
    let rows = signs.len().div_ceil(columns);
    (signs.len().div_ceil(rows.max(1)).max(1), rows)
}

/// Least width: one column.
pub fn least_width(signs: &[Sign]) -> f64 {
    cell(signs)
}

/// Height in a column of that width.
pub fn height(signs: &[Sign], column: f64) -> f64 {
    grid(signs, column).1 as f64 * PITCH + 0.6
}

/// Draws the key from its top left corner.
pub fn draw(signs: &[Sign], at: Pt, column: f64) -> Vec<Item> {
    let (columns, rows) = grid(signs, column);
    let step = (column + BETWEEN) / columns as f64;
    let mut items = Vec::new();
    for (index, sign) in signs.iter().enumerate() {
        let x = at.x + (index / rows.max(1)) as f64 * step;
        let y = at.y + (index % rows.max(1)) as f64 * PITCH + 0.6;
        items.extend(sign.symbol.iter().map(|item| shifted(item, x, y)));
        let base = Pt::new(x + SYMBOL_WIDTH + GAP, y + (SYMBOL_HEIGHT + NOTE) / 2.0);
        items.push(pen::text(base, NOTE, Anchor::Start, &sign.words));
    }
    items
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_narrow_column_takes_more_rows() {
        let sign = Sign {
            symbol: Vec::new(),
            words: "Nail of the restraint".to_string(),
        };
        let signs = vec![sign; 7];
        let one = cell(&signs);
        assert_eq!(grid(&signs, one), (1, 7));
        assert_eq!(grid(&signs, 2.0 * one + BETWEEN), (2, 4));
        assert_eq!(grid(&signs, 10.0 * one), (7, 1));
        assert_eq!(draw(&signs, Pt::default(), 2.0 * one + BETWEEN).len(), 7);
    }
}
