//! A circle is set out from its centre and levelled at its quarter points.

mod common;

use common::worked::{design, findings_of, near, sheets, words};
use groundsheet::checks;
use groundsheet::geom::Point;
use groundsheet::units::Length;

const FOOT: f64 = 304.8;

/// A circle of 9 ft round the origin with a round hole, and what the job says beside.
fn circle(site: &str, finish: &str) -> String {
    format!(
        "job: {{title: Fire pit}}\n{site}paving:\n  \
         - name: Circle\n    circle: {{centre: [0, 0], radius: 9'}}\n    \
         holes: [{{circle: {{centre: [0, 0], radius: 2'}}}}]\n\
         pavers: {{field: {{size: [6\", 6\"], thickness: 2 3/8\"}}}}\n\
         levels: {{finish: {finish}, instrument: 104'}}\n"
    )
}

/// Level 100 ft in the middle, 1.5 % down the page.
const FALLING: &str = "{at: [0, 0], level: 100', fall: 1.5%, towards: 180°}";

/// By hand: without a base line it runs from the centre along x; 9 ft up the page the finish is
/// 9 × 0.015 = 0.135 ft higher, so that the rod reads 3.865 ft.
#[test]
fn a_circle_alone_is_set_out_from_its_centre() {
    let (design, _, sheets) = sheets(&circle("", FALLING));
    let [(from, a), (to, b)] = &design.base_line;
    assert_eq!([from.as_str(), to.as_str()], ["M1", "Q1"]);
    near(a.distance(*b), 9.0 * FOOT, 1e-9);
    let rows: Vec<(&str, [f64; 2], f64)> = design
        .setout
        .iter()
        .map(|row| {
            let along = [row.ties.station, row.ties.offset].map(|mm| mm / FOOT);
            (row.corner.as_str(), along, row.levels.finish / FOOT)
        })
        .collect();
    let wanted = [
        ("Q1", [9.0, 0.0], 100.0),
        ("Q2", [0.0, 9.0], 100.135),
        ("Q3", [-9.0, 0.0], 100.0),
        ("Q4", [0.0, -9.0], 99.865),
    ];
    assert_eq!(rows.len(), wanted.len());
    for ((name, at, finish), (wanted, place, level)) in rows.into_iter().zip(wanted) {
        assert_eq!(name, wanted);
        near(at[0], place[0], 1e-9);
        near(at[1], place[1], 1e-9);
        near(finish, level, 1e-9);
    }
    let readings = design.setout[1].readings.unwrap();
    near(readings.finish, 3.865 * FOOT, 1e-6);
    // the base line's own end is the centre: no tape to it says nothing
    assert!(design.field.features.is_empty());
    let all: Vec<String> = sheets
        .iter()
        .flat_map(|sheet| words(&sheet.items))
        .collect();
    assert!(words(&sheets[0].items).iter().any(|word| word == "100.14′"));
    assert!(!all.iter().any(|word| word.contains("edge edge")));
    assert!(
        all.iter()
            .any(|word| word.contains("M1 is the centre of Circle")),
        "{all:?}"
    );
}

/// The stated base line keeps its names; the quarter points stand along it, and the centre is taped.
#[test]
fn a_circle_from_a_stated_base_line() {
    let site = "site: {points: {H1: [-12', -12'], H2: [-12', 12']}, base_line: [H1, H2]}\n";
    let design = design(&circle(site, FALLING));
    assert_eq!(design.base_line[0].0, "H1");
    let first = &design.setout[0];
    assert_eq!(first.corner, "Q1");
    // up the page
    near(first.at.x, 0.0, 1e-9);
    near(first.at.y, 9.0 * FOOT, 1e-9);
    near(first.levels.finish, 100.135 * FOOT, 1e-6);
    assert_eq!(design.field.features.len(), 2);
    near(design.field.features[0].ties.station, 12.0 * FOOT, 1e-9);
}

/// A corner whose letter is Q does not lend it, nor an area of corners its rows.
#[test]
fn quarter_points_have_names_of_their_own() {
    let site = "site: {points: {Q7: [-12', -12'], M: [12', -12']}, base_line: [Q7, M]}\n";
    let design = design(&circle(site, FALLING));
    let names: Vec<&str> = design
        .setout
        .iter()
        .map(|row| row.corner.as_str())
        .collect();
    assert_eq!(names, ["QP1", "QP2", "QP3", "QP4"]);
}

/// A circle has no start edge: the order of work speaks of its box instead.
#[test]
fn the_order_of_work_speaks_of_no_edge_of_a_circle() {
    let job = circle("", FALLING).replace(
        "    holes:",
        "    bond: herringbone\n    turn: 45°\n    holes:",
    );
    let (_, _, sheets) = sheets(&job.replace("[6\", 6\"]", "[8\", 4\"]"));
    let said = sheets.iter().flat_map(|sheet| words(&sheet.items));
    let said = said.collect::<Vec<_>>().join(" ");
    for part in [
        "locking sides together: from the lower left of the box round the base, ",
        "closers cut last: from the lower left of the box round Circle, ",
        "turned 45° from the foot of that box",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert!(!said.contains("start edge"), "{said}");
}

/// Where the finish of a circle is stated without a place, the place is told in the job's units, as a
/// job would write it.
#[test]
fn the_default_place_is_in_the_units_of_the_job() {
    let design = design(&circle("", "{level: 100', fall: 1.5%}"));
    let assumed = design.job.assumed.iter();
    let at = assumed
        .clone()
        .find(|value| value.key == "levels.finish.at");
    let value = &at.unwrap().value;
    let inner = value.trim_start_matches('[').trim_end_matches(']');
    let place: Vec<f64> = inner
        .split(", ")
        .map(|part| Length::parse(part).unwrap().mm())
        .collect();
    assert_eq!(place.len(), 2, "{value}");
    place.iter().for_each(|mm| near(*mm, -9.0 * 304.8, 1e-6));
}

/// A tree of 2 ft in the middle of a circle of 9 ft: no stake is driven there and no tape held, so
/// that the base line runs along the lower side of the circle's box. By hand: the quarter points
/// stand 18 ft by 9 ft, 9 by 18, 0 by 9 and 9 by 0 along it and out.
#[test]
fn no_base_line_begins_in_a_tree() {
    let site = "site: {structures: [{name: Oak, kind: tree, \
                circle: {centre: [0, 0], radius: 2'}}]}\n";
    let (design, _, sheets) = sheets(&circle(site, FALLING));
    let [(from, a), (to, b)] = &design.base_line;
    assert_eq!([from.as_str(), to.as_str()], ["M1", "M2"]);
    near(a.distance(Point::new(-9.0 * FOOT, -9.0 * FOOT)), 0.0, 1e-9);
    near(b.distance(Point::new(9.0 * FOOT, -9.0 * FOOT)), 0.0, 1e-9);
    let along: Vec<[f64; 2]> = design
        .setout
        .iter()
        .map(|row| [row.ties.station / FOOT, row.ties.offset / FOOT])
        .collect();
    let wanted = [[18.0, 9.0], [9.0, 18.0], [0.0, 9.0], [9.0, 0.0]];
    assert_eq!(along.len(), 4);
    for (found, wanted) in along.iter().flatten().zip(wanted.as_flattened()) {
        near(*found, *wanted, 1e-9);
    }
    let said = sheets.iter().flat_map(|sheet| words(&sheet.items));
    let said = said.collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("M1 and M2 are corners of the box round Circle"),
        "{said}"
    );
    assert!(said.contains("its centre cannot be taped from"), "{said}");
    for part in ["is the centre of", "Drive a stake at the centre"] {
        assert!(!said.contains(part), "{part}: {said}");
    }
}

/// Of two circles the base line begins in the one whose middle is free.
#[test]
fn a_base_line_begins_in_the_circle_that_is_free() {
    let job = format!(
        "{}  - {{name: Other, circle: {{centre: [40', 0], radius: 6'}}}}\n{}",
        "job: {title: Two}\nsite: {structures: [{name: Oak, kind: tree, \
         circle: {centre: [0, 0], radius: 2'}}]}\npaving:\n  \
         - {name: Round, circle: {centre: [0, 0], radius: 9'}, \
         holes: [{circle: {centre: [0, 0], radius: 2'}}]}\n",
        "pavers: {field: {size: [6\", 6\"], thickness: 2 3/8\"}}\n\
         levels: {finish: {at: [0, 0], level: 100', fall: 2%, towards: 180°}}\n"
    );
    let design = design(&job);
    near(
        design.base_line[0].1.distance(Point::new(40.0 * FOOT, 0.0)),
        0.0,
        1e-9,
    );
    near(
        design.base_line[1].1.distance(Point::new(46.0 * FOOT, 0.0)),
        0.0,
        1e-9,
    );
}

/// Two circles of 9 ft that touch share a quarter point, which has one name and one row.
#[test]
fn a_point_that_two_circles_share_is_named_once() {
    let job = "job: {title: Two circles}\npaving:\n  \
         - {name: One, circle: {centre: [0, 0], radius: 9'}}\n  \
         - {name: Two, circle: {centre: [18', 0], radius: 9'}}\n\
         pavers: {field: {size: [6\", 6\"], thickness: 2 3/8\"}}\n\
         levels: {finish: {at: [0, 0], level: 100', fall: 2%, towards: 180°}}\n";
    let design = design(job);
    let names: Vec<&str> = design
        .setout
        .iter()
        .map(|row| row.corner.as_str())
        .collect();
    assert_eq!(names, ["Q1", "Q2", "Q3", "Q4", "Q5", "Q6", "Q7"]);
}

/// No sentence of a finding calls a circle's edge by the word that a job writes for it: it has the
/// plan's sign.
#[test]
fn findings_name_the_edge_of_a_circle_as_the_plan_does() {
    let site = "site: {structures: [{name: House, kind: building, \
                circle: {centre: [0, 0], radius: 2'}}]}\n";
    let walled = circle(site, FALLING);
    let stepped = "job: {title: Two circles}\npaving:\n  \
         - {name: One, circle: {centre: [0, 0], radius: 9'}}\n  \
         - {name: Two, circle: {centre: [18', 0], radius: 9'}, \
         fall: {at: [18', 0], level: 98', fall: 2%, towards: 180°}}\n\
         pavers: {field: {size: [6\", 6\"], thickness: 2 3/8\"}}\n\
         levels: {finish: {at: [0, 0], level: 100', fall: 2%, towards: 180°}}\n";
    for job in [&walled[..], stepped] {
        for finding in checks::run(&design(job)) {
            let title = finding.title.to_string();
            for before in ["at", "over", "along", "outside", "edge"] {
                let bare = format!("{before} edge");
                let bare = title.match_indices(&bare);
                let mut after = bare.map(|(at, found)| &title[at + found.len()..]);
                assert!(after.all(|after| after.starts_with(" Ø")), "{title}");
            }
        }
    }
    assert!(!findings_of(&walled, "levels.away").is_empty());
    assert!(!findings_of(stepped, "levels.step").is_empty());
}
