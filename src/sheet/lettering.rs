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

/// Clear paper between the ink of one line and that of the next, as a share of the capital height.
const CLEAR: f64 = 0.1;

/// How far the baselines of lines lie below the first, in millimetres: at [`PITCH`], and farther
/// where a high letter, such as a capital with an accent, would else come too near to what hangs
/// from the line above.
pub fn baselines(lines: &[String], height: f64, face: Face) -> Vec<f64> {
    let mut down = 0.0;
    let mut hangs = 0.0;
    let mut found = Vec::with_capacity(lines.len());
    for (index, line) in lines.iter().enumerate() {
        let (Mm(rises), Mm(next)) = font::rise_and_hang(face, Mm(height), line);
        if index > 0 {
            let clear = height * PITCH - hangs - rises;
            down += height * PITCH + (height * CLEAR - clear).max(0.0);
        }
        hangs = next;
        found.push(down);
    }
    found
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

    /// Lines keep their pitch, unless their ink would come nearer than a tenth of a capital's height.
    #[test]
    fn baselines_keep_ink_apart() {
        let face = Face::Regular;
        let lines = ["Hangs gjpqy", "Level", "[§/]", "ÉTAGE", "ÇA", "Plain"].map(str::to_string);
        let down = baselines(&lines, NOTE, face);
        let mut farther = Vec::new();
        for (pair, at) in lines.windows(2).zip(down.windows(2)) {
            let [above, below] = [0, 1].map(|i| font::ink(face, Mm(NOTE), &pair[i]));
            let (above, below) = (above.expect("ink"), below.expect("ink"));
            let clear = (at[1] + below.top) - (at[0] + above.bottom);
            assert!(clear > 0.1 * NOTE - 1e-9, "{pair:?}: {clear}");
            let more = at[1] - at[0] - NOTE * PITCH;
            assert!(more.abs() < 1e-9 || (clear - 0.1 * NOTE).abs() < 1e-9);
            farther.push(more > 0.01);
        }
        assert_eq!(farther, [false, false, true, false, false]);
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
