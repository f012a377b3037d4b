//! The exporters: a display list in, the bytes of an SVG, PDF or PNG file out. They know nothing
//! of paving.
//!
//! All of them walk the same items, set text glyph after glyph by its advance (no kerning, no
//! ligatures), stroke with butt ends and round joins, and write the same bytes for the same list
//! every time. Lengths in the list are paper millimetres, x right and y down.

mod face;
mod number;
pub mod pdf;
pub mod png;
pub mod svg;

pub use pdf::{Meta, pdf};
pub use png::{NoPicture, png};
pub use svg::svg;

/// Whether an outline can be drawn: it starts by moving somewhere.
fn is_path(outline: &crate::draw::Outline) -> bool {
    matches!(outline.first(), Some(crate::draw::Step::Move(_)))
}

/// Text without the control characters that XML forbids.
fn plain(words: &str) -> String {
    words
        .chars()
        .filter(|&c| (c >= ' ' || c == '\n') && c != '\u{FFFE}' && c != '\u{FFFF}')
        .collect()
}
