//! Numbers as the file formats want them: plain decimals, no exponent, no trailing zeros.

/// Writes a number rounded to `places` decimals. What is not finite is written as 0, for no file
/// format has a word for it.
pub(super) fn number(value: f64, places: usize) -> String {
    let mut text = String::new();
    push(&mut text, value, places);
    text
}

/// The same at the end of a text.
pub(super) fn push(text: &mut String, value: f64, places: usize) {
    /// Farther out a number is no whole multiple of its last decimal any more.
    const EXACT: f64 = 9e15;
    if !value.is_finite() {
        text.push('0');
        return;
    }
    let unit = 10_u64.pow(places as u32);
    let parts = (value * unit as f64).round();
    if parts.abs() > EXACT {
        text.push_str(&format!("{value:.0}"));
        return;
    }
    if parts < 0.0 {
        text.push('-');
    }
    let parts = parts.abs() as u64;
    // Digits from the last to the first; 20 hold any number of 64 bits.
    let mut digits = [0_u8; 20];
    let mut at = digits.len();
    let (mut whole, mut rest) = (parts / unit, parts % unit);
    loop {
        at -= 1;
        digits[at] = b'0' + (whole % 10) as u8;
        whole /= 10;
        if whole == 0 {
            break;
        }
    }
    text.extend(digits[at..].iter().map(|digit| char::from(*digit)));
    if rest == 0 {
        return;
    }
    text.push('.');
    let mut place = unit / 10;
    while rest > 0 {
        text.push(char::from(b'0' + (rest / place) as u8));
        rest %= place;
        place /= 10;
    }
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
            (-0.05, "-0.05"),
            (-1234.5678, "-1234.568"),
            (0.001, "0.001"),
            (9.9999, "10"),
            (1e18, "1000000000000000000"),
        ];
        for (value, text) in cases {
            assert_eq!(number(value, 3), text);
        }
    }
}
