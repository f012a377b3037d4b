//! Border courses: mitres, fans, laws and one published figure.

mod common;

use common::pavers::{inset_area, paver, two_courses};
use common::places::upright;
use geo::{Area, Centroid, CoordsIter};
use geos::Geometry;
use groundsheet::geom::{Arc, Edge, Frame, Point, Ring, Shape, Vector, clip};
use groundsheet::paving::{
    Bond, BorderSpec, Corners, CutState, Ground, Laid, Lay, PaverSpec, Paving, PavingSpec, Place,
    RoundForm, lay,
};

/// A mitred soldier course of the first paver.
const SOLDIERS: BorderSpec = BorderSpec {
    paver: 0,
    lay: Lay::Soldier,
    corners: Corners::Mitred,
};

fn laid(ring: &Ring, pavers: &[PaverSpec], border: &[(usize, Lay)], turn: f64) -> Paving {
    cornered(ring, pavers, border, turn, Corners::Mitred)
}

fn cornered(
    ring: &Ring,
    pavers: &[PaverSpec],
    border: &[(usize, Lay)],
    turn: f64,
    corners: Corners,
) -> Paving {
    let shape: Shape = clip::shape_of(ring);
    let border = border.iter().map(|(paver, lay)| BorderSpec {
        paver: *paver,
        lay: *lay,
        corners,
    });
    let spec = PavingSpec {
        border: border.collect(),
        ..PavingSpec::plain(0, Bond::Running)
    };
    let u = Vector::new(turn.to_radians().cos(), turn.to_radians().sin());
    let frame = Frame {
        origin: ring.edges[0].from,
        u,
        v: u.left(),
    };
    let rings = [ring.clone()];
    let ground = Ground {
        rings: &rings,
        shape: &shape,
    };
    lay(&spec, pavers, ground, &frame).unwrap()
}

fn turned(points: &[(f64, f64)], turn: f64) -> Vec<Point> {
    let (sin, cos) = turn.to_radians().sin_cos();
    points
        .iter()
        .map(|(x, y)| Point::new(x * cos - y * sin, x * sin + y * cos))
        .collect()
}

fn area(course: &Laid, paver: &PaverSpec) -> f64 {
    let cut: f64 = course
        .cut
        .iter()
        .map(|piece| piece.shape.unsigned_area())
        .sum();
    course.whole.len() as f64 * paver.length * paver.width + cut
}

/// A 3021 × 2021 rectangle with a soldier course of 200 × 100, joint 3: by hand, a long side has
/// cuts half a joint clear of its mitres, so pavers stand every 103 from 2.12 in.
#[test]
fn soldiers_round_a_rectangle() {
    let ring = Ring::polygon(&turned(
        &[(0.0, 0.0), (3021.0, 0.0), (3021.0, 2021.0), (0.0, 2021.0)],
        0.0,
    ));
    let stone = [paver(200.0, 100.0, 3.0)];
    let paving = laid(&ring, &stone, &[(0, Lay::Soldier)], 0.0);
    let course = &paving.courses[1];
    assert_eq!(course.place, Place::Border(1));
    assert_eq!(course.place.to_string(), "border-1");
    let field = (3021.0 - 406.0) * (2021.0 - 406.0);
    assert!((paving.field.unsigned_area() - field).abs() < 1.0);
    // Two pavers at each mitre are cut; whole ones stand clear of both mitres.
    let whole = |side: f64| {
        let start = 1.5 * 2.0_f64.sqrt();
        (0..100)
            .map(|k| start + f64::from(k) * 103.0)
            .filter(|x| x - start >= 200.0 - 0.5 && x + 100.0 <= side - start - 200.0 + 0.5)
            .count()
    };
    assert_eq!(course.whole.len(), 2 * (whole(3021.0) + whole(2021.0)));
    let band = 3021.0 * 2021.0 - field;
    let got = area(course, &stone[0]) + course.joint_length * 3.0;
    assert!((got / band - 1.0).abs() < 0.005, "{got} {band}");
}

/// A 3038 × 2026 rectangle butted with soldiers of 200 × 100, joint 3: by hand, each side starts
/// flush with the outline and stops 203 short of the next, so that 2835 and 1823 are left: 27 whole
/// pavers and one of 54 mm, 17 whole and one of 72 mm.
#[test]
fn butted_soldiers_round_a_rectangle() {
    let ring = Ring::polygon(&turned(
        &[(0.0, 0.0), (3038.0, 0.0), (3038.0, 2026.0), (0.0, 2026.0)],
        0.0,
    ));
    let stone = [paver(200.0, 100.0, 3.0)];
    let border = [(0, Lay::Soldier)];
    let course = &cornered(&ring, &stone, &border, 0.0, Corners::Butted).courses[1];
    assert_eq!((course.whole.len(), course.cut_count()), (2 * (27 + 17), 4));
    let mut widths: Vec<f64> = course.cut.iter().map(|piece| piece.area / 200.0).collect();
    widths.sort_by(f64::total_cmp);
    for (width, wanted) in widths.iter().zip([54.0, 54.0, 72.0, 72.0]) {
        assert!((width - wanted).abs() < 0.01, "{width} {wanted}");
    }
    // Soldiers stand side by side: joints between them, at the four corners, and round the field.
    let between = (2.0 * 27.0 + 2.0 * 17.0 + 4.0) * 201.5;
    let inside = 2.0 * (3038.0 - 403.0) + 2.0 * (2026.0 - 403.0);
    assert!((course.joint_length - between - inside).abs() < 0.1);
}

/// Butted and mitred courses cover the same band: on an outline with corners both ways, sharp,
/// blunt and square, two courses deep and round a hole, no paver lies on another or leaves the
/// band, and pavers with joints make it up. The band's area is taken by GEOS.
#[test]
fn butted_courses_fill_the_band_that_geos_takes() {
    let points = [
        (0.0, 0.0),
        (6000.0, 0.0),
        (6900.0, 2500.0),
        (4200.0, 2500.0),
        (4200.0, 5000.0),
        (1500.0, 6200.0),
        (0.0, 5000.0),
    ];
    let outer = Ring::polygon(&turned(&points, 0.0));
    let hole = Ring::polygon(&turned(
        &[
            (1800.0, 1800.0),
            (1800.0, 2900.0),
            (2600.0, 2900.0),
            (2600.0, 1800.0),
        ],
        0.0,
    ));
    let shape = clip::difference(&clip::shape_of(&outer), &clip::shape_of(&hole));
    let rings = [outer, hole];
    let stones = [paver(200.0, 100.0, 3.0), paver(150.0, 150.0, 3.0)];
    let ground: Geometry = (&shape).try_into().unwrap();
    let inset = |by: f64| inset_area(&ground, by);
    for corners in [Corners::Mitred, Corners::Butted] {
        let spec = two_courses(corners);
        let frame = upright(0.0, 0.0);
        let ground = Ground {
            rings: &rings,
            shape: &shape,
        };
        let paving = lay(&spec, &stones, ground, &frame).unwrap();
        let bands = [
            shape.unsigned_area() - inset(203.0),
            inset(203.0) - inset(356.0),
        ];
        for (course, band) in paving.courses[1..].iter().zip(bands) {
            let got = area(course, &stones[course.paver]) + course.joint_area;
            assert!((got / band - 1.0).abs() < 0.01, "{corners:?} {got} {band}");
        }
        let mut pieces: Vec<Shape> = Vec::new();
        for course in &paving.courses[1..] {
            let whole = course.whole.iter();
            pieces.extend(whole.map(|corners| clip::shape_of_points(&corners)));
            pieces.extend(course.cut.iter().map(|piece| piece.shape.clone()));
        }
        let sum: f64 = pieces.iter().map(clip::area).sum();
        let union = clip::union(&pieces);
        let gap = (clip::area(&union) - sum).abs();
        assert!(gap < 100.0, "{corners:?}: {gap} mm² lie double");
        assert!(clip::area(&clip::difference(&union, &shape)) < 2000.0);
        assert!(clip::area(&clip::intersection(&union, &paving.field)) < 2000.0);
    }
}

/// Pavers, joints of borders and field make up the area, on an L with an arc, two courses.
#[test]
fn courses_and_field_make_up_the_area() {
    let mut ring = Ring::polygon(&turned(
        &[
            (0.0, 0.0),
            (6000.0, 0.0),
            (6000.0, 2500.0),
            (4500.0, 4000.0),
            (2500.0, 4000.0),
            (2500.0, 6000.0),
            (0.0, 6000.0),
        ],
        0.0,
    ));
    ring.edges[2].arc = Some(Arc {
        centre: Point::new(4500.0, 2500.0),
        radius: 1500.0,
        anticlockwise: true,
    });
    let stones = [paver(200.0, 100.0, 3.0), paver(300.0, 150.0, 3.0)];
    let paving = laid(&ring, &stones, &[(1, Lay::Sailor), (0, Lay::Soldier)], 0.0);
    assert_eq!(paving.courses.len(), 3);
    let mut all = 0.0;
    for course in &paving.courses {
        let stone = &stones[course.paver];
        assert!(!course.whole.is_empty());
        all += area(course, stone) + course.joint_length * 3.0;
    }
    let total = ring.area();
    assert!((all / total - 1.0).abs() < 0.01, "{all} {total}");
    // No paver lies outside the outline, and no two lie on one another.
    let shape = clip::shape_of(&ring);
    let mut pieces: Vec<Shape> = Vec::new();
    for course in &paving.courses[1..] {
        pieces.extend(
            course
                .whole
                .iter()
                .map(|corners| clip::shape_of_points(&corners)),
        );
        pieces.extend(course.cut.iter().map(|piece| piece.shape.clone()));
    }
    let sum: f64 = pieces.iter().map(clip::area).sum();
    let union = clip::union(&pieces);
    assert!(
        (clip::area(&union) - sum).abs() < 50.0,
        "{} {sum}",
        clip::area(&union)
    );
    assert!(clip::area(&clip::difference(&union, &shape)) < 2000.0);
    assert!(clip::area(&clip::intersection(&union, &paving.field)) < 2000.0);
}

#[test]
fn turning_the_site_changes_no_count() {
    let points = [
        (0.0, 0.0),
        (6000.0, 0.0),
        (6000.0, 2500.0),
        (2600.0, 2500.0),
        (2100.0, 6000.0),
        (0.0, 6000.0),
    ];
    let stones = [paver(203.2, 101.6, 3.175), paver(304.8, 152.4, 3.175)];
    let counts = |turn: f64| {
        let ring = Ring::polygon(&turned(&points, turn));
        let paving = laid(&ring, &stones, &[(1, Lay::Soldier), (1, Lay::Sailor)], turn);
        let count = |course: &Laid| {
            (
                course.whole.len(),
                course.cut_count(),
                course.sliver_count(),
                course.buy,
            )
        };
        paving.courses.iter().map(count).collect::<Vec<_>>()
    };
    let at_rest = counts(0.0);
    assert!(at_rest.iter().all(|count| count.0 > 10 && count.1 > 4));
    for turn in [31.0, 90.0, 200.5] {
        assert_eq!(at_rest, counts(turn));
    }
}

/// 100 × 200 units set radially with joints of 1 mm inside open to 5 mm outside where the inner
/// radius is about 5.05 m (joint limits of BS 7533-3, the figure follows from them).
#[test]
fn a_fan_opens_its_joints_outwards() {
    let ring = Ring::circle(Point::new(0.0, 0.0), 5250.2);
    let stone = [paver(200.0, 100.0, 1.0)];
    let paving = laid(&ring, &stone, &[(0, Lay::Soldier)], 90.0);
    let course = &paving.courses[1];
    assert_eq!(course.cut_count(), 0);
    let [a, b, c, d] = course.whole.rows()[0]
        .first
        .map(|at| at - Point::new(0.0, 0.0));
    let radii = [a, b, c, d].map(Vector::length);
    let outer = radii.iter().copied().fold(0.0, f64::max);
    let inner = radii.iter().copied().fold(f64::MAX, f64::min);
    let n = course.whole.len() as f64;
    let gap = |radius: f64| std::f64::consts::TAU * radius / n - 100.0;
    assert!((gap(inner) - 1.0).abs() < 0.4, "{}", gap(inner));
    assert!((gap(outer) - 5.0).abs() < 0.4, "{}", gap(outer));
    let [round] = &course.arcs[..] else {
        panic!("one arc")
    };
    assert_eq!((round.radius, round.pieces), (5250.2, course.whole.len()));
    assert_eq!(round.whole, round.pieces);
    let RoundForm::Fanned([narrow, wide]) = round.form else {
        panic!("whole pavers")
    };
    assert!((gap(inner) - narrow).abs() < 0.05, "{narrow}");
    assert!((gap(outer) - wide).abs() < 0.05, "{wide}");
}

/// Where an arc is too tight to fan, pavers are cut to wedges and none lies on another.
#[test]
fn a_tight_circle_is_cut_to_wedges() {
    let ring = Ring::circle(Point::new(0.0, 0.0), 320.0);
    let stone = [paver(200.0, 100.0, 3.0)];
    let paving = laid(&ring, &stone, &[(0, Lay::Soldier)], 90.0);
    let course = &paving.courses[1];
    assert_eq!(course.whole.len(), 0);
    assert_eq!(course.cut_count(), 20);
    assert!(course.cut.iter().all(|piece| piece.state == CutState::Cut));
    let pieces: Vec<Shape> = course.cut.iter().map(|piece| piece.shape.clone()).collect();
    let sum: f64 = pieces.iter().map(clip::area).sum();
    assert!((clip::area(&clip::union(&pieces)) - sum).abs() < 1.0);
    // The widths that are printed are those of the pieces, measured square to their middles.
    let RoundForm::Wedges([narrow, wide]) = course.arcs[0].form else {
        panic!("wedges")
    };
    assert_eq!(course.arcs[0].pieces, 20);
    for piece in &pieces {
        let points = piece.0[0].exterior().points();
        let points: Vec<Vector> = points.map(|p| Vector::new(p.x(), p.y())).collect();
        let out = piece.centroid().map(|p| Vector::new(p.x(), p.y()));
        let out = out.and_then(Vector::unit).expect("a middle");
        let across = |within: &dyn Fn(f64) -> bool| {
            let ends = points.iter().filter(|p| within(p.length()));
            ends.map(|p| p.dot(out.left()).abs()).fold(0.0, f64::max) * 2.0
        };
        // The band that the pieces are cut to is good to a millimetre or so of radius.
        assert!((across(&|r| r < 130.0) - narrow).abs() < 0.5, "{narrow}");
        assert!((across(&|r| r > 300.0) - wide).abs() < 0.2, "{wide}");
    }
}

#[test]
fn a_border_that_leaves_no_field_is_refused() {
    let ring = Ring::polygon(&turned(
        &[(0.0, 0.0), (390.0, 0.0), (390.0, 3000.0), (0.0, 3000.0)],
        0.0,
    ));
    let rings = [ring.clone()];
    let shape = clip::shape_of(&ring);
    let spec = PavingSpec {
        border: vec![SOLDIERS],
        ..PavingSpec::plain(0, Bond::Stack)
    };
    let frame = upright(0.0, 0.0);
    let ground = Ground {
        rings: &rings,
        shape: &shape,
    };
    assert!(lay(&spec, &[paver(200.0, 100.0, 3.0)], ground, &frame).is_err());
}

/// The edges of a hole run clockwise: the course lies round it, outside the hole.
#[test]
fn a_border_goes_round_a_hole() {
    let outer = Ring::polygon(&turned(
        &[(0.0, 0.0), (5000.0, 0.0), (5000.0, 5000.0), (0.0, 5000.0)],
        0.0,
    ));
    let hole = Ring::circle(Point::new(2500.0, 2500.0), 600.0).reversed();
    assert!(matches!(
        hole.edges[..],
        [Edge {
            arc: Some(Arc {
                anticlockwise: false,
                ..
            }),
            ..
        }]
    ));
    let shape = clip::difference(&clip::shape_of(&outer), &clip::shape_of(&hole));
    let rings = [outer, hole];
    let spec = PavingSpec {
        turn: 45.0,
        border: vec![SOLDIERS],
        ..PavingSpec::plain(0, Bond::Herringbone)
    };
    let frame = upright(0.0, 0.0);
    let ground = Ground {
        rings: &rings,
        shape: &shape,
    };
    let stone = paver(200.0, 100.0, 3.0);
    let paving = lay(&spec, std::slice::from_ref(&stone), ground, &frame).unwrap();
    // A fan would open to 37 mm; cut, no piece takes more than 103 mm of the circle of 800 mm: 49.
    let distance =
        |at: geo::Coord<f64>| Point::new(at.x, at.y).distance(Point::new(2500.0, 2500.0));
    let round: Vec<_> = paving.courses[1]
        .cut
        .iter()
        .filter(|piece| piece.shape.coords_iter().all(|at| distance(at) < 850.0))
        .collect();
    assert_eq!(round.len(), 49);
    assert!(round.iter().all(|piece| {
        piece
            .shape
            .coords_iter()
            .all(|at| (599.5..801.0).contains(&distance(at)))
    }));
}

/// A last paver of less than half is none: the last two share what is left, each more than half. By
/// hand, butted, 2998 − 203 = 2795 = 27 × 103 + 14: 26 are whole, the last two (100 + 14) / 2 = 57 mm
/// each; two of 57 mm do not come from one paver.
#[test]
fn a_short_last_paver_is_shared_by_the_last_two() {
    let border = [(0, Lay::Soldier)];
    let stone = [paver(200.0, 100.0, 3.0)];
    for turn in [0.0, 27.0] {
        let rectangle = [(0.0, 0.0), (2998.0, 0.0), (2998.0, 2998.0), (0.0, 2998.0)];
        let ring = Ring::polygon(&turned(&rectangle, turn));
        let course = &cornered(&ring, &stone, &border, turn, Corners::Butted).courses[1];
        assert_eq!((course.whole.len(), course.cut_count()), (4 * 26, 4 * 2));
        for piece in &course.cut {
            assert!((piece.area / 200.0 - 57.0).abs() < 0.01, "{}", piece.area);
            assert_eq!(piece.state, CutState::Cut);
        }
        assert_eq!(course.buy, 4 * 28);
        // a saw cut across each of the eight
        assert!(
            (course.cut_length - 8.0 * 200.0).abs() < 0.1,
            "{}",
            course.cut_length
        );
        // joints: 27 between the 28 of a side and one at its end, and round the field
        let between = 4.0 * 28.0 * 201.5;
        let inside = 4.0 * (2998.0 - 403.0);
        assert!((course.joint_length - between - inside).abs() < 0.1);
    }
}

/// Mitred, the tip of the last paver is never smaller than half a paver's face on the outer side: its
/// triangle is at least 50 × 50 / 2, however long the sides.
#[test]
fn a_mitre_ends_in_no_splinter() {
    let stone = [paver(200.0, 100.0, 3.0)];
    for long in (2900..3110).step_by(7) {
        let side = f64::from(long);
        let ring = Ring::polygon(&turned(
            &[(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)],
            0.0,
        ));
        let paving = laid(&ring, &stone, &[(0, Lay::Soldier)], 0.0);
        let course = &paving.courses[1];
        let smallest = course.cut.iter().map(|piece| piece.area);
        let smallest = smallest.fold(f64::INFINITY, f64::min);
        assert!(smallest > 50.0 * 50.0 / 2.0 - 1.0, "{long}: {smallest}");
        let band = side * side - paving.field.unsigned_area();
        let got = area(course, &stone[0]) + course.joint_length * 3.0;
        assert!((got / band - 1.0).abs() < 0.005, "{long}: {got} {band}");
    }
}
