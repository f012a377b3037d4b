//! What the checks find and where it stands on the plan: planted faults of every kind are numbered,
//! the number stands by its place, and lists, report and plan say the same numbers.

use groundsheet::checks::{self, Finding, Status};
use groundsheet::draw::paper::Rect;
use groundsheet::draw::scale::Scale;
use groundsheet::draw::{Colour, Item, Pt, Text, conflicts};
use groundsheet::sheet::column::Entry;
use groundsheet::sheet::compose::content;
use groundsheet::sheet::plan;
use groundsheet::{design, job, report, sheet, takeoff};

/// Faults of a survey (tapes that cross flat), of levels (too little fall, a sill that is not kept
/// clear), of panels (joints lined up), of pavers (slivers) and of a buried service.
const FAULTY: &str = "\
job: {title: Planted faults}
sheet: {units: metric}
site:
  points:
    P: [0, 0]
    Q: [6 m, 0]
    R: {tape: {P: 5700 mm, Q: 320 mm}, side: left}
  structures:
    - {name: House, kind: building, outline: [[0, 0], [0, -2 m], [6 m, -2 m], [6 m, 0]]}
  services:
    - {name: Gas, kind: gas, line: [[1 m, -1 m], [1 m, 6 m]], depth: 600 mm, zone: 500 mm}
paving:
  - outline: [[0, 0], [6 m, 0], [6 m, 3950 mm], [0, 3950 mm]]
    edges: {A-B: wall}
pavers:
  field: {size: [200 mm, 100 mm], thickness: 60 mm}
base: {stagger: 0}
levels:
  datum: {name: Sill, level: 10 m}
  finish: {at: A, level: 9990 mm, fall: 1%, away_from: A-B}
  sills:
    - {name: Door, at: [3 m, 0], level: 10 m}
";

struct Worked {
    design: design::Design,
    takeoff: takeoff::Takeoff,
    findings: Vec<Finding>,
}

fn work(yaml: &str) -> Worked {
    let read = job::read(yaml.as_bytes()).unwrap_or_else(|errors| panic!("{errors:#?}"));
    let design = design::run(read).unwrap_or_else(|errors| panic!("{errors:#?}"));
    let takeoff = takeoff::of(&design).unwrap_or_else(|errors| panic!("{errors:#?}"));
    let findings = checks::run(&design);
    Worked {
        design,
        takeoff,
        findings,
    }
}

/// White figures on the plan with their places.
fn white(items: &[Item]) -> Vec<Text> {
    let inner = items.iter().flat_map(|item| match item {
        Item::Group(group) => white(&group.items),
        Item::Text(text) if text.colour == Colour::WHITE => vec![text.clone()],
        _ => Vec::new(),
    });
    inner.collect()
}

#[test]
fn planted_faults_of_every_kind_are_numbered_on_the_plan_near_their_places() {
    let worked = work(FAULTY);
    let content = content(&worked.design, &worked.takeoff, &worked.findings);
    let listed = checks::listed(&worked.findings);
    let numbered: Vec<&Finding> = listed
        .iter()
        .filter(|each| each.number.is_some())
        .map(|each| each.finding)
        .collect();
    for family in ["survey.", "levels.", "panels.", "pavers.", "services."] {
        let any = numbered
            .iter()
            .any(|finding| finding.id.starts_with(family));
        assert!(any, "no fault of {family} is numbered: {numbered:#?}");
    }
    assert!(numbered.iter().all(|f| f.status != Status::Pass));

    let scale = Scale::one_to(25.0);
    let zone = Rect::between(Pt::new(0.0, 0.0), Pt::new(400.0, 300.0));
    let middle = groundsheet::geom::Point::new(3000.0, 2000.0);
    let placing = scale.placed(middle, zone.centre());
    let drawn = plan::draw(&content.plan, &placing, zone, &[]);
    let signs = white(&drawn.items);
    // Every pair of cross joints too close has a number of its own.
    let crosses = worked.design.cross_joints.crosses.len();
    assert!(crosses > 10, "{crosses}");
    assert_eq!(signs.len(), numbered.len() - 1 + crosses);
    assert_eq!(content.plan.troubles.len(), signs.len());
    for trouble in &content.plan.troubles {
        let number = trouble.words();
        let mut same = signs.iter().filter(|text| text.text == number);
        let sign = same.next().expect("the number stands on the plan");
        assert!(same.next().is_none(), "{number} stands there once");
        // The middle of the figures lies half their height over the baseline.
        let apart = sign.at.moved(0.0, -1.25).distance(placing.at(trouble.at));
        assert!(apart < 13.0, "{number} stands {apart} mm off its place");
    }
}

#[test]
fn the_list_and_the_report_say_the_numbers_of_the_plan() {
    let worked = work(FAULTY);
    let content = content(&worked.design, &worked.takeoff, &worked.findings);
    let block = content.general.iter().find(|b| b.title == "Checks");
    let Some(Entry::Table(table)) = block.and_then(|b| b.entries.first()) else {
        panic!("a list of the checks");
    };
    let text = report::json(&worked.design, &worked.takeoff, &worked.findings, &[]);
    let report: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let reported = report["checks"].as_array().expect("a list");
    for trouble in &content.plan.troubles {
        if trouble.fault.is_some() {
            continue;
        }
        let number = trouble.number.to_string();
        let mut rows = table.rows.iter().filter(|row| row.cells[0] == number);
        let row = rows.next().expect("a row of the number");
        let mut same = reported.iter().filter(|c| c["number"] == trouble.number);
        let check = same.next().expect("a check of the number");
        assert!(rows.next().is_none() && same.next().is_none());
        let title = check["title"].as_str().expect("a title");
        assert!(row.cells[2].starts_with(title), "{title}: {:?}", row.cells);
        let at = [trouble.at.x, trouble.at.y];
        for (axis, value) in at.iter().enumerate() {
            let said = check["at_mm"][axis].as_f64().expect("a place");
            assert!((said - value).abs() < 1e-3);
        }
    }
}

#[test]
fn a_sheet_full_of_numbers_can_be_read() {
    let worked = work(FAULTY);
    let sheets = sheet::compose(&worked.design, &worked.takeoff, &worked.findings);
    for sheet in &sheets {
        let found = conflicts(sheet);
        assert!(found.is_empty(), "{}: {found:#?}", sheet.title);
    }
}

/// Where joints line up all over a large base the first faults are numbered, and the panels' sheet
/// says how many there are.
#[test]
fn of_very_many_faults_the_first_are_numbered() {
    let large = FAULTY
        .replace(
            "[6 m, 0], [6 m, 3950 mm], [0, 3950 mm]",
            "[18 m, 0], [18 m, 9 m], [0, 9 m]",
        )
        .replace("    edges: {A-B: wall}\n", "")
        .replace("away_from: A-B", "towards: 90°");
    let worked = work(&large);
    let crosses = worked.design.cross_joints.crosses.len();
    assert!(crosses > 200, "{crosses}");
    let content = content(&worked.design, &worked.takeoff, &worked.findings);
    let faults = content.plan.troubles.iter().filter(|t| t.fault.is_some());
    assert_eq!(faults.count(), 60);
    let panels = content
        .further
        .iter()
        .find(|sheet| sheet.name == "Panels and cutting list");
    let blocks = &panels.expect("a sheet of panels").blocks;
    let list = blocks
        .iter()
        .find(|block| block.title == "Cross joints too close");
    let entries = &list.expect("a list of faults").entries;
    let says = format!("Numbered are the first 60 of {crosses} places.");
    let said = |entry: &Entry| matches!(entry, Entry::Paragraph { words, .. } if *words == says);
    assert!(entries.iter().any(said));
    for sheet in &sheet::compose(&worked.design, &worked.takeoff, &worked.findings) {
        let found = conflicts(sheet);
        assert!(found.is_empty(), "{}: {found:#?}", sheet.title);
    }
}
