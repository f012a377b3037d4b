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

/// Text without the control characters that XML forbids; a tab is a space.
fn plain(words: &str) -> String {
    words
        .chars()
        .map(|c| if c == '\t' { ' ' } else { c })
        .filter(|&c| (c >= ' ' || c == '\n') && c != '\u{FFFE}' && c != '\u{FFFF}')
        .collect()
}

#[cfg(test)]
mod tests {
    use super::plain;

    /// XML 1.0 allows tab, line feed, carriage return and what comes from U+0020 on, less U+FFFE and
    /// U+FFFF.
    #[test]
    fn what_xml_forbids_goes_and_a_tab_still_parts_words() {
        assert_eq!(plain("a\tb\nc\u{1}d\u{FFFE}e"), "a b\ncde");
    }
}
