//! What a job is refused for: one small test a refusal, with its place.

mod common;

use common::job::{MINIMAL, bad, good};
use common::said::in_every_language;
use groundsheet::diag::render;
use groundsheet::job::read;
use groundsheet::paving::{Bond, Shift};

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

/// Checks and tables name areas: two of one name could not be told apart.
#[test]
fn two_areas_of_one_name_are_refused_at_the_second() {
    let text = "job: {title: Twins}\n\
                paving:\n\
                \x20 - {name: Walk, rectangle: {corner: [0, 0], width: 5', depth: 4'}}\n\
                \x20 - {name: Walk, rectangle: {corner: [9', 0], width: 5', depth: 4'}}\n\
                pavers: {field: {size: [8\", 4\"], thickness: 60 mm}}\n";
    let errors = bad(text);
    let said: Vec<_> = errors.iter().map(|e| (e.code, e.place)).collect();
    assert_eq!(errors.len(), 1, "{said:?}");
    assert_eq!(errors[0].place.map(|p| (p.line, p.column)), Some((4, 12)));
    assert_eq!(errors[0].code, "area-name");
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

/// Drains and sills are read where an outline cannot be: what is wrong with them is said beside it, but
/// nothing of names that may be those of corners.
#[test]
fn drains_and_sills_are_read_beside_a_wrong_outline() {
    let drains = "site:\n  drains:\n\
         \x20   - {name: Slot, kind: gully, at: [3', 3']}\n\
         \x20   - {name: Slot, kind: point, at: A}\n\
         \x20   - {name: Foot, kind: channel, line: [[0, 4'], [0, 4']]}\n";
    let text = MINIMAL.replace("[12', 8']", "[12', eight]");
    let text = text.replace("site:\n", drains)
        + "levels: {sills: [{name: Door, at: C, level: 100', clear: wide}]}\n";
    let found = bad(&text);
    let line_of = |part: &str| text.lines().position(|line| line.contains(part));
    let lines: Vec<usize> = found
        .iter()
        .filter_map(|error| error.place.map(|place| place.line))
        .collect();
    let wanted = ["gully", "Foot", "eight", "clear: wide"];
    let wanted = wanted.map(|part| line_of(part).expect(part) + 1);
    assert_eq!(lines, wanted, "{found:#?}");
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

/// Where an outline crosses itself is told in the job's units.
#[test]
fn a_crossing_is_told_in_the_units_of_the_job() {
    for (units, outline, at) in [
        (
            "metric",
            "[[0, 0], [4 m, 0], [4 m, 3 m], [0, 3 m], [2 m, -1 m]]",
            "at x 1500 mm, y 0 mm",
        ),
        (
            "feet-inches",
            "[[0, 0], [4', 0], [4', 3'], [0, 3'], [2', -1']]",
            "at x 1′-6″, y 0″",
        ),
    ] {
        let found = bad(&format!(
            "job: {{title: Yard}}\nsheet: {{units: {units}}}\npaving: [{{outline: {outline}}}]\n\
             pavers: {{field: {{size: [8\", 4\"], thickness: 60 mm}}}}\n"
        ));
        let said = found[0].found.to_string();
        assert!(said.ends_with(at), "{said}");
    }
}
