//! Figures: rounding, and one system or both.

use crate::units::System;

/// The text of one system, or of both with the metric one in brackets.
pub(super) fn by_system(
    system: System,
    feet: impl FnOnce() -> String,
    metric: impl FnOnce() -> String,
) -> String {
    match system {
        System::FeetInches => feet(),
        System::Metric => metric(),
        System::Dual => format!("{} [{}]", feet(), metric()),
    }
}

pub(super) fn minus(steps: i64) -> &'static str {
    if steps < 0 { "−" } else { "" }
}

/// A number with exactly `places` decimals.
pub(super) fn fixed(value: f64, places: usize) -> String {
    let scale = (0..places).fold(1.0, |scale, _| scale * 10.0);
    let rounded = round(value * scale);
    let sign = if rounded < 0.0 { "−" } else { "" };
    format!("{sign}{:.places$}", rounded.abs() / scale)
}

/// A number with at most `places` decimals and no zeros at their end.
pub(super) fn shortest(value: f64, places: usize) -> String {
    let text = fixed(value, places);
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// To the nearest whole number, halves (and what is a half but for binary noise) away from zero.
pub(super) fn round(value: f64) -> f64 {
    (value + f64::copysign(1e-7, value)).round()
}
