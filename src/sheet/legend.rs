//! The materials legend and the key to the plan's lines.
//!
//! In: takeoff lines with the words of their sizes. Out: blocks with a drawn symbol before each
//! item, as it stands on plan or in section.

use super::column::Block;
use super::model::Trouble;
use super::section::{GEOTEXTILE, PANEL_FILL, sand};
use super::table::{Align, Row, SYMBOL_HEIGHT, SYMBOL_WIDTH, Table};
use super::words::sentence;
use super::{hatch, pen, plan, symbol};
use crate::draw::{Colour, Item, LineWidth, Pt, Stroke};
use crate::language::{Languages, Phrase, phrase};

/// One row of the materials legend.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Material {
    /// Its key in the takeoff, such as `panel` or `paver.field`.
    pub key: String,
    /// What it is.
    pub item: Phrase,
    /// Its size.
    pub size: String,
    /// Quantity to order.
    pub order: String,
    /// Unit or pack of the quantity.
    pub unit: Phrase,
}

/// The materials with their symbols.
pub fn materials(rows: &[Material], languages: Languages) -> Block {
    let label = |phrase: Phrase| languages.label(&phrase);
    let sized = rows.iter().any(|row| !row.size.is_empty());
    let mut columns = vec![
        (String::new(), Align::Symbol),
        (label(phrase!("Item")), Align::Stretch),
    ];
    if sized {
        columns.push((label(phrase!("Size")), Align::Left));
    }
    columns.extend([
        (label(phrase!("Order")), Align::Right),
        (label(phrase!("Unit")), Align::Left),
    ]);
    let mut table = Table::new(&columns);
    for row in rows {
        let item = languages.lines(&row.item);
        let item: Vec<String> = item.lines().map(sentence).collect();
        let item = item.join("\n");
        let mut cells = vec![String::new(), item];
        if sized {
            cells.push(row.size.clone());
        }
        cells.extend([row.order.clone(), languages.label(&row.unit)]);
        table.rows.push(Row {
            cells,
            symbol: material(&row.key),
            face: None,
        });
    }
    Block::table(label(phrase!("Materials to order")), table)
}

/// The box of a sign that stands for a surface.
pub fn cell() -> Vec<Pt> {
    hatch::rectangle(
        Pt::new(0.6, 0.4),
        Pt::new(SYMBOL_WIDTH - 1.0, SYMBOL_HEIGHT - 0.4),
    )
}

/// The sign of the edge restraint.
pub fn strip() -> Item {
    let middle = SYMBOL_HEIGHT / 2.0;
    pen::polygon(
        &hatch::rectangle(
            Pt::new(0.6, middle - 0.8),
            Pt::new(SYMBOL_WIDTH - 1.0, middle + 0.8),
        ),
        Some(plan::EDGING),
        Some(Colour(246, 232, 228)),
    )
}

/// A box filled with lines at an angle in degrees and a pitch on paper.
pub fn hatched(angle: f64, pitch: f64, lines: Stroke, outline: Stroke) -> Vec<Item> {
    let ring = cell();
    let strokes = hatch::parallel(std::slice::from_ref(&ring), angle, pitch, 0.0);
    let outline = pen::polygon(&ring, Some(outline), None);
    pen::lines(&strokes, lines)
        .into_iter()
        .chain([outline])
        .collect()
}

fn material(key: &str) -> Vec<Item> {
    let ring = cell();
    let middle = SYMBOL_HEIGHT / 2.0;
    let fine = Some(pen::FINE);
    let across = |stroke| {
        pen::line(
            Pt::new(0.6, middle),
            Pt::new(SYMBOL_WIDTH - 1.0, middle),
            stroke,
        )
    };
    let boxed = |items: Vec<Item>| {
        let mut all = items;
        all.push(pen::polygon(&ring, fine, None));
        all
    };
    match key.split('.').next().unwrap_or(key) {
        "panel" => vec![pen::polygon(&ring, fine, Some(PANEL_FILL))],
        "paver" => hatched(45.0, 1.8, pen::FINE, pen::FINE),
        "bedding" => boxed(sand(&ring)),
        "jointing" => {
            let mut items = sand(&hatch::rectangle(
                Pt::new(6.0, 0.4),
                Pt::new(8.0, SYMBOL_HEIGHT - 0.4),
            ));
            items.push(pen::polygon(
                &hatch::rectangle(Pt::new(0.6, 0.4), Pt::new(6.0, SYMBOL_HEIGHT - 0.4)),
                fine,
                None,
            ));
            items.push(pen::polygon(
                &hatch::rectangle(
                    Pt::new(8.0, 0.4),
                    Pt::new(SYMBOL_WIDTH - 1.0, SYMBOL_HEIGHT - 0.4),
                ),
                fine,
                None,
            ));
            items
        }
        "channel" | "gully" => hatched(90.0, hatch::BARS, pen::FINE, pen::FINE),
        "geotextile" => vec![across(GEOTEXTILE)],
        "edging" => vec![strip()],
        "nails" | "nail" => [3.0, 6.5, 10.0]
            .map(|x| plan::nail_mark(Pt::new(x, middle)))
            .to_vec(),
        "rails" => vec![across(plan::RAIL)],
        "load" => pen::lines(
            &hatch::earth_band(&[Pt::new(3.0, 1.0), Pt::new(13.0, 1.0)], 2.6, 7.0),
            pen::solid(LineWidth::W18, pen::BROWN),
        )
        .into_iter()
        .collect(),
        _ => Vec::new(),
    }
}

/// Whether the dig's edge lies apart from the base's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DigEdge {
    /// It is drawn by itself.
    Apart,
    /// It lies under the base's edge.
    WithBase,
}

/// The key to the marks that every further plan bears: outline and fall.
pub fn common_signs(languages: Languages) -> [(Vec<Item>, String); 2] {
    let middle = SYMBOL_HEIGHT / 2.0;
    let [from, to] = [0.6, SYMBOL_WIDTH - 1.0].map(|x| Pt::new(x, middle));
    [
        (
            vec![pen::line(from, to, plan::PAVING)],
            languages.label(&phrase!("Paving edge")),
        ),
        (
            symbol::arrow(from, to, pen::BLUE),
            languages.label(&phrase!("Fall, downhill")),
        ),
    ]
}

/// The key to lines and marks of the plan, with the sign of what the checks found where there is any.
pub fn signs(dig: DigEdge, troubles: &[Trouble], languages: Languages) -> Block {
    let label = |phrase: Phrase| languages.label(&phrase);
    let middle = SYMBOL_HEIGHT / 2.0;
    let across = |stroke| {
        vec![pen::line(
            Pt::new(0.6, middle),
            Pt::new(SYMBOL_WIDTH - 1.0, middle),
            stroke,
        )]
    };
    let ring = cell();
    let trimmed = hatched(135.0, plan::TRIMMED_PITCH, plan::TRIMMED, plan::PANEL);
    let mut rows: Vec<(Vec<Item>, String)> =
        vec![(across(plan::PAVING), label(phrase!("Paving edge")))];
    // Where both edges are one line, it is the base's that is seen.
    rows.extend(match dig {
        DigEdge::Apart => vec![
            (across(plan::BASE), label(phrase!("Base panels, edge"))),
            (across(plan::DIG), label(phrase!("Dig, edge"))),
        ],
        DigEdge::WithBase => vec![(
            across(plan::BASE),
            label(phrase!("Base panels and dig, edge")),
        )],
    });
    rows.extend([
        (
            vec![pen::polygon(&ring, Some(plan::PANEL), None)],
            label(phrase!("Whole panel")),
        ),
        (trimmed, label(phrase!("Trimmed panel"))),
        (across(plan::RAIL), label(phrase!("Screed rail"))),
        (
            vec![plan::nail_mark(Pt::new(7.0, middle))],
            label(phrase!("Nail of the restraint")),
        ),
        (
            vec![symbol::level_cross(Pt::new(7.0, middle))],
            label(phrase!("Finish over formation")),
        ),
        (
            symbol::arrow(
                Pt::new(1.0, middle),
                Pt::new(SYMBOL_WIDTH - 1.0, middle),
                pen::BLUE,
            ),
            label(phrase!("Fall, downhill")),
        ),
        (
            vec![pen::text(
                Pt::new(0.6, middle + 1.25),
                2.5,
                crate::draw::Anchor::Start,
                "2: L",
            )],
            label(phrase!("Course, first piece L")),
        ),
    ]);
    if let Some(first) = troubles.first() {
        rows.push((
            symbol::trouble(
                Pt::new(SYMBOL_WIDTH / 2.0, middle),
                &first.number.to_string(),
            ),
            label(phrase!("Number in the checks")),
        ));
    }
    Block::signs(label(phrase!("Signs on the plan")), rows)
}
