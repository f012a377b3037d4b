//! Lengths, levels and rod readings as they are printed, alone and in chains that add up.

use super::figure::{by_system, fixed, minus, round, shortest};
use super::spelling::fraction;
use crate::units::{Length, Rod, System};

/// How finely a length is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Precision {
    /// Lengths on plan: to 1/8 in or 1 mm.
    Drawing,
    /// Thicknesses and other small sizes: to 1/16 in or 1 mm.
    Thickness,
}

/// A chain of dimensions as printed: the parts, as printed, add up to the overall as printed,
/// and their running sums are the running dimensions as printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chain {
    /// The parts, in order.
    pub parts: Vec<String>,
    /// Their sum.
    pub overall: String,
}

/// A length: `12′-6½″`, `6½″`, `3823 mm`, or both with the metric one in brackets.
///
/// ```
/// use groundsheet::units::{Length, Precision, System, print};
/// let length = Length::from_mm(3822.7); // 150.5 in
/// let text = print::length(length, System::FeetInches, Precision::Drawing);
/// assert_eq!(text, "12′-6½″");
/// ```
pub fn length(length: Length, system: System, precision: Precision) -> String {
    printed(
        steps(length.mm(), System::FeetInches, precision),
        steps(length.mm(), System::Metric, precision),
        system,
        precision,
    )
}

/// A length that is more than nothing: what would print as nought is told by the least that prints,
/// `< ⅛″`, so that something small is not read as none. Rounding noise stays nought.
///
/// ```
/// use groundsheet::units::{Length, Precision, System, print};
/// let some = |mm, system| print::some(Length::from_mm(mm), system, Precision::Drawing);
/// assert_eq!(some(1.3, System::FeetInches), "< ⅛″");
/// assert_eq!(some(1.3, System::Metric), "1 mm");
/// assert_eq!(some(1.3, System::Dual), "< ⅛″ [1 mm]");
/// assert_eq!(some(0.0, System::FeetInches), "0″");
/// ```
pub fn some(length: Length, system: System, precision: Precision) -> String {
    let told = |system| {
        let steps = steps(length.mm(), system, precision);
        let under = steps == 0 && length.mm() > NOTHING;
        let shown = steps.max(i64::from(under));
        let words = printed(shown, shown, system, precision);
        if under { format!("< {words}") } else { words }
    };
    by_system(system, || told(System::FeetInches), || told(System::Metric))
}

/// A length as finely as a tape shows it: to 1/16 in, or to 0.1 mm where that is told.
///
/// ```
/// use groundsheet::units::{Length, System, print};
/// assert_eq!(print::taped(Length::from_mm(63.5), System::Metric), "63.5 mm");
/// assert_eq!(print::taped(Length::from_mm(1005.0), System::Metric), "1005 mm");
/// assert_eq!(print::taped(Length::from_mm(63.5), System::FeetInches), "2½″");
/// ```
pub fn taped(length: Length, system: System) -> String {
    match system {
        System::Metric => format!("{} mm", shortest(length.mm(), 1)),
        System::FeetInches | System::Dual => some(length, system, Precision::Thickness),
    }
}

/// Lengths under this are rounding noise, in millimetres.
const NOTHING: f64 = 0.01;

/// The chain of `parts`: each part is the difference of two running sums as printed, so that no
/// error adds up. A part may therefore differ by one step from the same length printed alone.
pub fn chain(parts: &[Length], system: System, precision: Precision) -> Chain {
    let mut running = 0.0;
    let mut last = (0, 0);
    let mut texts = Vec::with_capacity(parts.len());
    for part in parts {
        running += part.mm();
        let feet = steps(running, System::FeetInches, precision);
        let metric = steps(running, System::Metric, precision);
        texts.push(printed(feet - last.0, metric - last.1, system, precision));
        last = (feet, metric);
    }
    Chain {
        parts: texts,
        overall: printed(last.0, last.1, system, precision),
    }
}

/// Running dimensions of the chain of `parts` from its feature `origin`: one text per feature, the
/// sums of the parts as [`chain`] prints them, negative before the origin.
///
/// ```
/// use groundsheet::units::{Length, Precision, System, print};
/// let parts = [Length::from_mm(152.4), Length::from_mm(3657.6)];
/// let texts = print::running(&parts, 1, System::FeetInches, Precision::Drawing);
/// assert_eq!(texts, ["−6″", "0", "12′-0″"]);
/// ```
pub fn running(
    parts: &[Length],
    origin: usize,
    system: System,
    precision: Precision,
) -> Vec<String> {
    let mut sum = 0.0;
    let mut sums = vec![(0, 0)];
    for part in parts {
        sum += part.mm();
        sums.push((
            steps(sum, System::FeetInches, precision),
            steps(sum, System::Metric, precision),
        ));
    }
    let zero = sums.get(origin).copied().unwrap_or((0, 0));
    sums.iter()
        .map(|(feet, mm)| match (feet - zero.0, mm - zero.1) {
            (0, 0) => "0".to_owned(),
            (feet, mm) => printed(feet, mm, system, precision),
        })
        .collect()
}

/// A reading on a rod, as finely as its face shows: `4.65′`, `4′-7¾″`, `1.417 m`.
///
/// ```
/// use groundsheet::units::{Length, Rod, print};
/// let reading = Length::from_mm(1417.32); // 4.65 ft
/// assert_eq!(print::rod(reading, Rod::DecimalFeet), "4.65′");
/// assert_eq!(print::rod(reading, Rod::FeetInches), "4′-7¾″");
/// assert_eq!(print::rod(reading, Rod::Metric), "1.417 m");
/// ```
pub fn rod(reading: Length, rod: Rod) -> String {
    match rod {
        Rod::DecimalFeet => level(reading, System::FeetInches),
        Rod::FeetInches => length(reading, System::FeetInches, Precision::Drawing),
        Rod::Metric => level(reading, System::Metric),
    }
}

/// A difference to add to a reading, its sign always written: `+0.45′`, `−0.02′`, `+0.00′`.
pub fn rod_difference(difference: Length, face: Rod) -> String {
    let text = rod(difference, face);
    if text.starts_with('−') {
        text
    } else {
        format!("+{text}")
    }
}

/// Printed millimetres without their unit, for dimensions on a sheet that states it once; other
/// systems keep their marks.
///
/// ```
/// use groundsheet::units::{System, print};
/// assert_eq!(print::without_unit("1800 mm", System::Metric), "1800");
/// assert_eq!(print::without_unit("5′-10⅞″ (1800 mm)", System::Dual), "5′-10⅞″ (1800 mm)");
/// ```
pub fn without_unit(words: &str, system: System) -> String {
    match system {
        System::Metric => words.strip_suffix(" mm").unwrap_or(words).to_string(),
        System::FeetInches | System::Dual => words.to_string(),
    }
}

/// A level: decimal feet to two places (`99.50′`), or metres to three (`1.250 m`).
pub fn level(level: Length, system: System) -> String {
    by_system(
        system,
        || format!("{}′", fixed(level.mm() / 304.8, 2)),
        || format!("{} m", fixed(level.mm() / 1000.0, 3)),
    )
}

impl Precision {
    /// The step lengths are printed to, in millimetres; in both systems that of feet and inches.
    pub fn step(self, system: System) -> f64 {
        match system {
            System::Metric => 1.0,
            System::FeetInches | System::Dual => 25.4 / self.per_inch() as f64,
        }
    }

    /// Steps in an inch.
    fn per_inch(self) -> i64 {
        match self {
            Self::Drawing => 8,
            Self::Thickness => 16,
        }
    }
}

/// Millimetres as a whole number of printed steps: eighths or sixteenths of an inch, or
/// millimetres.
fn steps(mm: f64, system: System, precision: Precision) -> i64 {
    match system {
        System::Metric => round(mm) as i64,
        _ => round(mm * precision.per_inch() as f64 / 25.4) as i64,
    }
}

fn printed(feet_steps: i64, mm: i64, system: System, precision: Precision) -> String {
    by_system(
        system,
        || feet_inches(feet_steps, precision),
        || format!("{}{} mm", minus(mm), mm.unsigned_abs()),
    )
}

fn feet_inches(steps: i64, precision: Precision) -> String {
    let per_inch = precision.per_inch().unsigned_abs();
    let all = steps.unsigned_abs();
    let feet = all / (12 * per_inch);
    let inches = all % (12 * per_inch) / per_inch;
    let fraction = fraction(all % per_inch, per_inch);
    let sign = minus(steps);
    let inches = match (inches, fraction.as_str()) {
        (0, "") => "0".to_owned(),
        (0, fraction) if feet == 0 => fraction.to_owned(),
        (inches, fraction) if fraction.contains('/') => format!("{inches} {fraction}"),
        (inches, fraction) => format!("{inches}{fraction}"),
    };
    if feet == 0 {
        return format!("{sign}{inches}″");
    }
    format!("{sign}{feet}′-{inches}″")
}
