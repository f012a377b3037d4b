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
        table.row(vec![piece.mark.clone(), cuts.join("; ")]);
    }
    let title = say!(languages, "Cuts without a diagram");
    (!table.rows.is_empty()).then(|| Block::table(title, table))
}

/// The piece as laid.
fn laid<'a>(design: &'a Design, piece: &CutPiece) -> &'a Piece {
    let (part, index) = piece.of;
    &design.base[part].layout.pieces[index]
}
