//! Whole jobs from YAML to where the water goes: steps, valleys, low points, walls, holes, banks
//! and folds. Sums are done by hand beside each; drains have tests of their own.

mod common;

use common::planes::{TO_EAST, TO_WEST, one, pair};
use common::worked::{design, findings, findings_of, status};
use groundsheet::checks::{self, Finding, Status};
use groundsheet::levels::MeetKind;

#[test]
fn a_level_valley_holds_all_the_water_and_a_sloped_one_lets_it_off() {
    let level = pair(TO_EAST, TO_WEST, "");
    let found = findings_of(&level, "levels.low_point");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].status, Status::Fail);
    assert!((found[0].value.unwrap() - 100.0).abs() < 1e-6);
    // The middle of the valley from (3, 0) to (3, 4).
    let at = found[0].point.unwrap();
    assert!((at.x - 3000.0).abs() < 1.0 && (at.y - 2000.0).abs() < 1.0);
    assert_eq!(design(&level).meets[0].kind, MeetKind::Valley);
    let sloped = pair(
        "{at: [3 m, 0], level: 0, fall: 2%, towards: 60°}",
        "{at: [3 m, 0], level: 0, fall: 2%, towards: 300°}",
        "",
    );
    assert_eq!(status(&sloped, "levels.low_point"), [Status::Pass]);
    assert_eq!(design(&sloped).meets[0].kind, MeetKind::Valley);
}

/// West falls 2 % to the east; East stands 20 mm higher: West's half is held at the step. Level
/// with it, or 20 mm lower, all runs on.
#[test]
fn a_step_up_holds_and_is_warned_of() {
    let east = |level: &str| format!("{{at: [3 m, 0], level: {level}, fall: 2%, towards: 90°}}");
    let up = pair(TO_EAST, &east("20 mm"), "");
    let held = &findings_of(&up, "levels.low_point")[0];
    assert_eq!(held.status, Status::Fail);
    assert!((held.value.unwrap() - 50.0).abs() < 1e-6);
    let step = &findings_of(&up, "levels.step")[0];
    assert_eq!((step.status, step.value), (Status::Warn, Some(20.0)));
    assert!((step.point.unwrap().x - 3000.0).abs() < 1e-6);
    for (level, stands) in [("0", Status::Pass), ("-20 mm", Status::Warn)] {
        let job = pair(TO_EAST, &east(level), "");
        assert_eq!(status(&job, "levels.low_point"), [Status::Pass]);
        assert_eq!(status(&job, "levels.step"), [stands]);
    }
    assert_eq!(
        design(&pair(TO_EAST, &east("0"), "")).meets[0].kind,
        MeetKind::Even
    );
}

/// East turns away by 1 % along the edge: the step grows from 0 to 40 mm over 4 m.
#[test]
fn a_growing_step_is_told_from_end_to_end() {
    let east = "{at: [3 m, 0], level: 0, fall: 1%, towards: 180°}";
    let level = "{at: [3 m, 0], level: 0, fall: 0%, towards: 90°}";
    let job = pair(level, east, "");
    let found = &findings_of(&job, "levels.step")[0];
    assert!((found.value.unwrap() - 40.0).abs() < 1e-9);
    assert!(
        found.title.to_string().contains("0 mm to 40 mm"),
        "{}",
        found.title
    );
    assert!(found.point.unwrap().y > 3999.0);
}

/// The 900 mm panel reaches 450 mm past an edge: a change of fall of 0.6 % rocks it by 2.7 mm,
/// one of 1 % by 4.5 mm, and there the base breaks.
#[test]
fn the_base_breaks_at_a_fold_that_rocks_a_panel() {
    let east = |fall: &str| format!("{{at: [3 m, 0], level: 0, fall: {fall}, towards: 90°}}");
    let gentle = pair(TO_EAST, &east("1.4%"), "");
    let found = &findings_of(&gentle, "levels.fold")[0];
    assert_eq!(found.status, Status::Pass);
    assert!((found.value.unwrap() - 2.7).abs() < 1e-9);
    assert_eq!(design(&gentle).base.len(), 1);
    let sharp = pair(TO_EAST, &east("3%"), "");
    let found = &findings_of(&sharp, "levels.fold")[0];
    assert_eq!(found.status, Status::Pass);
    assert!((found.value.unwrap() - 4.5).abs() < 1e-9);
    assert_eq!(design(&sharp).base.len(), 2);
}

/// One and Two fold by 2.7 mm, Two and Three agree within 2.4 mm over their 400 mm, but One and Three
/// meet too, with a fold of 1.2 % × 450 mm = 5.4 mm: there the base breaks, and Two is of the part
/// that it differs from the least. A base that ran on over that fold would be warned of.
#[test]
fn a_fold_that_the_base_runs_over_is_warned_of() {
    let area = |name: &str, at: &str, size: &str, fall: &str| {
        format!(
            "- {{name: {name}, rectangle: {{corner: {at}, {size}}}, \
             fall: {{at: [3 m, 0], level: 0, fall: {fall}, towards: 90°}}}}\n"
        )
    };
    let job = format!(
        "job: {{title: Three planes}}\nsheet: {{units: metric}}\npaving:\n{}{}{}\
         pavers:\n  slab: {{size: [300 mm, 300 mm], thickness: 40 mm}}\n",
        area("One", "[0, 0]", "width: 3 m, depth: 8 m", "2%"),
        area("Two", "[3 m, 4 m]", "width: 400 mm, depth: 4 m", "2.6%"),
        area("Three", "[3 m, 0]", "width: 400 mm, depth: 4 m", "3.2%"),
    );
    let mut design = design(&job);
    let parts: Vec<&[usize]> = design.base.iter().map(|part| &part.areas[..]).collect();
    assert_eq!(parts, [&[0][..], &[1, 2]]);
    let found = findings(&design, "levels.fold");
    assert!(found.iter().all(|f| f.status == Status::Pass), "{found:#?}");
    design.base[0].areas = vec![0, 1, 2];
    let found = findings(&design, "levels.fold");
    let rocking: Vec<&Finding> = found.iter().filter(|f| f.status == Status::Warn).collect();
    assert_eq!(rocking.len(), 1, "{found:#?}");
    assert!((rocking[0].value.unwrap() - 5.4).abs() < 1e-9);
    assert!((rocking[0].point.unwrap().x - 3000.0).abs() < 1e-9);
}

fn with_structure(kind: &str) -> String {
    let site = format!(
        "site:\n  structures: [{{name: Thing, kind: {kind}, \
         rectangle: {{corner: [2 m, 1 m], width: 1 m, depth: 1 m}}}}]\n"
    );
    one(&site, "towards: 0°")
}

/// A hole of 1 m by 1 m that starts 1 m below the upper edge takes 1 m² of 23 m².
#[test]
fn water_into_a_hole_is_told_with_its_share() {
    for (kind, stands) in [("pool", Status::Fail), ("tree", Status::Warn)] {
        let found = findings_of(&with_structure(kind), "levels.away");
        assert_eq!(found.len(), 1, "{kind}: {found:#?}");
        assert_eq!(found[0].status, stands);
        assert!((found[0].value.unwrap() - 100.0 / 23.0).abs() < 1e-6);
        assert!(found[0].title.to_string().contains("Thing"));
    }
    assert!(findings_of(&with_structure("post"), "levels.away").is_empty());
}

/// One face of what stands in a hole lies up the fall: 1 m² of 23 m² comes to it. Water runs round a
/// free-standing wall; a building it must not reach, and a channel along that face keeps it off.
#[test]
fn a_wall_in_a_hole_is_judged_by_the_water_that_reaches_it() {
    let standing = |kind: &str| findings_of(&with_structure(kind), "levels.away");
    for (kind, stands) in [("wall", Status::Warn), ("building", Status::Fail)] {
        let found = standing(kind);
        assert_eq!(found.len(), 4, "{found:#?}");
        let reached: Vec<&Finding> = found.iter().filter(|f| f.status == stands).collect();
        let reached = reached
            .iter()
            .find(|f| f.title.to_string().contains("4.35%"));
        let at = reached.expect("the upper face").point.unwrap();
        assert!((at.x - 2500.0).abs() < 1.0 && (at.y - 1000.0).abs() < 1.0);
        let failing = found.iter().filter(|f| f.status == Status::Fail).count();
        assert_eq!(failing, usize::from(stands == Status::Fail), "{found:#?}");
    }
    let site = "site:\n  structures: [{name: Thing, kind: building, \
                rectangle: {corner: [2 m, 1 m], width: 1 m, depth: 1 m}}]\n  \
                drains: [{kind: channel, line: [[1.9 m, 950 mm], [3.1 m, 950 mm]], width: 100 mm}]\n";
    let drained = findings_of(&one(site, "towards: 0°"), "levels.away");
    assert!(
        drained.iter().all(|f| f.status != Status::Fail),
        "{drained:#?}"
    );
    assert!(
        drained
            .iter()
            .any(|f| f.title.to_string().starts_with("No water"))
    );
}

/// What stands in a hole with ground left round it: water into the strip round a building fails as
/// at its wall, round anything else it is looked at; into a pool it fails.
#[test]
fn water_into_the_strip_round_what_stands_in_a_hole_is_told() {
    let gap = |kind: &str| {
        let site = format!(
            "site:\n  structures: [{{name: Thing, kind: {kind}, \
             rectangle: {{corner: [2.2 m, 1.2 m], width: 600 mm, depth: 600 mm}}}}]\n"
        );
        findings_of(&one(&site, "towards: 0°"), "levels.away")
    };
    for (kind, stands, way) in [
        ("building", Status::Fail, "into the hole round Thing"),
        ("wall", Status::Warn, "into the hole round Thing"),
        ("tree", Status::Warn, "into the hole round Thing"),
        ("pool", Status::Fail, "into Thing"),
    ] {
        let found = gap(kind);
        assert_eq!(found.len(), 1, "{kind}: {found:#?}");
        assert_eq!(found[0].status, stands, "{kind}");
        let title = found[0].title.to_string();
        assert!(title.ends_with(way), "{title}");
        assert!((found[0].value.unwrap() - 100.0 / 23.0).abs() < 1e-6);
    }
    assert!(gap("post").is_empty());
}

/// The edge A-B runs along two buildings with lawn between them: one finding tells of it.
#[test]
fn an_edge_along_two_walls_is_told_once() {
    let site = "site:\n  structures:\n  \
                - {name: House, kind: building, rectangle: {corner: [0, -2 m], width: 2 m, depth: 2 m}}\n  \
                - {name: Shed, kind: building, rectangle: {corner: [4 m, -2 m], width: 2 m, depth: 2 m}}\n";
    for (towards, stands) in [("180°", Status::Fail), ("0°", Status::Pass)] {
        let job = one(site, &format!("towards: {towards}"));
        for id in ["levels.away", "levels.fall_building"] {
            let found = findings_of(&job, id);
            let of_edge = found.iter().filter(|f| {
                f.where_.as_ref().map(ToString::to_string).as_deref() == Some("edge A-B")
            });
            assert_eq!(of_edge.count(), 1, "{id}: {found:#?}");
        }
        let found = findings_of(&job, "levels.away");
        assert_eq!(found[0].status, stands, "{found:#?}");
    }
}

/// The whole turned: shares stay.
#[test]
fn turning_the_whole_site_changes_no_share() {
    let job = |turn: f64| {
        let corner = |x: f64, y: f64| {
            let (sin, cos) = turn.to_radians().sin_cos();
            format!("[{} mm, {} mm]", x * cos - y * sin, x * sin + y * cos)
        };
        let ring = |x: f64, width: f64| {
            let corners = [(x, 0.0), (x + width, 0.0), (x + width, 4e3), (x, 4e3)];
            let corners = corners.map(|(x, y)| corner(x, y));
            format!("[{}]", corners.join(", "))
        };
        let bearing = |b: f64| (b - turn).rem_euclid(360.0);
        format!(
            "job: {{title: Turned}}\nsheet: {{units: metric}}\npaving:\n\
             - {{name: West, outline: {}, fall: {{at: {}, level: 0, fall: 2%, towards: {}°}}}}\n\
             - {{name: East, outline: {}, fall: {{at: {}, level: 10 mm, fall: 2%, towards: {}°}}}}\n\
             pavers:\n  slab: {{size: [300 mm, 300 mm], thickness: 40 mm}}\n",
            ring(0.0, 3e3),
            corner(3e3, 0.0),
            bearing(70.0),
            ring(3e3, 3e3),
            corner(3e3, 0.0),
            bearing(200.0),
        )
    };
    let still = design(&job(0.0)).water;
    let sum: f64 = still.outlets.iter().map(|o| o.share).sum();
    assert!((sum - 1.0).abs() < 1e-9);
    for turn in [17.0, 90.0, 233.0] {
        let turned = design(&job(turn)).water;
        for word in groundsheet::levels::water::OUTLETS {
            let (a, b) = (still.share(word), turned.share(word));
            assert!((a - b).abs() < 1e-6, "{word}: {a} and, turned {turn}°, {b}");
        }
    }
}

/// Ground that spots at a yard's four places give the level −60 mm lies above the lower edge at
/// −80 mm by 20 mm; at −90 mm it is clear.
fn bank_at_the_lower_edge(spots: [&str; 4]) {
    let ground = |level: &str| {
        let spots = spots.map(|at| format!("[{at}, {level}]")).join(", ");
        one(&format!("site: {{ground: [{spots}]}}\n"), "towards: 0°")
    };
    let found = &findings_of(&ground("-60 mm"), "levels.bank")[0];
    assert_eq!(found.status, Status::Warn);
    assert!((found.value.unwrap() - 20.0).abs() < 1e-6);
    assert!(found.title.to_string().contains("C-D"), "{}", found.title);
    assert_eq!(status(&ground("-90 mm"), "levels.bank"), [Status::Pass]);
}

#[test]
fn a_bank_outside_the_lower_edge_is_warned_of() {
    bank_at_the_lower_edge(["-2 m, -2 m", "8 m, -2 m", "8 m, 6 m", "-2 m, 6 m"]);
}

/// Spot levels that end at the paving's own corners tell the ground at the lower edge, though not at
/// the lip of the dig beyond it.
#[test]
fn ground_measured_at_an_edge_alone_is_taken_there() {
    bank_at_the_lower_edge(["0, 0", "6 m, 0", "6 m, 4 m", "0, 4 m"]);
}

/// The yard of one plane with soil at 10 mm in its hole of a width and depth, 60 mm below the lower
/// edge outside, and something that stands about it.
fn soil_in_hole(size: [f64; 2], stands: &str) -> String {
    let [width, depth] = size;
    let (right, top) = (2.0 + width, 1.0 + depth);
    let low = "[-2 m, -2 m], [8 m, -2 m], [8 m, 6 m], [-2 m, 6 m], [-2 m, 3 m], [2 m, 3 m], [3 m, 3 m], [8 m, 3 m]";
    let low = low.replace(" m]", " m, -140 mm]");
    let high = [(2.0, 1.0), (right, 1.0), (right, top), (2.0, top)];
    let high = high
        .map(|(x, y)| format!("[{x} m, {y} m, 10 mm]"))
        .join(", ");
    let site = format!("site: {{ground: [{low}, {high}], structures: [{stands}]}}\n");
    one(&site, "towards: 0°").replace(
        "width: 1 m, depth: 1 m",
        &format!("width: {width} m, depth: {depth} m"),
    )
}

/// Water leaves over E-F into a hole at 20 mm below the datum; soil at 10 mm in it holds the water by
/// 30 mm, at the lip of the dig or, in a hole too narrow for one, at the edge. Over the lower edge of
/// the hole no water comes.
#[test]
fn soil_in_a_hole_that_holds_the_water_is_warned_of() {
    let tree = "{name: Elm, kind: tree, circle: {centre: [2.5 m, 1.5 m], radius: 200 mm}}";
    for (size, stands) in [([1.0, 1.0], ""), ([1.0, 1.0], tree), ([0.2, 0.2], "")] {
        let job = soil_in_hole(size, stands);
        let found = &findings_of(&job, "levels.bank")[0];
        assert_eq!(found.status, Status::Warn, "{size:?}");
        assert!((found.value.unwrap() - 30.0).abs() < 1e-6, "{found:?}");
        assert!(found.title.to_string().contains(" E-F "), "{}", found.title);
        let at = found.point.unwrap();
        assert!((at.y - 1000.0).abs() < 1e-6 && (2000.0..=3000.0).contains(&at.x));
        let design = design(&job);
        let [bank] = &design.holding_banks().collect::<Vec<_>>()[..] else {
            panic!("{:?}", design.banks);
        };
        assert_eq!(bank.trees, if stands.is_empty() { vec![] } else { vec![0] });
    }
    // What fills a hole is no soil, and water runs round a post.
    let filled = "rectangle: {corner: [2 m, 1 m], width: 1 m, depth: 1 m}";
    let post = "circle: {centre: [2.5 m, 1.5 m], radius: 60 mm}";
    for stands in [
        format!("{{name: Plinth, kind: other, {filled}}}"),
        format!("{{name: Pool, kind: pool, {filled}}}"),
        format!("{{name: Mast, kind: post, {post}}}"),
    ] {
        let job = soil_in_hole([1.0, 1.0], &stands);
        assert_eq!(status(&job, "levels.bank"), [Status::Pass], "{stands}");
    }
}

#[test]
fn every_finding_of_levels_has_value_limit_source_and_place() {
    let jobs = [
        pair(TO_EAST, TO_WEST, ""),
        with_structure("tree"),
        std::fs::read_to_string("jobs/two-walls.yaml").unwrap(),
        std::fs::read_to_string("jobs/pool-surround.yaml").unwrap(),
    ];
    for job in jobs {
        for finding in checks::run(&design(&job)) {
            if finding.id.starts_with("levels.") {
                assert!(finding.value.is_some(), "{finding:?}");
                assert!(finding.limit.is_some(), "{finding:?}");
                assert!(finding.point.is_some(), "{finding:?}");
                assert!(!finding.source.is_empty() && !finding.unit.is_empty());
            }
        }
    }
}

/// Water reaches two edges of one hole; the building in it stands by one of them and out of reach of
/// the other. It fails whichever edge comes first, by the rule for buildings.
#[test]
fn the_worse_edge_of_a_hole_decides() {
    for (corner, says) in [
        ("[5.7 m, 2.3 m]", "runs into the hole round Kiosk"),
        ("[2.3 m, 5.7 m]", "runs into the hole round Kiosk"),
    ] {
        let job = format!(
            "job: {{title: Court}}\nsheet: {{units: metric}}\nsite:\n  structures: [{{name: Kiosk, \
             kind: building, rectangle: {{corner: {corner}, width: 600 mm, depth: 600 mm}}}}]\n\
             paving: [{{name: Court, rectangle: {{corner: [0, 0], width: 12 m, depth: 12 m}}, \
             holes: [{{rectangle: {{corner: [2 m, 2 m], width: 8 m, depth: 8 m}}}}]}}]\n\
             pavers: {{slab: {{size: [600 mm, 400 mm], thickness: 60 mm}}}}\n\
             levels: {{finish: {{at: A, level: 10 m, fall: 2%, towards: 45°}}}}\n"
        );
        let found = findings_of(&job, "levels.away");
        assert_eq!(found.len(), 1, "{found:#?}");
        assert_eq!(found[0].status, Status::Fail, "{corner}");
        let title = found[0].title.to_string();
        assert!(title.contains(says), "{title}");
        assert!(found[0].source.contains("R401.3"), "{}", found[0].source);
        let at = found[0].point.unwrap();
        let beside = if corner.starts_with("[5.7") {
            at.y
        } else {
            at.x
        };
        assert!((beside - 2000.0).abs() < 1.0, "{corner}: {at:?}");
    }
}
