//! The best layout against a finer search by brute force on small bases, and its rules.

use groundsheet::geom::{Frame, Point, Shape, Vector, clip};
use groundsheet::panels::{self, Laying, LayoutRule, PanelSpec, PanelsSpec, Run};

fn spec() -> PanelsSpec {
    PanelsSpec {
        panel: PanelSpec {
            length: 900.0,
            width: 600.0,
            thickness: 20.0,
            joint: 0.0,
        },
        stagger: 450.0,
        min_stagger: 150.0,
        min_piece: 100.0,
        layout: LayoutRule::Best,
        course_starts: Default::default(),
    }
}

fn frame() -> Frame {
    Frame {
        origin: Point::new(0.0, 0.0),
        u: Vector::new(1.0, 0.0),
        v: Vector::new(0.0, 1.0),
    }
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
        let rules = spec();
        let found = panels::best(&rules, base, &frame());
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
                        let score = panels::score(&rules, base, &frame(), laying);
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
    let rules = spec();
    let (layout, found) = panels::lay_by_rule(&rules, &base, &frame());
    let found = found.expect("the job asks for the best");
    let bought = panels::purchase(std::slice::from_ref(&layout), &rules.panel);
    assert_eq!(bought.buy, found.score.buy);
    assert!(found.score.buy <= found.fixed.buy);
    assert_eq!(found, panels::best(&rules, &base, &frame()));
    let fixed = PanelsSpec {
        layout: LayoutRule::Fixed,
        ..rules.clone()
    };
    assert_eq!(panels::lay_by_rule(&fixed, &base, &frame()).1, None);
}

#[test]
fn a_base_that_panels_fill_square_to_its_edge_is_laid_so() {
    // 600 by 1800 holds two whole panels square to the start edge and none along it
    let base = polygon(&[(0.0, 0.0), (600.0, 0.0), (600.0, 1800.0), (0.0, 1800.0)]);
    let found = panels::best(&spec(), &base, &frame());
    assert_eq!((found.score.buy, found.score.trimmed), (2, 0));
    assert_eq!(found.laying.run, Run::Square);
}

#[test]
fn courses_as_laid_keep_their_place_and_only_the_rest_is_searched() {
    let base = polygon(&[(0.0, 0.0), (3000.0, 0.0), (3000.0, 3000.0), (0.0, 3000.0)]);
    let mut rules = spec();
    rules.course_starts = [(0, 700.0), (1, 400.0)].into();
    let (layout, found) = panels::lay_by_rule(&rules, &base, &frame());
    let starts: Vec<f64> = layout.courses.iter().map(|c| c.first_length_mm).collect();
    assert_eq!(starts[..2], [700.0, 400.0]);
    assert_eq!(found.map(|found| found.laying.shift), Some([0.0, 0.0]));
}
