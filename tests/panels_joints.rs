//! Cross joints against a scan of every pair: faults planted by stated first panels, by pieces
//! moved after laying, across obstacles and at breaks are all found, and what is said to put a
//! course right does.

mod common;

use common::numbers::Lehmer;
use common::panels::{PANEL, spec};
use common::places::upright;
use groundsheet::geom::{Point, Shape, clip};
use groundsheet::panels::{self, Layout, LayoutRule, PanelsSpec};

/// Laid from its start at a stagger.
fn stated(stagger: f64) -> PanelsSpec {
    spec(stagger, LayoutRule::Fixed)
}

fn rectangle(low: [f64; 2], high: [f64; 2]) -> Shape {
    let corners = [
        Point::new(low[0], low[1]),
        Point::new(high[0], low[1]),
        Point::new(high[0], high[1]),
        Point::new(low[0], high[1]),
    ];
    clip::shape_of_points(&corners)
}

/// The upright sides of a piece: where along, from where to where across, which way it faces.
fn uprights(shape: &Shape) -> Vec<(f64, f64, f64, bool)> {
    let rings = shape
        .iter()
        .flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()));
    rings
        .flat_map(|ring| ring.lines())
        .filter(|line| (line.start.x - line.end.x).abs() < 0.5)
        .filter(|line| (line.start.y - line.end.y).abs() > 0.5)
        .map(|line| {
            let (a, b) = (line.start.y, line.end.y);
            (line.start.x, a.min(b), a.max(b), b > a)
        })
        .collect()
}

/// Every cross joint of a layout along x: part, course, place along, from where to where across.
type Joint = (usize, usize, f64, f64, f64);

fn joints(layouts: &[Layout]) -> Vec<Joint> {
    let mut found: Vec<Joint> = Vec::new();
    for (part, layout) in layouts.iter().enumerate() {
        for one in &layout.pieces {
            for other in &layout.pieces {
                if one.course != other.course || one.position == other.position {
                    continue;
                }
                for (u, low, high, faces) in uprights(&one.shape) {
                    for (at, bottom, top, other_faces) in uprights(&other.shape) {
                        let (low, high) = (low.max(bottom), high.min(top));
                        let meet = faces && !other_faces && (u - at).abs() < 0.5;
                        if meet && high - low > 0.5 {
                            found.push((part, one.course, u, low, high));
                        }
                    }
                }
            }
        }
    }
    // stretches of one joint that follow each other
    found.sort_by(|a, b| {
        (a.0, a.1)
            .cmp(&(b.0, b.1))
            .then(a.2.total_cmp(&b.2))
            .then(a.3.total_cmp(&b.3))
    });
    let mut joined: Vec<Joint> = Vec::new();
    for joint in found {
        match joined.last_mut() {
            Some(last)
                if (last.0, last.1) == (joint.0, joint.1)
                    && (last.2 - joint.2).abs() < 0.5
                    && joint.3 - last.4 < 0.5 =>
            {
                last.4 = joint.4;
            }
            _ => joined.push(joint),
        }
    }
    joined
}

/// Every pair too close by looking at all pairs: joints that run to one line from either side.
fn scan(layouts: &[Layout]) -> Vec<(i64, i64)> {
    let joints = joints(layouts);
    let mut faults = Vec::new();
    for a in &joints {
        for b in &joints {
            let beside = a.0 != b.0 || a.1 + 1 == b.1;
            // of parts side by side the lower one comes first, as its courses do
            let offset = (a.2 - b.2).abs();
            if beside && (a.4 - b.3).abs() < 0.5 && offset < stated(0.0).min_stagger - 0.5 {
                faults.push(place(Point::new((a.2 + b.2) / 2.0, (a.4 + b.3) / 2.0)));
            }
        }
    }
    faults.sort_unstable();
    faults
}

fn place(at: Point) -> (i64, i64) {
    ((at.x / 2.0).round() as i64, (at.y / 2.0).round() as i64)
}

fn found(layouts: &[Layout]) -> Vec<(i64, i64)> {
    let crosses = panels::cross_joints(layouts, &stated(0.0)).crosses;
    let mut faults: Vec<(i64, i64)> = crosses.iter().map(|cross| place(cross.at)).collect();
    faults.sort_unstable();
    faults
}

/// A base of 7 m × 6 m with two obstacles at random places.
fn base(numbers: &mut Lehmer) -> Shape {
    let mut base = rectangle([0.0, 0.0], [7013.0, 6007.0]);
    for _ in 0..2 {
        let (x, y) = (numbers.next(500.0, 6000.0), numbers.next(500.0, 5000.0));
        let (wide, high) = (numbers.next(40.0, 900.0), numbers.next(40.0, 900.0));
        let round = |value: f64| value.round() + 0.25;
        let hole = rectangle([round(x), round(y)], [round(x + wide), round(y + high)]);
        base = clip::difference(&base, &hole);
    }
    base
}

fn assert_close(one: &[(i64, i64)], other: &[(i64, i64)], round: usize) {
    assert_eq!(one.len(), other.len(), "round {round}: {one:?} {other:?}");
    for at in one {
        let near = |b: &&(i64, i64)| (at.0 - b.0).abs() <= 1 && (at.1 - b.1).abs() <= 1;
        assert!(other.iter().any(|b| near(&b)), "round {round}: {at:?}");
    }
}

#[test]
fn faults_of_courses_as_laid_are_all_found() {
    let mut numbers = Lehmer(20_260_601);
    let mut planted = 0;
    for round in 0..60 {
        let base = base(&mut numbers);
        let mut rules = stated(450.0);
        for course in 0..10 {
            if numbers.next(0.0, 1.0) < 0.7 {
                let start = numbers.next(50.0, 899.0).round() + 0.5;
                rules.course_starts.insert(course, start);
            }
        }
        let laid = [panels::lay(&rules, &base, &upright(0.0, 0.0))];
        let wanted = scan(&laid);
        assert_close(&found(&laid), &wanted, round);
        planted += wanted.len();
    }
    assert!(planted > 500, "{planted}");
}

#[test]
fn pieces_moved_after_laying_are_found_where_they_lie() {
    let mut numbers = Lehmer(77);
    for round in 0..40 {
        let base = base(&mut numbers);
        let mut laid = [panels::lay(&stated(450.0), &base, &upright(0.0, 0.0))];
        assert_eq!(found(&laid), []);
        // one course slid along by a random length
        let by = numbers.next(320.0, 580.0).round();
        let course = 1 + round % 9;
        for piece in laid[0]
            .pieces
            .iter_mut()
            .filter(|piece| piece.course == course)
        {
            piece.shape = geo::MapCoords::map_coords(&piece.shape, |at| (at.x + by, at.y).into());
        }
        let wanted = scan(&laid);
        assert!(!wanted.is_empty());
        assert_close(&found(&laid), &wanted, round);
    }
}

#[test]
fn faults_at_a_break_between_parts_are_found() {
    let mut numbers = Lehmer(4_711);
    let mut planted = 0;
    for round in 0..40 {
        // the break runs along the courses of both parts, at no course line of the upper one
        let at = 1800.0;
        let lower = rectangle([0.0, 0.0], [7013.0, at]);
        let upper = rectangle([0.0, at], [7013.0, 6007.0]);
        let off = numbers.next(0.0, 900.0).round();
        let mut second = panels::lay(&stated(450.0), &upper, &upright(off, at - 100.0));
        let first = panels::lay(&stated(450.0), &lower, &upright(0.0, 0.0));
        second.number_from(first.courses.len());
        let laid = [first, second];
        let wanted = scan(&laid);
        assert_close(&found(&laid), &wanted, round);
        planted += wanted.len();
    }
    assert!(planted > 40, "{planted}");
}

#[test]
fn what_puts_a_course_right_does_and_nothing_less() {
    let mut numbers = Lehmer(99);
    let base = rectangle([0.0, 0.0], [7013.0, 1200.0]);
    for _ in 0..60 {
        let mut rules = stated(450.0);
        for course in 0..2 {
            let start = numbers.next(100.0, 899.0).round();
            rules.course_starts.insert(course, start);
        }
        let faults = |rules: &PanelsSpec| {
            let laid = [panels::lay(rules, &base, &upright(0.0, 0.0))];
            panels::cross_joints(&laid, rules).crosses
        };
        let crosses = faults(&rules);
        let Some(cross) = crosses.first() else {
            continue;
        };
        let remedy = cross
            .remedy
            .expect("a trim of 100 to 900 puts every start right");
        assert_eq!(remedy.course, 2);
        let stated = rules.course_starts[&1];
        rules.course_starts.insert(1, remedy.first_mm);
        assert_eq!(faults(&rules), []);
        // any trim that is less by 2 mm or more is no remedy
        for share in 1..20 {
            let back = (remedy.back_mm - 2.0) * f64::from(share) / 19.0;
            let first = (stated - back).rem_euclid(PANEL.length);
            rules.course_starts.insert(1, first);
            assert!(
                !faults(&rules).is_empty() || first < rules.min_piece,
                "{first}"
            );
        }
    }
}
