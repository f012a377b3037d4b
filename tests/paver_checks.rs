//! Each check on pavers, restraint and rails: a job that trips it and one that just passes.

mod common;

use common::worked::{findings_of, status};
use groundsheet::checks::{Finding, Status};

/// 10 whole modules of 203 × 103 each way, laid in stack bond: nothing is cut.
const EVEN: &str = r#"
job: {title: Even}
sheet: {units: metric}
paving:
  - name: Yard
    rectangle: {corner: [0, 0], width: 2027 mm, depth: 1027 mm}
    bond: stack
pavers:
  field: {size: [200 mm, 100 mm], thickness: 60 mm}
  edge: {size: [200 mm, 100 mm], thickness: 60 mm}
levels: {finish: {fall: 2%}}
"#;

/// The finding of an id in the job with a text put in place of another.
fn finding(id: &str, from: &str, to: &str) -> Finding {
    assert!(EVEN.contains(from), "{from}");
    let own = findings_of(&EVEN.replacen(from, to, 1), id);
    own.first()
        .unwrap_or_else(|| panic!("{id} says nothing"))
        .clone()
}

/// Trips on the second text and passes on the first, both in place of `from`; the place is one the
/// job writes.
fn just(id: &str, from: &str, passes: &str, trips: &str) {
    let pass = finding(id, from, passes);
    assert_eq!(pass.status, Status::Pass, "{}", pass.title);
    let trip = finding(id, from, trips);
    assert_ne!(trip.status, Status::Pass, "{}", trip.title);
    let (value, limit) = (trip.value.unwrap(), trip.limit.unwrap());
    assert!((value - limit).abs() > 1e-6, "{value} {limit}");
    assert!(!trip.source.is_empty());
}

/// A strip of 67 of 200 mm is a third, one of 66 is not; of 75 it is three eighths.
#[test]
fn cuts_are_held_against_a_third_and_three_eighths() {
    let wide = |mm: u32| format!("width: {} mm", 2030 + mm);
    just("pavers.sliver", "width: 2027 mm", &wide(67), &wide(66));
    just(
        "pavers.smallest_cut",
        "width: 2027 mm",
        &wide(75),
        &wide(74),
    );
    let small = finding("pavers.smallest_cut", "width: 2027 mm", &wide(50));
    assert!((small.value.unwrap() - 0.25).abs() < 1e-9);
    let at = small.point.unwrap();
    assert!((2030.0..2080.0).contains(&at.x), "{at:?}");
}

/// Joints of 2 to 5 mm; 200 × 100 in herringbone makes the end joint up to twice the stated one.
#[test]
fn joints_are_held_to_their_range() {
    let joint = |joint: &str| format!("100 mm], joint: {joint} mm, thickness: 60 mm}}\n  edge");
    let from = "100 mm], thickness: 60 mm}\n  edge";
    just("pavers.joint", from, &joint("5"), &joint("5.5"));
    just("pavers.joint", from, &joint("2"), &joint("1"));
    let bond = |bond: &str| format!("bond: {bond}");
    just(
        "pavers.joint",
        "bond: stack",
        &bond("running"),
        &bond("herringbone"),
    );
    let made_up = finding("pavers.joint", "bond: stack", "bond: herringbone");
    assert!((made_up.value.unwrap() - 6.0).abs() < 1e-9);
}

#[test]
fn slope_thickness_and_form_are_held_to_published_limits() {
    just("pavers.slope", "fall: 2%", "fall: 2%", "fall: 1.9%");
    let size = |size: &str| format!("field: {{size: {size}}}");
    let from = "field: {size: [200 mm, 100 mm], thickness: 60 mm}";
    let thick = |mm: u32| size(&format!("[200 mm, 100 mm], thickness: {mm} mm"));
    just("pavers.thickness", from, &thick(60), &thick(59));
    let long = |mm: u32| size(&format!("[{mm} mm, 100 mm], thickness: 60 mm"));
    just("pavers.form", from, &long(240), &long(241));
    let square = |mm: u32| size(&format!("[{mm} mm, {mm} mm], thickness: 80 mm"));
    // 255² = 65 025 mm², 256² = 65 536; 101 in² = 65 161 mm².
    just_form(&square(255), &square(256));
}

fn just_form(passes: &str, trips: &str) {
    let from = "field: {size: [200 mm, 100 mm], thickness: 60 mm}";
    assert_eq!(finding("pavers.form", from, passes).status, Status::Pass);
    assert_eq!(finding("pavers.form", from, trips).status, Status::Warn);
}

#[test]
fn a_border_of_another_thickness_fails() {
    let bordered = |edge: u32| {
        let text = EVEN.replace("bond: stack", "bond: stack\n    border: [{paver: edge}]");
        let edge = format!("edge: {{size: [200 mm, 100 mm], thickness: {edge} mm}}");
        let text = text.replace("edge: {size: [200 mm, 100 mm], thickness: 60 mm}", &edge);
        status(&text, "pavers.one_thickness")[0]
    };
    assert_eq!(bordered(63), Status::Pass);
    assert_eq!(bordered(64), Status::Fail);
}

/// Holes 100 mm apart: every 6th is nailed at 600 mm, every 7th at 700.
#[test]
fn nails_and_board_are_held_to_their_reach() {
    let with = |rest: &str| format!("fall: 2%}}}}\n{rest}");
    let every = |n: u32| with(&format!("edging: {{nail_every: {n}}}"));
    just("edging.nails", "fall: 2%}}", &every(6), &every(7));
    // The board must reach over a bay and one rail; a millimetre less does not.
    let board = |mm: u32| with(&format!("bedding: {{rails: {{board: {mm} mm}}}}"));
    let bay = finding("bedding.board", "fall: 2%}}", "fall: 2%}}")
        .limit
        .unwrap();
    assert!(bay > 1000.0);
    just(
        "bedding.board",
        "fall: 2%}}",
        &board(bay.ceil() as u32),
        &board(bay.floor() as u32 - 1),
    );
}
