//! The bundled faces and the measure of text.
//!
//! In: a face, a capital height in paper millimetres and a string. Out: widths, ink boxes and
//! wrapped lines in paper millimetres, from the advances and outlines in the font files themselves
//! (OpenType `hmtx`, `glyf`, `OS/2`), adapted as `draw::adapted` says. Lettering is sized by **capital height** (ISO 3098), so the
//! size of the em is the capital height over the face's capital ratio (`sCapHeight` over units per
//! em).
//!
//! Left out: kerning, ligatures and other shaping. Both exporters set glyph after glyph by its
//! advance, so what is measured here is what is drawn. Left to right only.

use std::borrow::Cow;
use std::sync::OnceLock;

use ttf_parser::GlyphId;

use super::adapted::adapted;
use super::paper::Mm;
use super::style::Face;

/// The family name of the bundled faces, as the font files give it.
pub const FAMILY: &str = "IBM Plex Sans Condensed";

/// Baseline to baseline, as a multiple of the capital height.
///
/// # Source
/// ASME Y14.2: clear gap between lines of text 0.5 to 1.0 of the capital height.
pub const PITCH: f64 = 1.6;

/// What is known of the characters below this one is looked up once: Latin and general punctuation.
const KEPT: u32 = 0x2300;

/// The bundled files as they are, regular and semi-bold.
pub(super) static BUNDLED: [&[u8]; 2] = [
    include_bytes!("../../fonts/IBMPlexSansCondensed-Regular.ttf"),
    include_bytes!("../../fonts/IBMPlexSansCondensed-SemiBold.ttf"),
];

/// The box that the ink of a run fills, in millimetres from the start of its baseline: x to the
/// right along the baseline, y **down**, so that `top` is negative for anything above the baseline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    /// Left end of the ink.
    pub left: f64,
    /// Top of the ink.
    pub top: f64,
    /// Right end of the ink.
    pub right: f64,
    /// Bottom of the ink.
    pub bottom: f64,
}

/// Length of a run from the start of its first glyph to the end of its last one's advance.
pub fn width(face: Face, height: Mm, text: &str) -> Mm {
    Mm(f64::from(units(face, text)) * unit_size(face, height))
}

/// The ink box of a run; none when it has no ink (empty or blanks only).
pub fn ink(face: Face, height: Mm, text: &str) -> Option<Ink> {
    let font = parsed(face);
    let unit = unit_size(face, height);
    let mut pen = 0_i32;
    let mut found: Option<[i32; 4]> = None;
    for c in text.chars() {
        if let Some(b) = font.glyph_bounding_box(GlyphId(glyph(face, c))) {
            let left = pen + i32::from(b.x_min);
            let right = pen + i32::from(b.x_max);
            let (low, high) = (i32::from(b.y_min), i32::from(b.y_max));
            found = Some(match found {
                None => [left, low, right, high],
                Some([l, b, r, t]) => [l.min(left), b.min(low), r.max(right), t.max(high)],
            });
        }
        pen += i32::from(advance(face, c));
    }
    let [left, low, right, high] = found?.map(f64::from);
    Some(Ink {
        left: left * unit,
        top: -high * unit,
        right: right * unit,
        bottom: -low * unit,
    })
}

/// How far the ink of a run reaches above its baseline and how far below it; nothing without ink.
pub fn rise_and_hang(face: Face, height: Mm, text: &str) -> (Mm, Mm) {
    // As with advances, every line of text asks for them.
    static REACHES: OnceLock<[Vec<[i16; 2]>; 2]> = OnceLock::new();
    let kept = REACHES.get_or_init(|| {
        [Face::Regular, Face::SemiBold].map(|face| {
            let chars = (0..KEPT).map(|code| char::from_u32(code).unwrap_or(' '));
            chars.map(|c| reach_in_file(face, c)).collect()
        })
    });
    let row = match face {
        Face::Regular => &kept[0],
        Face::SemiBold => &kept[1],
    };
    let reach = |c: char| match row.get(c as usize) {
        Some(reach) => *reach,
        None => reach_in_file(face, c),
    };
    let most = |[up, down]: [i16; 2], [a, b]: [i16; 2]| [up.max(a), down.max(b)];
    let [up, down] = text.chars().map(reach).fold([0, 0], most);
    let unit = unit_size(face, height);
    (Mm(f64::from(up) * unit), Mm(f64::from(down) * unit))
}

/// How far the glyph drawn for a character reaches above the baseline and below it, in font units.
fn reach_in_file(face: Face, c: char) -> [i16; 2] {
    let bounds = parsed(face).glyph_bounding_box(GlyphId(glyph(face, c)));
    bounds.map_or([0, 0], |b| [b.y_max.max(0), (-b.y_min).max(0)])
}

/// Breaks text into lines no wider than `limit`, at blanks and at the line breaks in it.
///
/// A number and its unit stay together where they fit a line. Blanks at a break vanish. A single
/// word wider than the limit is broken between characters, so
/// that no line is wider than the limit unless one character is. Empty text gives no lines; an
/// empty line between two line breaks stays.
pub fn wrap(face: Face, height: Mm, text: &str, limit: Mm) -> Vec<String> {
    let unit = unit_size(face, height);
    let fits = |units: u32| f64::from(units) * unit <= limit.0 + 1e-9;
    let blank = u32::from(advance(face, ' '));
    let mut lines = Vec::new();
    for part in text.lines() {
        let (mut line, mut taken) = (String::new(), 0);
        for word in with_units(part, |words| fits(units(face, words))) {
            let long = units(face, &word);
            if line.is_empty() && fits(long) {
                line.push_str(&word);
                taken = long;
                continue;
            }
            if !line.is_empty() && fits(taken + blank + long) {
                line.push(' ');
                line.push_str(&word);
                taken += blank + long;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            taken = 0;
            for c in word.chars() {
                let long = u32::from(advance(face, c));
                if !fits(taken + long) && !line.is_empty() {
                    lines.push(std::mem::take(&mut line));
                    taken = 0;
                }
                line.push(c);
                taken += long;
            }
        }
        lines.push(line);
    }
    lines
}

/// Length of a run, in font units.
fn units(face: Face, text: &str) -> u32 {
    text.chars().map(|c| u32::from(advance(face, c))).sum()
}

/// Units that are not parted from their number at the end of a line.
const UNITS: [&str; 17] = [
    "mm", "m", "m²", "m³", "kg", "ft", "ft²", "ft³", "yd³", "in", "lb", "h", "min", "kg/m³",
    "lb/ft³", "mm/h", "in/h",
];

/// Whether a word is the written fraction of a number of inches, such as 13/16″.
fn sixteenths(word: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|c| c.is_ascii_digit());
    let parts = word.trim_end_matches('″').split_once('/');
    parts.is_some_and(|(above, below)| digits(above) && digits(below))
}

/// The words of a line, a number and its unit or its fraction as one where they fit. Nothing parts
/// at a no-break space.
fn with_units(line: &str, fits: impl Fn(&str) -> bool) -> Vec<Cow<'_, str>> {
    let mut words: Vec<Cow<'_, str>> = Vec::new();
    for word in line.split([' ', '\t']).filter(|word| !word.is_empty()) {
        let bare = word.trim_end_matches([',', ';', '.', ':', ')', ']']);
        let belongs = UNITS.contains(&bare) || sixteenths(bare);
        let number = |last: &&mut Cow<'_, str>| last.ends_with(|c: char| c.is_numeric());
        if let Some(last) = words.last_mut().filter(|last| belongs && number(last)) {
            let both = format!("{last} {word}");
            if fits(&both) {
                *last = Cow::Owned(both);
                continue;
            }
        }
        words.push(Cow::Borrowed(word));
    }
    words
}

/// Whether both faces have a glyph for every character.
pub fn covers(text: &str) -> bool {
    missing(text).is_empty()
}

/// The characters that one of the faces lacks, each once, in order of first appearance.
pub fn missing(text: &str) -> Vec<char> {
    let mut found = Vec::new();
    for c in text.chars() {
        if !has(c) && !found.contains(&c) {
            found.push(c);
        }
    }
    found
}

/// The text as the exporters draw it: each character that the faces lack is replaced by `?`, so
/// that nothing vanishes without a trace, and a no-break space by a space (they share a glyph, so
/// a reader could not give them back apart).
pub fn drawable(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\u{a0}' => ' ',
            c if has(c) => c,
            _ => '?',
        })
        .collect()
}

/// Size of the em for a capital height.
pub fn size(face: Face, height: Mm) -> Mm {
    Mm(height.0 / cap_ratio(face))
}

/// Capital height as a part of the em, from the face's OS/2 table.
pub fn cap_ratio(face: Face) -> f64 {
    static RATIOS: OnceLock<[f64; 2]> = OnceLock::new();
    let both = RATIOS.get_or_init(|| {
        [Face::Regular, Face::SemiBold].map(|face| {
            let font = parsed(face);
            let cap = font
                .capital_height()
                .expect("the bundled faces state their capital height");
            f64::from(cap) / f64::from(font.units_per_em())
        })
    });
    match face {
        Face::Regular => both[0],
        Face::SemiBold => both[1],
    }
}

/// Font units in the em.
pub fn units_per_em(face: Face) -> u16 {
    parsed(face).units_per_em()
}

/// Glyph number of the character drawn for `c` (that of `?` for one that the faces lack).
pub fn glyph(face: Face, c: char) -> u16 {
    let font = parsed(face);
    let drawn = if has(c) { c } else { '?' };
    font.glyph_index(drawn).map_or(0, |id| id.0)
}

/// Advance of the glyph drawn for `c`, in font units.
pub fn advance(face: Face, c: char) -> u16 {
    // Every line of text asks for them.
    static ADVANCES: OnceLock<[Vec<u16>; 2]> = OnceLock::new();
    let kept = ADVANCES.get_or_init(|| {
        [Face::Regular, Face::SemiBold].map(|face| {
            (0..KEPT)
                .map(|code| char::from_u32(code).map_or(0, |c| advance_in_file(face, c)))
                .collect()
        })
    });
    let row = match face {
        Face::Regular => &kept[0],
        Face::SemiBold => &kept[1],
    };
    row.get(c as usize)
        .copied()
        .unwrap_or_else(|| advance_in_file(face, c))
}

fn advance_in_file(face: Face, c: char) -> u16 {
    parsed(face)
        .glyph_hor_advance(GlyphId(glyph(face, c)))
        .unwrap_or(0)
}

/// The TrueType file of a face, as sheets use it.
pub fn bytes(face: Face) -> &'static [u8] {
    static ADAPTED: OnceLock<[Vec<u8>; 2]> = OnceLock::new();
    let both = ADAPTED.get_or_init(|| BUNDLED.map(adapted));
    match face {
        Face::Regular => &both[0],
        Face::SemiBold => &both[1],
    }
}

/// Millimetres on paper of one font unit.
fn unit_size(face: Face, height: Mm) -> f64 {
    size(face, height).0 / f64::from(units_per_em(face))
}

fn has(c: char) -> bool {
    [Face::Regular, Face::SemiBold]
        .into_iter()
        .all(|face| parsed(face).glyph_index(c).is_some_and(|id| id.0 != 0))
}

fn parsed(face: Face) -> &'static ttf_parser::Face<'static> {
    static PARSED: OnceLock<[ttf_parser::Face<'static>; 2]> = OnceLock::new();
    let both = PARSED.get_or_init(|| {
        [Face::Regular, Face::SemiBold].map(|face| {
            ttf_parser::Face::parse(bytes(face), 0).expect("the bundled faces can be read")
        })
    });
    match face {
        Face::Regular => &both[0],
        Face::SemiBold => &both[1],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const H: Mm = Mm(2.5);

    #[test]
    fn capital_height_is_that_of_an_h() {
        for face in [Face::Regular, Face::SemiBold] {
            let ink = ink(face, H, "H").expect("H has ink");
            assert!((ink.top + 2.5).abs() < 1e-9, "{ink:?}");
            assert_eq!(ink.bottom, 0.0);
        }
    }

    /// A number and its unit stand on one line, unless no line takes both.
    #[test]
    fn a_number_keeps_its_unit() {
        let words = "Screed rail 20 mm outside, 3000 mm";
        let limit = width(Face::Regular, H, "Screed rail 20 mm outside, 3000");
        let lines = wrap(Face::Regular, H, words, limit);
        assert_eq!(lines, ["Screed rail 20 mm outside,", "3000 mm"]);
        let narrow = width(Face::Regular, H, "3000 m");
        assert_eq!(wrap(Face::Regular, H, "3000 mm", narrow), ["3000", "mm"]);
        let limit = width(Face::Regular, H, "from 3 9/16″ to 3 13/");
        let lines = wrap(Face::Regular, H, "from 3 9/16″ to 3 13/16″", limit);
        assert_eq!(lines, ["from 3 9/16″ to", "3 13/16″"]);
        let wide = width(Face::Regular, H, "for 24 h after the");
        let lines = wrap(Face::Regular, H, "for 24 h after the last", wide);
        assert_eq!(lines, ["for 24 h after the", "last"]);
    }

    #[test]
    fn widths_add_up_and_scale() {
        let whole = width(Face::Regular, H, "12'-6 1/2\"").0;
        let parts = width(Face::Regular, H, "12'-6").0 + width(Face::Regular, H, " 1/2\"").0;
        assert!((whole - parts).abs() < 1e-9);
        let double = width(Face::Regular, Mm(5.0), "12'-6 1/2\"").0;
        assert!((double - 2.0 * whole).abs() < 1e-9);
        assert!(width(Face::SemiBold, H, "Plan").0 > width(Face::Regular, H, "Plan").0);
    }

    #[test]
    fn figures_are_tabular() {
        let one = width(Face::Regular, H, "1");
        for figure in ["0", "4", "7", "9"] {
            assert_eq!(width(Face::Regular, H, figure), one);
        }
    }

    #[test]
    fn the_signs_of_a_sheet_are_covered() {
        assert!(covers(
            "½ ¼ ¾ ⅛ ⅜ ⅝ ⅞ ″ ′ ° × Ø ± ≥ ≤ – — \" ' % / : ; ( ) ?"
        ));
        assert_eq!(missing("a⌀b⌀\t"), vec!['⌀', '\t']);
        assert_eq!(drawable("⌀8"), "?8");
    }

    #[test]
    fn wrapped_lines_fit_and_keep_every_word() {
        let text = "Compact the bedding in two passes, then screed to the rails";
        let lines = wrap(Face::Regular, H, text, Mm(30.0));
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|l| width(Face::Regular, H, l).0 <= 30.0));
        assert_eq!(lines.join(" "), text);
        let broken = wrap(Face::Regular, H, "WWWWWWWWWWWW", Mm(10.0));
        assert!(broken.iter().all(|l| width(Face::Regular, H, l).0 <= 10.0));
        assert_eq!(broken.concat(), "WWWWWWWWWWWW");
        assert_eq!(wrap(Face::Regular, H, "W", Mm(0.1)), vec!["W"]);
        assert_eq!(
            wrap(Face::Regular, H, "a\n\nb", Mm(10.0)),
            vec!["a", "", "b"]
        );
    }

    #[test]
    fn blanks_have_width_but_no_ink() {
        assert_eq!(ink(Face::Regular, H, "  "), None);
        assert!(width(Face::Regular, H, "  ").0 > 0.0);
    }
}
