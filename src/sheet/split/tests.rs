//! A plan in parts.

use super::*;

fn plan() -> PlanModel {
    let ring = |x: f64, y: f64, w: f64, h: f64| {
        vec![
            Point::new(x, y),
            Point::new(x + w, y),
            Point::new(x + w, y + h),
            Point::new(x, y + h),
        ]
    };
    PlanModel {
        dig: vec![ring(0.0, 0.0, 60_000.0, 20_000.0)],
        nails: (0..60)
            .map(|i| Point::new(f64::from(i) * 1000.0 + 500.0, 0.0))
            .collect(),
        ..PlanModel::default()
    }
}

/// 60 m by 20 m in sheets of 25 m by 25 m with laps of 0.5 m: three parts in a row, whose
/// areas without the laps add up to the whole, and every nail stands on at least one.
#[test]
fn parts_cover_the_plan_and_lap() {
    let plan = plan();
    let bounds = [Point::new(0.0, 0.0), Point::new(60_000.0, 20_000.0)];
    let grid = grid(bounds, (25_000.0, 25_000.0), 500.0);
    assert_eq!(grid.count, (3, 1));
    let sheets = parts(&plan, &grid, System::Metric);
    assert_eq!(sheets.len(), 3);
    let area: f64 = sheets
        .iter()
        .filter_map(|sheet| sheet.plan.as_deref())
        .map(|part| clip::area(&clip::wound(&part.dig)))
        .sum();
    // Two match lines, each with a strip of 1 m by 20 m on two sheets.
    let whole = 60_000.0 * 20_000.0 + 2.0 * 1_000.0 * 20_000.0;
    assert!((area - whole).abs() < 1e3, "{area}");
    let nails: usize = sheets
        .iter()
        .filter_map(|s| s.plan.as_deref())
        .map(|p| p.nails.len())
        .sum();
    // Half a metre to either side of each match line stands a nail, which both sheets show.
    assert_eq!(nails, 60 + 4);
    assert_eq!(sheets[1].name, "Plan, part A2");
    let lines = sheets[1]
        .plan
        .as_ref()
        .and_then(|p| p.window.as_ref())
        .map(|w| w.lines.len());
    assert_eq!(lines, Some(2));
}

/// What fits a sheet of its own whole is not parted: no match lines, no part names.
#[test]
fn a_single_part_is_the_whole_plan() {
    let plan = plan();
    let bounds = [Point::new(0.0, 0.0), Point::new(60_000.0, 20_000.0)];
    let grid = grid(bounds, (70_000.0, 25_000.0), 500.0);
    assert_eq!(grid.parts(), 1);
    let sheets = parts(&plan, &grid, System::Metric);
    let [only] = &sheets[..] else {
        panic!("one sheet");
    };
    assert!(only.blocks.is_empty());
    let part = only.plan.as_ref().expect("a plan");
    assert_eq!(part.nails.len(), 60);
    assert_eq!(part.window.as_ref().map(|w| w.lines.len()), Some(0));
    let shown = overview(&plan, &grid);
    assert!(shown.parts.is_empty() && shown.match_lines.is_empty());
}
