//! Areas that meet at a step: both levels at its corners, and who holds its edge.

mod common;

use common::worked::{design, findings_of, near, sheets, words};
use groundsheet::checks::Status;

const INCH: f64 = 25.4;
const FOOT: f64 = 304.8;

/// High falls up the plan from 10.00 ft at A; Low, right of it, starts at a level of its own.
fn terraces(low: &str, levels: &str) -> String {
    format!(
        "job: {{title: Two terraces}}\npaving:\n  \
         - {{name: High, rectangle: {{corner: [0, 0], width: 9', depth: 10'}}}}\n  \
         - {{name: Low, rectangle: {{corner: [9', 0], width: 6', depth: 10'}}, \
         fall: {{at: B, level: {low}, fall: 2%, towards: 0°}}}}\n\
         pavers: {{field: {{size: [8\", 4\"], thickness: 2 3/8\"}}}}\n\
         levels: {{finish: {{at: A, level: 10', fall: 2%, towards: 0°}}{levels}}}\n"
    )
}

/// By hand: at B High is at 10.00 ft and Low at 9.50 ft, at C, 10 ft down 2 %, at 9.80 and 9.30 ft;
/// the laser at 14 ft reads 4.00 and 4.50 ft on the finish at B.
#[test]
fn both_levels_stand_at_a_corner_of_a_step() {
    let yaml = terraces("9.5'", ", instrument: 14'");
    let (design, _, sheets) = sheets(&yaml);
    for (corner, levels) in [("B", [10.0, 9.5]), ("C", [9.8, 9.3])] {
        let row = design.setout.iter().find(|row| row.corner == corner);
        let row = row.unwrap();
        assert_eq!(row.steps.len(), 2, "{corner}");
        for (index, (step, level)) in row.steps.iter().zip(levels).enumerate() {
            assert_eq!(step.areas, [index]);
            near(step.levels.finish, level * FOOT, 1e-6);
            near(step.readings.unwrap().finish, (14.0 - level) * FOOT, 1e-6);
        }
        // the row itself keeps the deeper formation
        assert_eq!(row.levels, row.steps[1].levels);
    }
    let alone = ["A", "D", "E", "F"];
    let others = design.setout.iter();
    let others = others.filter(|row| alone.contains(&row.corner.as_str()));
    assert!(others.clone().count() == 4 && others.clone().all(|row| row.steps.is_empty()));
    let words = words(&sheets[0].items);
    for level in ["High", "Low", "10.00′", "9.50′", "9.80′", "9.30′"] {
        assert!(words.iter().any(|word| word == level), "{level}: {words:?}");
    }
}

/// The table of levels has a row for each area at a corner of a step, and the report a part.
#[test]
fn the_table_and_the_report_have_both_levels() {
    let (design, takeoff, sheets) = sheets(&terraces("9.5'", ", instrument: 14'"));
    let all: Vec<String> = sheets
        .iter()
        .flat_map(|sheet| words(&sheet.items))
        .collect();
    for row in ["B High", "B Low", "C High", "C Low"] {
        assert!(all.iter().any(|word| word == row), "{row}");
    }
    let report = groundsheet::report::json(&design, &takeoff, &[], &[]);
    let report: serde_json::Value = serde_json::from_str(&report).unwrap();
    let b = report["setout"]
        .as_array()
        .unwrap()
        .iter()
        .find(|row| row["corner"] == "B");
    let steps = b.unwrap()["steps"].as_array().unwrap();
    assert_eq!(steps[0]["areas"][0], "High");
    near(steps[0]["finish_mm"].as_f64().unwrap(), 10.0 * FOOT, 1e-3);
    near(
        steps[1]["readings"]["finish_mm"].as_f64().unwrap(),
        4.5 * FOOT,
        1e-3,
    );
}

/// Where no datum is named, levels count from a corner that has one finish: at B, higher than any
/// corner of High, nobody could tell which of its two is meant; E lies 6 ft up 2 % from 10.10 ft.
#[test]
fn levels_count_from_a_corner_with_one_finish() {
    let yaml =
        terraces("10.1'", "").replace("fall: 2%, towards: 0°}}", "fall: 2%, towards: 270°}}");
    let design = design(&yaml);
    let finish = |corner: &str| {
        let row = design.setout.iter().find(|row| row.corner == corner);
        row.unwrap().levels.finish
    };
    assert!(finish("B") > finish("A") && finish("E") > finish("A"));
    let from = groundsheet::sheet::from_levels::counted_from(&design).unwrap();
    assert_eq!((from.corner.as_str(), from.steps.len()), ("E", 0));
    near(from.levels.finish, 10.22 * FOOT, 1e-6);
}

/// 3 mm is what panels take up; more is a step of the levels.
#[test]
fn levels_that_agree_within_three_millimetres_are_one() {
    let stepped = |low: &str| {
        let design = design(&terraces(low, ""));
        design
            .setout
            .iter()
            .filter(|row| !row.steps.is_empty())
            .count()
    };
    assert_eq!(stepped("3045.1 mm"), 0);
    assert_eq!(stepped("3044.9 mm"), 2);
}

/// Nothing that the sheet gives holds the upper edge of a step.
#[test]
fn a_built_step_is_left_to_others() {
    let others = |low: &str| findings_of(&terraces(low, ""), "drop.designed_by_others");
    assert!(others("3035 mm").is_empty());
    let high = others("8'");
    assert_eq!(high.len(), 1);
    assert_eq!(high[0].status, Status::Warn);
    near(high[0].value.unwrap(), 24.0 * INCH, 1e-6);
    assert!(
        high[0]
            .title
            .to_string()
            .contains("High stands up to 2′-0″ above Low at B-C")
    );
    let (_, _, sheets) = sheets(&terraces("8'", ""));
    let words = words(&sheets[0].items);
    assert!(
        words
            .iter()
            .any(|word| word == "step 2′-0″, held by others"),
        "{words:?}"
    );
}

/// By hand: High's base is 9′-6″ wide and Low's 6′-6″; each has outer rails 12″ inside its own.
#[test]
fn each_side_of_a_step_has_its_own_rails() {
    let yaml = terraces("9.5'", "");
    let (design, _, sheets) = sheets(&yaml);
    let stations: Vec<f64> = design.rails.runs().map(|run| run[0].x / FOOT).collect();
    let wanted = [0.5, 4.25, 8.0, 10.0, 14.5];
    assert_eq!(stations.len(), wanted.len());
    for (found, wanted) in stations.iter().zip(wanted) {
        near(*found, wanted, 1e-6);
    }
    let boards = findings_of(&yaml, "bedding.board");
    let limits: Vec<f64> = boards.iter().map(|board| board.limit.unwrap()).collect();
    assert_eq!(limits.len(), 2);
    near(limits[0], 3.75 * FOOT + 0.75 * INCH, 1e-6);
    near(limits[1], 4.5 * FOOT + 0.75 * INCH, 1e-6);
    let words = words(&sheets[0].items);
    for part in ["3′-9″", "2′-0″", "4′-6″"] {
        assert!(words.iter().any(|word| word == part), "{part}: {words:?}");
    }
}

/// A drive that falls both ways from a ridge at x = 9 ft, with a kerb along half of one end.
#[test]
fn a_rail_lies_in_one_plane_and_runs_on_over_a_ridge() {
    let yaml = "job: {title: Drive}\npaving:\n  \
        - {name: West, rectangle: {corner: [0, 0], width: 9', depth: 36'}, \
        fall: {at: B, level: 100.2', fall: 2%, towards: 270°}}\n  \
        - {name: East, rectangle: {corner: [9', 0], width: 9', depth: 36'}, edges: {B-E: flush}, \
        fall: {at: B, level: 100.2', fall: 2%, towards: 90°}}\n\
        pavers: {field: {size: [8\", 4\"], thickness: 3 1/8\"}}\n\
        levels: {finish: {at: A, level: 100.02', fall: 2%, towards: 270°}}\n";
    let design = design(yaml);
    assert!(design.field.rails.is_empty(), "chains give them");
    let runs: Vec<_> = design.rails.runs().collect();
    assert_eq!(runs.len(), 14);
    for [from, to] in &runs {
        near(from.x, 9.0 * FOOT, 1e-6);
        near((to.x - from.x).abs(), 9.5 * FOOT, 1e-6);
        // on the other side of the ridge one begins at the same place
        let there = runs.iter().filter(|run| run[0].distance(*from) < 1e-6);
        assert_eq!(there.count(), 2);
    }
    assert_eq!(design.rails.pieces, 14);
}
