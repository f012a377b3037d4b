//! The bundled faces as sheets use them: larger fraction signs, lines as high as the em.
//!
//! In: the TrueType file of a bundled face. Out: a TrueType file with the same glyphs.
//!
//! - A face draws `⅜` within the height of a capital, which leaves its figures little more than
//!   half as high: 1.3 mm beside figures of 2.5 mm. On a site an eighth is then taken for three
//!   eighths. The signs are made larger about the middle of a capital, so that their figures are at
//!   least [`LEAST`] high and the sign stands taller than the whole number beside it, as fractions
//!   are lettered by hand, yet lower than the pitch of lines. They stand a little to the right, so that
//!   `1⅝` is not read as fifteen eighths.
//! - The height of a line (`hhea`) is set to the one that the face states for typesetting (`OS/2`),
//!   which is the em. What a viewer marks when text is picked then stays on its own line, and a
//!   reader that works out advances from such marks gets them right for slanting text too.
//!
//! Nothing else is touched. The files in `fonts/` stay as their makers wrote them.

use ttf_parser::{Face, GlyphId};

use super::truetype::{Tables, assemble, tables};
use crate::units::print::FRACTION_SIGNS;

/// Least height of a figure in a fraction, in capital heights.
///
/// # Source
/// ISO 3098: 1.8 mm is the lowest lettering of the series, beside 2.5 mm for the lowest on a sheet.
pub const LEAST: f64 = 1.8 / 2.5;

/// How many times larger a sign is made, in parts of 2¹⁴ as the file states it: 1.375.
const SCALE: u16 = 22_528;

/// How far below the middle of a capital a sign is set, in capital heights: a line of words takes
/// more room below its figures, for what hangs, than above them.
const LOWER: f64 = 0.07;

/// How far right of its place a sign is set, in capital heights.
const RIGHT: f64 = 0.16;

/// A bundled face with its fraction signs and height of line adapted.
///
/// # Panics
/// When the file is not one of the bundled faces, which the tests read.
pub fn adapted(file: &[u8]) -> Vec<u8> {
    let face = Face::parse(file, 0).expect("the bundled faces can be read");
    let capital = face.capital_height().expect("and state their capitals");
    let scale = f64::from(SCALE) / f64::from(1 << 14);
    let larger = Larger {
        scale,
        right: (RIGHT * f64::from(capital)).round(),
        down: (((scale - 1.0) / 2.0 + LOWER) * f64::from(capital)).round(),
    };
    let signs: Vec<usize> = FRACTION_SIGNS
        .iter()
        .filter_map(|&(sign, _)| face.glyph_index(sign))
        .map(|GlyphId(glyph)| usize::from(glyph))
        .collect();
    let mut tables = tables(file);
    redraw(&mut tables, &signs, larger).expect("the bundled faces compose their fraction signs");
    if let Some(hhea) = tables.get_mut(b"hhea") {
        let lines = face
            .typographic_ascender()
            .zip(face.typographic_descender());
        let (up, down) = lines.expect("the bundled faces state their lines");
        hhea[4..6].copy_from_slice(&up.to_be_bytes());
        hhea[6..8].copy_from_slice(&down.to_be_bytes());
    }
    assemble(tables)
}

/// By how much glyphs are made larger, and how far they then move right and down, in font units.
#[derive(Clone, Copy)]
struct Larger {
    scale: f64,
    right: f64,
    down: f64,
}

impl Larger {
    fn x(self, value: i16) -> i16 {
        (f64::from(value) * self.scale + self.right).round() as i16
    }

    fn y(self, value: i16) -> i16 {
        (f64::from(value) * self.scale - self.down).round() as i16
    }
}

/// Makes some composite glyphs larger, outlines (`glyf`, `loca`) and advances (`hmtx`) alike.
fn redraw(tables: &mut Tables, glyphs: &[usize], larger: Larger) -> Option<()> {
    let head = tables.get_mut(b"head")?;
    let long = i16_at(head, 50)? != 0;
    head[50..52].copy_from_slice(&1_i16.to_be_bytes());
    let loca = tables.get(b"loca")?.clone();
    let starts: Vec<usize> = match long {
        true => loca
            .chunks_exact(4)
            .map(|c| u32::from_be_bytes([c[0], c[1], c[2], c[3]]) as usize)
            .collect(),
        false => loca
            .chunks_exact(2)
            .map(|c| usize::from(u16::from_be_bytes([c[0], c[1]])) * 2)
            .collect(),
    };
    let old = tables.get(b"glyf")?.clone();
    let (mut glyf, mut loca) = (Vec::with_capacity(old.len()), vec![0; 4]);
    for (glyph, ends) in starts.windows(2).enumerate() {
        let outline = old.get(ends[0]..ends[1])?;
        match glyphs.contains(&glyph) {
            true => glyf.extend(composite(outline, larger)?),
            false => glyf.extend(outline),
        }
        glyf.resize(glyf.len().next_multiple_of(4), 0);
        loca.extend((glyf.len() as u32).to_be_bytes());
    }
    tables.insert(*b"glyf", glyf);
    tables.insert(*b"loca", loca);
    let metrics = usize::from(u16_at(tables.get(b"hhea")?, 34)?);
    let hmtx = tables.get_mut(b"hmtx")?;
    for &glyph in glyphs.iter().filter(|&&glyph| glyph < metrics) {
        let at = glyph * 4;
        let advance = f64::from(u16_at(hmtx, at)?) * larger.scale + larger.right;
        let advance = advance.round() as u16;
        let bearing = larger.x(i16_at(hmtx, at + 2)?);
        hmtx[at..at + 2].copy_from_slice(&advance.to_be_bytes());
        hmtx[at + 2..at + 4].copy_from_slice(&bearing.to_be_bytes());
    }
    Some(())
}

/// A composite glyph with each part scaled and moved ("glyf: composite glyph description"); none
/// for an outline of its own, or one whose parts are scaled already.
fn composite(outline: &[u8], larger: Larger) -> Option<Vec<u8>> {
    const WORDS: u16 = 0x0001;
    const OFFSETS: u16 = 0x0002;
    const SCALED: u16 = 0x0008;
    const MORE: u16 = 0x0020;
    const OTHER_SCALES: u16 = 0x00C0;
    const UNSCALED_OFFSET: u16 = 0x1000;
    if i16_at(outline, 0)? >= 0 {
        return None;
    }
    let mut out = (-1_i16).to_be_bytes().to_vec();
    for (at, upright) in [(2, false), (4, true), (6, false), (8, true)] {
        let bound = i16_at(outline, at)?;
        let moved = if upright {
            larger.y(bound)
        } else {
            larger.x(bound)
        };
        out.extend(moved.to_be_bytes());
    }
    let mut at = 10;
    loop {
        let (flags, part) = (u16_at(outline, at)?, u16_at(outline, at + 2)?);
        if flags & (SCALED | OTHER_SCALES) != 0 || flags & OFFSETS == 0 {
            return None;
        }
        let (x, y, after) = match flags & WORDS != 0 {
            true => (i16_at(outline, at + 4)?, i16_at(outline, at + 6)?, at + 8),
            false => {
                let byte = |at: usize| outline.get(at).map(|&b| i16::from(b as i8));
                (byte(at + 4)?, byte(at + 5)?, at + 6)
            }
        };
        let kept = flags & MORE;
        for word in [kept | WORDS | OFFSETS | SCALED | UNSCALED_OFFSET, part] {
            out.extend(word.to_be_bytes());
        }
        out.extend(larger.x(x).to_be_bytes());
        out.extend(larger.y(y).to_be_bytes());
        out.extend(SCALE.to_be_bytes());
        if kept == 0 {
            return Some(out);
        }
        at = after;
    }
}

fn u16_at(data: &[u8], at: usize) -> Option<u16> {
    let bytes = data.get(at..at + 2)?;
    Some(u16::from_be_bytes([bytes[0], bytes[1]]))
}

fn i16_at(data: &[u8], at: usize) -> Option<i16> {
    u16_at(data, at).map(|word| word as i16)
}

#[cfg(test)]
mod tests {
    use super::super::style::Face as Lettering;
    use super::super::{Mm, font};
    use super::*;

    const H: Mm = Mm(2.5);

    /// The lowest figure of a sign, as the outlines lie: above the bar of a half there is a one,
    /// from the sign's top down to where a superior one ends.
    #[test]
    fn the_figures_of_a_fraction_can_be_read() {
        for (face, file) in [
            (Lettering::Regular, font::BUNDLED[0]),
            (Lettering::SemiBold, font::BUNDLED[1]),
        ] {
            let bundled = Face::parse(file, 0).expect("a face");
            let one = bundled.glyph_index('¹').expect("a superior one");
            let one = bundled.glyph_bounding_box(one).expect("with ink");
            for (sign, _) in FRACTION_SIGNS {
                let before = bundled.glyph_index(sign).expect("a sign");
                let before = bundled.glyph_bounding_box(before).expect("with ink");
                let after = font::ink(face, H, &sign.to_string()).expect("with ink");
                let unit = font::size(face, H).0 / f64::from(bundled.units_per_em());
                let times =
                    (after.bottom - after.top) / (f64::from(before.y_max - before.y_min) * unit);
                let figure = f64::from(one.y_max - one.y_min) * unit * times;
                assert!(figure >= LEAST * H.0, "{sign} {figure}");
                // Near the middle of a capital, and lower than the pitch of lines.
                assert!(
                    ((after.top + after.bottom) / 2.0 + H.0 / 2.0).abs() < 0.25,
                    "{sign}"
                );
                assert!(after.bottom - after.top < font::PITCH * H.0 - 0.3, "{sign}");
                // The figures before it are nearer to each other than to it.
                let figures = font::ink(face, H, "0").expect("with ink");
                let apart = figures.left + font::width(face, H, "0").0 - figures.right;
                let before = after.left + font::width(face, H, "0").0 - figures.right;
                assert!(before > 1.5 * apart, "{sign} {before} {apart}");
                assert!(
                    after.right < font::width(face, H, &sign.to_string()).0,
                    "{sign}"
                );
            }
        }
    }

    #[test]
    fn all_other_glyphs_stay() {
        for (face, file) in [
            (Lettering::Regular, font::BUNDLED[0]),
            (Lettering::SemiBold, font::BUNDLED[1]),
        ] {
            let bundled = Face::parse(file, 0).expect("a face");
            let ours = Face::parse(font::bytes(face), 0).expect("a face");
            assert_eq!(bundled.number_of_glyphs(), ours.number_of_glyphs());
            let signs: Vec<_> = FRACTION_SIGNS
                .iter()
                .filter_map(|&(c, _)| bundled.glyph_index(c))
                .collect();
            assert_eq!(signs.len(), FRACTION_SIGNS.len());
            for glyph in (0..bundled.number_of_glyphs()).map(GlyphId) {
                let same = bundled.glyph_bounding_box(glyph) == ours.glyph_bounding_box(glyph)
                    && bundled.glyph_hor_advance(glyph) == ours.glyph_hor_advance(glyph);
                assert_eq!(same, !signs.contains(&glyph), "{glyph:?}");
            }
        }
    }

    /// A line is as high as the em, so that marked text stays on its line.
    #[test]
    fn a_line_is_as_high_as_the_em() {
        for face in [Lettering::Regular, Lettering::SemiBold] {
            let ours = Face::parse(font::bytes(face), 0).expect("a face");
            let high = ours.ascender() - ours.descender();
            assert_eq!(u16::try_from(high), Ok(ours.units_per_em()));
        }
    }
}
