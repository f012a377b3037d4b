//! The sheet of the pavers: straight joints over panel joints as drawn, and where the bond starts.

mod common;

use groundsheet::checks;
use groundsheet::design::Design;
use groundsheet::draw::{Group, Item, Pt, Sheet, Step};
use groundsheet::geom::{Point, clip};

fn worked(text: &str) -> (Design, Vec<Sheet>) {
    let (design, _, sheets) = common::worked::sheets(text);
    (design, sheets)
}

/// Every group of the sheets.
fn groups(sheets: &[Sheet]) -> Vec<&Group> {
    fn walk<'a>(items: &'a [Item], into: &mut Vec<&'a Group>) {
        for item in items {
            if let Item::Group(group) = item {
                into.push(group);
                walk(&group.items, into);
            }
        }
    }
    let mut all = Vec::new();
    sheets.iter().for_each(|sheet| walk(&sheet.items, &mut all));
    all
}

/// Every run of text of the sheets.
fn words(sheets: &[Sheet]) -> Vec<String> {
    fn walk(items: &[Item], into: &mut Vec<String>) {
        for item in items {
            match item {
                Item::Group(group) => walk(&group.items, into),
                Item::Text(text) => into.push(text.text.clone()),
                Item::Path(_) => {}
            }
        }
    }
    let mut all = Vec::new();
    sheets.iter().for_each(|s| walk(&s.items, &mut all));
    all
}

/// Length of the lines in items, on paper.
fn drawn(items: &[Item]) -> f64 {
    let mut length = 0.0;
    for item in items {
        match item {
            Item::Group(group) => length += drawn(&group.items),
            Item::Text(_) => {}
            Item::Path(path) => {
                let mut at = Pt::new(0.0, 0.0);
                for step in &path.outline {
                    match step {
                        Step::Move(to) => at = *to,
                        Step::Line(to) => {
                            length += at.distance(*to);
                            at = *to;
                        }
                        _ => panic!("straight stretches alone"),
                    }
                }
            }
        }
    }
    length
}

/// Pavers of 200 × 100 without joints in stack bond, panels of 900 × 600: joints at multiples of
/// 200 along and 100 across lie over panel joints at 600 across, and over those at 1800 along.
const STACK: &str = r#"
job: {title: Court}
sheet: {units: metric, scale: 1:20, paper: a1}
paving:
  - name: Court
    rectangle: {corner: [0, 0], width: 3.6 m, depth: 2.4 m}
    edges: {A-B: flush, B-C: flush, C-D: flush, D-A: flush}
    start: {corner: A, along: A-B}
    bond: stack
pavers:
  field: {size: [200 mm, 100 mm], thickness: 60 mm, joint: 0}
base:
  panel: {length: 900 mm, width: 600 mm, thickness: 20 mm}
"#;

#[test]
fn stretches_are_drawn_as_long_as_the_check_counts() {
    let (design, sheets) = worked(STACK);
    let under = &design.joints_over_joints;
    assert!(under.length > 3.0 * 3600.0 - 1.0, "{}", under.length);
    let layer: Vec<&Group> = groups(&sheets)
        .into_iter()
        .filter(|group| group.layer.as_deref() == Some("joints-over-joints"))
        .collect();
    assert_eq!(layer.len(), 1, "on the sheet of the pavers alone");
    let on_site = drawn(&layer[0].items) * 20.0;
    assert!(
        (on_site - under.length).abs() < 0.01,
        "{on_site} {}",
        under.length
    );
    let check = checks::run(&design);
    let check = check.iter().find(|f| f.id == "panels.under_joints");
    let value = check.and_then(|f| f.value).expect("the check's length");
    assert!((on_site - value).abs() < 0.01);
    let key = words(&sheets).join(" ");
    assert!(key.contains("Straight joint over panel joints"));
    let (_, sheets) = worked(&STACK.replace("bond: stack", "bond: herringbone"));
    let names = groups(&sheets);
    let marked = names
        .iter()
        .any(|g| g.layer.as_deref() == Some("joints-over-joints"));
    assert!(!marked && !words(&sheets).join(" ").contains("over panel joints"));
}

/// The bond is shifted: the mark stands on the corner of a paver as laid, in the field, and the two
/// distances on the sheet lead from the start corner to it.
#[test]
fn a_shifted_bond_is_marked_where_it_starts() {
    for (bond, turn, border) in [
        ("running", "0°", ""),
        (
            "herringbone",
            "45°",
            "border: [{paver: field, lay: soldier}]",
        ),
        ("stack", "30°", "border: [{paver: field, lay: sailor}]"),
    ] {
        let text = format!(
            "job: {{title: Court}}\nsheet: {{units: metric}}\npaving:\n  - name: Court\n    \
             outline: [[1 m, 0.5 m], [4.37 m, 0.5 m], [4.37 m, 3.11 m], [1 m, 3.11 m]]\n    \
             bond: {bond}\n    turn: {turn}\n    start: best\n    {border}\n\
             pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}\n"
        );
        let (design, sheets) = worked(&text);
        let area = &design.areas[0];
        let search = area.paving.search.expect("a search");
        assert_ne!(search.shift, [0.0, 0.0], "{bond}");
        let from = area.paving.start.from;
        assert!(clip::distance(&area.paving.field, from) < 0.6, "{bond}");
        let mut corners: Vec<Point> = Vec::new();
        let field = &area.paving.courses[0];
        field.whole.iter().for_each(|ring| corners.extend(ring));
        field.cut.iter().for_each(|cut| corners.extend(cut.cell));
        let near = corners.iter().map(|at| at.distance(from));
        let near = near.fold(f64::INFINITY, f64::min);
        assert!(near < 0.01, "{bond}: {near}");
        let (x, y) = (from.x - 1000.0, from.y - 500.0);
        assert!(x > -0.6 && y > -0.6, "{bond}");
        let wanted = format!("{x:.0} mm from A along A-B, {y:.0} mm square off it");
        let shown = words(&sheets);
        assert!(shown.contains(&wanted), "{bond}: {wanted}\n{shown:?}");
    }
}

/// A bond that is not shifted starts at the start corner, and nothing is measured off.
#[test]
fn a_bond_at_the_corner_is_not_measured_off() {
    let (design, sheets) = worked(STACK);
    assert_eq!(design.areas[0].paving.start.from, Point::new(0.0, 0.0));
    assert!(!words(&sheets).iter().any(|run| run.contains("square off")));
}

/// However many checks pass, each is on paper with its limit: rows go on where one would be too long.
#[test]
fn every_check_that_passes_is_on_paper() {
    let area = |i: usize| {
        let name = format!("Plot number {i} of the long row of plots beside the lane");
        format!("  - {{name: {name}, rectangle: {{corner: [{i} m, 0], width: 1 m, depth: 2 m}}}}\n")
    };
    let row: String = (0..24).map(area).collect();
    let row = format!(
        "job: {{title: Row}}\nsheet: {{units: metric}}\npaving:\n{row}\
         pavers: {{field: {{size: [200 mm, 100 mm], thickness: 60 mm}}}}\n\
         levels: {{finish: {{at: A, level: 10 m, fall: 2%, away_from: A-B}}}}\n"
    );
    for text in [include_str!("../jobs/bonds.yaml"), &row] {
        let (design, sheets) = worked(text);
        let said = words(&sheets).join(" ");
        let found = checks::run(&design);
        let passed = found
            .iter()
            .filter(|each| each.status == checks::Status::Pass);
        let titles: Vec<String> = passed.map(|each| each.title.to_string()).collect();
        assert!(titles.len() > 20);
        for title in titles {
            // What passes alike of several areas is said once after all their names; a table's
            // first cell may stand before them.
            let Some((name, rest)) = title.split_once(": ") else {
                assert!(said.contains(&title), "{title}");
                continue;
            };
            let before = said.match_indices(rest).map(|(at, _)| &said[..at]);
            let mut runs = before.filter_map(|before| {
                let names = before.strip_suffix(": ")?;
                Some(names.rsplit_once(". ").map_or(names, |(_, names)| names))
            });
            let named = |one: &str| one == name || one.ends_with(&format!(" {name}"));
            assert!(runs.any(|run| run.split(", ").any(named)), "{title}");
        }
    }
}
