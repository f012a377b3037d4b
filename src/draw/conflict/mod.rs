//! A check of a display list for text that cannot be read.
//!
//! In: a sheet. Out: every place where text meets other text, is struck through by a visible
//! line or by the edge of a tint, stands too near a line, is covered by a later fill, is too low,
//! or leaves the sheet's printable part or the clip of its group; and every view with too many
//! line widths. The boxes are those of the glyphs from the font files, turned with the text. A
//! line counts as visible where no clip hides it and no opaque fill is painted over it later on.
//!
//! Left out: contrast, and the gaps of dashed lines (a dashed line counts as continuous). It works
//! on what is drawn, not on what was meant.

mod found;
mod geometry;
mod lines;
mod marks;
#[cfg(test)]
mod tests;

pub use found::{Conflict, Defect};

use super::item::Sheet;
use super::paper::{Pt, Rect};
use geometry::{depth, inner_points, inside};
use marks::{Label, Marks};

/// How far boxes may interpenetrate before they conflict, in millimetres.
const SLACK: f64 = 0.1;
/// Margin of the paper that printers leave white, in millimetres.
const MARGIN: f64 = 5.0;
/// Least capital height on a sheet, in millimetres.
///
/// # Source
/// ISO 3098 series; 2.5 mm is the usual least height of notes and dimensions.
const LEAST: f64 = 2.5;
/// Most line widths in one view.
const WIDTHS: usize = 4;

/// Every conflict on a sheet: by text in painting order, at most one of each kind per text and
/// group or other text; then by view.
pub fn conflicts(sheet: &Sheet) -> Vec<Conflict> {
    let mut marks = Marks::default();
    marks.collect(&sheet.items, "", &[]);
    let paper = Rect::between(Pt::default(), Pt::new(sheet.width.0, sheet.height.0));

    let mut found = Vec::new();
    for label in &marks.labels {
        found.extend(outside(&marks, label, paper.grown(-MARGIN)));
        found.extend(low(label));
    }
    for (i, one) in marks.labels.iter().enumerate() {
        for other in &marks.labels[i + 1..] {
            found.extend(overlap(one, other));
        }
    }
    found.extend(lines::met(&marks, paper));
    found.extend(covered(&marks));
    found.extend(widths(&marks));
    found
}

/// Every conflict of the sheet of that number, in order.
pub fn defects(number: usize, sheet: &Sheet) -> Vec<Defect> {
    let found = conflicts(sheet).into_iter();
    found
        .map(|conflict| Defect {
            sheet: number,
            conflict,
        })
        .collect()
}

/// Where a label leaves the printable part of the sheet or its clips.
fn outside(marks: &Marks, label: &Label, printable: Rect) -> Option<Conflict> {
    let text = label.text.text.clone();
    let corners = || label.glyphs.iter().flatten().copied();
    let on = printable.grown(0.05);
    if let Some(at) = corners().find(|&p| !on.has(p)) {
        return Some(Conflict::OffSheet { text, at });
    }
    let at = corners().find(|&p| !marks.shown(p, &label.clips))?;
    Some(Conflict::Clipped { text, at })
}

fn low(label: &Label) -> Option<Conflict> {
    (label.text.height.0 < LEAST - 1e-6).then(|| Conflict::Low {
        text: label.text.text.clone(),
        at: label.text.at,
    })
}

fn overlap(one: &Label, other: &Label) -> Option<Conflict> {
    if !one.bounds.overlaps(other.bounds) {
        return None;
    }
    let meets = one
        .glyphs
        .iter()
        .any(|a| other.glyphs.iter().any(|b| depth(a, b) > SLACK));
    meets.then(|| Conflict::Overlap {
        text: one.text.text.clone(),
        other: other.text.text.clone(),
        at: one.text.at,
    })
}

/// Every label with a glyph whose middle lies under a later fill.
fn covered(marks: &Marks) -> Vec<Conflict> {
    let mut found = Vec::new();
    for label in &marks.labels {
        let later = marks
            .fills
            .iter()
            .filter(|fill| fill.order > label.order && fill.bounds.overlaps(label.bounds));
        for fill in later {
            let under = label
                .glyphs
                .iter()
                .flat_map(inner_points)
                .find(|&at| inside(at, &fill.parts) && marks.shown(at, &fill.clips));
            if let Some(at) = under {
                found.push(Conflict::Covered {
                    text: label.text.text.clone(),
                    by: fill.group.to_string(),
                    at,
                });
            }
        }
    }
    found
}

fn widths(marks: &Marks) -> impl Iterator<Item = Conflict> {
    marks
        .widths
        .iter()
        .filter(|(_, widths)| widths.len() > WIDTHS)
        .map(|(view, widths)| Conflict::Widths {
            view: (*view).to_string(),
            count: widths.len(),
        })
}
