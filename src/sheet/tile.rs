//! Tiles: sheets at true scale over several small pages, to be cut and joined.
//!
//! In: sheets and the small paper. Out: pages in rows from the top left. Neighbouring pages lap by
//! [`LAP`]; crop marks in the margin show where to cut, at the middle of the lap; a line at the foot
//! says which page of which sheet it is, and a key shows where it joins. Nothing is scaled.
//!
//! Paper millimetres, y down.

use super::lettering::NOTE;
use super::pen;
use super::shift::shifted;
use crate::draw::paper::{Orientation, Paper, Rect};
use crate::draw::{Anchor, Colour, Group, Item, LineWidth, Mm, Pt, Sheet, build};
use crate::language::{Language, say};

/// How far neighbouring pages lap over one another, in millimetres.
pub const LAP: f64 = 10.0;
/// Margin that printers leave white, in millimetres.
const MARGIN: f64 = 8.0;
/// Margin at the foot, with the words and the key.
const FOOT: f64 = 14.0;
/// Length of a crop mark.
const MARK: f64 = 4.0;

/// The pages of all sheets. A sheet no larger than the paper stays as it is.
pub fn tiles(sheets: &[Sheet], paper: Paper) -> Vec<Sheet> {
    let count = sheets.len();
    sheets
        .iter()
        .enumerate()
        .flat_map(|(index, sheet)| of_sheet(sheet, (index + 1, count), paper))
        .collect()
}

/// How the pages of a sheet lie.
#[derive(Clone, Copy, Debug)]
struct Grid {
    page: (f64, f64),
    /// Columns and rows.
    count: (usize, usize),
}

impl Grid {
    fn of(sheet: &Sheet, paper: Paper, turned: Orientation) -> Self {
        let (width, height) = paper.size(turned);
        let page = (width.0, height.0);
        let (wide, high) = window_size(page);
        let count = |whole: f64, held: f64| ((whole - LAP) / (held - LAP)).ceil().max(1.0) as usize;
        Self {
            page,
            count: (count(sheet.width.0, wide), count(sheet.height.0, high)),
        }
    }
}

fn window_size(page: (f64, f64)) -> (f64, f64) {
    (page.0 - 2.0 * MARGIN, page.1 - MARGIN - FOOT)
}

fn of_sheet(sheet: &Sheet, number: (usize, usize), paper: Paper) -> Vec<Sheet> {
    let turns = [Orientation::Portrait, Orientation::Landscape];
    let same = turns.iter().any(|turned| {
        let (width, height) = paper.size(*turned);
        sheet.width.0 <= width.0 + 0.1 && sheet.height.0 <= height.0 + 0.1
    });
    if same {
        return vec![sheet.clone()];
    }
    let grid = turns
        .map(|turned| Grid::of(sheet, paper, turned))
        .into_iter()
        .min_by_key(|grid| grid.count.0 * grid.count.1)
        .expect("paper is turned one way or the other");
    (0..grid.count.1)
        .flat_map(|row| (0..grid.count.0).map(move |column| (column, row)))
        .map(|place| page(sheet, number, grid, place))
        .collect()
}

/// Name of a page: its row as a letter, its column as a number.
fn name((column, row): (usize, usize)) -> String {
    format!("{}{}", char::from(b'A' + (row % 26) as u8), column + 1)
}

fn page(sheet: &Sheet, number: (usize, usize), grid: Grid, place: (usize, usize)) -> Sheet {
    let language = Language::coded(&sheet.language);
    let (wide, high) = window_size(grid.page);
    let window = Rect {
        left: MARGIN,
        top: MARGIN,
        right: MARGIN + wide,
        bottom: MARGIN + high,
    };
    let right = MARGIN - place.0 as f64 * (wide - LAP);
    let down = MARGIN - place.1 as f64 * (high - LAP);
    let shown = Item::Group(Group {
        id: "tile".to_string(),
        title: say!(language, "Part of the sheet"),
        layer: None,
        clip: Some(window.outline()),
        items: on_page(&sheet.items, window, (right, down)),
    });
    let margin = pen::group(
        "tile-margin",
        &say!(language, "Crop marks and key"),
        "sheet",
        in_margin(window, number, grid, place, language),
    );
    Sheet {
        width: Mm(grid.page.0),
        height: Mm(grid.page.1),
        title: say!(
            language,
            "{title}, page {page}",
            title = sheet.title,
            page = name(place)
        ),
        language: sheet.language.clone(),
        layers: sheet.layers.clone(),
        items: vec![shown, margin],
    }
}

/// The items that show in a window once they are moved, others left out.
fn on_page(items: &[Item], window: Rect, by: (f64, f64)) -> Vec<Item> {
    let there = window.grown(2.0);
    items
        .iter()
        .filter_map(|item| match item {
            Item::Group(group) => {
                let inner = on_page(&group.items, window, by);
                let shell = Item::Group(Group {
                    items: Vec::new(),
                    ..group.clone()
                });
                let mut moved = shifted(&shell, by.0, by.1);
                if let Item::Group(group) = &mut moved {
                    group.items = inner;
                }
                let Item::Group(group) = &moved else {
                    return None;
                };
                (!group.items.is_empty()).then_some(moved)
            }
            Item::Path(_) | Item::Text(_) => {
                let moved = shifted(item, by.0, by.1);
                bounds(&moved)
                    .is_some_and(|bounds| touches(bounds, there))
                    .then_some(moved)
            }
        })
        .collect()
}

/// Whether two boxes meet; lines have boxes without area.
fn touches(a: Rect, b: Rect) -> bool {
    a.left <= b.right && b.left <= a.right && a.top <= b.bottom && b.top <= a.bottom
}

/// The box of a path's points or of a text's ink.
fn bounds(item: &Item) -> Option<Rect> {
    match item {
        Item::Group(_) => None,
        Item::Text(text) => Rect::around(build::text_corners(text)?),
        Item::Path(path) => path.reach(),
    }
}

/// Crop marks, the words at the foot and the key.
fn in_margin(
    window: Rect,
    number: (usize, usize),
    grid: Grid,
    place: (usize, usize),
    language: Language,
) -> Vec<Item> {
    let cut = |joined: bool| if joined { LAP / 2.0 } else { 0.0 };
    let trimmed = Rect {
        left: window.left + cut(place.0 > 0),
        right: window.right - cut(place.0 + 1 < grid.count.0),
        top: window.top + cut(place.1 > 0),
        bottom: window.bottom - cut(place.1 + 1 < grid.count.1),
    };
    let mut marks = Vec::new();
    for x in [trimmed.left, trimmed.right] {
        marks.push([
            Pt::new(x, window.top - MARK - 1.0),
            Pt::new(x, window.top - 1.0),
        ]);
        marks.push([
            Pt::new(x, window.bottom + 1.0),
            Pt::new(x, window.bottom + MARK + 1.0),
        ]);
    }
    for y in [trimmed.top, trimmed.bottom] {
        marks.push([
            Pt::new(window.left - MARK - 1.0, y),
            Pt::new(window.left - 1.0, y),
        ]);
        marks.push([
            Pt::new(window.right + 1.0, y),
            Pt::new(window.right + MARK + 1.0, y),
        ]);
    }
    let mut items: Vec<Item> = pen::lines(&marks, pen::FINE).into_iter().collect();
    let last = (grid.count.0 - 1, grid.count.1 - 1);
    let words = say!(
        language,
        "Sheet {number} of {count}, page {page} of A1 to {last}. Print at 100 %, cut at the marks, lap {lap} mm.",
        number = number.0,
        count = number.1,
        page = name(place),
        last = name(last),
        lap = LAP.to_string()
    );
    let base = Pt::new(window.left + 12.0, window.bottom + 7.0);
    items.push(pen::text(base, NOTE, Anchor::Start, &words));
    // The key: one cell per page, this one filled, at the right of the foot.
    let cell = (
        3.0_f64.min(24.0 / grid.count.0 as f64),
        2.0_f64.min(6.0 / grid.count.1 as f64),
    );
    let left = window.right - 6.0 - cell.0 * grid.count.0 as f64;
    for row in 0..grid.count.1 {
        for column in 0..grid.count.0 {
            let at = Pt::new(
                left + cell.0 * column as f64,
                window.bottom + 2.5 + cell.1 * row as f64,
            );
            let fill = if (column, row) == place {
                Colour::BLACK
            } else {
                Colour::WHITE
            };
            let stroke = pen::solid(LineWidth::W18, Colour::BLACK);
            items.push(pen::rect(at, cell.0, cell.1, Some(stroke), Some(fill)));
        }
    }
    items
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(width: f64, height: f64) -> Sheet {
        Sheet {
            width: Mm(width),
            height: Mm(height),
            title: "Patio".to_string(),
            language: String::new(),
            layers: Vec::new(),
            items: vec![pen::circle(
                Pt::new(width / 2.0, height / 2.0),
                1.0,
                None,
                None,
            )],
        }
    }

    /// A tabloid sheet, 279.4 by 431.8 mm, over letter: pages across show 263.4 by 193.9 mm, upright
    /// ones 199.9 by 257.4 mm; laps of 10 mm leave 2 by 3 or 2 by 2 pages.
    #[test]
    fn a_tabloid_sheet_takes_four_letter_pages() {
        let pages = tiles(&[sheet(279.4, 431.8)], Paper::Letter);
        assert_eq!(pages.len(), 4);
        for page in &pages {
            assert!((page.width.0 - 215.9).abs() < 1e-9 && (page.height.0 - 279.4).abs() < 1e-9);
        }
        // Every point of the sheet stands on a page: the pages reach its far corner.
        let (wide, high) = window_size((215.9, 279.4));
        assert!(2.0 * wide - LAP >= 279.4 && 2.0 * high - LAP >= 431.8);
    }

    #[test]
    fn a_small_sheet_stays_as_it_is() {
        let letter = sheet(279.4, 215.9);
        assert_eq!(
            tiles(std::slice::from_ref(&letter), Paper::Letter),
            vec![letter]
        );
    }
}
