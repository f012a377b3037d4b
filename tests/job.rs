//! Reading jobs: a full one, a minimal one, and what each takes.

mod common;

use common::job::{FULL, MINIMAL, bad, good};
use common::said::in_every_language;
use groundsheet::diag::render;
use groundsheet::geom::Point;
use groundsheet::job::{STARTER, read};
use groundsheet::language::{Language, Languages};
use groundsheet::levels::FallDirection;

#[test]
fn a_minimal_job_takes_every_default_and_says_so() {
    let job = good(MINIMAL);
    assert_eq!(job.panels.panel.length, 914.4);
    assert_eq!(job.panels.stagger, 457.2);
    assert_eq!(job.base_extension, 152.4);
    assert_eq!(job.bedding.compacted, 12.7);
    assert_eq!(job.finishes[0].at, Point::new(0.0, 0.0));
    assert_eq!(job.finishes[0].level, 0.0);
    assert_eq!(
        job.finishes[0].direction,
        FallDirection::AwayFrom("A-B".into())
    );
    assert_eq!(job.conventional, None);
    assert_eq!(job.prices, None);
    let assumed = |key: &str| {
        let mut all = job.assumed.iter().filter(|assumed| assumed.key == key);
        let value = all.next().map(|assumed| assumed.value.as_str());
        assert!(all.next().is_none(), "{key} twice");
        value
    };
    assert_eq!(assumed("base.panel.length"), Some("3'"));
    assert_eq!(assumed("paving[0].start"), Some("{corner: A, along: A-B}"));
    assert_eq!(assumed("levels.finish.away_from"), Some("A-B"));
    assert_eq!(assumed("bedding.rails.diameter"), Some("3/4\""));
    assert_eq!(assumed("bedding.rails.spacing"), Some("[4', 6']"));
    assert_eq!(assumed("pavers.field.thickness"), None);
    assert_eq!(job.warnings, []);
}

#[test]
fn a_metric_job_takes_metric_defaults() {
    let job = good(&format!("{MINIMAL}sheet: {{units: metric}}\n"));
    assert_eq!(job.panels.panel.length, 900.0);
    assert_eq!(job.textile.roll_width, 4000.0);
    assert_eq!(job.load, 2.0);
}

#[test]
fn a_full_job_is_read_to_the_last_key() {
    let job = good(FULL);
    assert_eq!(
        job.assumed
            .iter()
            .map(|a| a.key.as_str())
            .collect::<Vec<_>>(),
        ["paving[1].bond", "paving[1].paver", "paving[1].turn"]
    );
    assert_eq!(job.info.number.as_deref(), Some("26-031"));
    assert_eq!(job.pavers[1].length, 304.8);
    assert_eq!(
        job.panels.course_starts,
        [(0, 914.4), (1, 457.2), (2, 914.4)].into()
    );
    // 100 lb/ft³ = 1601.846 kg/m³ (NIST SP 811, B.9: 1 lb/ft³ = 16.01846 kg/m³).
    assert!((job.bedding.density - 1601.846).abs() < 1e-3);
    // 1/4 in to the foot is 1:48.
    assert!(
        matches!(job.sheet.scale, groundsheet::job::ScaleChoice::Stated(n, _) if (n - 48.0).abs() < 1e-9)
    );
    assert_eq!(job.finishes[0].fall, 0.025);
    assert_eq!(job.finishes[1].direction, FallDirection::Towards(90.0));
    assert_eq!(job.finishes[1].level, job.finishes[0].level);
    assert_eq!(job.points[4].redundant.len(), 1);
    assert_eq!(job.levels.rod, groundsheet::units::Rod::FeetInches);
    assert_eq!(job.levels.sills[0].level, 30_480.0);
    assert_eq!(job.levels.sills[0].steps.len(), 1);
    assert_eq!(job.levels.fixed[0].levels.len(), 2);
    assert_eq!(job.levels.walls[0].edge.as_deref(), Some("H1-A"));
    assert_eq!(
        job.base_line.as_ref().map(|ends| ends[1].0.as_str()),
        Some("H2")
    );
    let (_, run) = job.levelling.as_ref().expect("the levelling is reduced");
    // The fore sight comes back 0.01 ft low, all of it in the one set-up.
    assert!((run.level("T2").unwrap() - 99.21 * 304.8).abs() < 1e-6);
    let place = job.places["levels.finish.fall"];
    let line = FULL.lines().nth(place.line - 1).unwrap();
    assert!(line[place.column - 1..].starts_with("fall: 2%"));
    assert!(job.places.contains_key("paving[0].outline[2]"));
    // The arc from (14', 8') to (10', 12') turns a quarter about (10', 8').
    let arc = job.areas[0].outline.ring.edges[2].arc.unwrap();
    assert!(arc.centre.distance(Point::new(3048.0, 2438.4)) < 1e-6);
    assert!(arc.anticlockwise);
}

/// One line is section A; named lines keep their letters, the others take the next free ones.
#[test]
fn a_section_is_one_line_or_a_list_of_lettered_lines() {
    let read = |section: &str| {
        let job = good(&format!("{MINIMAL}sheet: {{section: {section}}}\n"));
        let sections = job.sheet.sections.into_iter();
        sections
            .map(|s| (s.name, s.line[0].x.round(), s.line[1].y.round()))
            .collect::<Vec<_>>()
    };
    let a =
        |name: &str, x: f64, y: f64| (name.to_owned(), (x * 304.8).round(), (y * 304.8).round());
    assert_eq!(read("[[4', 0], [4', 12']]"), [a("A", 4.0, 12.0)]);
    let three = "[{line: [[4', 0], [4', 8']]}, {name: A, line: [[0, 6'], [12', 6']]}, {line: [[1', 0], [9', 9']]}]";
    assert_eq!(
        read(three),
        [a("B", 4.0, 8.0), a("A", 0.0, 6.0), a("C", 1.0, 9.0)]
    );
}

#[test]
fn the_starter_job_is_read_without_a_word() {
    assert_eq!(good(STARTER).warnings, []);
}

#[test]
fn bom_and_crlf_change_nothing() {
    let plain = good(MINIMAL);
    assert_eq!(good(&format!("\u{feff}{MINIMAL}")), plain);
    let crlf = good(&MINIMAL.replace('\n', "\r\n"));
    assert_eq!(crlf, plain);
}

#[test]
fn hostile_files_end_in_one_clear_error() {
    let start = std::time::Instant::now();
    let code = |bytes: &[u8]| read(bytes).unwrap_err()[0].code;
    assert_eq!(code(b""), "empty");
    assert_eq!(code(b"job: \xff"), "encoding");
    assert_eq!(code(b"job: \0"), "encoding");
    assert_eq!(code(&vec![b'a'; 5 << 20]), "too-large");
    assert_eq!(code("[".repeat(20_000).as_bytes()), "too-deep");
    assert_eq!(code("{a: ".repeat(20_000).as_bytes()), "too-deep");
    assert_eq!(code("- ".repeat(20_000).as_bytes()), "too-deep");
    assert_eq!(code("a".repeat(1 << 20).as_bytes()), "too-long");
    assert_eq!(
        code(format!("[{}]", "0,".repeat(1 << 20)).as_bytes()),
        "too-long"
    );
    assert_eq!(
        code(format!("[{}]", "0,\n".repeat(1 << 20)).as_bytes()),
        "too-many"
    );
    assert_eq!(code(b"a: &a [*a]"), "alias");
    assert_eq!(code(b"job:\n\ttitle: x\n"), "yaml");
    let mut bomb = "a0: &a0 [x, x]\n".to_owned();
    for n in 1..40 {
        bomb += &format!("a{n}: &a{n} [*a{}, *a{}]\n", n - 1, n - 1);
    }
    assert_eq!(code(bomb.as_bytes()), "too-many");
    let long = format!("a: &a {}\nb: [{}]", "x".repeat(3900), "*a,".repeat(20_000));
    assert_eq!(code(long.as_bytes()), "too-many");
    // Unoptimised and beside other tests; optimised it takes a tenth.
    assert!(start.elapsed().as_secs() < 20);
}

#[test]
fn anchors_and_aliases_work() {
    let text = MINIMAL.replace("size: [8\", 4\"]", "size: &s [8\", 4\"]")
        + "  other: {size: *s, thickness: 60 mm}\n";
    assert_eq!(good(&text).pavers[1].length, 203.2);
}

/// A revision may say where it changed something: one point, or several that the cloud goes round.
#[test]
fn a_revision_may_carry_places() {
    let with = |at: &str| {
        let to = format!("note: First issue, at: {at}}}");
        FULL.replacen("note: First issue, at: [4', 9']}", &to, 1)
    };
    let one = good(&with("[2', 3']"));
    assert_eq!(one.info.revisions[0].at, [Point::new(609.6, 914.4)]);
    let two = good(&with("[[0, 0], [2', 3']]"));
    assert_eq!(two.info.revisions[0].at.len(), 2);
    assert!(!bad(&with("[2', 3', 4']")).is_empty());
    assert!(!bad(&with("corner")).is_empty());
}

#[test]
fn first_panels_may_be_stated_for_some_courses_and_by_area() {
    let some = good(&FULL.replace("[3', 18\", 3']", "{2: 18\", 5: 1'}"));
    assert_eq!(some.panels.course_starts, [(1, 457.2), (4, 304.8)].into());
    assert!(some.course_starts_of.is_empty());
    let named = FULL.replace("[3', 18\", 3']", "{Landing: [3', 18\"]}");
    let named = good(&named);
    assert!(named.panels.course_starts.is_empty());
    assert_eq!(named.course_starts_of[&0], [(0, 914.4), (1, 457.2)].into());
    let errors = bad(&FULL.replace("[3', 18\", 3']", "{Nowhere: [3']}"));
    assert!(
        errors
            .iter()
            .any(|e| e.found.contains("no area is named Nowhere"))
    );
}

/// What `language` may be, in either place.
#[test]
fn languages_are_one_or_two_of_those_known() {
    let job = |sheet: &str, own: &str| {
        format!(
            "job: {{title: T}}\nsheet: {{units: metric{sheet}}}\npaving:\n  - rectangle: {{corner: [0, 0], width: 4 m, depth: 3 m}}\npavers:\n  field: {{size: [200 mm, 100 mm], thickness: 60 mm}}\n{own}"
        )
    };
    let read = |sheet: &str, own: &str| groundsheet::job::read(job(sheet, own).as_bytes());
    let of = |sheet: &str, own: &str| read(sheet, own).expect("the job reads").sheet.languages;
    assert_eq!(of("", ""), Languages::only(Language::English));
    assert_eq!(of("", "language: fr"), Languages::only(Language::French));
    assert_eq!(of(", language: es", ""), Languages::only(Language::Spanish));
    let both = of(", language: [fr, en]", "");
    assert_eq!(both.first, Language::French);
    assert_eq!(both.second, Some(Language::English));
    for (sheet, own) in [
        (", language: de", ""),
        (", language: []", ""),
        (", language: {en: es}", ""),
        (", language: [en, en]", ""),
        (", language: [en, es, fr]", ""),
        (", language: en", "language: en"),
    ] {
        let errors = read(sheet, own).map_err(in_every_language);
        let errors = errors.expect_err("it is refused");
        assert_eq!(errors.len(), 1, "{sheet}: {errors:?}");
        assert!(errors[0].place.is_some());
    }
}

/// A way in without steps is one of 0 of them; what is refused says so.
#[test]
fn no_steps_are_a_count_of_steps() {
    let text = |steps: &str| format!("{FULL_WAY}access: {{steps: {steps}, carry: 20 m}}\n");
    for (steps, wanted) in [("0", Some(0)), ("3", Some(3)), ("-2", None), ("2.5", None)] {
        match read(text(steps).as_bytes()) {
            Ok(job) => assert_eq!(job.access.map(|way| way.steps), wanted, "{steps}"),
            Err(errors) => {
                assert_eq!(wanted, None, "{steps}");
                let shown = render("job", &text(steps), &errors);
                assert!(shown.contains("0 or more"), "{shown}");
            }
        }
    }
}

const FULL_WAY: &str = "job: {title: Way}
sheet: {units: metric}
paving: [{name: Yard, rectangle: {corner: [0, 0], width: 3 m, depth: 2 m}}]
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
";
