//! SVG text to a PNG picture.
//!
//! In: the text of an SVG file as [`super::svg()`] writes it and the dots per inch. Out: the bytes
//! of a PNG file on white, with its resolution noted. Rendered by `resvg` with the bundled faces
//! only, whatever fonts the machine has. Left out: everything but plain RGBA.

use std::sync::Arc;

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use super::face::for_renderer;
use crate::draw::{Face, font};

/// The most picture elements that are rendered: 36 by 48 inches at 300 dots per inch is 156
/// million.
const MOST: u64 = 200_000_000;

/// Why a picture is not made.
#[derive(Clone, Debug, PartialEq)]
pub enum NoPicture {
    /// The resolution, in dots per inch, is not above zero.
    Resolution(f64),
    /// The picture would have no element, or too many.
    Size {
        /// Dots across.
        across: f64,
        /// Dots down.
        down: f64,
    },
    /// There is no memory for it.
    Memory {
        /// Dots across.
        across: f64,
        /// Dots down.
        down: f64,
    },
    /// The text is no SVG, in the reader's words.
    Svg(String),
    /// It cannot be written as PNG, in the writer's words.
    Writing(String),
}

/// The picture of an SVG file at `dpi` dots per inch.
///
/// # Errors
/// What went wrong: the text is no SVG, the resolution is not above zero, or the picture
/// would have more than 200 million elements.
pub fn png(svg: &str, dpi: f64) -> Result<Vec<u8>, NoPicture> {
    let picture = picture(svg, dpi)?;
    picture
        .encode_png()
        .map_err(|e| NoPicture::Writing(e.to_string()))
        .map(|bytes| with_resolution(&bytes, dpi))
}

fn picture(svg: &str, dpi: f64) -> Result<Pixmap, NoPicture> {
    if !(dpi > 0.0 && dpi.is_finite()) {
        return Err(NoPicture::Resolution(dpi));
    }
    let mut fonts = fontdb::Database::new();
    for face in [Face::Regular, Face::SemiBold] {
        fonts.load_font_data(for_renderer(face));
    }
    fonts.set_sans_serif_family(font::FAMILY);
    let options = Options {
        font_family: font::FAMILY.to_string(),
        fontdb: Arc::new(fonts),
        ..Options::default()
    };
    let tree = Tree::from_str(svg, &options).map_err(|e| NoPicture::Svg(e.to_string()))?;

    // The tree is in CSS pixels, 96 to the inch.
    let zoom = dpi / 96.0;
    let across = (f64::from(tree.size().width()) * zoom).round();
    let down = (f64::from(tree.size().height()) * zoom).round();
    if across < 1.0 || down < 1.0 || across * down > MOST as f64 {
        return Err(NoPicture::Size { across, down });
    }
    let mut picture =
        Pixmap::new(across as u32, down as u32).ok_or(NoPicture::Memory { across, down })?;
    picture.fill(Color::WHITE);
    let zoom = zoom as f32;
    resvg::render(
        &tree,
        Transform::from_scale(zoom, zoom),
        &mut picture.as_mut(),
    );
    Ok(picture)
}

/// Adds the chunk that states the physical size of a dot (PNG specification, `pHYs`), so that
/// the picture prints at the sheet's size. It goes right behind the header chunk.
fn with_resolution(png: &[u8], dpi: f64) -> Vec<u8> {
    const HEADER_END: usize = 8 + 12 + 13;
    let per_metre = (dpi / 0.0254).round().min(f64::from(u32::MAX)) as u32;
    let mut chunk = b"pHYs".to_vec();
    chunk.extend(per_metre.to_be_bytes());
    chunk.extend(per_metre.to_be_bytes());
    chunk.push(1);
    let mut crc = flate2::Crc::new();
    crc.update(&chunk);

    let mut out = Vec::with_capacity(png.len() + 21);
    out.extend(&png[..HEADER_END]);
    out.extend(9_u32.to_be_bytes());
    out.extend(&chunk);
    out.extend(crc.sum().to_be_bytes());
    out.extend(&png[HEADER_END..]);
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{Anchor, Colour, Item, Mm, Pt, Sheet, Text};
    use crate::export::svg;

    /// Ten dots to the millimetre.
    const DPI: f64 = 254.0;

    fn written(face: Face, anchor: Anchor, text: &str) -> String {
        svg(&Sheet {
            width: Mm(150.0),
            height: Mm(30.0),
            title: "Test".to_string(),
            language: String::new(),
            layers: Vec::new(),
            items: vec![Item::Text(Text {
                at: Pt::new(75.0, 20.0),
                anchor,
                angle: 0.0,
                height: Mm(7.0),
                face,
                colour: Colour::BLACK,
                text: text.to_string(),
                cell: None,
            })],
        })
    }

    /// The box of what is darker than mid grey, in millimetres.
    fn inked(picture: &Pixmap) -> [f64; 4] {
        let mut found = [f64::MAX, f64::MAX, f64::MIN, f64::MIN];
        for (i, pixel) in picture.pixels().iter().enumerate() {
            if pixel.red() > 127 {
                continue;
            }
            let (x, y) = (i as u32 % picture.width(), i as u32 / picture.width());
            let (x, y) = (f64::from(x) / 10.0, f64::from(y) / 10.0);
            found = [
                found[0].min(x),
                found[1].min(y),
                found[2].max(x + 0.1),
                found[3].max(y + 0.1),
            ];
        }
        found
    }

    /// The renderer's own outlines and advances against the measure of text: pairs that kerning
    /// or a ligature would move (AV, To, fi) show whether either is in play.
    #[test]
    fn the_renderer_sets_text_as_measured() {
        for face in [Face::Regular, Face::SemiBold] {
            for text in ["AVATo fi 2'-6½\"", "Hg"] {
                for (anchor, part) in [
                    (Anchor::Start, 0.0),
                    (Anchor::Middle, 0.5),
                    (Anchor::End, 1.0),
                ] {
                    let picture = picture(&written(face, anchor, text), DPI).expect("it renders");
                    let start = 75.0 - part * font::width(face, Mm(7.0), text).0;
                    let ink = font::ink(face, Mm(7.0), text).expect("there is ink");
                    let wanted = [
                        start + ink.left,
                        20.0 + ink.top,
                        start + ink.right,
                        20.0 + ink.bottom,
                    ];
                    for (found, wanted) in inked(&picture).into_iter().zip(wanted) {
                        assert!(
                            (found - wanted).abs() <= 0.11,
                            "{text} {anchor:?}: {found} {wanted}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn size_and_resolution_are_those_asked_for() {
        let svg = written(Face::Regular, Anchor::Start, "A");
        let bytes = png(&svg, DPI).expect("it renders");
        assert_eq!(&bytes[16..24], [0, 0, 5, 220, 0, 0, 1, 44]);
        let header = b"pHYs\x00\x00\x27\x10\x00\x00\x27\x10\x01";
        assert_eq!(&bytes[37..50], header);
        assert_eq!(
            Pixmap::decode_png(&bytes).map(|p| p.width()).ok(),
            Some(1500)
        );
        assert_eq!(png(&svg, DPI), Ok(bytes));
    }

    #[test]
    fn what_cannot_be_rendered_is_an_error() {
        assert!(png("no picture", 100.0).is_err());
        let svg = written(Face::Regular, Anchor::Start, "A");
        for dpi in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e6] {
            assert!(png(&svg, dpi).is_err());
        }
    }
}
