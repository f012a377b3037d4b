//! Builders of outlines and items, and the boxes of text.
//!
//! In: paper points and lengths in millimetres; angles in degrees, anticlockwise as seen on paper
//! from the direction to the right. Out: outlines, items, quadrilaterals. Arcs become cubic
//! Béziers of at most 45° each, off the circle by less than 5 millionths of the radius.

use super::font::{self, Ink};
use super::item::{Anchor, FillRule, Item, Outline, Path, Step, Text};
use super::paper::{Mm, Pt, Rect};
use super::style::{Colour, Dash, Face, LineWidth, Stroke};

/// A straight line.
pub fn line(from: Pt, to: Pt) -> Outline {
    vec![Step::Move(from), Step::Line(to)]
}

/// An open line through points.
pub fn polyline(points: &[Pt]) -> Outline {
    points
        .iter()
        .enumerate()
        .map(|(i, &p)| if i == 0 { Step::Move(p) } else { Step::Line(p) })
        .collect()
}

/// A closed line through points.
pub fn polygon(points: &[Pt]) -> Outline {
    let mut outline = polyline(points);
    if !outline.is_empty() {
        outline.push(Step::Close);
    }
    outline
}

/// A rectangle.
pub fn rect(rect: Rect) -> Outline {
    rect.outline()
}

/// A circle.
pub fn circle(centre: Pt, radius: Mm) -> Outline {
    let mut outline = arc(centre, radius, 0.0, 360.0);
    outline.push(Step::Close);
    outline
}

/// An arc of a circle from the direction `from` on, turning by `sweep` degrees (anticlockwise
/// when positive).
pub fn arc(centre: Pt, radius: Mm, from: f64, sweep: f64) -> Outline {
    const MOST: f64 = 45.0;
    let pieces = (sweep.abs() / MOST).ceil().clamp(1.0, 64.0) as u32;
    let step = (sweep / f64::from(pieces)).to_radians();
    let handle = 4.0 / 3.0 * libm::tan(step / 4.0) * radius.0;
    let spoke = |i: u32| {
        let angle = from.to_radians() + step * f64::from(i);
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let on = centre.moved(radius.0 * cos, -radius.0 * sin);
        // The tangent in the direction of turning, as long as the handle.
        (on, Pt::new(-sin * handle, -cos * handle))
    };
    let mut outline = vec![Step::Move(spoke(0).0)];
    for i in 0..pieces {
        let (start, leave) = spoke(i);
        let (end, arrive) = spoke(i + 1);
        outline.push(Step::Cubic(
            start.moved(leave.x, leave.y),
            end.moved(-arrive.x, -arrive.y),
            end,
        ));
    }
    outline
}

/// An outline stroked in black.
pub fn stroked(outline: Outline, width: LineWidth, dash: Dash) -> Item {
    Item::Path(Path {
        outline,
        stroke: Some(Stroke {
            width,
            dash,
            colour: Colour::BLACK,
        }),
        fill: None,
        rule: FillRule::NonZero,
    })
}

/// An outline filled.
pub fn filled(outline: Outline, colour: Colour) -> Item {
    Item::Path(Path {
        outline,
        stroke: None,
        fill: Some(colour),
        rule: FillRule::NonZero,
    })
}

/// A level black run of text in the regular face.
pub fn text(at: Pt, anchor: Anchor, height: Mm, words: impl Into<String>) -> Text {
    Text {
        at,
        anchor,
        angle: 0.0,
        height,
        face: Face::Regular,
        colour: Colour::BLACK,
        text: words.into(),
        cell: None,
    }
}

/// A white fill behind a text, `beyond` millimetres wider than its ink on every side: painted just
/// before the text it knocks out what lies below. None for a text without ink.
pub fn knockout(text: &Text, beyond: Mm) -> Option<Item> {
    let mut ink = font::ink(text.face, text.height, &text.text)?;
    ink.left -= beyond.0;
    ink.top -= beyond.0;
    ink.right += beyond.0;
    ink.bottom += beyond.0;
    Some(filled(polygon(&placed(text, ink)), Colour::WHITE))
}

/// The corners of a text's ink on paper: top left, top right, bottom right, bottom left as read.
/// None for a text without ink.
pub fn text_corners(text: &Text) -> Option<[Pt; 4]> {
    let ink = font::ink(text.face, text.height, &text.text)?;
    Some(placed(text, ink))
}

/// Turns a box given from the start of a text's baseline into corners on paper.
pub fn placed(text: &Text, ink: Ink) -> [Pt; 4] {
    let part = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    };
    let back = part * font::width(text.face, text.height, &text.text).0;
    let turn = text.angle.to_radians();
    let (sin, cos) = (libm::sin(turn), libm::cos(turn));
    let corner = |x: f64, y: f64| {
        let x = x - back;
        text.at.moved(x * cos + y * sin, y * cos - x * sin)
    };
    [
        corner(ink.left, ink.top),
        corner(ink.right, ink.top),
        corner(ink.right, ink.bottom),
        corner(ink.left, ink.bottom),
    ]
}

/// An outline as open or closed lines of straight pieces: each part as its points (first and last
/// the same when closed). Curves are cut into pieces of equal parameter that stay within
/// `tolerance` of the curve.
pub fn flattened(outline: &Outline, tolerance: Mm) -> Vec<Vec<Pt>> {
    let mut parts: Vec<Vec<Pt>> = Vec::new();
    for step in outline {
        if let Step::Move(p) = *step {
            parts.push(vec![p]);
            continue;
        }
        let Some(part) = parts.last_mut() else {
            continue;
        };
        let from = part[part.len() - 1];
        match *step {
            Step::Move(_) => {}
            Step::Line(p) => part.push(p),
            Step::Cubic(a, b, p) => part.extend(pieces(from, a, b, p, tolerance)),
            Step::Close => {
                let first = part[0];
                part.push(first);
            }
        }
    }
    parts
}

/// Points along a cubic Bézier behind its start; the number follows from the bound of its second
/// difference.
fn pieces(from: Pt, a: Pt, b: Pt, to: Pt, tolerance: Mm) -> Vec<Pt> {
    let bend = |p: Pt, q: Pt, r: Pt| libm::hypot(p.x - 2.0 * q.x + r.x, p.y - 2.0 * q.y + r.y);
    let most = bend(from, a, b).max(bend(a, b, to));
    let count = (0.75 * most / tolerance.0.max(1e-6)).sqrt().ceil();
    let count = count.clamp(1.0, 500.0) as u32;
    (1..=count)
        .map(|i| {
            let t = f64::from(i) / f64::from(count);
            let s = 1.0 - t;
            let weights = [s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t];
            let sum = |parts: [f64; 4]| weights.iter().zip(parts).map(|(w, p)| w * p).sum();
            Pt::new(sum([from.x, a.x, b.x, to.x]), sum([from.y, a.y, b.y, to.y]))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_is_round_and_closed() {
        let centre = Pt::new(50.0, 60.0);
        let parts = flattened(&circle(centre, Mm(20.0)), Mm(0.001));
        assert_eq!(parts.len(), 1);
        for p in &parts[0] {
            assert!((p.distance(centre) - 20.0).abs() < 20.0 * 5e-6, "{p:?}");
        }
        let points = parts[0].windows(2);
        let twice: f64 = points.map(|w| w[1].x * w[0].y - w[0].x * w[1].y).sum();
        // Anticlockwise as seen on paper, where y runs down.
        assert!(
            (twice / 2.0 - std::f64::consts::PI * 400.0).abs() < 0.2,
            "{twice}"
        );
    }

    #[test]
    fn an_arc_turns_anticlockwise_as_seen() {
        let outline = arc(Pt::new(0.0, 0.0), Mm(10.0), 0.0, 90.0);
        let Some(Step::Cubic(.., end)) = outline.last() else {
            panic!("an arc ends in a curve");
        };
        assert!(end.distance(Pt::new(0.0, -10.0)) < 1e-9);
    }

    #[test]
    fn corners_of_turned_text() {
        let mut run = text(Pt::new(100.0, 100.0), Anchor::Middle, Mm(5.0), "H");
        run.angle = 90.0;
        let [top_left, top_right, ..] = text_corners(&run).expect("H has ink");
        // Read upward: the top of the letter points left.
        assert!((top_left.x - 95.0).abs() < 1e-9 && (top_right.x - 95.0).abs() < 1e-9);
        assert!(top_left.y > 100.0 && top_right.y < 100.0);
    }
}
