//! Making marks: short functions from paper points to display-list items, and the few line
//! styles that the sheet uses.
//!
//! In: points in paper millimetres, y down. Out: [`Item`]s. Line widths are of the ISO 128
//! series; no view uses more than four of them. Colour only repeats what width, dash or a label
//! says already, and every stroke keeps a contrast of 3:1 on white.

use crate::draw::{
    Anchor, Colour, Dash, Face, FillRule, Group, Item, LineWidth, Mm, Outline, Path, Pt, Step,
    Stroke, Text,
};

/// Water and levels.
pub const BLUE: Colour = Colour(0, 74, 124);
/// Earth and the dig.
pub const BROWN: Colour = Colour(146, 98, 40);
/// Edge restraint and its nails.
pub const RED: Colour = Colour(150, 32, 16);
/// Secondary lines.
pub const GREY: Colour = Colour(52, 52, 52);
/// A tint behind cut structures.
pub const TINT: Colour = Colour(234, 234, 234);
/// A tint behind headings.
pub const BAND: Colour = Colour(228, 233, 236);

/// A continuous stroke.
pub const fn solid(width: LineWidth, colour: Colour) -> Stroke {
    Stroke {
        width,
        dash: Dash::Continuous,
        colour,
    }
}

/// A dashed stroke.
pub const fn dashed(width: LineWidth, dash: Dash, colour: Colour) -> Stroke {
    Stroke {
        width,
        dash,
        colour,
    }
}

/// The narrow continuous line of dimensions, leaders and joints.
pub const FINE: Stroke = solid(LineWidth::W18, Colour::BLACK);

/// A straight line.
pub fn line(from: Pt, to: Pt, stroke: Stroke) -> Item {
    polyline(&[from, to], stroke)
}

/// An open run of straight lines.
pub fn polyline(points: &[Pt], stroke: Stroke) -> Item {
    path(open(points), Some(stroke), None)
}

/// A closed polygon.
pub fn polygon(points: &[Pt], stroke: Option<Stroke>, fill: Option<Colour>) -> Item {
    path(closed(points), stroke, fill)
}

/// An upright rectangle from its top left corner.
pub fn rect(at: Pt, width: f64, height: f64, stroke: Option<Stroke>, fill: Option<Colour>) -> Item {
    polygon(
        &[
            at,
            Pt::new(at.x + width, at.y),
            Pt::new(at.x + width, at.y + height),
            Pt::new(at.x, at.y + height),
        ],
        stroke,
        fill,
    )
}

/// A circle, as four cubic curves (error under 0.03 % of the radius).
pub fn circle(centre: Pt, radius: f64, stroke: Option<Stroke>, fill: Option<Colour>) -> Item {
    path(circle_outline(centre, radius), stroke, fill)
}

/// The outline of a circle.
pub fn circle_outline(centre: Pt, radius: f64) -> Outline {
    // Distance of the control points that makes the curve meet the circle at 45 degrees.
    let k = radius * 0.552_284_749_831;
    let at = |dx: f64, dy: f64| Pt::new(centre.x + dx, centre.y + dy);
    let r = radius;
    vec![
        Step::Move(at(r, 0.0)),
        Step::Cubic(at(r, k), at(k, r), at(0.0, r)),
        Step::Cubic(at(-k, r), at(-r, k), at(-r, 0.0)),
        Step::Cubic(at(-r, -k), at(-k, -r), at(0.0, -r)),
        Step::Cubic(at(k, -r), at(r, -k), at(r, 0.0)),
        Step::Close,
    ]
}

/// A path of any outline, nonzero inside.
pub fn path(outline: Outline, stroke: Option<Stroke>, fill: Option<Colour>) -> Item {
    Item::Path(Path {
        outline,
        stroke,
        fill,
        rule: FillRule::NonZero,
    })
}

/// A filled region of several rings, even-odd inside.
pub fn region(rings: &[Vec<Pt>], stroke: Option<Stroke>, fill: Option<Colour>) -> Item {
    Item::Path(Path {
        outline: rings.iter().flat_map(|ring| closed(ring)).collect(),
        stroke,
        fill,
        rule: FillRule::EvenOdd,
    })
}

/// Many separate straight lines as one path, such as a hatch.
pub fn lines(segments: &[[Pt; 2]], stroke: Stroke) -> Option<Item> {
    if segments.is_empty() {
        return None;
    }
    let outline = segments
        .iter()
        .flat_map(|[from, to]| [Step::Move(*from), Step::Line(*to)])
        .collect();
    Some(path(outline, Some(stroke), None))
}

/// Steps of an open run.
pub fn open(points: &[Pt]) -> Outline {
    points
        .iter()
        .enumerate()
        .map(|(i, p)| {
            if i == 0 {
                Step::Move(*p)
            } else {
                Step::Line(*p)
            }
        })
        .collect()
}

/// Steps of a closed ring.
pub fn closed(points: &[Pt]) -> Outline {
    let mut outline = open(points);
    if !outline.is_empty() {
        outline.push(Step::Close);
    }
    outline
}

/// A run of black regular text.
pub fn text(at: Pt, height: f64, anchor: Anchor, words: &str) -> Item {
    lettered(at, 0.0, height, Face::Regular, anchor, words)
}

/// A run of black semi-bold text.
pub fn bold(at: Pt, height: f64, anchor: Anchor, words: &str) -> Item {
    lettered(at, 0.0, height, Face::SemiBold, anchor, words)
}

/// A run of white semi-bold text, for a dark ground.
pub fn reversed(at: Pt, height: f64, anchor: Anchor, words: &str) -> Item {
    Item::Text(Text {
        at,
        anchor,
        angle: 0.0,
        height: Mm(height),
        face: Face::SemiBold,
        colour: Colour::WHITE,
        text: words.to_string(),
    })
}

/// A run of black text of any face at any angle (degrees, anticlockwise as seen).
pub fn lettered(at: Pt, angle: f64, height: f64, face: Face, anchor: Anchor, words: &str) -> Item {
    Item::Text(Text {
        at,
        anchor,
        angle,
        height: Mm(height),
        face,
        colour: Colour::BLACK,
        text: words.to_string(),
    })
}

/// A group on a layer.
pub fn group(id: &str, title: &str, layer: &str, items: Vec<Item>) -> Item {
    Item::Group(Group {
        id: id.to_string(),
        title: title.to_string(),
        layer: Some(layer.to_string()),
        clip: None,
        items,
    })
}

/// The same point moved.
pub const fn moved(p: Pt, dx: f64, dy: f64) -> Pt {
    Pt::new(p.x + dx, p.y + dy)
}
