//! Making marks: short functions from paper points to display-list items, and the few line
//! styles that the sheet uses.
//!
//! In: points in paper millimetres, y down. Out: [`Item`]s. Line widths are of the ISO 128
//! series; no view uses more than four of them. Colour only repeats what width, dash or a label
//! says already; every stroke keeps a contrast of 3:1 on white, and the colours are told apart on
//! a copier and by colour-blind readers.

use crate::draw::{
    Anchor, Colour, Dash, Face, FillRule, Group, Item, LineWidth, Mm, Outline, Path, Pt, Step,
    Stroke, Text,
};

/// Water and levels.
pub const BLUE: Colour = Colour(0, 98, 156);
/// Earth and the dig.
pub const BROWN: Colour = Colour(158, 112, 52);
/// Edge restraint and its nails.
pub const RED: Colour = Colour(132, 22, 12);
/// Secondary lines.
pub const GREY: Colour = Colour(40, 40, 40);
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
    let steps = rings.iter().map(|ring| ring.len() + 1).sum();
    let mut outline = Outline::with_capacity(steps);
    for ring in rings {
        close(&mut outline, ring);
    }
    Item::Path(Path {
        outline,
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
    let mut outline = Outline::with_capacity(points.len() + 1);
    close(&mut outline, points);
    outline
}

/// Adds the steps of a closed ring to others.
fn close(outline: &mut Outline, points: &[Pt]) {
    if let [first, others @ ..] = points {
        outline.push(Step::Move(*first));
        outline.extend(others.iter().map(|p| Step::Line(*p)));
        outline.push(Step::Close);
    }
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
        cell: None,
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
        cell: None,
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Linear red, green and blue of an sRGB colour (IEC 61966-2-1).
    fn linear(Colour(red, green, blue): Colour) -> [f64; 3] {
        [red, green, blue].map(|channel| {
            let part = f64::from(channel) / 255.0;
            if part <= 0.04045 {
                part / 12.92
            } else {
                ((part + 0.055) / 1.055).powf(2.4)
            }
        })
    }

    /// Relative luminance (WCAG 2.1).
    fn luminance(linear: [f64; 3]) -> f64 {
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    }

    /// CIE L*a*b* under D65.
    fn lab(rgb: [f64; 3]) -> [f64; 3] {
        let x = 0.4124 * rgb[0] + 0.3576 * rgb[1] + 0.1805 * rgb[2];
        let z = 0.0193 * rgb[0] + 0.1192 * rgb[1] + 0.9505 * rgb[2];
        let root = |t: f64| {
            if t > 0.008_856 {
                t.cbrt()
            } else {
                7.787 * t + 16.0 / 116.0
            }
        };
        let [x, y, z] = [x / 0.950_47, luminance(rgb), z / 1.088_83].map(root);
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    /// How a colour looks to readers without one kind of cone: Machado, Oliveira and Fernandes,
    /// IEEE Transactions on Visualization and Computer Graphics 15 (2009), 1291–1298, severity 1.
    const BLIND: [[[f64; 3]; 3]; 3] = [
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ],
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ],
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ],
    ];

    fn pairs() -> Vec<[Colour; 2]> {
        let all = [Colour::BLACK, GREY, RED, BLUE, BROWN];
        let later = |i: usize| all[i + 1..].iter().map(move |other| [all[i], *other]);
        (0..all.len()).flat_map(later).collect()
    }

    /// A black-and-white copy keeps the colours apart: ten steps of lightness between any two.
    #[test]
    fn colours_print_as_distinct_greys() {
        for [one, other] in pairs() {
            let [a, b] = [one, other].map(|colour| lab(linear(colour))[0]);
            assert!((a - b).abs() >= 10.0, "{one:?} {other:?}: {a:.1} {b:.1}");
        }
    }

    #[test]
    fn colour_blind_readers_tell_them_apart() {
        for matrix in BLIND {
            let seen = |colour: Colour| {
                let rgb = linear(colour);
                let channel = |row: [f64; 3]| {
                    let sum: f64 = row.iter().zip(rgb).map(|(m, c)| m * c).sum();
                    sum.clamp(0.0, 1.0)
                };
                lab(matrix.map(channel))
            };
            for [one, other] in pairs() {
                let [a, b] = [one, other].map(seen);
                let square: f64 = a.iter().zip(b).map(|(x, y)| (x - y) * (x - y)).sum();
                assert!(square.sqrt() >= 15.0, "{one:?} {other:?}");
            }
        }
    }

    /// WCAG 2.1, 1.4.11: graphical marks keep 3:1 on their ground.
    #[test]
    fn strokes_keep_their_contrast_on_white() {
        for colour in [GREY, RED, BLUE, BROWN] {
            let contrast = 1.05 / (luminance(linear(colour)) + 0.05);
            assert!(contrast >= 3.0, "{colour:?}: {contrast:.2}");
        }
    }
}
