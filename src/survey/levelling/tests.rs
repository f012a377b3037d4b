//! Runs of levelling against published runs, and field books that make no sense.

use super::*;

fn sight(at: &str, back: f64, intermediate: f64, fore: f64) -> Sight {
    let some = |value: f64| (value != 0.0).then_some(value);
    Sight {
        at: at.into(),
        back: some(back),
        intermediate: some(intermediate),
        fore: some(fore),
    }
}

fn run(known: &[(&str, f64)], sights: Vec<Sight>, adjust: bool) -> LevellingResult {
    let run = Levelling {
        known: known.iter().map(|(n, l)| ((*n).into(), *l)).collect(),
        sights,
        adjust,
        limit: 0.1,
    };
    level_run(&run).unwrap()
}

fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

/// The rise-and-fall bookkeeping gives the levels of the height of instrument, and the sums
/// prove it: Σ back − Σ fore = Σ rises = last − first.
fn arithmetic_check(result: &LevellingResult) {
    let mut level = result.lines[0].reduced;
    for line in &result.lines[1..] {
        level += line.rise.unwrap();
        near(level, line.reduced);
    }
    near(
        result.sum_back - result.sum_fore,
        level - result.lines[0].reduced,
    );
}

/// Textbook run (askfilo): heights of instrument, reduced levels and a known closing level.
#[test]
fn published_height_of_instrument_run() {
    let sights = vec![
        sight("BM", 3.10, 0.0, 0.0),
        sight("1", 6.44, 0.0, 9.82),
        sight("2", 8.76, 0.0, 6.96),
        sight("3", 7.12, 0.0, 3.27),
        sight("BM2", 0.0, 0.0, 10.42),
    ];
    let done = run(&[("BM", 100.0), ("BM2", 94.91)], sights, false);
    let instrument: Vec<f64> = done.lines.iter().filter_map(|l| l.instrument).collect();
    for (found, wanted) in instrument.iter().zip([103.10, 99.72, 101.52, 105.37]) {
        near(*found, wanted);
    }
    for (line, wanted) in done.lines[1..].iter().zip([93.28, 92.76, 98.25, 94.95]) {
        near(line.reduced, wanted);
    }
    near(done.sum_back, 25.42);
    near(done.sum_fore, 30.47);
    near(done.misclosure.unwrap(), 0.04);
    arithmetic_check(&done);
}

/// Rise-and-fall example of structural.community, metres.
#[test]
fn published_rise_and_fall_run() {
    let sights = vec![
        sight("BM", 2.50, 0.0, 0.0),
        sight("A", 1.75, 0.0, 1.95),
        sight("B", 0.0, 2.55, 0.0),
        sight("C", 0.0, 2.70, 0.0),
        sight("D", 2.95, 0.0, 3.10),
        sight("E", 0.0, 0.0, 2.75),
    ];
    let done = run(&[("BM", 100.0)], sights, true);
    for (line, wanted) in done.lines[1..]
        .iter()
        .zip([100.55, 99.75, 99.60, 99.20, 99.40])
    {
        near(line.reduced, wanted);
    }
    near(done.sum_back, 7.20);
    near(done.sum_fore, 7.80);
    assert_eq!(done.misclosure, None);
    assert!(!done.adjusted);
    arithmetic_check(&done);
}

/// Ghilani and Wolf, Elementary Surveying: a loop that misses by 0.08, −0.02 for each set-up.
#[test]
fn published_loop_is_spread_over_its_set_ups() {
    let sights = vec![
        sight("BM", 6.78, 0.0, 0.0),
        sight("1", 5.04, 0.0, 7.76),
        sight("2", 5.63, 0.0, 5.05),
        sight("3", 7.35, 0.0, 2.64),
        sight("BM", 0.0, 0.0, 9.27),
    ];
    let done = run(&[("BM", 814.08)], sights, true);
    for (index, (reduced, level)) in [
        (813.10, 813.08),
        (813.09, 813.05),
        (816.08, 816.02),
        (814.16, 814.08),
    ]
    .into_iter()
    .enumerate()
    {
        near(done.lines[index + 1].reduced, reduced);
        near(done.lines[index + 1].level, level);
    }
    near(done.misclosure.unwrap(), 0.08);
    near(done.level("2").unwrap(), 813.05);
    near(done.level("BM").unwrap(), 814.08);
}

#[test]
fn lines_that_make_no_sense_are_named() {
    let known = [("BM", 100.0)];
    for (sights, index, words) in [
        (
            vec![sight("P", 1.0, 0.0, 0.0)],
            0,
            "level of P is not known",
        ),
        (vec![sight("P", 0.0, 1.0, 0.0)], 0, "before the instrument"),
        (vec![sight("BM", 0.0, 0.0, 0.0)], 0, "has no sight"),
        (
            vec![sight("BM", 1.0, 0.0, 0.0), sight("P", 1.0, 0.0, 0.0)],
            1,
            "has no fore sight",
        ),
        (
            vec![
                sight("BM", 1.0, 0.0, 0.0),
                sight("P", 0.0, 0.0, 1.0),
                sight("P", 1.0, 0.0, 0.0),
            ],
            2,
            "after the run has ended",
        ),
        (
            vec![sight("BM", 1.0, 0.0, 0.0), sight("P", 0.0, 1.0, 2.0)],
            1,
            "an intermediate and a fore sight",
        ),
        (
            vec![sight("BM", 1.0, 0.0, 0.0), sight("P", 0.0, 1.0, 0.0)],
            1,
            "last set-up has no fore sight",
        ),
    ] {
        let run = Levelling {
            known: known.iter().map(|(n, l)| ((*n).into(), *l)).collect(),
            sights,
            adjust: true,
            limit: 1.0,
        };
        let errors = level_run(&run).unwrap_err();
        assert_eq!(errors[0].sight, index, "{errors:?}");
        assert!(errors[0].found.contains(words), "{errors:?}");
    }
}
