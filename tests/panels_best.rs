//! The best layout against a finer search by brute force on small bases, and its rules.

mod common;

use common::panels::spec;
use common::places::upright;
use groundsheet::geom::{Point, Shape, clip};
use groundsheet::panels::{self, Laying, LayoutRule, PanelsSpec, Run};

/// Laid at best.
fn rules() -> PanelsSpec {
    spec(450.0, LayoutRule::Best)
}

fn polygon(points: &[(f64, f64)]) -> Shape {
    let points: Vec<Point> = points.iter().map(|(x, y)| Point::new(*x, *y)).collect();
    clip::shape_of_points(&points)
}

#[test]
fn no_finer_search_buys_fewer_on_small_bases() {
    let bases = [
        polygon(&[(0.0, 0.0), (1500.0, 0.0), (1500.0, 1700.0), (0.0, 1700.0)]),
        polygon(&[(0.0, 0.0), (2000.0, 0.0), (2000.0, 900.0), (0.0, 900.0)]),
        polygon(&[
            (0.0, 0.0),
            (1900.0, 0.0),
            (1900.0, 800.0),
            (1000.0, 800.0),
            (1000.0, 1500.0),
            (0.0, 1500.0),
        ]),
    ];
    for (number, base) in bases.iter().enumerate() {
        let rules = rules();
        let found = panels::best(&rules, base, &upright(0.0, 0.0));
        assert_eq!(found.score.faults, 0);
        let mut least = usize::MAX;
        for run in [Run::Along, Run::Square] {
            for u in (0..900).step_by(100) {
                for v in (0..600).step_by(100) {
                    for stagger in (150..=750).step_by(150) {
                        let laying = Laying {
                            run,
                            shift: [-f64::from(u), -f64::from(v)],
                            stagger: f64::from(stagger),
                        };
                        let score = panels::score(&rules, base, &upright(0.0, 0.0), laying);
                        if score.faults == 0 {
                            least = least.min(score.buy);
                        }
                    }
                }
            }
        }
        assert!(
            found.score.buy <= least,
            "base {number}: {found:?}, {least}"
        );
    }
}

#[test]
fn the_layout_taken_is_what_was_scored_and_never_worse_than_stated() {
    let base = polygon(&[(0.0, 0.0), (4100.0, 0.0), (3600.0, 2900.0), (0.0, 2500.0)]);
    let rules = rules();
    let (layout, found) = panels::lay_by_rule(&rules, &base, &upright(0.0, 0.0));
    let found = found.expect("the job asks for the best");
    let bought = panels::purchase(std::slice::from_ref(&layout), &rules.panel);
    assert_eq!(bought.buy, found.score.buy);
    assert!(found.score.buy <= found.fixed.buy);
    assert_eq!(found, panels::best(&rules, &base, &upright(0.0, 0.0)));
    let fixed = PanelsSpec {
        layout: LayoutRule::Fixed,
        ..rules.clone()
    };
    assert_eq!(
        panels::lay_by_rule(&fixed, &base, &upright(0.0, 0.0)).1,
        None
    );
}

#[test]
fn a_base_that_panels_fill_square_to_its_edge_is_laid_so() {
    // 600 by 1800 holds two whole panels square to the start edge and none along it
    let base = polygon(&[(0.0, 0.0), (600.0, 0.0), (600.0, 1800.0), (0.0, 1800.0)]);
    let found = panels::best(&rules(), &base, &upright(0.0, 0.0));
    assert_eq!((found.score.buy, found.score.trimmed), (2, 0));
    assert_eq!(found.laying.run, Run::Square);
}

#[test]
fn courses_as_laid_keep_their_place_and_only_the_rest_is_searched() {
    let base = polygon(&[(0.0, 0.0), (3000.0, 0.0), (3000.0, 3000.0), (0.0, 3000.0)]);
    let mut rules = rules();
    rules.course_starts = [(0, 700.0), (1, 400.0)].into();
    let (layout, found) = panels::lay_by_rule(&rules, &base, &upright(0.0, 0.0));
    let starts: Vec<f64> = layout.courses.iter().map(|c| c.first_length_mm).collect();
    assert_eq!(starts[..2], [700.0, 400.0]);
    assert_eq!(found.map(|found| found.laying.shift), Some([0.0, 0.0]));
}
