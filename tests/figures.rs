//! Whole jobs from YAML to figures, against sums done by hand. Trade facts without a published
//! source are marked so.

mod common;

use common::worked::{design, findings_of, near, status};
use groundsheet::checks::Status;
use groundsheet::takeoff;

const FOOT: f64 = 304.8;
const SQUARE_FOOT: f64 = FOOT * FOOT / 1e6;

/// 14 ft × 12 ft against a wall, everything else by default.
fn landing(levels: &str) -> String {
    format!(
        "job: {{title: Landing}}\n\
         paving:\n  - name: Landing\n    rectangle: {{corner: [0, 0], width: 14', depth: 12'}}\n\
        \x20   edges: {{A-B: wall}}\n\
         pavers:\n  field: {{size: [8\", 4\"], thickness: 3 1/8\"}}\n\
         levels: {levels}\nconventional: {{}}\n"
    )
}

const AWAY: &str = "{finish: {at: A, level: 99.5', fall: 2%, away_from: A-B}}";

#[test]
fn the_dig_on_panels_is_four_and_three_eighths_deep_and_nine_and_an_eighth_without() {
    // 3 1/8 + 3/4 + 1/2 = 4 3/8 in; 3 1/8 + 1 + 5 = 9 1/8 in. Common practice, no source.
    let design = design(&landing(AWAY));
    near(design.areas[0].build_up.total(), 4.375 * 25.4, 1e-9);
    near(design.dig.earthwork.depth_mean, 4.375 * 25.4, 1e-6);
    let takeoff = takeoff::of(&design).unwrap();
    near(takeoff.comparison.unwrap().depth_mm, 9.125 * 25.4, 1e-9);
}

#[test]
fn the_base_runs_past_open_edges_and_not_past_the_wall() {
    // 6 in past three edges: (14 + 1) × (12 + 1/2) ft.
    let design = design(&landing(AWAY));
    near(
        design.extents.paved.area_mm2 / 1e6,
        168.0 * SQUARE_FOOT,
        1e-9,
    );
    near(
        design.extents.base.area_mm2 / 1e6,
        187.5 * SQUARE_FOOT,
        1e-9,
    );
    near(design.edging.length_mm, 38.0 * FOOT, 1e-6);
    // Cut in place: base and dig are one here, 4 3/8 in deep.
    near(
        design.dig.earthwork.cut_m3,
        187.5 * SQUARE_FOOT * 0.111_125,
        1e-6,
    );
}

#[test]
fn a_panel_covers_six_square_feet_and_pieces_cover_the_base() {
    // 2 ft × 3 ft = 6 ft² = 0.56 m². Common practice, no source.
    let design = design(&landing(AWAY));
    let whole = design.base[0]
        .layout
        .pieces
        .iter()
        .find(|piece| piece.whole);
    near(whole.unwrap().area_mm2 / 1e6, 6.0 * SQUARE_FOOT, 1e-9);
    near(whole.unwrap().area_mm2 / 1e6, 0.56, 0.005);
    let pieces: f64 = design.base[0]
        .layout
        .pieces
        .iter()
        .map(|p| p.area_mm2)
        .sum();
    near(pieces, design.extents.base.area_mm2, 1.0);
    // 12 1/2 ft in courses of 2 ft; 15 ft in panels of 3 ft: five a course, or, shifted by half a
    // panel, four whole and two halves.
    assert_eq!(design.panels.courses, 7);
    assert_eq!(design.panels.pieces, 4 * 5 + 3 * 6);
    assert_eq!(design.panels.whole, 3 * 5 + 3 * 4);
    assert!(design.panels.buy >= 32 && design.panels.buy <= design.panels.buy_unshared);
}

#[test]
fn falls_are_held_to_the_limit_that_applies() {
    let levels = |fall: &str| landing(&format!("{{finish: {{at: A, level: 0, {fall}}}}}"));
    // 1° where no minimum is stated; 2 % within 10 ft of the wall only warns.
    let gentle = levels("fall: 1.8%, away_from: A-B");
    assert_eq!(status(&gentle, "levels.fall"), [Status::Pass]);
    assert_eq!(status(&gentle, "levels.fall_building"), [Status::Warn]);
    assert_eq!(status(&gentle, "levels.away"), [Status::Pass]);
    let flat = levels("fall: 1%, away_from: A-B");
    assert_eq!(status(&flat, "levels.fall"), [Status::Fail]);
    let just = levels("fall: 1°, away_from: A-B");
    assert_eq!(status(&just, "levels.fall"), [Status::Pass]);
    let towards = levels("fall: 2%, towards: 180°");
    assert_eq!(status(&towards, "levels.away"), [Status::Fail]);
    let along = levels("fall: 2%, towards: 90°");
    assert_eq!(status(&along, "levels.away"), [Status::Warn]);
}

#[test]
fn a_quarter_inch_a_foot_passes_two_percent_and_stands_at_the_1_48_limit() {
    // 1/4 in per ft = 2.0833 % = 1:48; 2 % = 0.24 in per ft (BIA Technical Note 14A prints the one
    // for the other).
    let quarter = landing(
        "{finish: {at: A, level: 0, fall: 1/4\" per ft, away_from: A-B}, minimum_fall: 2%}",
    );
    let found = &findings_of(&quarter, "levels.fall")[0];
    assert_eq!(found.status, Status::Pass);
    near(found.value.unwrap(), 100.0 / 48.0, 1e-9);
    let equal = landing(
        "{finish: {at: A, level: 0, fall: 1:48, away_from: A-B}, minimum_fall: 1/4\" per ft}",
    );
    assert_eq!(status(&equal, "levels.fall"), [Status::Pass]);
    let under = landing(
        "{finish: {at: A, level: 0, fall: 2%, away_from: A-B}, minimum_fall: 1/4\" per ft}",
    );
    assert_eq!(status(&under, "levels.fall"), [Status::Fail]);
}

#[test]
fn a_sill_keeps_its_clearance() {
    let sill = |level: &str| {
        landing(&format!(
            "{{finish: {{at: A, level: 99.5', fall: 2%, away_from: A-B}}, \
             sills: [{{name: Door, at: [7', 0], level: {level}}}]}}"
        ))
    };
    // Finish 99.5 ft at the wall; 2 in of clearance by default.
    assert_eq!(status(&sill("99.67'"), "levels.sill"), [Status::Pass]);
    assert_eq!(status(&sill("99.64'"), "levels.sill"), [Status::Fail]);
}

/// A slip in a sill's place is not blessed by the finish produced to there: 14′ × 12′ of paving, the
/// sill 140′ to its right.
#[test]
fn a_sill_far_from_the_paving_is_looked_at() {
    // Nor is one condemned by it that lies low.
    for level in ["100'", "99'"] {
        let job = landing(&format!(
            "{{finish: {{at: A, level: 99.5', fall: 2%, away_from: A-B}}, \
             sills: [{{name: Door, at: [154', 0], level: {level}}}]}}"
        ));
        let found = findings_of(&job, "levels.sill");
        assert_eq!(found[0].status, Status::Warn, "{level}");
        near(found[0].value.unwrap(), 140.0 * FOOT, 1e-6);
        assert_eq!(status(&job, "levels.riser"), [], "{level}");
    }
}

/// The one step from finish to sill is the one riser: two checks name one height, 7.2 in.
#[test]
fn sill_and_riser_say_the_same_height() {
    let job = landing(
        "{finish: {at: A, level: 99.40', fall: 2%, away_from: A-B}, \
         sills: [{name: Door, at: [7', 0], level: 100'}]}",
    );
    for id in ["levels.sill", "levels.riser"] {
        let title = &findings_of(&job, id)[0].title;
        assert!(title.to_string().contains("7 3/16″"), "{title}");
    }
}

#[test]
fn joints_that_line_up_are_found() {
    let job = |base: &str| format!("{}base: {base}\n", landing(AWAY));
    let started = job("{course_starts: [3', 18\", 3', 3', 18\", 3', 18\"]}");
    assert_eq!(status(&started, "panels.four_corner"), [Status::Fail]);
    assert_eq!(status(&started, "panels.stagger"), [Status::Fail]);
    let third = job("{stagger: 1/3}");
    assert_eq!(status(&third, "panels.stagger"), [Status::Pass]);
    near(
        findings_of(&third, "panels.stagger")[0].value.unwrap(),
        FOOT,
        1e-6,
    );
    let close = job("{stagger: 5\"}");
    assert_eq!(status(&close, "panels.stagger"), [Status::Fail]);
    let just = job("{stagger: 6\"}");
    assert_eq!(status(&just, "panels.stagger"), [Status::Pass]);
}

#[test]
fn rod_readings_are_the_instrument_less_the_level() {
    let job =
        landing("{finish: {at: A, level: 99.5', fall: 2%, away_from: A-B}, instrument: 104.25'}");
    let design = design(&job);
    let row = design.setout.iter().find(|row| row.corner == "C").unwrap();
    // C lies 12 ft down the fall: 99.5 − 0.24 ft.
    near(row.levels.finish, 99.26 * FOOT, 1e-6);
    let readings = row.readings.as_ref().unwrap();
    near(readings.finish, (104.25 - 99.26) * FOOT, 1e-6);
    near(readings.formation, readings.finish + 4.375 * 25.4, 1e-6);
    near(readings.rail_top, readings.formation - 0.75 * 25.4, 1e-6);
    // Ties from the wall's ends: 12 ft and the diagonal.
    let far = (12f64 * 12.0 + 14.0 * 14.0).sqrt() * FOOT;
    let ties = row.ties.distance;
    near(ties[0].min(ties[1]), 12.0 * FOOT, 1e-6);
    near(ties[0].max(ties[1]), far, 1e-6);
}

#[test]
fn each_part_of_a_broken_base_is_laid_from_its_own_start() {
    // Thicker pavers above, thinner below: panel tops differ by 20 mm along C-D and the base breaks.
    let design = design(
        "job: {title: Two}\n\
         paving:\n  - {name: Upper, rectangle: {corner: [0, 0], width: 12', depth: 10'}, \
         edges: {A-B: wall}, paver: thick}\n\
        \x20 - {name: Lower, rectangle: {corner: [0, 10'], width: 12', depth: 8'}, paver: thin}\n\
         pavers:\n  thick: {size: [8\", 4\"], thickness: 80 mm}\n\
        \x20 thin: {size: [8\", 4\"], thickness: 60 mm}\n\
         levels: {finish: {at: A, level: 100', fall: 2%, away_from: A-B}}\n",
    );
    assert_eq!(design.base.len(), 2);
    let first = &design.base[1].layout.pieces[0];
    // The lower part runs from the shared edge outwards: its first panel is whole and at its corner.
    // Courses are numbered on from the upper part, so that no two panels bear one mark.
    let above = design.base[0].layout.courses.last().unwrap().number;
    assert_eq!(first.mark(), format!("{}-1", above + 1));
    near(first.x_mm, 0.0, 1e-6);
    near(first.y_mm, 0.0, 1e-6);
    assert!(first.whole);
}

#[test]
fn a_post_in_the_extension_leaves_no_room_for_the_restraint() {
    let at = |gap: &str| {
        landing(AWAY)
            + &format!(
                "site: {{structures: [{{name: Mast, kind: post, \
                 outline: [[14.5', 5'], [15', 5'], [15', 6'], [14' {gap}, 6']]}}]}}\n"
            )
    };
    // The base stops at the post: 1 in is under the restraint's 2 in, 4 in is under the 6 in due.
    assert_eq!(status(&at("1\""), "edging.room"), [Status::Fail]);
    assert_eq!(status(&at("4\""), "edging.room"), [Status::Pass]);
    assert_eq!(status(&at("4\""), "base.extension"), [Status::Warn]);
    near(
        findings_of(&at("4\""), "base.extension")[0].value.unwrap(),
        101.6,
        1e-6,
    );
    assert_eq!(status(&at("6\""), "base.extension"), [Status::Pass]);
    // The wall's own structure runs past the corner and takes nothing from the edge beside it.
    let house = landing(AWAY)
        + "site: {structures: [{name: House, kind: building, \
           outline: [[0, 0], [0, -9'], [20', -9'], [20', 0]]}]}\n";
    assert_eq!(status(&house, "base.extension"), [Status::Pass]);
}

#[test]
fn a_joint_cut_aslant_is_as_long_as_its_centre_line() {
    // Centre lines at 101.5 and 201.5 mm, each to the edge x + y = 400 mm: 298.5 + 198.5 mm.
    let design = design(
        "job: {title: Aslant}\nsheet: {units: metric}\n\
         paving: [{outline: [[0, 0], [400 mm, 0], [200 mm, 200 mm], [0, 200 mm]], bond: stack}]\n\
         pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm, joint: 3 mm}}\n",
    );
    let field = &design.areas[0].paving.courses[0];
    near(field.joint_length, 497.0, 1e-6);
}
