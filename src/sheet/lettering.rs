//! Lettering: heights of the ISO 3098 series, widths of runs, and breaking text into lines.
//!
//! In: words and a column width in paper millimetres. Out: lines that fit. Heights are capital
//! heights; no lettering on the sheet is lower than 2.5 mm.

use crate::draw::{Face, Mm, font};

/// Notes, dimensions, tables.
pub const NOTE: f64 = 2.5;
/// Headings of blocks, corner letters.
pub const HEADING: f64 = 3.5;
/// Titles of views.
pub const VIEW: f64 = 5.0;
/// Title of the sheet.
pub const TITLE: f64 = 7.0;
/// Baseline to baseline, as a multiple of the capital height.
pub const PITCH: f64 = 1.6;

/// Width of a run on paper, in millimetres.
pub fn width(words: &str, height: f64, face: Face) -> f64 {
    font::width(face, Mm(height), words).0
}

/// Breaks words into lines no wider than `column`.
pub fn wrap(words: &str, height: f64, face: Face, column: f64) -> Vec<String> {
    font::wrap(face, Mm(height), words, Mm(column))
}

/// Shortens a run with an ellipsis until it fits.
pub fn fitted(words: &str, height: f64, face: Face, column: f64) -> String {
    if width(words, height, face) <= column {
        return words.to_string();
    }
    let mut kept: Vec<char> = words.chars().collect();
    while !kept.is_empty() {
        kept.pop();
        let short: String = kept.iter().collect::<String>().trim_end().to_string() + "…";
        if width(&short, height, face) <= column {
            return short;
        }
    }
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_keep_every_word() {
        let words = "Strike the bedding off the rails, lift them out and fill the tracks by hand.";
        let lines = wrap(words, NOTE, Face::Regular, 40.0);
        assert!(lines.len() > 1);
        assert_eq!(lines.join(" "), words);
        for line in &lines {
            assert!(width(line, NOTE, Face::Regular) <= 40.0);
        }
    }

    #[test]
    fn a_long_run_is_shortened() {
        let short = fitted(
            "Rear garden landing and steps",
            HEADING,
            Face::SemiBold,
            30.0,
        );
        assert!(short.ends_with('…'));
        assert!(width(&short, HEADING, Face::SemiBold) <= 30.0);
    }
}
