//! Large numbers in groups of three digits: `43,560.0`, in metric `43 560.0`.
//!
//! In: a printed number. Out: the same with its whole part grouped, by a comma on sheets in feet,
//! by a space that no line breaks at on metric ones, where a comma may be read as a decimal sign.

use super::System;
use rust_decimal::Decimal;

/// Fewest digits before the decimal sign that are grouped in a quantity: four read well without.
const QUANTITY: usize = 5;
/// The same beside and in sums of money.
const MONEY: usize = 4;

/// An amount of money: two decimals, or all that a price each is stated with: `15,038.45`.
///
/// ```
/// use groundsheet::units::{System, grouped};
/// let total = "15038.4".parse().unwrap();
/// assert_eq!(grouped::money(total, System::FeetInches), "15,038.40");
/// assert_eq!(grouped::money(total, System::Metric), "15\u{a0}038.40");
/// ```
pub fn money(amount: Decimal, system: System) -> String {
    let places = amount.scale().max(2) as usize;
    separated(&format!("{amount:.places$}"), MONEY, separator(system))
}

/// A count or a quantity, without zeros at its end: `2,880`, `1.88`.
pub fn count(count: Decimal, system: System) -> String {
    separated(&count.normalize().to_string(), MONEY, separator(system))
}

/// What stands between the groups: on sheets in both systems that of feet.
fn separator(system: System) -> char {
    match system {
        System::FeetInches | System::Dual => ',',
        System::Metric => '\u{a0}',
    }
}

/// A printed number, its sign kept, grouped for a sheet in feet.
pub(super) fn in_feet(number: &str) -> String {
    separated(number, QUANTITY, separator(System::FeetInches))
}

/// A printed number, its sign kept, grouped for a metric sheet.
pub(super) fn in_metric(number: &str) -> String {
    separated(number, QUANTITY, separator(System::Metric))
}

/// Whether a character only parts groups of digits: a job file is written without.
pub(super) fn is_separator(before: Option<char>, c: char, after: Option<char>) -> bool {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    matches!(c, ',' | '\u{a0}') && digit(before) && digit(after)
}

fn separated(number: &str, least: usize, separator: char) -> String {
    let start = number
        .find(|c: char| c.is_ascii_digit())
        .unwrap_or(number.len());
    let digits = number[start..]
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(number.len() - start);
    if digits < least {
        return number.to_owned();
    }
    let mut out = number[..start].to_owned();
    for (index, digit) in number[start..start + digits].chars().enumerate() {
        if index > 0 && (digits - index).is_multiple_of(3) {
            out.push(separator);
        }
        out.push(digit);
    }
    out.push_str(&number[start + digits..]);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn groups_of_three_stand_before_the_decimal_sign_only() {
        for (plain, feet, metric) in [
            ("0", "0", "0"),
            ("1234.5678", "1234.5678", "1234.5678"),
            ("12345.6789", "12,345.6789", "12\u{a0}345.6789"),
            ("−123456", "−123,456", "−123\u{a0}456"),
            ("1234567.0", "1,234,567.0", "1\u{a0}234\u{a0}567.0"),
        ] {
            assert_eq!(in_feet(plain), feet);
            assert_eq!(in_metric(plain), metric);
        }
    }

    #[test]
    fn money_is_grouped_from_a_thousand_on() {
        let printed = |text: &str| money(text.parse().unwrap(), System::Dual);
        assert_eq!(printed("1000"), "1,000.00");
        assert_eq!(printed("0.055"), "0.055");
        assert_eq!(printed("999.99"), "999.99");
        assert_eq!(printed("-5211.1"), "-5,211.10");
        assert_eq!(count("2880.000".parse().unwrap(), System::Dual), "2,880");
        assert_eq!(count("1.880".parse().unwrap(), System::Metric), "1.88");
    }
}
