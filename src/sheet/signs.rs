//! The key to signs: each sign drawn with its words, in as many columns as the block's width holds.
//!
//! In: signs, each drawn from the top left corner of a cell of a table's symbol. Out: items, filled
//! down one column before the next. Paper millimetres, y down.

use super::lettering::{NOTE, PITCH as LEADING, width, wrap};
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
/// Words wider than this are broken into lines where the block is no wider.
const WIDE: f64 = 50.0;

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

/// Least width: one column, long words in lines.
pub fn least_width(signs: &[Sign]) -> f64 {
    cell(signs).min(SYMBOL_WIDTH + GAP + WIDE)
}

/// The lines of a sign's words in a column of that width.
fn lines(sign: &Sign, column: f64) -> Vec<String> {
    let words = wrap(
        &sign.words,
        NOTE,
        Face::Regular,
        column - SYMBOL_WIDTH - GAP,
    );
    if words.is_empty() {
        vec![String::new()]
    } else {
        words
    }
}

/// Height of a sign's row in a column of that width.
fn row(sign: &Sign, column: f64) -> f64 {
    PITCH + (lines(sign, column).len() - 1) as f64 * NOTE * LEADING
}

/// Height in a column of that width.
pub fn height(signs: &[Sign], column: f64) -> f64 {
    let (columns, rows) = grid(signs, column);
    let high = match columns {
        1 => signs.iter().map(|sign| row(sign, column)).sum(),
        _ => rows as f64 * PITCH,
    };
    high + 0.6
}

/// Draws the key from its top left corner.
pub fn draw(signs: &[Sign], at: Pt, column: f64) -> Vec<Item> {
    let (columns, rows) = grid(signs, column);
    let step = (column + BETWEEN) / columns as f64;
    let mut items = Vec::new();
    let mut below = at.y + 0.6;
    for (index, sign) in signs.iter().enumerate() {
        if index % rows.max(1) == 0 {
            below = at.y + 0.6;
        }
        let (x, y) = (at.x + (index / rows.max(1)) as f64 * step, below);
        items.extend(sign.symbol.iter().map(|item| shifted(item, x, y)));
        let words = match columns {
            1 => lines(sign, column),
            _ => vec![sign.words.clone()],
        };
        below += PITCH + (words.len() - 1) as f64 * NOTE * LEADING;
        for (number, line) in words.iter().enumerate() {
            let down = (SYMBOL_HEIGHT + NOTE) / 2.0 + number as f64 * NOTE * LEADING;
            let base = Pt::new(x + SYMBOL_WIDTH + GAP, y + down);
            items.push(pen::text(base, NOTE, Anchor::Start, line));
        }
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
    /// Words longer than a column are broken; none leaves it.
    #[test]
    fn long_words_stay_in_their_column() {
        let words =
            "Straight joint over panel joints, worst line 14′-1¾″: move the bond or the panels";
        let sign = |words: &str| Sign {
            symbol: Vec::new(),
            words: words.to_string(),
        };
        let signs = [sign(words), sign("Nail")];
        assert!(least_width(&signs) < 80.0 && cell(&signs) > 80.0);
        let drawn = draw(&signs, Pt::default(), 80.0);
        let texts: Vec<_> = drawn
            .iter()
            .filter_map(|item| match item {
                Item::Text(text) => Some(text),
                _ => None,
            })
            .collect();
        assert_eq!(texts.len(), 3);
        for text in &texts {
            assert!(text.at.x + width(&text.text, NOTE, Face::Regular) <= 80.0);
        }
        assert!(texts[2].at.y > texts[1].at.y + NOTE);
        assert!(height(&signs, 80.0) > texts[2].at.y);
    }
}
