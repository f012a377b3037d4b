//! The tables of the cutting list: every trimmed piece in order of laying, and the cuts of panels
//! that have no diagram.
//!
//! In: design, groups of panels that are cut alike. Out: blocks.

use super::groups::Group;
use crate::design::Design;
use crate::language::say;
use crate::panels::{CutPiece, Piece};
use crate::sheet::column::Block;
use crate::sheet::table::{Align, Table};
use crate::sheet::words::long;

/// The trimmed pieces in order of laying: size, by which cut, from what, and where what is left
/// goes.
pub fn pieces(design: &Design, groups: &[Group]) -> Block {
    let languages = design.job.sheet.languages;
    let mut table = Table::new(&[
        (say!(languages, "Piece"), Align::Left),
        (say!(languages, "Length"), Align::Right),
        (say!(languages, "Width"), Align::Right),
        (say!(languages, "Cut§noun"), Align::Right),
        (say!(languages, "From"), Align::Left),
        (say!(languages, "What is left"), Align::Left),
    ]);
    let mut rows = Vec::new();
    for group in groups {
        for panel in group
            .panels
            .iter()
            .map(|at| &design.purchase.cut_panels[*at])
        {
            for (place, piece) in panel.pieces.iter().enumerate() {
                let laid = laid(design, piece);
                let from = match place.checked_sub(1) {
                    None => say!(languages, "a new panel"),
                    Some(before) => say!(
                        languages,
                        "rest of {mark}",
                        mark = panel.pieces[before].mark
                    ),
                };
                let left = match panel.offcut_to(place) {
                    Some(mark) => say!(languages, "for {mark}", mark),
                    None => say!(languages, "waste"),
                };
                let cells = vec![
                    piece.mark.clone(),
                    long(design, laid.length_mm),
                    long(design, laid.width_mm),
                    group.number.to_string(),
                    from,
                    left,
                ];
                rows.push((piece.of, cells));
            }
        }
    }
    rows.sort_by_key(|(of, _)| *of);
    for (_, cells) in rows {
        table.row(cells);
    }
    Block::table(say!(languages, "Trimmed pieces in order of laying"), table)
}

/// Most characters of the cuts in one row, which even the narrowest column takes in the lines that a
/// cell shows.
const MOST_IN_ROW: usize = 360;

/// The cuts of panels that have no diagram: along × across from the corner nearest the start.
pub fn cuts(design: &Design, panels: &[usize]) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let every = design.marks_every();
    let mut table = Table::new(&[
        (say!(languages, "Piece"), Align::Left),
        (
            say!(
                languages,
                "Cuts: along × across from the corner nearest the start"
            ),
            Align::Stretch,
        ),
    ]);
    let panels = panels.iter().map(|at| &design.purchase.cut_panels[*at]);
    let mut pieces: Vec<&CutPiece> = panels.flat_map(|panel| &panel.pieces).collect();
    pieces.sort_by_key(|piece| piece.of);
    for piece in pieces {
        let cuts: Vec<String> = piece
            .cuts
            .iter()
            .map(|cut| {
                let points = cut.marks(every).into_iter();
                let places: Vec<String> = points
                    .map(|p| format!("{} × {}", long(design, p[0]), long(design, p[1])))
                    .collect();
                let along = places.join(&say!(languages, " to "));
                match cut.is_curved() {
                    true => say!(languages, "curve {along}", along),
                    false => along,
                }
            })
            .collect();
        let more = format!("{}{}", piece.mark, say!(languages, " (cont.)"));
        for (number, words) in in_rows(&cuts.join(&say!(languages, "; ")))
            .into_iter()
            .enumerate()
        {
            let mark = if number == 0 { &piece.mark } else { &more };
            table.row(vec![mark.clone(), words]);
        }
    }
    let title = say!(languages, "Cuts without a diagram");
    (!table.rows.is_empty()).then(|| Block::table(title, table))
}

/// Words in parts for as many rows, cut at blanks: a cell shows only so many lines.
fn in_rows(words: &str) -> Vec<String> {
    let mut rows = vec![String::new()];
    for word in words.split(' ') {
        let row = rows.last_mut().expect("there is a row");
        if row.is_empty() {
            row.push_str(word);
        } else if row.chars().count() + 1 + word.chars().count() <= MOST_IN_ROW {
            row.push(' ');
            row.push_str(word);
        } else {
            rows.push(word.to_string());
        }
    }
    rows
}

/// The piece as laid.
fn laid<'a>(design: &'a Design, piece: &CutPiece) -> &'a Piece {
    let (part, index) = piece.of;
    &design.base[part].layout.pieces[index]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However many cuts, none is lost: the rows together say what one would.
    #[test]
    fn cuts_past_one_row_go_on_in_the_next() {
        let words = "curve 120 × 0 to 345 × 87 to 600 × 411; ".repeat(40);
        let rows = in_rows(words.trim());
        assert!(rows.len() > 3);
        assert!(rows.iter().all(|row| row.chars().count() <= MOST_IN_ROW));
        assert_eq!(rows.join(" "), words.trim());
        assert_eq!(in_rows("900 × 0"), ["900 × 0"]);
        let mut table = Table::new(&[("Piece", Align::Left), ("Cuts", Align::Stretch)]);
        for row in &rows {
            table.row(vec!["104-12 (cont.)".to_string(), row.clone()]);
        }
        // As narrow as it gets, every word stands on the paper.
        let drawn = table.draw(crate::draw::Pt::new(0.0, 0.0), table.least_width());
        let shown: Vec<&str> = drawn
            .iter()
            .filter_map(|item| match item {
                crate::draw::Item::Text(text) => Some(text.text.as_str()),
                _ => None,
            })
            .collect();
        let shown = shown.join(" ");
        for word in words.split_whitespace() {
            assert!(shown.contains(word.trim_matches(';')), "{word}");
        }
        assert_eq!(shown.matches('×').count(), words.matches('×').count());
    }
}
