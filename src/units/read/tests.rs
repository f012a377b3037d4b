//! Every accepted spelling is read, and nothing else.

use super::*;
use proptest::prelude::*;

/// The same text that the documentation shows.
const SPELLINGS: &str = include_str!("../spellings.md");

fn read(kind: &str, text: &str) -> Result<f64, Misread> {
    match kind {
        "length" => Length::parse(text).map(Length::mm),
        "angle" => Angle::parse(text).map(Angle::degrees),
        "fall" => Fall::parse(text).map(Fall::ratio),
        "mass" => Mass::parse(text).map(Mass::kg),
        "density" => Density::parse(text).map(Density::kg_per_m3),
        "volume" => Volume::parse(text).map(Volume::m3),
        "area" => Area::parse(text).map(Area::m2),
        "rain" => Rain::parse(text).map(Rain::mm_per_h),
        "ratio" => ratio(text),
        "hours" => hours(text),
        "scale" => scale(text),
        other => panic!("the table has no kind {other}"),
    }
}

#[test]
fn every_spelling_in_the_table_is_read() {
    let mut lines = 0;
    for line in SPELLINGS.lines().skip(2) {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let text = cells[2].trim_matches('`');
        let is = cells[3].split(' ').next().unwrap();
        let wanted: f64 = is.parse().unwrap();
        let found = read(cells[1], text).unwrap_or_else(|misread| panic!("{misread}"));
        assert!(
            (found - wanted).abs() <= 1e-12 * wanted.abs(),
            "{text} is read as {found}, not {wanted}"
        );
        lines += 1;
    }
    assert!(lines > 50);
}

#[test]
fn what_is_not_tabled_is_refused() {
    for (kind, text) in [
        ("length", "3"),
        ("length", ""),
        ("length", "-"),
        ("length", "3/0\""),
        ("length", "3/ 4"),
        ("length", "12' 6"),
        ("length", "12.5' 6\""),
        ("length", "10'-13\""),
        ("length", "10'-12\""),
        ("length", "12' 6\" 3"),
        ("length", "1,200 mm"),
        ("length", "1e3 mm"),
        ("length", "nan m"),
        ("length", "inf mm"),
        ("length", "5 kg"),
        ("length", "--5 mm"),
        ("length", "8 in per ft"),
        ("angle", "45"),
        ("fall", "2"),
        ("fall", "90°"),
        ("fall", "1:0"),
        ("fall", "1/4\" per 0 ft"),
        ("fall", "1/4\" per"),
        ("mass", "50"),
        ("mass", "50 lb/ft3"),
        ("density", "100 lb"),
        ("volume", "10 yd"),
        ("area", "300 ft"),
        ("area", "12"),
        ("rain", "4 in"),
        ("rain", "100"),
        ("rain", "4 in per h"),
        ("ratio", "5% of it"),
        ("hours", "8"),
        ("scale", "1:0"),
        ("scale", "0"),
    ] {
        assert!(read(kind, text).is_err(), "{text} was read as a {kind}");
    }
}

#[test]
fn a_refusal_says_which_units_are_possible() {
    let misread = Length::parse("3").unwrap_err();
    assert_eq!(misread.found, "3");
    for unit in ["in", "ft", "yd", "mm", "cm", "m", "12'-6\""] {
        assert!(misread.wanted.contains(unit), "{unit} is not named");
    }
}

#[test]
fn numbers_too_large_are_refused() {
    let text = format!("{}m", "9".repeat(400));
    assert!(Length::parse(&text).is_err());
}

/// The foot is 0.3048 m: 85 Fed. Reg. 193, 5 October 2020. The cubic yard follows from it:
/// 0.764554857984 m³. The pound is 0.45359237 kg: NIST SP 811.
#[test]
fn conversions_are_those_published() {
    assert_eq!(Length::parse("1 ft").unwrap().mm(), 304.8);
    assert_eq!(Length::parse("1 in").unwrap().mm(), 25.4);
    assert!((Volume::parse("1 yd³").unwrap().m3() - 0.764_554_857_984).abs() < 1e-15);
    assert_eq!(Mass::parse("1 lb").unwrap().kg(), 0.453_592_37);
}

/// Tangents of 10° to 50°: the slope documentation of the United States Geological Survey.
#[test]
fn falls_given_as_angles_are_their_tangents() {
    for (text, tangent) in [
        ("10°", 0.176_326_98),
        ("20°", 0.363_970_23),
        ("30°", 0.577_350_27),
        ("40°", 0.839_099_63),
        ("50°", 1.191_753_59),
    ] {
        assert!((Fall::parse(text).unwrap().ratio() - tangent).abs() < 5e-9);
    }
}

/// A quarter inch per foot is 1:48, not 2 %; 2 % is 0.24 inch per foot.
#[test]
fn a_quarter_inch_per_foot_is_not_two_percent() {
    let quarter = Fall::parse("1/4\" per ft").unwrap().ratio();
    assert!((quarter - Fall::parse("1:48").unwrap().ratio()).abs() < 1e-15);
    let two = Fall::parse("2%").unwrap().ratio();
    assert!((two - Fall::parse("0.24\" per ft").unwrap().ratio()).abs() < 1e-15);
    assert!(quarter > two);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_text_makes_a_reader_panic(text in "[0-9 ./'\"½⅞′″:%=a-z³°−-]{0,14}") {
        for kind in [
            "length", "angle", "fall", "mass", "density", "volume", "area", "rain",
            "ratio", "hours", "scale",
        ] {
            if let Ok(value) = read(kind, &text) {
                prop_assert!(value.is_finite());
            }
        }
    }
}
