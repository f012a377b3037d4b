//! The order of work: what every job has, and the steps that only some do.

mod common;

use common::worked::{example, sheets, words};

/// The words of a job's sheets, in a row.
fn said(text: &str) -> String {
    let (_, _, sheets) = sheets(text);
    let words = sheets.iter().flat_map(|sheet| words(&sheet.items));
    words.collect::<Vec<_>>().join(" ")
}

/// Where every area starts is said once for all that start alike, else area by area; the border
/// follows its field.
#[test]
fn says_where_panels_and_each_bond_start() {
    let bonds = said(&example("bonds"));
    for part in [
        "Running from corner A along A-B; Stack from corner B along B-E; ",
        "Herringbone from corner E along E-G, turned 45° from the start edge; ",
        "then set the border, corners mitred.",
    ] {
        assert!(bonds.contains(part), "{part}");
    }
    // The panels of a base in parts start part by part, each with its own first area.
    let pool = said(&example("pool-surround"));
    let parts = "Lay panels, locking sides together: South side from corner A along A-B; East side from corner B along B-E; ";
    assert!(pool.contains(parts), "{pool}");
    // Parts whose rails stand alike are named together.
    let rails = "apart, packed to the levels of the table, each part of the base with its own";
    let spacing = "1550 mm (South side, North side), 1575 mm (East side, West side)";
    assert!(pool.contains(&format!("{spacing} {rails}")), "{pool}");
    let landing = said(&example("landing"));
    assert!(landing.contains("Lay panels, locking sides together: from corner A along A-B. First"));
    assert!(landing.contains("closers cut last: from corner A along A-B. "));
    assert!(!landing.contains("set the border"));
}

/// Roots and open water have their cautions where the site has trees by the dig or a pool.
#[test]
fn cautions_follow_what_stands_on_the_site() {
    let roots = "Roots of Maple: dig by hand near the trunk,";
    let water = "Open water at Pool: cover it or bar it off";
    let has = |name: &str| {
        let said = said(&example(name));
        [said.contains(roots), said.contains(water)]
    };
    assert_eq!(has("two-walls"), [true, false]);
    assert_eq!(has("pool-surround"), [false, true]);
    assert_eq!(has("landing"), [false, false]);
    // The roots of a tree 20 ft off are none of the dig's.
    let far = example("two-walls");
    let tree = "{name: Maple, kind: tree, circle: {centre: [5', 15'], radius: 12\"}}";
    assert!(far.contains(tree));
    let far = far.replace(tree, &tree.replace("[5', 15']", "[45', 15']"));
    assert!(!said(&far).contains("Roots of"));
}

/// Stakes are driven before the ground is opened; over a buried service it is opened by hand; and
/// ground above the finish is graded off before the backfill.
#[test]
fn stakes_hand_digging_and_grading_have_their_steps() {
    let hillside = said(&example("hillside-terrace"));
    let steps = [
        "2. Drive the offset stakes outside the dig and mark them as their table says: strings at the \
         heights it gives bring back",
        "3. Dig by hand within the band that the plan shows along each buried service, no machine there: water pipe.",
        "4. Dig to the formation level,",
        "Grade the ground outside these edges below the finish and away from the paving: P4-P1. \
         Backfill beside the restraint",
    ];
    let mut rest = hillside.as_str();
    for step in steps {
        let at = rest
            .find(step)
            .unwrap_or_else(|| panic!("no “{step}”: {hillside}"));
        rest = &rest[at..];
    }
    let flush = "job: {title: Court}\nsheet: {units: metric}\npaving: [{name: Court, rectangle: \
                 {corner: [0, 0], width: 4 m, depth: 3 m}, edges: {A-B: flush, B-C: flush, C-D: \
                 flush, D-A: flush}}]\npavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}\n";
    let flush = said(flush);
    assert!(flush.contains("1. Have buried utilities located"));
    for step in ["offset stakes", "Dig by hand", "Grade the ground"] {
        assert!(!flush.contains(step), "{step}");
    }
}
