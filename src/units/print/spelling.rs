//! Signs of fractions, and printed text in the spelling of a job file.

use crate::units::grouped::is_separator;

/// Paper text in the spelling of a job file: `12′-6½″` becomes `12'-6 1/2"`.
pub fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text.chars().peekable();
    let mut before = None;
    while let Some(c) = rest.next() {
        if is_separator(before.replace(c), c, rest.peek().copied()) {
            continue;
        }
        if let Some((_, written)) = FRACTION_SIGNS.iter().find(|(sign, _)| *sign == c) {
            if out.ends_with(|last: char| last.is_ascii_digit()) {
                out.push(' ');
            }
            out.push_str(written);
            continue;
        }
        out.push(match c {
            '′' => '\'',
            '″' => '"',
            '−' => '-',
            other => other,
        });
    }
    out
}

/// The fraction signs that are printed, and the fraction each stands for.
pub const FRACTION_SIGNS: [(char, &str); 7] = [
    ('⅛', "1/8"),
    ('¼', "1/4"),
    ('⅜', "3/8"),
    ('½', "1/2"),
    ('⅝', "5/8"),
    ('¾', "3/4"),
    ('⅞', "7/8"),
];

/// `above`/`below` reduced, as a sign where there is one; empty for none.
pub(super) fn fraction(mut above: u64, mut below: u64) -> String {
    if above == 0 {
        return String::new();
    }
    while above.is_multiple_of(2) && below.is_multiple_of(2) {
        above /= 2;
        below /= 2;
    }
    let written = format!("{above}/{below}");
    FRACTION_SIGNS
        .iter()
        .find(|(_, fraction)| *fraction == written)
        .map_or(written, |(sign, _)| sign.to_string())
}
