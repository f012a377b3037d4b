//! Printing: typed values to the text that stands on paper. The only rounding in the program.
//!
//! In: a quantity in SI and the [`System`] to print in. Out: text with its unit, such as
//! `12′-6½″`, `3823 mm`, `12′-6½″ [3823 mm]`. Halves round away from zero; what lies within a
//! ten-millionth of a step of a half counts as a half, so that noise in the last binary digit
//! never shows. Fractions are reduced and use a fraction sign where one exists (sixteenths have
//! none). [`plain`] turns any of these texts into the spelling that a job file is written in.
//!
//! Left out: words of any language.

use super::grouped::{in_feet, in_metric, is_separator};
use super::{
    Angle, Area, CUBIC_FOOT, CUBIC_YARD, Density, Fall, Flow, Length, Mass, POUND, Rain, Rod,
    SQUARE_FOOT, System, Volume,
};

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
        System::Metric => format!("{} mm", number(length.mm(), 1)),
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

/// An area: square feet to one place, or square metres to two.
pub fn area(area: Area, system: System) -> String {
    by_system(
        system,
        || format!("{} ft²", in_feet(&fixed(area.m2() / SQUARE_FOOT, 1))),
        || format!("{} m²", in_metric(&fixed(area.m2(), 2))),
    )
}

/// A volume: cubic yards or cubic metres, to two places, or three under one.
pub fn volume(volume: Volume, system: System) -> String {
    let places = |value: f64| if value.abs() < 1.0 { 3 } else { 2 };
    let yards = volume.m3() / CUBIC_YARD;
    by_system(
        system,
        || format!("{} yd³", in_feet(&fixed(yards, places(yards)))),
        || format!("{} m³", in_metric(&fixed(volume.m3(), places(volume.m3())))),
    )
}

/// A volume as it is ordered: to two places, to which the takeoff rounds it up.
pub fn ordered(volume: Volume, system: System) -> String {
    let yards = volume.m3() / CUBIC_YARD;
    by_system(
        system,
        || format!("{} yd³", in_feet(&fixed(yards, 2))),
        || format!("{} m³", in_metric(&fixed(volume.m3(), 2))),
    )
}

/// A rainfall: inches an hour to two places at most, or whole millimetres an hour.
pub fn rain(rain: Rain, system: System) -> String {
    by_system(
        system,
        || format!("{} in/h", shortest(rain.mm_per_h() / 25.4, 2)),
        || format!("{} mm/h", shortest(rain.mm_per_h(), 0)),
    )
}

/// A flow of water: gallons a minute to one place, or litres a second to two.
pub fn flow(flow: Flow, system: System) -> String {
    let gallons = flow.l_per_s() * 60.0 / 3.785_411_784;
    by_system(
        system,
        || format!("{} gal/min", fixed(gallons, 1)),
        || format!("{} l/s", fixed(flow.l_per_s(), 2)),
    )
}

/// A mass: whole pounds or kilograms, or to one place under ten.
pub fn mass(mass: Mass, system: System) -> String {
    let places = |value: f64| usize::from(value.abs() < 10.0);
    let pounds = mass.kg() / POUND;
    by_system(
        system,
        || format!("{} lb", in_feet(&fixed(pounds, places(pounds)))),
        || format!("{} kg", in_metric(&fixed(mass.kg(), places(mass.kg())))),
    )
}

/// A density: pounds per cubic foot to one place at most, or whole kilograms per cubic metre.
pub fn density(density: Density, system: System) -> String {
    let pounds = density.kg_per_m3() * CUBIC_FOOT / POUND;
    by_system(
        system,
        || format!("{} lb/ft³", shortest(pounds, 1)),
        || format!("{} kg/m³", shortest(density.kg_per_m3(), 0)),
    )
}

/// A fall in percent: `2%`, `2.08%`.
pub fn percent(fall: Fall) -> String {
    format!("{}%", shortest(fall.ratio() * 100.0, 2))
}

/// A fall in percent and by what a crew sets on a level: `2% (0.24″ per ft)`, `2% (20 mm per m)`;
/// `per` is the word between, for another language.
pub fn fall(fall: Fall, system: System, per: &str) -> String {
    let inches = || format!("{}″ {per} ft", shortest(fall.ratio() * 12.0, 2));
    let metric = || format!("{} mm {per} m", shortest(fall.ratio() * 1000.0, 1));
    let beside = match system {
        System::FeetInches => inches(),
        System::Metric => metric(),
        System::Dual => format!("{}; {}", inches(), metric()),
    };
    format!("{} ({beside})", percent(fall))
}

/// An angle in degrees, to two places at most.
pub fn angle(angle: Angle) -> String {
    format!("{}°", shortest(angle.degrees(), 2))
}

/// A plain number, to `places` at most, without trailing zeros.
pub fn number(value: f64, places: usize) -> String {
    shortest(value, places)
}

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
const FRACTION_SIGNS: [(char, &str); 7] = [
    ('⅛', "1/8"),
    ('¼', "1/4"),
    ('⅜', "3/8"),
    ('½', "1/2"),
    ('⅝', "5/8"),
    ('¾', "3/4"),
    ('⅞', "7/8"),
];

impl Precision {
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

/// `above`/`below` reduced, as a sign where there is one; empty for none.
fn fraction(mut above: u64, mut below: u64) -> String {
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

/// The text of one system, or of both with the metric one in brackets.
fn by_system(
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

fn minus(steps: i64) -> &'static str {
    if steps < 0 { "−" } else { "" }
}

/// A number with exactly `places` decimals.
fn fixed(value: f64, places: usize) -> String {
    let scale = (0..places).fold(1.0, |scale, _| scale * 10.0);
    let rounded = round(value * scale);
    let sign = if rounded < 0.0 { "−" } else { "" };
    format!("{sign}{:.places$}", rounded.abs() / scale)
}

/// A number with at most `places` decimals and no zeros at their end.
fn shortest(value: f64, places: usize) -> String {
    let text = fixed(value, places);
    if !text.contains('.') {
        return text;
    }
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// To the nearest whole number, halves (and what is a half but for binary noise) away from zero.
fn round(value: f64) -> f64 {
    (value + f64::copysign(1e-7, value)).round()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn feet(inches: f64, precision: Precision) -> String {
        length(
            Length::from_mm(inches * 25.4),
            System::FeetInches,
            precision,
        )
    }

    #[test]
    fn feet_and_inches_print_with_reduced_fractions() {
        for (inches, text) in [
            (0.0, "0″"),
            (0.75, "¾″"),
            (6.5, "6½″"),
            (12.0, "1′-0″"),
            (12.5, "1′-0½″"),
            (150.5, "12′-6½″"),
            (143.97, "12′-0″"),
            (-4.5, "−4½″"),
            (-0.01, "0″"),
        ] {
            assert_eq!(feet(inches, Precision::Drawing), text);
        }
        assert_eq!(feet(0.3125, Precision::Thickness), "5/16″");
        assert_eq!(feet(3.0625, Precision::Thickness), "3 1/16″");
        assert_eq!(feet(3.5, Precision::Thickness), "3½″");
    }

    #[test]
    fn metric_and_dual_print() {
        let long = Length::from_mm(3822.7);
        let drawing = Precision::Drawing;
        assert_eq!(length(long, System::Metric, drawing), "3823 mm");
        assert_eq!(length(long, System::Dual, drawing), "12′-6½″ [3823 mm]");
        let sill = Length::from_mm(99.5 * 304.8);
        assert_eq!(level(sill, System::FeetInches), "99.50′");
        assert_eq!(level(Length::from_mm(1250.0), System::Metric), "1.250 m");
        assert_eq!(level(Length::from_mm(-0.1), System::FeetInches), "0.00′");
    }

    /// 2 % is 0.24 in/ft; 1/4 in/ft is 2.08 %.
    #[test]
    fn falls_print_what_they_are() {
        let two = Fall::from_ratio(0.02);
        assert_eq!(fall(two, System::FeetInches, "per"), "2% (0.24″ per ft)");
        assert_eq!(fall(two, System::Metric, "por"), "2% (20 mm por m)");
        let quarter = Fall::from_ratio(1.0 / 48.0);
        assert_eq!(
            fall(quarter, System::FeetInches, "per"),
            "2.08% (0.25″ per ft)"
        );
    }

    /// An acre is 43 560 ft² and 4 046.8564224 m²; a cubic yard 0.764554857984 m³; a pound
    /// 0.45359237 kg.
    #[test]
    fn other_quantities_print_in_either_system() {
        let acre = Area::from_m2(4_046.856_422_4);
        assert_eq!(area(acre, System::FeetInches), "43,560.0 ft²");
        assert_eq!(area(acre, System::Metric), "4046.86 m²");
        let ten = Volume::from_m3(7.645_548_579_84);
        assert_eq!(volume(ten, System::FeetInches), "10.00 yd³");
        assert_eq!(volume(Volume::from_m3(0.0123), System::Metric), "0.012 m³");
        let bag = Mass::from_kg(22.679_618_5);
        assert_eq!(mass(bag, System::FeetInches), "50 lb");
        assert_eq!(mass(bag, System::Metric), "23 kg");
        let sand = Density::parse("100 lb/ft³").unwrap();
        assert_eq!(density(sand, System::FeetInches), "100 lb/ft³");
        assert_eq!(angle(Angle::from_degrees(22.5)), "22.5°");
    }

    #[test]
    fn paper_text_turns_into_the_spelling_of_a_job() {
        assert_eq!(plain("12′-6½″"), "12'-6 1/2\"");
        assert_eq!(plain("43,560.0 ft², 1"), "43560.0 ft², 1");
        assert_eq!(plain("12\u{a0}345 kg"), "12345 kg");
        assert_eq!(plain("¾″"), "3/4\"");
        assert_eq!(plain("−0′-4½″"), "-0'-4 1/2\"");
    }

    /// Three parts of 100.4 mm: alone each prints 100 mm, together they are 301 mm.
    #[test]
    fn a_chain_adds_up_where_single_roundings_do_not() {
        let third = Length::from_mm(100.4);
        let chain = chain(&[third; 3], System::Metric, Precision::Drawing);
        assert_eq!(chain.parts, ["100 mm", "101 mm", "100 mm"]);
        assert_eq!(chain.overall, "301 mm");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        #[test]
        fn what_is_printed_is_read_back(mm in -1e6..1e6_f64) {
            let given = Length::from_mm(mm);
            for (system, precision, step) in [
                (System::FeetInches, Precision::Drawing, 25.4 / 8.0),
                (System::FeetInches, Precision::Thickness, 25.4 / 16.0),
                (System::Metric, Precision::Drawing, 1.0),
            ] {
                let text = length(given, system, precision);
                let read = Length::parse(&text).unwrap();
                prop_assert!((read.mm() - mm).abs() <= step * 0.500_001);
                prop_assert_eq!(length(read, system, precision), text.clone());
                prop_assert_eq!(Length::parse(&plain(&text)).unwrap(), read);
            }
            for (system, step) in [(System::FeetInches, 3.048), (System::Metric, 1.0)] {
                let read = Length::parse(&level(given, system)).unwrap();
                prop_assert!((read.mm() - mm).abs() <= step * 0.500_001);
            }
        }

        #[test]
        fn chains_add_up_as_printed(parts in proptest::collection::vec(0.0..5000.0_f64, 1..12)) {
            let parts: Vec<Length> = parts.into_iter().map(Length::from_mm).collect();
            for (system, precision) in [
                (System::FeetInches, Precision::Drawing),
                (System::FeetInches, Precision::Thickness),
                (System::Metric, Precision::Drawing),
            ] {
                let chain = chain(&parts, system, precision);
                let read = |text: &String| Length::parse(text).unwrap().mm();
                let sum: f64 = chain.parts.iter().map(read).sum();
                prop_assert!((sum - read(&chain.overall)).abs() < 1e-6);
                let all = Length::from_mm(parts.iter().map(|part| part.mm()).sum());
                prop_assert_eq!(&chain.overall, &length(all, system, precision));
            }
        }
    }
}
