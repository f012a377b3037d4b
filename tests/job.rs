//! Reading jobs: a full one, a minimal one, and one small test per refusal with its place.

mod common;

use common::said::in_every_language;
use groundsheet::diag::{Diagnostic, render};
use groundsheet::geom::Point;
use groundsheet::job::{STARTER, read};
use groundsheet::language::{Language, Languages};
use groundsheet::levels::FallDirection;
use groundsheet::paving::{Bond, Shift};

/// The shortest useful job.
const MINIMAL: &str = "\
job:
  title: Shed pad
site:
  structures:
    - {name: House, kind: building, outline: [[0, 0], [0, -5'], [12', -5'], [12', 0]]}
paving:
  - outline:
      - [0, 0]
      - [12', 0]
      - [12', 8']
      - [0, 8']
pavers:
  field:
    size: [8\", 4\"]
    thickness: 3 1/8\"
";

/// Every key of the job file.
const FULL: &str = include_str!("made_up/every-key.yaml");

/// What a job says, on failure as a person would read it.
fn good(text: &str) -> groundsheet::job::Job {
    read(text.as_bytes()).unwrap_or_else(|found| panic!("{}", render("job", text, &found)))
}

/// The findings of a job that must be refused.
fn bad(text: &str) -> Vec<Diagnostic> {
    match read(text.as_bytes()) {
        Ok(_) => panic!("the job was read"),
        Err(found) => in_every_language(found),
    }
}

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
fn all_errors_come_together_in_the_order_of_the_file() {
    let text = MINIMAL
        .replace("title", "titel")
        .replace("[12', 8']", "[12, 8']")
        .replace("3 1/8\"", "3");
    let found = bad(&text);
    let lines: Vec<usize> = found.iter().map(|f| f.place.unwrap().line).collect();
    assert_eq!(lines, [2, 2, 10, 15]);
}

/// One refusal: what is changed in the minimal job, by what, where the finding must stand (the
/// marked text, in the changed job) and what it must say.
fn refused(from: &str, to: &str, at: &str, says: &str) {
    let text = if from.is_empty() {
        format!("{MINIMAL}{to}\n")
    } else {
        assert!(MINIMAL.contains(from), "{from}");
        MINIMAL.replacen(from, to, 1)
    };
    let byte = text
        .rfind(at)
        .unwrap_or_else(|| panic!("{at} is not in the job"));
    let line = text[..byte].matches('\n').count() + 1;
    let start = text[..byte].rfind('\n').map_or(0, |n| n + 1);
    let column = text[start..byte].chars().count() + 1;
    let found = bad(&text);
    let shown = render("job", &text, &found);
    let hit = found.iter().any(|finding| {
        let place = finding.place.unwrap_or_default();
        let whole = format!(
            "{} | {} | {}",
            finding.found,
            finding.wanted.clone().unwrap_or_default(),
            finding.hint.clone().unwrap_or_default()
        );
        (place.line, place.column) == (line, column) && whole.contains(says)
    });
    assert!(hit, "wanted {line}:{column} {says}\n{shown}");
}

/// A paving laid in a bond of its own: two squares of 8″ and 4″ with 1/8″ joints, each row stepping
/// aside.
const MODULAR: &str = r#"
job: {title: Two squares}
paving:
  - {rectangle: {corner: [0, 0], width: 10', depth: 8'}, bond: squares, start: best}
pavers:
  large: {size: [8", 8"], thickness: 80 mm, joint: 1/8"}
  small: {size: [4", 4"], thickness: 80 mm, joint: 1/8"}
bonds:
  squares:
    cell: [[8 1/8", 4 1/8"], [-4 1/8", 8 1/8"]]
    pavers: [{paver: large, at: [0, 0]}, {paver: small, at: [8 1/8", 0]}]
"#;

#[test]
fn a_bond_of_the_jobs_own_is_read_and_proved() {
    let job = good(MODULAR);
    let Bond::Modular(bond) = &job.paving[0].bond else {
        panic!("{:?}", job.paving[0].bond)
    };
    assert_eq!((bond.name.as_str(), bond.pavers.len()), ("squares", 2));
    assert_eq!(job.paving[0].shift, Shift::Best);
    let assumed = |key: &str| job.assumed.iter().any(|assumed| assumed.key == key);
    assert!(assumed("paving[0].start") && !assumed("paving[0].paver"));
    let refused = |from: &str, to: &str, line: usize, says: &str| {
        let text = MODULAR.replacen(from, to, 1);
        let found = bad(&text);
        let hit = found
            .iter()
            .any(|f| f.place.unwrap().line == line && f.found.contains(says));
        assert!(hit, "{}", render("job", &text, &found));
    };
    refused("at: [8 1/8\"", "at: [7\"", 11, "overlap");
    refused("[8 1/8\", 4 1/8\"]", "[9\", 4 1/8\"]", 10, "area");
    refused("paver: small", "paver: smal", 11, "not under pavers");
    refused("bond: squares", "bond: square", 4, "`square`");
    refused(
        "bond: squares",
        "bond: squares, paver: large",
        4,
        "names its pavers",
    );
    refused("  squares:", "  stack:", 9, "every job knows");
    refused("at: [0, 0]", "at: [0, 0], turn: 45°", 11, "turn");
    refused(
        "[4\", 4\"], thickness: 80",
        "[4\", 4\"], thickness: 60",
        11,
        "thick",
    );
}

#[test]
fn unknown_keys_duplicates_and_wrong_types() {
    refused("title", "titel", "titel", "perhaps `title` is meant");
    refused(
        "",
        "waste: {pavrs: 5%}",
        "pavrs",
        "perhaps `pavers` is meant",
    );
    refused("", "job: {title: x}", "job: {title: x}", "stands twice");
    refused("", "crew: [3]", "[3]", "a mapping");
    let twice = "sheet: {section: [{name: B, line: [[0, 0], [1', 0]]}, {name: B, line: [[0, 0], [2', 0]]}]}";
    refused("", twice, "B, line: [[0, 0], [2'", "letter of its own");
    refused(
        "",
        "sheet: {section: [{name: Bend, line: [[0, 0], [1', 0]]}]}",
        "Bend",
        "one or two letters",
    );
    refused("", "crew: {people: three}", "three", "whole number");
    refused("", "base: {extension: 6}", "6}", "length with its unit");
    refused("", "sheet: {units: metrik}", "metrik", "perhaps `metric`");
    refused(
        "",
        "job2: &a {x: 1}\n---\na: 1",
        "---",
        "one job in one file",
    );
    refused("", "waste: {pavers: !x 5%}", "!x", "without its tag");
    refused(
        "thickness: 3 1/8\"",
        "joint: 1/8\"",
        "size: ",
        "`pavers.field.thickness` is missing",
    );
    refused(
        "  title: Shed pad",
        "  client: me",
        "client",
        "`job.title` is missing",
    );
}

#[test]
fn numbers_that_are_none_and_sizes_beyond_reason() {
    refused("", "base: {extension: .nan}", ".nan", "length");
    refused("", "base: {extension: .inf}", ".inf", "length");
    refused("", "base: {extension: -6\"}", "-6\"", "zero or more");
    refused("", "base: {panel: {length: 0}}", "0}}", "more than zero");
    refused("[12', 8']", "[12', 8000 m]", "8000 m", "at most 1 km");
    refused(
        "",
        "base: {panel: {length: 0.5 mm, width: 0.5 mm}}",
        "panel:",
        "5 million",
    );
    refused(
        "",
        "bedding: {loose: 1/2\", compacted: 3/4\"}",
        "3/4\"}",
        "thicker than loose",
    );
    refused("", "prices: {panel: .nan}", ".nan", "plain number");
    refused("", "waste: {pavers: 500%}", "500%", "from 0% to 100%");
}

#[test]
fn outlines_points_edges_and_starts() {
    refused(
        "      - [12', 8']\n      - [0, 8']\n",
        "",
        "- [0, 0]",
        "three corners",
    );
    refused(
        "      - [12', 8']\n      - [0, 8']",
        "      - [0, 8']\n      - [12', 8']",
        "[12', 8']",
        "cross",
    );
    refused(
        "[12', 8']",
        "{arc: {to: [12', 8'], radius: 1', side: left}}",
        "1', side",
        "too short",
    );
    refused("[12', 8']", "P9", "P9", "no point of site.points");
    refused("pavers:", "    edges: {A-Z: open}\npavers:", "A-Z", "A-B");
    refused(
        "pavers:",
        "    start: {corner: Q, along: A-B}\npavers:",
        "Q",
        "not a corner of the area",
    );
    refused(
        "pavers:",
        "    start: {corner: C, along: A-B}\npavers:",
        "A-B",
        "does not start or end at C",
    );
    refused("", "levels: {finish: {away_from: A-X}}", "A-X", "no edge");
    refused(
        "",
        "levels: {finish: {away_from: A-B, towards: 180°}}",
        "towards",
        "both `away_from` and `towards`",
    );
    refused(
        "",
        "levels: {instrument: 4'}",
        "levels:",
        "`levels.finish.level` is missing",
    );
    refused(
        "pavers:",
        "    edges: {C-D: wall}\npavers:",
        "paving:",
        "several wall edges",
    );
    refused(
        "pavers:",
        "    paver: feild\npavers:",
        "feild",
        "perhaps `field`",
    );
    refused(
        "paving:",
        "paving:\n  - rectangle: {corner: [6', 4'], width: 9', depth: 9'}",
        "- [0, 0]\n      - [12', 0]",
        "overlap",
    );
    refused(
        "kind: building, outline: [[0, 0]",
        "kind: building, outline: [[0, 2']",
        "- [0, 0]",
        "overlap",
    );
}

#[test]
fn points_and_ground() {
    refused(
        "site:",
        "site:\n  points:\n    H1: [0, 0]\n    H2: [18', 0]\n    T: {tape: [[H1, 2'], [H2, 3']], side: left}",
        "T: {",
        "short",
    );
    refused(
        "site:",
        "site:\n  points:\n    T: {along: [H1, H2], at: 6', out: 9'}\n    H1: [0, 0]\n    H2: [18', 0]",
        "T: {",
        "H1",
    );
    refused(
        "site:",
        "site:\n  ground: [[0, 0, 1'], [0, 0, 2']]",
        "[0, 0, 2']",
        "differs",
    );
}

#[test]
fn a_point_that_cannot_be_read_is_one_error_and_hides_no_other() {
    let points = "site:\n  points:\n    H1: [0, 0]\n    H2: [18, 0]\n    T: {along: [H1, H2], at: 6', out: 9'}\n    U: {along: [H1, X], at: 6', out: 9'}";
    let found = bad(&MINIMAL.replacen("site:", points, 1));
    let lines: Vec<usize> = found.iter().map(|f| f.place.unwrap().line).collect();
    assert_eq!(lines, [6, 8]);
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

#[test]
fn a_refused_outline_hides_no_other_error() {
    let errors = read(
        b"job: {title: Bad}\n\
          paving:\n  - outline: [[0, 0], [10', 10'], [10', 0], [0, 10']]\n\
          \x20   edges: {A-Z: wall}\n\
          pavers: {field: {size: [8\", 4\"], thickness: 60 mm}}\n\
          base: {start: {corner: Q, along: A-B}}\n\
          levels: {finish: {at: A, level: 99', fall: 2%, away_from: A-B, towards: 90 deg}}\n",
    )
    .map_err(in_every_language)
    .expect_err("the outline crosses itself");
    let lines: Vec<usize> = errors
        .iter()
        .filter_map(|error| error.place.map(|place| place.line))
        .collect();
    // The outline, the edge that is not there, the start, the fall both ways.
    assert_eq!(lines, [3, 4, 6, 7], "{errors:#?}");
}

#[test]
fn a_bond_that_its_paver_cannot_be_laid_in_is_refused_at_the_bond() {
    let errors = read(
        b"job: {title: Bad}\n\
          paving:\n  - {rectangle: {corner: [0, 0], width: 10', depth: 8'}, bond: herringbone}\n\
          pavers: {field: {size: [10\", 4\"], thickness: 60 mm}}\n",
    )
    .map_err(in_every_language)
    .expect_err("ten inches lie between two widths and three");
    let [error] = errors.as_slice() else {
        panic!("{errors:#?}")
    };
    let place = error.place.expect("it has a place");
    assert_eq!((place.line, place.column), (3, 64));
    assert!(error.found.contains("herringbone"), "{}", error.found);
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

/// Checks and tables name areas: two of one name could not be told apart.
#[test]
fn two_areas_of_one_name_are_refused_at_the_second() {
    let text = "job: {title: Twins}\n\
                paving:\n\
                \x20 - {name: Walk, rectangle: {corner: [0, 0], width: 5', depth: 4'}}\n\
                \x20 - {name: Walk, rectangle: {corner: [9', 0], width: 5', depth: 4'}}\n\
                pavers: {field: {size: [8\", 4\"], thickness: 60 mm}}\n";
    let errors = read(text.as_bytes()).unwrap_err();
    let said: Vec<_> = errors.iter().map(|e| (e.code, e.place)).collect();
    assert_eq!(errors.len(), 1, "{said:?}");
    assert_eq!(errors[0].place.map(|p| (p.line, p.column)), Some((4, 12)));
    assert_eq!(errors[0].code, "area-name");
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

/// A number that is no course's is refused as such, not taken for the name of an area.
#[test]
fn courses_are_numbered_from_one() {
    refused(
        "",
        "base: {course_starts: {0: 12\", 3: 18\"}}",
        "0: 12",
        "`0` is no course | the number of a course, from 1",
    );
}

/// Another name of one letter is not taken for a misspelling.
#[test]
fn a_letter_hints_at_no_other_letter() {
    let job = MINIMAL
        .replace("- [0, 8']", "- T")
        .replace("site:\n", "site:\n  points: {P: [1', 1']}\n");
    let found = bad(&job);
    assert!(
        found
            .iter()
            .any(|finding| finding.found.to_string().contains("`T`"))
    );
    assert!(
        found.iter().all(|finding| finding.hint.is_none()),
        "{found:?}"
    );
}

/// What a finish says of itself is read where an outline cannot be: both are said at once.
#[test]
fn a_wrong_fall_is_said_beside_a_wrong_outline() {
    let text = MINIMAL.replace("[12', 8']", "[12', eight]")
        + "levels: {finish: {at: A, level: 99, fall: 2 percent, towards: up, steep: 1}}\n";
    let found: Vec<(usize, usize)> = bad(&text)
        .iter()
        .filter_map(|each| each.place.map(|place| (place.line, place.column)))
        .collect();
    let column = |what: &str| {
        let line = text.lines().last().expect("the levels");
        line.find(what).expect("a value") + 1
    };
    let levels = text.lines().count();
    let outline = text.lines().position(|line| line.contains("eight"));
    let outline = outline.expect("the corner") + 1;
    let lines: Vec<usize> = found.iter().map(|(line, _)| *line).collect();
    assert!(lines.contains(&outline), "{found:?}");
    for wrong in ["99", "2 percent", "up", "steep"] {
        assert!(
            found.contains(&(levels, column(wrong))),
            "{wrong}: {found:?}"
        );
    }
}
