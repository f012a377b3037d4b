//! Marks that stand for something: north, scale bar, fall, level, section end, corner letter,
//! title of a view.
//!
//! In: places and words on paper. Out: items, in paper millimetres, y down.

use super::labels::Box2;
use super::lettering::{HEADING, NOTE, PITCH, VIEW, width, wrap};
use super::pen;
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Anchor, Colour, Face, Item, LineWidth, Mm, Pt, font};
use crate::units::System;

/// North arrow: a plain arrow with its letter; `turn` is clockwise from up the sheet in degrees.
pub fn north(centre: Pt, turn: f64) -> Vec<Item> {
    let radians = turn.to_radians();
    let (sin, cos) = (libm::sin(radians), libm::cos(radians));
    let at = |across: f64, up: f64| centre.moved(across * cos + up * sin, across * sin - up * cos);
    let stroke = pen::solid(LineWidth::W35, Colour::BLACK);
    let mid = at(0.0, 11.2);
    vec![
        pen::circle(centre, 5.0, Some(pen::FINE), Some(Colour::WHITE)),
        pen::line(at(0.0, -5.0), at(0.0, 7.6), stroke),
        pen::polygon(
            &[at(0.0, 7.6), at(-2.0, 0.0), at(0.0, 1.4)],
            Some(pen::FINE),
            Some(Colour::BLACK),
        ),
        pen::polygon(
            &[at(0.0, 7.6), at(2.0, 0.0), at(0.0, 1.4)],
            Some(pen::FINE),
            Some(Colour::WHITE),
        ),
        pen::circle(mid, 3.0, None, Some(Colour::WHITE)),
        pen::bold(mid.moved(0.0, HEADING / 2.0), HEADING, Anchor::Middle, "N"),
    ]
}

/// Radius of the ring at the end of a leader.
const LEADER_END: f64 = 0.55;

/// The room that the north arrow takes, with a little clear paper round it.
pub fn north_box(centre: Pt, turn: f64) -> Rect {
    let radians = turn.to_radians();
    let letter = centre.moved(11.2 * libm::sin(radians), -11.2 * libm::cos(radians));
    let about = |at: Pt, by: f64| Rect::between(at.moved(-by, -by), at.moved(by, by));
    about(centre, 5.0).union(about(letter, 3.0)).grown(1.5)
}

/// Scale bar with alternate fields and every mark labelled; the written scale stands before it.
/// It ends at the last mark within the room to its right, but has one field at least.
pub fn scale_bar(at: Pt, scale: &Scale, system: System, room: f64) -> (Vec<Item>, f64) {
    let mut bar = scale.bar(system);
    let last = bar
        .marks
        .first()
        .cloned()
        .into_iter()
        .chain(bar.marks.last().cloned());
    let figures: f64 = last
        .map(|(_, figure)| width(&format!("{figure} {}", bar.unit), NOTE, Face::Regular) / 2.0)
        .fold(0.0, f64::max);
    while bar.marks.len() > 2 && bar.marks.last().is_some_and(|m| m.0.0 + figures > room) {
        bar.marks.pop();
    }
    let mut items = Vec::new();
    let high = 2.0;
    for (k, pair) in bar.marks.windows(2).enumerate() {
        let fill = if k % 2 == 0 {
            Colour::BLACK
        } else {
            Colour::WHITE
        };
        let from = Pt::new(at.x + pair[0].0.0, at.y);
        let stroke = pen::solid(LineWidth::W18, Colour::BLACK);
        items.push(pen::rect(
            from,
            pair[1].0.0 - pair[0].0.0,
            high,
            Some(stroke),
            Some(fill),
        ));
    }
    let count = bar.marks.len();
    let mut free = f64::NEG_INFINITY;
    let mut end = at.x;
    for (k, (place, figure)) in bar.marks.iter().enumerate() {
        let words = if k + 1 == count {
            format!("{figure} {}", bar.unit)
        } else {
            figure.clone()
        };
        let half = width(&words, NOTE, Face::Regular) / 2.0;
        let x = at.x + place.0;
        let last = k + 1 == count;
        let ending = bar.marks.last().map_or(0.0, |m| m.0.0) + at.x - half * 3.0;
        if x - half < free + 1.0 || (!last && x + half > ending && k > 0) {
            continue;
        }
        items.push(pen::text(
            Pt::new(x, at.y + high + 1.2 + NOTE),
            NOTE,
            Anchor::Middle,
            &words,
        ));
        free = x + half;
        end = x + half;
    }
    (items, end - at.x)
}

/// A scale as printed: with primes and fraction signs.
pub fn scale_words(scale: &Scale) -> String {
    let mut words = scale.text.replace('"', "″").replace('\'', "′");
    for (plain, sign) in [
        (" 1/2", "½"),
        ("1/2", "½"),
        ("1/4", "¼"),
        ("3/4", "¾"),
        ("1/8", "⅛"),
        ("3/8", "⅜"),
    ] {
        words = words.replace(plain, sign);
    }
    words
}

/// Title of a view over a rule, with its scale behind it, in a breadth: lower letters of the
/// series where the higher ones are too long.
pub fn view_title(at: Pt, breadth: f64, title: &str, scale: &str) -> Vec<Item> {
    let long = |title_high: f64, scale_high: f64| {
        let first = width(title, title_high, Face::SemiBold);
        (first, first + 5.0 + width(scale, scale_high, Face::Regular))
    };
    let (title_high, scale_high) = [(VIEW, HEADING), (HEADING, NOTE), (NOTE, NOTE)]
        .into_iter()
        .find(|(a, b)| long(*a, *b).1 <= breadth)
        .unwrap_or((NOTE, NOTE));
    let (first, whole) = long(title_high, scale_high);
    let stroke = pen::solid(LineWidth::W50, Colour::BLACK);
    let base = at.y + VIEW;
    let rule = |long: f64| {
        pen::line(
            Pt::new(at.x, base + 2.4),
            Pt::new(at.x + long, base + 2.4),
            stroke,
        )
    };
    if whole <= breadth {
        let scale_at = Pt::new(at.x + first + 5.0, base);
        return vec![
            pen::bold(Pt::new(at.x, base), title_high, Anchor::Start, title),
            pen::text(scale_at, scale_high, Anchor::Start, scale),
            rule(whole),
        ];
    }
    // In a very narrow view the scale stands under the title, each on as many lines as it takes.
    let mut lines: Vec<(String, Face)> = Vec::new();
    for (words, face) in [(title, Face::SemiBold), (scale, Face::Regular)] {
        let wrapped = wrap(words, NOTE, face, breadth);
        lines.extend(wrapped.into_iter().map(|line| (line, face)));
    }
    let count = lines.len();
    let mut items: Vec<Item> = lines
        .iter()
        .enumerate()
        .map(|(i, (line, face))| {
            let up = PITCH * NOTE * (count - 1 - i) as f64;
            pen::lettered(
                Pt::new(at.x, base - up),
                0.0,
                NOTE,
                *face,
                Anchor::Start,
                line,
            )
        })
        .collect();
    let widest = lines.iter().map(|(line, face)| width(line, NOTE, *face));
    items.push(rule(widest.fold(0.0, f64::max)));
    items
}

/// Arrow from one point to another with a filled head.
pub fn arrow(from: Pt, to: Pt, colour: Colour) -> Vec<Item> {
    let Some([tip, left, right]) = arrow_head(from, to) else {
        return Vec::new();
    };
    let neck = Pt::new((left.x + right.x) / 2.0, (left.y + right.y) / 2.0);
    vec![
        pen::line(from, neck, pen::solid(LineWidth::W35, colour)),
        pen::polygon(&[tip, left, right], None, Some(colour)),
    ]
}

/// The corners of an arrow's head, its tip first; none where the arrow has no length.
pub fn arrow_head(from: Pt, to: Pt) -> Option<[Pt; 3]> {
    let long = from.distance(to);
    if long < 0.1 {
        return None;
    }
    let (ux, uy) = ((to.x - from.x) / long, (to.y - from.y) / long);
    let (head, half) = (3.6, 1.1);
    let neck = to.moved(-ux * head, -uy * head);
    Some([
        to,
        neck.moved(-uy * half, ux * half),
        neck.moved(uy * half, -ux * half),
    ])
}

/// A corner's letter in a circle.
pub fn corner(centre: Pt, name: &str) -> Vec<Item> {
    let radius = corner_radius(name);
    vec![
        pen::circle(
            centre,
            radius,
            Some(pen::solid(LineWidth::W25, Colour::BLACK)),
            Some(Colour::WHITE),
        ),
        pen::bold(
            centre.moved(0.0, HEADING / 2.0),
            HEADING,
            Anchor::Middle,
            name,
        ),
    ]
}

/// Radius of the circle round a corner's letter.
pub fn corner_radius(name: &str) -> f64 {
    let wide = width(name, HEADING, Face::SemiBold) / 2.0;
    // From the middle of the capitals to the far corner of the ink, such as the tail of a Q.
    let ink = font::ink(Face::SemiBold, Mm(HEADING), name);
    let far = ink.map_or(0.0, |ink| {
        let across = (ink.right - wide).abs().max((ink.left - wide).abs());
        let rise = (ink.top + HEADING / 2.0)
            .abs()
            .max((ink.bottom + HEADING / 2.0).abs());
        libm::hypot(across, rise)
    });
    (far + 0.8).max(3.1)
}

/// Half the breadth and half the height of the sign of a check's number.
pub fn trouble_half(number: &str) -> (f64, f64) {
    let figures = width(number, NOTE, Face::SemiBold);
    (figures / 2.0 + 2.3, 2.3)
}

/// The sign of a check's number: white figures on a black ground with pointed ends.
pub fn trouble(centre: Pt, number: &str) -> Vec<Item> {
    let (half, rise) = trouble_half(number);
    let flat = half - 1.5;
    let outline = [
        centre.moved(-half, 0.0),
        centre.moved(-flat, -rise),
        centre.moved(flat, -rise),
        centre.moved(half, 0.0),
        centre.moved(flat, rise),
        centre.moved(-flat, rise),
    ];
    let base = centre.moved(0.0, NOTE / 2.0);
    vec![
        pen::polygon(&outline, None, Some(Colour::BLACK)),
        pen::reversed(base, NOTE, Anchor::Middle, number),
    ]
}

/// The end of a leader on what it tells of: an open ring, which no nail or depth is drawn as.
pub fn leader_end(at: Pt) -> Item {
    pen::circle(at, LEADER_END, Some(pen::FINE), Some(Colour::WHITE))
}

/// A small cross where a level is given.
pub fn level_cross(at: Pt) -> Item {
    let r = 1.1;
    pen::lines(
        &[
            [at.moved(-r, -r), at.moved(r, r)],
            [at.moved(-r, r), at.moved(r, -r)],
        ],
        pen::solid(LineWidth::W25, Colour::BLACK),
    )
    .expect("a cross has two lines")
}

/// The room that such a cross takes, in half a millimetre of clear paper.
pub fn cross_box(at: Pt) -> Box2 {
    Box2 {
        centre: at,
        half: 1.6,
        rise: 1.6,
        angle: 0.0,
    }
}

/// Level mark in a section: an open arrowhead that touches the level's line at `at`.
pub fn level_arrow(at: Pt) -> Item {
    pen::polyline(
        &[at.moved(-1.6, -1.6), at, at.moved(1.6, -1.6)],
        pen::solid(LineWidth::W25, Colour::BLACK),
    )
}

/// One end of a section mark: a wide stroke along the cut from `at` out to `outer`, and an arrow in
/// the viewing direction.
pub fn section_end(at: Pt, outer: Pt, view: (f64, f64)) -> Vec<Item> {
    let stroke = pen::solid(LineWidth::W50, Colour::BLACK);
    let mut items = vec![pen::line(outer, at, stroke)];
    let tip = outer.moved(view.0 * 6.0, view.1 * 6.0);
    items.extend(arrow(outer, tip, Colour::BLACK));
    items
}
