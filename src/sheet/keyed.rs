//! The keyed table: words that found no place in a view, by the number that stands in it.
//!
//! In: rows from lettering a view. Out: a block for the sheet's text; none where everything found
//! its place.

use super::column::{Block, Entry};
use super::labels::Keyed;
use super::lettering::{NOTE, width};
use super::table::{Align, Table};
use crate::draw::Face;
use crate::language::{Languages, say};

/// Widest place that stays on one line.
const PLACE: f64 = 50.0;

/// The table of a view.
pub fn block(view: &str, rows: &[Keyed], languages: Languages) -> Option<Block> {
    if rows.is_empty() {
        return None;
    }
    if rows
        .iter()
        .all(|row| row.number == 0 && row.place.is_empty())
    {
        let title = say!(languages, "{view}: not lettered for lack of room", view);
        let words = rows
            .iter()
            .map(|row| Entry::plain(languages.lines(&row.words)));
        return Some(Block::paragraphs(&title, words.collect()));
    }
    let placed = rows.iter().any(|row| !row.place.is_empty());
    let numbered = rows.iter().any(|row| row.number > 0);
    let mut columns = vec![(say!(languages, "What it is"), Align::Stretch)];
    if numbered {
        columns.insert(0, (say!(languages, "No."), Align::Right));
    }
    if placed {
        // From one point to another, in two units, is wider than a column.
        let wide = |row: &Keyed| width(&row.place.say(languages), NOTE, Face::Regular) > PLACE;
        let align = match rows.iter().any(wide) {
            true => Align::Stretch,
            false => Align::Left,
        };
        columns.push((say!(languages, "At"), align));
    }
    let mut table = Table::new(&columns);
    for row in rows {
        let number = match row.number {
            0 => "–".to_string(),
            number => number.to_string(),
        };
        let mut cells = vec![row.words.say(languages)];
        if numbered {
            cells.insert(0, number);
        }
        if placed {
            cells.push(row.place.say(languages));
        }
        table.row(cells);
    }
    let title = match numbered {
        true => say!(languages, "{view}: numbers in place of words", view),
        false => say!(languages, "{view}: not lettered for lack of room", view),
    };
    Some(Block::table(&title, table))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::Phrase;

    #[test]
    fn a_view_without_want_of_room_has_no_table() {
        let languages = Languages::default();
        assert_eq!(block("Plan", &[], languages), None);
        let row = Keyed {
            number: 3,
            words: "Panel 4-2".into(),
            place: "x 3′-0″, y 1′-6″".into(),
        };
        let table = block("Plan", &[row], languages).expect("a row makes a table");
        assert_eq!(table.title, "Plan: numbers in place of words");
    }

    /// A place from one point to another in two units does not make the table wider than a column.
    #[test]
    fn a_long_place_is_broken_into_lines() {
        let row = Keyed {
            number: 1,
            words: "Dimension 8′-0″ [2438 mm]".into(),
            place: "from x 11′-7″ [3531 mm], y 20′-0″ [6096 mm] to x 12′-11″ [3937 mm], y 12′-1″ [3683 mm]".into(),
        };
        let table = block("Plan", &[row], Languages::default()).expect("a row makes a table");
        assert!(table.least_width() <= 88.0, "{}", table.least_width());
    }

    /// Where no number stands in the view there is no table that promises one.
    #[test]
    fn what_has_no_number_is_not_called_numbered() {
        let row = Keyed {
            number: 0,
            words: "7 whole panels are not numbered".into(),
            place: Phrase::default(),
        };
        let block = block("Plan", &[row], Languages::default()).expect("a row makes a block");
        assert_eq!(block.title, "Plan: not lettered for lack of room");
        assert_eq!(
            block.entries,
            [Entry::plain("7 whole panels are not numbered")]
        );
    }
}
