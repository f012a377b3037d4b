//! How well the sheets of the examples use their paper: the share of each that something stands on.
//!
//! Measure: the frame's room in squares of 5 mm; a square is covered when the box of a mark or of a
//! run of text, grown by 5 mm, reaches into it. The box of an outline counts whole: the inside of a
//! plan is not empty paper.

mod common;

use common::worked::{example, examples, sheets};
use groundsheet::draw::{Anchor, Item, Pt, Rect, Sheet, Step, font};

/// Side of a square, in millimetres; boxes are grown by as much.
const SQUARE: f64 = 5.0;

/// Boxes of marks and runs of text, without the frame; the title block counts.
fn boxes(items: &[Item], found: &mut Vec<Rect>) {
    for item in items {
        match item {
            Item::Group(group) if group.id == "frame" => {}
            Item::Group(group) => boxes(&group.items, found),
            Item::Path(path) => {
                let points = path.outline.iter().filter_map(|step| match step {
                    Step::Move(p) | Step::Line(p) | Step::Cubic(_, _, p) => Some(*p),
                    Step::Close => None,
                });
                found.extend(Rect::around(points));
            }
            Item::Text(text) => {
                let long = font::width(text.face, text.height, &text.text).0;
                let (sin, cos) = text.angle.to_radians().sin_cos();
                let back = match text.anchor {
                    Anchor::Start => 0.0,
                    Anchor::Middle => long / 2.0,
                    Anchor::End => long,
                };
                let end = |along: f64| Pt::new(text.at.x + along * cos, text.at.y - along * sin);
                found.push(Rect::between(end(-back), end(long - back)));
            }
        }
    }
}

/// The share of a sheet's room that something stands on.
fn covered(sheet: &Sheet) -> f64 {
    let mut found = Vec::new();
    boxes(&sheet.items, &mut found);
    let (wide, high) = (
        ((sheet.width.0 - 40.0) / SQUARE) as usize,
        ((sheet.height.0 - 30.0) / SQUARE) as usize,
    );
    let mut squares = vec![false; wide * high];
    let square = |at: f64, from: f64, most: usize| {
        (((at - from) / SQUARE).floor().max(0.0) as usize).min(most)
    };
    for rect in found {
        let rect = rect.grown(SQUARE);
        let (left, right) = (
            square(rect.left, 20.0, wide),
            square(rect.right, 20.0, wide),
        );
        let (top, bottom) = (
            square(rect.top, 15.0, high),
            square(rect.bottom, 15.0, high),
        );
        for row in top..bottom {
            squares[row * wide + left..row * wide + right].fill(true);
        }
    }
    squares.iter().filter(|covered| **covered).count() as f64 / squares.len() as f64
}

/// How many sheets each example takes: more than these is paper that the crew need not carry.
const MOST: [(&str, usize); 6] = [
    ("bonds", 5),
    ("hillside-terrace", 5),
    ("landing", 5),
    ("pool-surround", 4),
    ("terrace", 5),
    ("two-walls", 5),
];

/// No sheet but the last is less than about half used, and the general sheet, which everyone reads,
/// is well used.
#[test]
fn sheets_use_their_paper() {
    let mut poor = Vec::new();
    for name in examples() {
        let (_, _, set) = sheets(&example(&name));
        let shares: Vec<f64> = set.iter().map(covered).collect();
        let (last, others) = shares.split_last().expect("a sheet");
        let well = others.iter().all(|share| *share > 0.4) && *last > 0.2 && shares[0] > 0.6;
        let most = MOST.iter().find(|(known, _)| *known == name);
        let (_, most) = most.expect("how many sheets an example takes");
        if !well || set.len() > *most {
            poor.push(format!("{name}: {shares:.2?}"));
        }
        println!("{name}: {shares:.2?}");
    }
    assert!(poor.is_empty(), "{}", poor.join("\n"));
}
