//! Courses as they were laid, from the job to the sheet: first panels stated for some courses,
//! round obstacles, on parts with starts of their own; what the check says to do next, and that
//! every fault is numbered on the plan and listed with what puts it right.

mod common;

use common::worked::{design, findings, sheets, words};
use groundsheet::checks::{self, Status};
use groundsheet::design::Design;
use groundsheet::geom::Point;
use groundsheet::panels::Cross;
use groundsheet::sheet::compose::content;
use groundsheet::takeoff;

/// A yard of 6.3 m by 4.2 m on panels of 900 × 600 mm; the base goes 150 mm past it.
fn yard(holes: &str, base: &str) -> String {
    format!(
        "job: {{title: Yard}}
sheet: {{units: metric}}
paving:
  - name: Yard
    outline: [[0, 0], [6.3 m, 0], [6.3 m, 4.2 m], [0, 4.2 m]]
    {holes}
pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}
base: {{start: {{corner: A, along: A-B}}, {base}}}
levels: {{finish: {{fall: 2%}}}}
"
    )
}

/// Two areas that fall away from the edge between them, so that the base breaks there.
fn two_parts(starts: &str) -> String {
    format!(
        "job: {{title: Ridge}}
sheet: {{units: metric}}
paving:
  - name: Near
    outline: [[0, 0], [6.3 m, 0], [6.3 m, 2.25 m], [0, 2.25 m]]
    fall: {{at: C, level: 10 m, fall: 2%, towards: 270°}}
    start: {{corner: A, along: A-B}}
  - name: Beyond
    outline: [[0, 2.25 m], [6.3 m, 2.25 m], [6.3 m, 4.8 m], [0, 4.8 m]]
    fall: {{at: C, level: 10 m, fall: 2%, towards: 90°}}
    start: {{corner: D, along: D-C}}
pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}
base: {{start: {{corner: A, along: A-B}}, course_starts: {starts}}}
levels:
  datum: {{name: Peg, level: 10 m}}
  finish: {{at: C, level: 10 m, fall: 2%, towards: 270°}}
"
    )
}

fn firsts(design: &Design) -> Vec<(usize, f64, bool)> {
    let courses = design.base.iter().flat_map(|part| &part.layout.courses);
    courses
        .map(|c| (c.number, c.first_length_mm.round(), c.as_laid))
        .collect()
}

fn crosses(design: &Design) -> &[Cross] {
    &design.cross_joints.crosses
}

/// Every fault stands on the plan under a number of its own, at its place; on the sheets or in a
/// table of what found no room the number is said, and the panels' sheet lists it.
#[track_caller]
fn assert_numbered(yaml: &str) {
    let (design, takeoff, set) = sheets(yaml);
    let all = content(&design, &takeoff, &checks::run(&design));
    let places: Vec<Point> = crosses(&design).iter().map(|cross| cross.at).collect();
    assert!(places.len() > 1, "{places:?}");
    let numbered: Vec<_> = all
        .plan
        .troubles
        .iter()
        .filter(|t| t.fault.is_some())
        .collect();
    assert_eq!(numbered.len(), places.len());
    let said: Vec<String> = set.iter().flat_map(|sheet| words(&sheet.items)).collect();
    for (index, (trouble, at)) in numbered.iter().zip(&places).enumerate() {
        assert_eq!(trouble.fault, Some(index + 1));
        assert!(trouble.at.distance(*at) < 1e-6);
        let sign = trouble.words();
        let off_plan = format!("Number {sign} of the checks");
        let times = said.iter().filter(|words| **words == sign).count();
        let keyed = said.iter().any(|words| words.contains(&off_plan));
        // once on the plan, if there is room, and once in the list
        assert!(times >= 2 || (times == 1 && keyed), "{sign}: {times}");
    }
    assert!(said.iter().any(|words| words == "Cross joints too close"));
}

#[test]
fn a_course_as_laid_moves_itself_and_those_that_go_on_from_it() {
    let plain = firsts(&design(&yard("", "stagger: 1/2")));
    let stated = firsts(&design(&yard(
        "",
        "stagger: 1/2, course_starts: {3: 700 mm}",
    )));
    assert_eq!(plain.len(), stated.len());
    for (before, after) in plain.iter().zip(&stated) {
        match after.0 {
            1 | 2 => assert_eq!(before, after),
            3 => assert_eq!(*after, (3, 700.0, true)),
            number => {
                let wanted = (700.0 + 450.0 * (number - 3) as f64).rem_euclid(900.0);
                assert_eq!((after.1, after.2), (wanted, false), "course {number}");
            }
        }
    }
}

#[test]
fn the_check_says_what_to_do_next_and_it_puts_the_course_right() {
    // Course 2 begins with 450 mm. Joints of course 3 lie 50 mm ahead of its joints; at least
    // 150 mm are wanted, so that they move back 200 mm.
    let laid = design(&yard("", "stagger: 1/2, course_starts: {3: 500 mm}"));
    let [found] = &findings(&laid, "panels.stagger")[..] else {
        panic!("one finding")
    };
    assert_eq!(found.status, Status::Fail);
    assert!(!crosses(&laid).is_empty());
    assert!(crosses(&laid).iter().all(|cross| cross.courses == [2, 3]));
    let remedy = crosses(&laid)[0].remedy.expect("a trim puts it right");
    assert_eq!((remedy.course, remedy.back_mm.round()), (3, 200.0));
    let title = found.title.to_string();
    let next = "begin course 3 with a panel 300 mm long, so that its joints move back 200 mm";
    assert!(title.contains(next), "{title}");
    let right = design(&yard("", "stagger: 1/2, course_starts: {3: 300 mm}"));
    assert_eq!(crosses(&right), []);
    // a millimetre or two less does not
    let short = design(&yard("", "stagger: 1/2, course_starts: {3: 302 mm}"));
    assert!(!crosses(&short).is_empty());
    let list = sheets(&yard("", "stagger: 1/2, course_starts: {3: 500 mm}")).2;
    let said: Vec<String> = list.iter().flat_map(|sheet| words(&sheet.items)).collect();
    let right = "begin course 3 with a panel 300 mm long";
    assert!(said.iter().any(|words| words.contains(right)));
}

#[test]
fn faults_on_both_sides_of_an_obstacle_are_found_and_numbered() {
    let hole =
        "holes: [{outline: [[2.4 m, 0.7 m], [3.9 m, 0.7 m], [3.9 m, 2.6 m], [2.4 m, 2.6 m]]}]";
    let yaml = yard(hole, "stagger: 1/2, course_starts: {3: 500 mm}");
    let found = design(&yaml);
    let at: Vec<f64> = crosses(&found).iter().map(|cross| cross.at.x).collect();
    assert!(
        at.iter().any(|x| *x < 2400.0) && at.iter().any(|x| *x > 3900.0),
        "{at:?}"
    );
    assert!(!at.iter().any(|x| (2500.0..3800.0).contains(x)), "{at:?}");
    assert_numbered(&yaml);
}

#[test]
fn faults_where_parts_with_starts_of_their_own_meet_are_found_and_numbered() {
    // Both parts begin alike, so that their joints meet end to end where the base breaks.
    let mut least = usize::MAX;
    let mut most = 0;
    for first in [900, 750, 600, 450, 300, 150] {
        let yaml = two_parts(&format!(
            "{{Near: [900 mm, 450 mm, 900 mm, 450 mm], Beyond: [{first} mm]}}"
        ));
        let found = design(&yaml);
        assert_eq!(found.base.len(), 2, "the base breaks");
        let starts = firsts(&found);
        let beyond = found.base[1].layout.courses[0].number;
        assert!(
            starts.contains(&(beyond, f64::from(first), true)),
            "{starts:?}"
        );
        let across = crosses(&found)
            .iter()
            .filter(|cross| cross.courses[0] < beyond && cross.courses[1] >= beyond)
            .count();
        if across > 1 && across > most {
            assert_numbered(&yaml);
        }
        least = least.min(across);
        most = most.max(across);
    }
    // some first panel lines the joints up, and some other does not
    assert!(least == 0 && most >= 5, "{least} {most}");
}

#[test]
fn faults_across_a_joined_edge_are_found_as_anywhere() {
    // The edge between the areas runs up the middle of the base, which goes on across it.
    let yaml = "job: {title: Two in one}
sheet: {units: metric}
paving:
  - name: Left
    outline: [[0, 0], [3 m, 0], [3 m, 4.2 m], [0, 4.2 m]]
  - name: Right
    outline: [[3 m, 0], [6.3 m, 0], [6.3 m, 4.2 m], [3 m, 4.2 m]]
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
base: {start: {corner: A, along: A-B}, stagger: 1/2, course_starts: {3: 500 mm}}
levels: {finish: {fall: 2%}}
";
    let joined = design(yaml);
    assert_eq!(joined.base.len(), 1, "the base runs on");
    let one = design(&yard("", "stagger: 1/2, course_starts: {3: 500 mm}"));
    assert_eq!(crosses(&joined).len(), crosses(&one).len());
    assert_numbered(yaml);
}

/// The takeoff of such jobs is made too: nothing as laid stops the rest.
#[test]
fn what_is_laid_is_taken_off() {
    let laid = design(&yard(
        "",
        "stagger: 1/2, course_starts: {2: 120 mm, 5: 880 mm}",
    ));
    let takeoff = takeoff::of(&laid).expect("a takeoff");
    let panels = takeoff.lines.iter().find(|line| line.key == "panel");
    assert_eq!(panels.map(|line| line.net), Some(laid.panels.buy as f64));
    let begun = firsts(&laid);
    for start in [(2, 120.0, true), (5, 880.0, true)] {
        assert!(begun.contains(&start), "{begun:?}");
    }
}
