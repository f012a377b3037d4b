//! The keyed table: words that found no place in a view, by the number that stands in it.
//!
//! In: rows from lettering a view. Out: a block for the sheet's text; none where everything found
//! its place.

use super::column::Block;
use super::labels::Keyed;
use super::table::{Align, Table};

/// The table of a view.
pub fn block(view: &str, rows: &[Keyed]) -> Option<Block> {
    if rows.is_empty() {
        return None;
    }
    let placed = rows.iter().any(|row| !row.place.is_empty());
    let mut columns = vec![("No.", Align::Right), ("Is", Align::Stretch)];
    if placed {
        columns.push(("At", Align::Left));
    }
    let mut table = Table::new(&columns);
    for row in rows {
        let number = match row.number {
            0 => "–".to_string(),
            number => number.to_string(),
        };
        let mut cells = vec![number, row.words.clone()];
        if placed {
            cells.push(row.place.clone());
        }
        table.row(cells);
    }
    Some(Block::table(
        &format!("{view}: numbered for want of room"),
        table,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_view_without_want_of_room_has_no_table() {
        assert_eq!(block("Plan", &[]), None);
        let row = Keyed {
            number: 3,
            words: "Panel 4-2".to_string(),
            place: "x 3′-0″, y 1′-6″".to_string(),
        };
        let table = block("Plan", &[row]).expect("a row makes a table");
        assert_eq!(table.title, "Plan: numbered for want of room");
    }
}
