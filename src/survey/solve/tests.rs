//! Points that hang on each other, in order and out of it.

use super::*;
use crate::survey::spec::{Leg, Redundant};

fn spec(name: &str, measured: Measured) -> PointSpec {
    PointSpec {
        name: name.into(),
        measured,
        redundant: Vec::new(),
    }
}

fn at(name: &str, x: f64, y: f64) -> PointSpec {
    spec(name, Measured::At(Point::new(x, y)))
}

fn taped(name: &str, from: [&str; 2], distance: [f64; 2], left: bool) -> PointSpec {
    let from = from.map(String::from);
    spec(
        name,
        Measured::Tie {
            from,
            distance,
            left,
        },
    )
}

#[test]
fn ties_take_the_side_and_further_tapes_leave_residuals() {
    let mut left = taped("T1", ["H1", "H2"], [3000.0, 5000.0], true);
    left.redundant.push(Redundant {
        from: "H3".into(),
        distance: 3010.0,
    });
    let points = [
        at("H1", 0.0, 0.0),
        at("H2", 4000.0, 0.0),
        at("H3", 0.0, 6000.0),
        left,
        taped("T2", ["H1", "H2"], [3000.0, 5000.0], false),
    ];
    let survey = solve(&points, None, System::Metric);
    assert_eq!(survey.errors, []);
    assert!(survey.at("T1").unwrap().distance(Point::new(0.0, 3000.0)) < 1e-9);
    assert!(survey.at("T2").unwrap().distance(Point::new(0.0, -3000.0)) < 1e-9);
    assert!((survey.points[3].residuals[0].residual_mm() - 10.0).abs() < 1e-9);
    // The angle opposite the 4 of a 3-4-5 triangle.
    let crossing = survey.points[3].crossing_deg.unwrap();
    assert!((crossing - 53.130_102_354).abs() < 1e-6);
}

#[test]
fn a_point_used_too_early_is_refused_once() {
    let points = [
        at("H1", 0.0, 0.0),
        taped("T1", ["H1", "T2"], [1.0, 1.0], true),
        taped("T2", ["H1", "T1"], [1.0, 1.0], true),
        taped("T3", ["H1", "T3"], [1.0, 1.0], true),
        taped("T4", ["H1", "H9"], [1.0, 1.0], true),
        taped("T5", ["H1", "T4"], [1.0, 1.0], true),
    ];
    let survey = solve(&points, None, System::Metric);
    let places: Vec<_> = survey.errors.iter().map(|error| error.place).collect();
    assert_eq!(places, [1, 3, 4].map(ErrorPlace::Point));
    assert!(survey.errors[0].found.contains("before it exists"));
    assert!(survey.errors[1].found.contains("itself"));
    assert!(survey.errors[2].found.contains("no point H9"));
}

#[test]
fn short_tapes_say_by_how_much() {
    let points = [
        at("H1", 0.0, 0.0),
        at("H2", 4005.0, 0.0),
        taped("T1", ["H1", "H2"], [1000.0, 2000.0], true),
    ];
    let survey = solve(&points, None, System::Metric);
    assert!(survey.errors[0].found.contains("1005 mm short"));
    assert!(survey.errors[0].wanted.contains("4005 mm"));
    let survey = solve(&points, None, System::FeetInches);
    // 1005 mm is 3 ft 3.567 in, 9/16 to the sixteenth; 4005 mm is 13 ft 1.677 in: the nearest
    // eighth, 5/8, is too short, and the next one does.
    assert!(
        survey.errors[0]
            .found
            .to_string()
            .ends_with("3′-3 9/16″ short")
    );
    assert!(survey.errors[0].wanted.contains("13′-1¾″ or more"));
}

fn square(adjust: bool) -> Traverse {
    let legs = [("P2", 90.0), ("P3", 180.0), ("P4", 270.0), ("H1", 0.0)].map(|(to, bearing)| Leg {
        to: to.into(),
        turning: Turning::Bearing(bearing),
        distance: if to == "H1" { 1004.0 } else { 1000.0 },
    });
    Traverse {
        start: "H1".into(),
        back_bearing: 0.0,
        legs: legs.to_vec(),
        adjust,
        limit: 500.0,
    }
}

#[test]
fn points_may_hang_on_the_traverse() {
    let points = [
        at("H1", 0.0, 0.0),
        taped("T1", ["H1", "P2"], [800.0, 600.0], true),
    ];
    let plain = solve(&points, Some(&square(false)), System::Metric);
    assert_eq!(plain.errors, []);
    assert_eq!(plain.at("P3"), Some(Point::new(1000.0, -1000.0)));
    let by = plain.traverse.as_ref().unwrap().misclosure_mm.unwrap();
    assert!((by - 4.0).abs() < 1e-9);
    assert!(plain.at("T1").unwrap().distance(Point::new(640.0, 480.0)) < 1e-9);
    let names: Vec<_> = plain.points.iter().map(|point| &point.name[..]).collect();
    assert_eq!(names, ["H1", "P2", "P3", "P4", "T1"]);
    let spread = solve(&points, Some(&square(true)), System::Metric);
    let p2 = spread.at("P2").unwrap();
    assert!(p2.distance(Point::new(1000.0, -4.0 * 1000.0 / 4004.0)) < 1e-9);
}

#[test]
fn legs_that_cannot_be_walked_are_refused() {
    let mut bad = square(true);
    bad.start = "H9".into();
    bad.legs[0].to = "H1".into();
    bad.legs[1].distance = 0.0;
    let survey = solve(&[at("H1", 0.0, 0.0)], Some(&bad), System::Metric);
    let places: Vec<_> = survey.errors.iter().map(|error| error.place).collect();
    assert_eq!(
        places,
        [ErrorPlace::Start, ErrorPlace::Leg(0), ErrorPlace::Leg(1)]
    );
    assert!(survey.traverse.is_none());
}
