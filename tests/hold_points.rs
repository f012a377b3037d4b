//! Hold points and the sheet of the pavers against published tolerances and sums done by hand.

mod common;

use common::worked::{design, sheets, words};
use groundsheet::paving::Place;
use groundsheet::sheet::column::{Block, Entry};
use groundsheet::sheet::{from_plan, holds, paver_plan};

/// A yard of 10 whole modules each way, without and with base extension and restraint.
fn yard(units: &str, more: &str) -> String {
    format!(
        "job: {{title: Yard}}\nsheet: {{units: {units}}}\n\
         paving:\n  - name: Yard\n    rectangle: {{corner: [0, 0], width: 2050 mm, depth: 1027 mm}}\n\
         \x20   bond: stack\n    turn: 15°\n\
         pavers:\n  field: {{size: [200 mm, 100 mm], thickness: 60 mm}}\n{more}"
    )
}

fn rows(block: &Block) -> Vec<Vec<String>> {
    let tables = block.entries.iter().filter_map(|entry| match entry {
        Entry::Table(table) => Some(table.rows.iter().map(|row| row.cells.clone())),
        _ => None,
    });
    tables.flatten().collect()
}

fn held(yaml: &str, what: &str) -> Option<String> {
    let rows = rows(&holds::points(&design(yaml)));
    let row = rows.into_iter().find(|row| row[0].starts_with(what))?;
    Some(format!("{} | {}", row[1], row[2]))
}

/// Construction tolerances and recommendations for interlocking concrete pavements (association
/// of the makers): surface and base 3/8 in in 10 ft, joint lines 1/2 in in 50 ft, joints 1/16 to
/// 3/16 in (2 to 5 mm), 1/8 in from paver to paver, jointing 1/2 in below the top. The federal
/// guide specification UFGS 02780 gives the restraint 1/4 in. Metric: 10 mm under 3 m, BS 7533.
#[test]
fn published_tolerances_stand_in_both_units() {
    let tolerance = "construction tolerances, interlocking pavements";
    for (what, feet, metric, rule) in [
        ("Surface", "±⅜″ in 10′-0″", "±10 mm in 3000 mm", tolerance),
        (
            "Panel tops",
            "±⅜″ in 10′-0″",
            "±10 mm in 3000 mm",
            tolerance,
        ),
        (
            "Joint lines",
            "±½″ in 50′-0″",
            "±12 mm in 15000 mm",
            tolerance,
        ),
        ("Joint width", "1/16″ to 3/16″", "2 mm to 5 mm", tolerance),
        ("Paver to paver", "at most ⅛″", "at most 3 mm", tolerance),
        ("Jointing below", "at most ½″", "at most 12 mm", tolerance),
        ("Gap between", "at most ¼″", "at most 6 mm", "UFGS 02780"),
    ] {
        for (units, within) in [("feet-inches", feet), ("metric", metric)] {
            let found = held(&yard(units, ""), what).unwrap_or_else(|| panic!("no {what}"));
            assert_eq!(found, format!("{within} | {rule}"), "{what}");
        }
    }
}

/// What the job states is held to as it states it, and what it has not is not held.
#[test]
fn what_the_job_states_is_held() {
    let stated = "base: {min_stagger: 170 mm, min_piece: 90 mm}\n\
                  bedding: {loose: 31 mm, compacted: 24 mm}\n\
                  levels: {finish: {fall: 3%}, minimum_fall: 2.5%}\n";
    let job = yard("metric", stated);
    let is = |what: &str| held(&job, what);
    assert_eq!(
        is("Bedding").as_deref(),
        Some("31 mm loose settles to 24 mm | this job")
    );
    assert_eq!(
        is("Cross joints").as_deref(),
        Some("at least 170 mm apart | this job")
    );
    assert_eq!(is("Fall").as_deref(), Some("at least 2.5% | this job"));
    let as_drawn = held(&yard("metric", ""), "Fall").unwrap();
    assert!(as_drawn.starts_with("as drawn"), "{as_drawn}");
    let enclosed = yard("metric", "").replace(
        "    bond: stack",
        "    edges: {A-B: flush, B-C: flush, C-D: flush, D-A: flush}\n    bond: stack",
    );
    assert_eq!(design(&enclosed).edging.length_mm, 0.0);
    assert_eq!(held(&enclosed, "Gap between"), None);
    assert_eq!(held(&job, "Rims"), None);
    let gully = "site:\n  drains: [{name: Gully, kind: point, at: [1 m, 0.5 m], size: 200 mm}]\n";
    let drained = yard("metric", gully);
    assert_eq!(
        held(&drained, "Rims").as_deref(),
        Some("±3 mm | common practice")
    );
    assert_eq!(
        held(&job, "Surface before").as_deref(),
        Some("swept, no grain left | common practice")
    );
}

/// The pavers' sheet counts what was laid, place by place, and says where and how it starts.
#[test]
fn the_sheet_of_the_pavers_counts_what_is_laid() {
    let text = yard(
        "metric",
        "  edge: {size: [200 mm, 100 mm], thickness: 60 mm}\n",
    )
    .replace(
        "    bond: stack",
        "    border: [{paver: edge}]\n    bond: stack",
    );
    let (design, _, set) = sheets(&text);
    let courses = &design.areas[0].paving.courses;
    assert!(courses.len() == 2 && courses[0].cut_count() > courses[0].sliver_count());
    assert!(courses[0].sliver_count() > 0 && courses[0].whole.len() != courses[0].cut_count());
    let further = paver_plan::sheet(&design, &from_plan::plan(&design)).expect("pavers are laid");
    for (row, laid) in rows(&further.blocks[0]).iter().zip(courses) {
        let place = match laid.place {
            Place::Field => "Yard".to_string(),
            Place::Border(number) => format!("Yard, border {number}"),
        };
        let counts = [laid.whole.len(), laid.cut_count(), laid.sliver_count()];
        let counts = counts.map(|count| count.to_string());
        assert_eq!((&row[0], &row[2..5]), (&place, &counts[..]));
    }
    let start = further.plan.unwrap().areas[0]
        .start
        .clone()
        .expect("a start");
    assert!(start.words[0].ends_with("at 15°"), "{:?}", start.words);
    assert_eq!(start.line[0], design.areas[0].paving.start.from);
    let sheet = set.iter().find(|sheet| sheet.title.contains("Pavers"));
    let words = words(&sheet.expect("a sheet of the pavers").items);
    assert!(words.contains(&start.words[0]), "{words:?}");
}
