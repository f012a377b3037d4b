//! Laws of laid pavers: module arithmetic, areas that add up, and counts that turning the site
//! does not change.

mod common;

use common::pavers::{paver, pinwheel};
use common::places::upright;
use geo::{Area, Coord, LineString, MultiPolygon, Polygon};
use groundsheet::geom::{Frame, Point, Vector};
use groundsheet::paving::{Bond, Ground, PaverSpec, Paving, PavingSpec, Shift, lay};

const BONDS: [Bond; 4] = [
    Bond::Running,
    Bond::Stack,
    Bond::Herringbone,
    Bond::Basketweave,
];

/// An outline without a right angle, with a corner turned in.
const ASKEW: [(f64, f64); 6] = [
    (0.0, 0.0),
    (9000.0, 500.0),
    (8200.0, 4000.0),
    (5000.0, 4200.0),
    (4300.0, 7000.0),
    (-300.0, 6000.0),
];

fn shape(points: &[(f64, f64)], turn: f64, by: (f64, f64)) -> MultiPolygon<f64> {
    let (sin, cos) = turn.to_radians().sin_cos();
    let ring = points.iter().map(|(x, y)| Coord {
        x: x * cos - y * sin + by.0,
        y: x * sin + y * cos + by.1,
    });
    MultiPolygon::new(vec![Polygon::new(
        LineString::new(ring.collect()),
        Vec::new(),
    )])
}

/// A rectangle from the origin.
fn rectangle(wide: f64, tall: f64) -> MultiPolygon<f64> {
    let corners = [(0.0, 0.0), (wide, 0.0), (wide, tall), (0.0, tall)];
    shape(&corners, 0.0, (0.0, 0.0))
}

fn frame(turn: f64, by: (f64, f64)) -> Frame {
    let u = Vector::new(turn.to_radians().cos(), turn.to_radians().sin());
    Frame {
        origin: Point::new(by.0, by.1),
        u,
        v: u.left(),
    }
}

fn plain(bond: Bond, turn: f64) -> PavingSpec {
    PavingSpec {
        turn,
        ..PavingSpec::plain(0, bond)
    }
}

fn laid(
    bond: Bond,
    turn: f64,
    stone: &PaverSpec,
    shape: &MultiPolygon<f64>,
    frame: &Frame,
) -> Paving {
    let ground = Ground { rings: &[], shape };
    lay(
        &plain(bond, turn),
        std::slice::from_ref(stone),
        ground,
        frame,
    )
    .unwrap()
}

/// A rectangle of whole modules takes exactly the pavers that the modules say, none cut, and its
/// stack joints measure (columns − 1) × height + (rows − 1) × width.
#[test]
fn modules_fill_a_rectangle() {
    let stone = paver(200.0, 100.0, 3.0);
    let (wide, tall) = (30.0 * 203.0 - 3.0, 40.0 * 103.0 - 3.0);
    let field = rectangle(wide, tall);
    let at = upright(0.0, 0.0);
    let stack = laid(Bond::Stack, 0.0, &stone, &field, &at);
    assert_eq!(stack.courses[0].whole.len(), 1200);
    assert_eq!(stack.courses[0].cut_count(), 0);
    let joints = 29.0 * tall + 39.0 * wide;
    assert!((stack.joint_length() - joints).abs() < 1e-6);
    assert_eq!(stack.runs.len(), 29 + 39);

    // Half offset: every second course has one whole paver less and a half at both ends.
    let running = laid(Bond::Running, 0.0, &stone, &field, &at);
    let course = &running.courses[0];
    assert_eq!(
        (course.whole.len(), course.cut_count()),
        (20 * 30 + 20 * 29, 40)
    );
    assert_eq!(course.sliver_count(), 0);
    assert_eq!(course.buy, 1180 + 20);
    assert_eq!(running.runs.len(), 39);
    assert!((course.cut_length - 40.0 * 100.0).abs() < 1e-6);
    let heads = 20.0 * (29.0 + 30.0);
    let per_course = 103.0 * heads - 3.0 / 2.0 * (29.0 + 30.0);
    assert!((running.joint_length() - 39.0 * wide - per_course).abs() < 1e-6);
}

/// Pavers per area on a large field follow from the module alone.
#[test]
fn pavers_per_area_follow_the_module() {
    let stone = paver(200.0, 100.0, 3.0);
    let side = 20_000.0;
    let field = rectangle(side, side);
    let modules = [203.0 * 103.0, 203.0 * 103.0, 206.0 * 103.0, 206.0 * 103.0];
    for (bond, module) in BONDS.into_iter().zip(modules) {
        let paving = laid(bond.clone(), 33.0, &stone, &field, &upright(0.0, 0.0));
        let course = &paving.courses[0];
        let cut: f64 = course.cut.iter().map(|piece| piece.area).sum();
        let pavers = course.whole.len() as f64 + cut / 20_000.0;
        let wanted = side * side / module;
        assert!(
            (pavers / wanted - 1.0).abs() < 0.001,
            "{bond:?} {pavers} {wanted}"
        );
    }
}

/// Whole and cut pavers and the joints between them make up the area, but for half a joint along
/// the outline and the crossings, which the joint length counts twice.
#[test]
fn pavers_and_joints_make_up_the_area() {
    let stone = paver(200.0, 97.0, 6.0);
    let field = shape(&ASKEW, 0.0, (0.0, 0.0));
    for bond in BONDS {
        let paving = laid(bond.clone(), 27.0, &stone, &field, &frame(3.0, (0.0, 0.0)));
        let course = &paving.courses[0];
        let cut: f64 = course.cut.iter().map(|piece| piece.area).sum();
        let pavers = course.whole.len() as f64 * 200.0 * 97.0 + cut;
        let joints = course.joint_area;
        let gap = (pavers + joints) / field.unsigned_area() - 1.0;
        assert!(gap.abs() < 0.006, "{bond:?}: {gap}");
    }
}

/// Turning and moving the site changes no count.
#[test]
fn turning_the_site_changes_no_count() {
    let stone = paver(203.2, 101.6, 3.175);
    let points = [
        (0.0, 0.0),
        (6096.0, 0.0),
        (6096.0, 3048.0),
        (3000.0, 3048.0),
        (3000.0, 4572.0),
        (0.0, 4572.0),
    ];
    for bond in BONDS {
        for bond_turn in [0.0, 45.0, 90.0, 12.5] {
            let figures = |turn: f64, by: (f64, f64)| {
                let field = shape(&points, turn, by);
                let paving = laid(bond.clone(), bond_turn, &stone, &field, &frame(turn, by));
                let course = &paving.courses[0];
                let counts = (
                    course.whole.len(),
                    course.cut_count(),
                    course.sliver_count(),
                    course.buy,
                );
                (counts, course.joint_length, course.cut_length)
            };
            let (counts, joint, saw) = figures(0.0, (0.0, 0.0));
            for turn in [17.0, 90.0, 123.4] {
                let turned = figures(turn, (-3456.7, 8901.2));
                assert_eq!(counts, turned.0, "{bond:?} {bond_turn} {turn}");
                assert!(
                    (joint - turned.1).abs() < 0.01,
                    "{bond:?} {bond_turn} {turn}"
                );
                assert!((saw - turned.2).abs() < 0.01, "{bond:?} {bond_turn} {turn}");
            }
        }
    }
}

/// Each bond has its first paver's corner at the start corner, long side along the edge.
#[test]
fn the_first_paver_sits_at_the_start_corner() {
    let stone = paver(200.0, 100.0, 3.0);
    let field = rectangle(3000.0, 3000.0);
    let has = |bond, points: [(f64, f64); 4]| {
        let paving = laid(bond, 0.0, &stone, &field, &upright(0.0, 0.0));
        paving.courses[0]
            .whole
            .iter()
            .any(|corners| corners == points.map(|(x, y)| Point::new(x, y)))
    };
    for bond in BONDS {
        assert!(
            has(
                bond.clone(),
                [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)]
            ),
            "{bond:?}"
        );
    }
    // Herringbone: the next stands across the first one's end at the start corner.
    let next = [(100.0, 103.0), (100.0, 303.0), (0.0, 303.0), (0.0, 103.0)];
    assert!(has(Bond::Herringbone, next));
}

#[test]
fn herringbone_refuses_a_long_paver() {
    let field = shape(
        &[(0.0, 0.0), (3000.0, 0.0), (3000.0, 3000.0)],
        0.0,
        (0.0, 0.0),
    );
    let ground = Ground {
        rings: &[],
        shape: &field,
    };
    let long = [paver(210.0, 100.0, 3.0)];
    assert!(
        lay(
            &plain(Bond::Herringbone, 0.0),
            &long,
            ground,
            &upright(0.0, 0.0)
        )
        .is_err()
    );
    let short = [paver(190.0, 100.0, 3.0)];
    assert!(
        lay(
            &plain(Bond::Herringbone, 0.0),
            &short,
            ground,
            &upright(0.0, 0.0)
        )
        .is_ok()
    );
}

/// A post hole that lies wholly in one paver cuts that paver and no other.
#[test]
fn a_post_hole_cuts_one_paver() {
    let stone = paver(200.0, 100.0, 3.0);
    let mut field = rectangle(2027.0, 1027.0);
    let at = upright(0.0, 0.0);
    assert_eq!(
        laid(Bond::Stack, 0.0, &stone, &field, &at).courses[0]
            .whole
            .len(),
        100
    );
    let hole = [
        (480.0, 250.0),
        (480.0, 270.0),
        (520.0, 270.0),
        (520.0, 250.0),
    ];
    field.0[0].interiors_push(LineString::from(hole.to_vec()));
    let paving = laid(Bond::Stack, 0.0, &stone, &field, &at);
    let course = &paving.courses[0];
    assert_eq!(
        (course.whole.len(), course.cut_count(), course.buy),
        (99, 1, 100)
    );
    assert!((course.cut[0].area - (20_000.0 - 800.0)).abs() < 0.1);
    assert!((course.cut_length - 120.0).abs() < 0.1);
}

/// As many small squares as large ones, and with their joints they make up the area; turning the
/// site changes no count.
#[test]
fn a_bond_of_two_sizes_is_counted_by_size() {
    let (bond, stones) = pinwheel();
    let figures = |turn: f64, by: (f64, f64)| {
        let field = shape(&ASKEW, turn, by);
        let spec = plain(bond.clone(), 27.0);
        let ground = Ground {
            rings: &[],
            shape: &field,
        };
        let paving = lay(&spec, &stones, ground, &frame(turn, by)).unwrap();
        let counts = paving
            .courses
            .iter()
            .map(|course| {
                (
                    course.paver,
                    course.whole.len(),
                    course.cut_count(),
                    course.sliver_count(),
                    course.buy,
                )
            })
            .collect::<Vec<_>>();
        (counts, paving, field)
    };
    let (counts, paving, field) = figures(0.0, (0.0, 0.0));
    assert_eq!((counts[0].0, counts[1].0, counts.len()), (0, 1, 2));
    let mut all = 0.0;
    let mut numbers = [0.0; 2];
    for course in &paving.courses {
        let stone = &stones[course.paver];
        let cut: f64 = course.cut.iter().map(|piece| piece.area).sum();
        let area = course.whole.len() as f64 * stone.length * stone.width + cut;
        numbers[course.paver] = area / (stone.length * stone.width);
        all += area + course.joint_area;
    }
    assert!((numbers[0] / numbers[1] - 1.0).abs() < 0.01, "{numbers:?}");
    let cell = 203.0 * 203.0 + 103.0 * 103.0;
    let wanted = field.unsigned_area() / cell;
    assert!(
        (numbers[0] / wanted - 1.0).abs() < 0.01,
        "{numbers:?} {wanted}"
    );
    let gap = all / field.unsigned_area() - 1.0;
    assert!(gap.abs() < 0.006, "{gap}");
    for turn in [17.0, 90.0, 123.4] {
        assert_eq!(counts, figures(turn, (-3456.7, 8901.2)).0);
    }
}

/// A field of 10 whole modules and a third of one more: from the corner it ends in slivers; the
/// search finds a place without, and the same one every time.
#[test]
fn the_search_finds_a_place_without_slivers() {
    let stone = paver(200.0, 100.0, 3.0);
    let wide = 10.0 * 203.0 + 40.0;
    let tall = 20.0 * 103.0 - 3.0;
    let field = rectangle(wide, tall);
    let ground = Ground {
        rings: &[],
        shape: &field,
    };
    let spec = PavingSpec {
        shift: Shift::Best,
        ..plain(Bond::Stack, 0.0)
    };
    let best = || {
        let frame = upright(0.0, 0.0);
        lay(&spec, std::slice::from_ref(&stone), ground, &frame).unwrap()
    };
    let (paving, again) = (best(), best());
    let search = paving.search.unwrap();
    assert_eq!((search.fixed.slivers, search.fixed.cuts), (20, 20));
    // 2070 = 9 pavers, 10 joints and 240: two cuts of 120 stand at the ends.
    assert_eq!((search.best.slivers, search.best.cuts), (0, 40));
    assert_eq!(paving.courses[0].sliver_count(), search.best.slivers);
    assert_eq!(paving.courses[0].cut_count(), search.best.cuts);
    assert!(search.tried > 10);
    assert_eq!(Some(search), again.search);
}

/// A herringbone of three widths: the module is three widths and their joints.
#[test]
fn herringbone_takes_a_paver_of_three_widths() {
    let stone = paver(300.0, 98.0, 3.0);
    let side = 12_000.0;
    let field = rectangle(side, side);
    let paving = laid(Bond::Herringbone, 45.0, &stone, &field, &upright(0.0, 0.0));
    let course = &paving.courses[0];
    let cut: f64 = course.cut.iter().map(|piece| piece.area).sum();
    let pavers = course.whole.len() as f64 + cut / (300.0 * 98.0);
    let wanted = side * side / (303.0 * 101.0);
    assert!((pavers / wanted - 1.0).abs() < 0.001, "{pavers} {wanted}");
    assert!(paving.runs.is_empty());
}

/// The joints of a large field by a second formula: its area times the share that is void, which is
/// one less paver over module; through the crossings the joints count the crossing twice.
#[test]
fn joints_are_area_times_void_ratio() {
    let stone = paver(200.0, 100.0, 3.0);
    let side = 20_000.0;
    let field = rectangle(side, side);
    let module = 203.0 * 103.0;
    let void = 1.0 - 200.0 * 100.0 / module + 3.0 * 3.0 / module;
    for bond in [Bond::Running, Bond::Stack] {
        let at = upright(0.0, 0.0);
        let paving = laid(bond.clone(), 33.0, &stone, &field, &at);
        let joints = paving.courses[0].joint_area;
        let wanted = side * side * void;
        // Half a joint's width along the outline has no paver beyond it.
        assert!(
            (joints / wanted - 1.0).abs() < 0.01,
            "{bond:?}: {joints} {wanted}"
        );
    }
    // Herringbone: 103 mm squares, two to a paver, of which 200 × 100 of 206 × 103 is paver.
    let at = upright(0.0, 0.0);
    let paving = laid(Bond::Herringbone, 33.0, &stone, &field, &at);
    let module = 206.0 * 103.0;
    let void = 1.0 - 200.0 * 100.0 / module + 3.0 * 6.0 / module;
    let joints = paving.courses[0].joint_area;
    let wanted = side * side * void;
    assert!((joints / wanted - 1.0).abs() < 0.01, "{joints} {wanted}");
}
