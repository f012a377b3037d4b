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
    let numbered = rows.iter().any(|row| row.number > 0);
    let mut columns = vec![("Is", Align::Stretch)];
    if numbered {
        columns.insert(0, ("No.", Align::Right));
    }
    if placed {
        columns.push(("At", Align::Left));
    }
    let mut table = Table::new(&columns);
    for row in rows {
        let number = match row.number {
            0 => "–".to_string(),
            number => number.to_string(),
        };
        let mut cells = vec![row.words.clone()];
        if numbered {
            cells.insert(0, number);
        }
        if placed {
            cells.push(row.place.clone());
        }
        table.row(cells);
    }
    let title = match numbered {
        true => format!("{view}: numbered for want of room"),
        false => format!("{view}: left off for want of room"),
    };
    Some(Block::table(&title, table))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::column::Entry;

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

    /// Where no number stands in the view the table promises none.
    #[test]
    fn what_has_no_number_is_not_called_numbered() {
        let row = Keyed {
            number: 0,
            words: "7 whole panels bear no mark".to_string(),
            place: "course, then place from its start".to_string(),
        };
        let table = block("Plan", &[row]).expect("a row makes a table");
        assert_eq!(table.title, "Plan: left off for want of room");
        let Some(Entry::Table(table)) = table.entries.first() else {
            panic!("a table");
        };
        assert_eq!(table.rows[0].cells.len(), 2);
    }
}
