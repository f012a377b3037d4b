//! Numbers as the file formats want them: plain decimals, no exponent, no trailing zeros.

/// Writes a number rounded to `places` decimals. What is not finite is written as 0, for no file
/// format has a word for it.
pub(super) fn number(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return "0".to_string();
    }
    let text = format!("{value:.places$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" { "0" } else { text }.to_string()
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn short_and_plain() {
        let cases = [
            (1.0, "1"),
            (0.125, "0.125"),
            (-0.0001, "0"),
            (100.0, "100"),
            (12.3456, "12.346"),
            (f64::NAN, "0"),
            (1e7, "10000000"),
        ];
        for (value, text) in cases {
            assert_eq!(number(value, 3), text);
        }
    }
}
