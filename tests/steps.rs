//! Areas that meet at a step: both levels at its corners, and who holds its edge.

mod common;

use common::worked::{design, findings_of, near, sheets, words};
use groundsheet::checks::Status;
use groundsheet::geom::{Point, clip};

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

/// A job in metric units of some areas, each with its shape and its fall.
fn areas(areas: &[(&str, &str, &str)]) -> String {
    let areas = areas
        .iter()
        .map(|(name, shape, fall)| format!("  - {{name: {name}, {shape}, fall: {{{fall}}}}}\n"));
    format!(
        "job: {{title: Areas}}\nsheet: {{units: metric}}\npaving:\n{}\
         pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}\n\
         levels: {{finish: {{at: [0, 0], level: 1 m, fall: 2%, towards: 180°}}}}\n",
        areas.collect::<String>()
    )
}

/// A rectangle by its lower left corner and its size, in metres.
fn rectangle([x, y]: [f64; 2], [width, depth]: [f64; 2]) -> String {
    format!("rectangle: {{corner: [{x} m, {y} m], width: {width} m, depth: {depth} m}}")
}

/// P and Q meet along an arc at a step of 200 mm; R of 2 m × 2 m stands 11 m off, so that its base
/// is 2.3 m wide from x = 19.85 m, and its outer rails stand 300 mm inside that, at 20.15 m and
/// 21.85 m. What the cuts between P and Q leave is none of R's.
#[test]
fn each_part_of_the_base_is_its_own_areas_alone() {
    let p = "outline: [[0, 0], [4.137 m, 0.333 m], {arc: {to: [5.771 m, 6.213 m], radius: 7 m, \
             side: left}}, [0.213 m, 7.117 m]]";
    let q = "outline: [[4.137 m, 0.333 m], [9 m, 1.1 m], [8.77 m, 8.3 m], [5.771 m, 6.213 m], \
             {arc: {to: [4.137 m, 0.333 m], radius: 7 m, side: right}}]";
    let r = rectangle([20.0, 4.0], [2.0, 2.0]);
    let all = [
        ("P", p, "at: [0, 0], level: 1 m, fall: 2%, towards: 0°"),
        ("Q", q, "at: [4 m, 0], level: 0.8 m, fall: 2%, towards: 0°"),
        (
            "R",
            &r,
            "at: [20 m, 4 m], level: 0.995 m, fall: 2%, towards: 0°",
        ),
    ];
    for order in [[0, 1, 2], [2, 0, 1], [1, 2, 0]] {
        let design = design(&areas(&order.map(|index| all[index])));
        assert_eq!(design.base.len(), 3);
        let mut sum = 0.0;
        for part in &design.base {
            assert_eq!(part.shape.0.len(), 1, "{order:?}: {:?}", part.areas);
            sum += clip::area(&part.shape);
        }
        near(sum / design.extents.base.area_mm2, 1.0, 1e-4);
        let last = design.areas.iter().position(|area| area.name == "R");
        let mut parts = design.base.iter().zip(&design.rails.parts);
        let (_, rails) = parts
            .find(|(part, _)| part.areas[..] == [last.unwrap()])
            .unwrap();
        let mut stations: Vec<f64> = rails.rails.iter().map(|rail| rail.runs[0][0].x).collect();
        stations.sort_by(f64::total_cmp);
        assert_eq!(stations.len(), 2, "{stations:?}");
        near(stations[0], 20150.0, 0.5);
        near(stations[1], 21850.0, 0.5);
    }
}

/// P at 1000 mm, Q at 997.5 and R at 995: each is within 3 mm of the next, but P and R, which meet
/// too, are 5 mm apart. The base breaks between those two, and the corner where all three meet has
/// two levels.
#[test]
fn levels_each_near_the_next_are_not_all_one() {
    let [p, q, r] = [
        rectangle([0.0, 0.0], [4.0, 4.0]),
        rectangle([4.0, 0.0], [4.0, 4.0]),
        rectangle([0.0, 4.0], [8.0, 4.0]),
    ];
    let flat = |level: &str| format!("at: [0, 0], level: {level} mm, fall: 0%, towards: 0°");
    let [high, middle, low] = ["1000", "997.5", "995"].map(flat);
    let design = design(&areas(&[
        ("P", &p, &high),
        ("Q", &q, &middle),
        ("R", &r, &low),
    ]));
    let parts: Vec<&[usize]> = design.base.iter().map(|part| &part.areas[..]).collect();
    assert_eq!(parts, [&[0, 1][..], &[2]]);
    let at = Point::new(4000.0, 4000.0);
    let row = design.setout.iter().find(|row| row.at.distance(at) < 1.0);
    let steps = &row.unwrap().steps;
    let levels: Vec<(&[usize], f64)> = steps
        .iter()
        .map(|step| (&step.areas[..], step.levels.finish))
        .collect();
    assert_eq!(levels.len(), 2, "{levels:?}");
    assert_eq!((levels[0].0, levels[1].0), (&[0, 1][..], &[2][..]));
    near(levels[1].1, 995.0, 1e-6);
}

/// Two areas whose levels differ by 3 mm, stated so that the difference comes out of the planes a
/// little over 3 mm and a little under it, are one to the base and to the set-out alike: 3 mm is
/// what panels take up.
#[test]
fn a_step_of_three_millimetres_is_none_however_it_is_reckoned() {
    let [p, q] = [[0.0, 0.0], [4.0, 0.0]].map(|at| rectangle(at, [4.0, 4.0]));
    for (x, y, fall, towards) in [
        (0.0, 0.0, 2.0, 37.0),
        (1.234, 0.0, 1.5, 123.0),
        (2.7, 3.1, 2.3, 200.0),
        (1.234, 0.777, 2.0, 90.0),
        (2.7, 0.777, 1.5, 0.0),
    ] {
        let turn = f64::to_radians(towards);
        let level = 997.0 - fall * 10.0 * (turn.sin() * x + turn.cos() * y);
        let high = format!("at: [0, 0], level: 1000 mm, fall: {fall}%, towards: {towards}°");
        let low =
            format!("at: [{x} m, {y} m], level: {level:?} mm, fall: {fall}%, towards: {towards}°");
        let design = design(&areas(&[("P", &p, &high), ("Q", &q, &low)]));
        assert_eq!(design.base.len(), 1, "{low}");
        assert!(
            design.setout.iter().all(|row| row.steps.is_empty()),
            "{low}"
        );
    }
}

/// R falls as P does and lies between nearly the same lines across that fall, but 10 m off: its
/// rails are spaced between its own, 300 mm inside x = −0.15 m and x = 3.95 m.
#[test]
fn parts_that_do_not_touch_are_not_pulled_into_one_line() {
    let [p, r] = [
        rectangle([0.0, 0.0], [4.0, 4.0]),
        rectangle([0.1, 14.0], [3.7, 4.0]),
    ];
    let falls = "level: 1 m, fall: 2%, towards: 0°";
    let here = format!("at: [0, 0], {falls}");
    let there = format!("at: [0, 14 m], {falls}");
    let design = design(&areas(&[("P", &p, &here), ("R", &r, &there)]));
    let ends = |part: usize| {
        let mut at: Vec<f64> = design.rails.parts[part]
            .rails
            .iter()
            .map(|r| r.runs[0][0].x)
            .collect();
        at.sort_by(f64::total_cmp);
        [at[0], at[at.len() - 1]]
    };
    near(ends(0)[0], 150.0, 1e-3);
    near(ends(0)[1], 3850.0, 1e-3);
    near(ends(1)[0], 250.0, 1e-3);
    near(ends(1)[1], 3650.0, 1e-3);
}

/// A strip of 60 mm at a step of 100 mm, between a wall and the paving above it: two rails of 20 mm
/// would take up most of it, so that it is struck off without.
#[test]
fn a_strip_that_rails_would_fill_has_none() {
    let p = format!(
        "{}, edges: {{B-C: flush}}",
        rectangle([0.0, 0.0], [4.0, 4.0])
    );
    let q = "outline: [[4 m, 0], [4.06 m, 0], [4.06 m, 4 m], [4 m, 4 m]], \
             edges: {B-E: wall, E-F: wall, F-C: wall}";
    let job = areas(&[
        ("P", &p, "at: [0, 0], level: 1 m, fall: 2%, towards: 0°"),
        ("Q", q, "at: [4 m, 0], level: 0.9 m, fall: 2%, towards: 0°"),
    ]);
    let design = design(&job);
    assert_eq!(design.base.len(), 2);
    let [wide, strip] = &design.rails.parts[..] else {
        panic!("two parts")
    };
    assert!(wide.rails.len() > 2);
    assert_eq!((strip.rails.len(), strip.spacing_mm), (0, None));
    let boards = findings_of(&job, "bedding.board");
    assert_eq!(boards.len(), 1);
    let (_, _, both) = sheets(&job);
    let said = both.iter().flat_map(|sheet| words(&sheet.items));
    let said = said.collect::<Vec<_>>().join(" ");
    assert!(said.contains("1775 mm (P) apart"), "{said}");
    let alone = q.replace(
        "B-E: wall, E-F: wall, F-C: wall",
        "A-B: wall, B-C: wall, C-D: wall, D-A: wall",
    );
    let alone = areas(&[(
        "Q",
        &alone,
        "at: [4 m, 0], level: 0.9 m, fall: 2%, towards: 0°",
    )]);
    let (design, takeoff, alone) = sheets(&alone);
    assert_eq!(design.rails.all().count(), 0);
    assert!(takeoff.lines.iter().all(|line| line.key != "rails"));
    let said = alone.iter().flat_map(|sheet| words(&sheet.items));
    let said = said.collect::<Vec<_>>().join(" ");
    assert!(said.contains("there is no room for rails"), "{said}");
    assert!(!said.contains("Set rails"), "{said}");
}
