//! What is printed of every quantity, and that it is read back.

use super::*;
use crate::units::Length;
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
