//! Pavers of generated outlines and turns against GEOS: every slot of the bond, made here by
//! another rule, is intersected with the outline by GEOS, and counts and areas must agree.

mod common;

use common::numbers::Knuth;
use common::pavers::{inset_area, paver, pinwheel, two_courses};
use common::places::upright;
use geo::{Area, Coord, LineString, MultiPolygon, Polygon};
use geos::{Geom, Geometry, PreparedGeometry};
use groundsheet::geom::{Frame, Point, Ring, Vector, clip};
use groundsheet::paving::{Bond, Corners, CutState, Ground, PaverSpec, PavingSpec, lay};

/// A star-shaped outline about the origin, with a round hole when wanted.
fn outline(numbers: &mut Knuth, corners: usize, hole: Option<f64>) -> MultiPolygon<f64> {
    let full = std::f64::consts::TAU;
    let mut ring = Vec::new();
    for corner in 0..corners {
        let angle = (corner as f64 + numbers.next(0.0, 0.8)) / corners as f64 * full;
        let radius = numbers.next(900.0, 2600.0);
        ring.push(Coord {
            x: radius * angle.cos(),
            y: radius * angle.sin(),
        });
    }
    let holes = hole.map(|radius| {
        let at = |i: i32| -f64::from(i) / 40.0 * full;
        let round = (0..40).map(|i| Coord {
            x: radius * at(i).cos(),
            y: radius * at(i).sin(),
        });
        LineString::new(round.collect())
    });
    MultiPolygon::new(vec![Polygon::new(
        LineString::new(ring),
        holes.into_iter().collect(),
    )])
}

/// Area of a slot on the ground by GEOS, mm²; `None` where there is none. The limits of 0.5 mm are told
/// by area here, so a piece near them may differ.
fn kept(ground: &Geometry, prepared: &PreparedGeometry, slot: &[Point]) -> Option<f64> {
    let corners = slot.iter().map(|p| Coord { x: p.x, y: p.y });
    let slot = Polygon::new(LineString::new(corners.collect()), Vec::new());
    let slot: Geometry = (&slot).try_into().unwrap();
    if !prepared.intersects(&slot).unwrap() {
        return None;
    }
    let area = ground.intersection(&slot).unwrap().area().unwrap();
    (area >= 0.3).then_some(area)
}

/// Slots of a bond about the start corner, as x, y, width and height, wide enough for the outline.
fn slots(bond: &Bond, paver: &PaverSpec) -> Vec<[f64; 4]> {
    let (l, w, j) = (paver.length, paver.width, paver.joint);
    let n = (6000.0 / (w + j)) as i64 + 4;
    let mut found = Vec::new();
    for (a, b) in (-n..=n).flat_map(|b| (-n..=n).map(move |a| (a, b))) {
        match bond {
            Bond::Running | Bond::Stack => {
                let half = *bond == Bond::Running && b.rem_euclid(2) == 1;
                let x = a as f64 * (l + j) + if half { (l + j) / 2.0 } else { 0.0 };
                found.push([x, b as f64 * (w + j), l, w]);
            }
            // Square by square: what lies in a square of the grid follows from its diagonal.
            Bond::Herringbone => {
                let (x, y) = (a as f64 * (w + j), b as f64 * (w + j));
                match (a - b).rem_euclid(4) {
                    0 => found.push([x, y, l, w]),
                    3 => found.push([x, y, w, l]),
                    _ => {}
                }
            }
            Bond::Basketweave => {
                let s = 2.0 * (w + j);
                let (x, y) = (a as f64 * s, b as f64 * s);
                for step in [0.0, w + j] {
                    if (a + b).rem_euclid(2) == 0 {
                        found.push([x, y + step, l, w]);
                    } else {
                        found.push([x + step, y, w, l]);
                    }
                }
            }
            Bond::Modular(_) => {}
        }
    }
    found
}

#[test]
fn counts_and_areas_agree_with_geos() {
    let mut numbers = Knuth(7);
    for round in 0..24 {
        let bond = [
            Bond::Running,
            Bond::Stack,
            Bond::Herringbone,
            Bond::Basketweave,
        ][round % 4]
            .clone();
        let stone = match round % 3 {
            0 => paver(203.2, 101.6, 3.175),
            _ => paver(200.0, 100.0, 3.0),
        };
        let hole = (round % 2 == 1).then(|| numbers.next(60.0, 400.0));
        let shape = outline(&mut numbers, 4 + round % 7, hole);
        let turn = numbers.next(-90.0, 90.0);
        let start = numbers.next(0.0, 360.0);
        let u = Vector::new(start.to_radians().cos(), start.to_radians().sin());
        let side = if round % 5 == 0 { -1.0 } else { 1.0 };
        let first = shape.0[0].exterior().0[0];
        let frame = Frame {
            origin: Point::new(first.x, first.y),
            u,
            v: u.left() * side,
        };
        let spec = PavingSpec {
            turn,
            ..PavingSpec::plain(0, bond.clone())
        };
        let ground = Ground {
            rings: &[],
            shape: &shape,
        };
        let paving = lay(&spec, std::slice::from_ref(&stone), ground, &frame).unwrap();
        let laid = &paving.courses[0];

        let angle = (start + side * turn).to_radians();
        let along = Vector::new(angle.cos(), angle.sin());
        let across = along.left() * side;
        let ground: Geometry = (&shape).try_into().unwrap();
        let prepared = ground.to_prepared_geom().unwrap();
        let (mut whole, mut cut, mut slivers, mut area) = (0, 0, 0, 0.0);
        let stone_area = stone.length * stone.width;
        for [x, y, w, h] in slots(&bond, &stone) {
            let at = |x: f64, y: f64| frame.origin + along * x + across * y;
            let slot = [at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h)];
            let Some(kept) = kept(&ground, &prepared, &slot) else {
                continue;
            };
            area += kept;
            if kept > stone_area - 0.3 {
                whole += 1;
                continue;
            }
            cut += 1;
            if kept < stone_area / 3.0 {
                slivers += 1;
            }
        }
        let cut_area: f64 = laid
            .cut
            .iter()
            .map(|piece| piece.shape.unsigned_area())
            .sum();
        let ours = cut_area + laid.whole.len() as f64 * stone_area;
        assert!(
            (ours - area).abs() < 40.0,
            "round {round}: {ours} against {area}"
        );
        assert!(
            laid.whole.len().abs_diff(whole) <= 1,
            "round {round}: {} {whole}",
            laid.whole.len()
        );
        assert!(
            laid.cut.len().abs_diff(cut) <= 1,
            "round {round}: {} {cut}",
            laid.cut.len()
        );
        let ours = laid
            .cut
            .iter()
            .filter(|piece| piece.state == CutState::Sliver)
            .count();
        assert!(
            ours.abs_diff(slivers) <= 1,
            "round {round}: {ours} {slivers}"
        );
    }
}

/// A bond of two sizes on generated outlines: whole and cut squares of each size, each slot
/// intersected by GEOS.
#[test]
fn a_bond_of_two_sizes_agrees_with_geos() {
    let mut numbers = Knuth(11);
    let (bond, stones) = pinwheel();
    for round in 0..8 {
        let hole = (round % 2 == 1).then(|| numbers.next(60.0, 400.0));
        let shape = outline(&mut numbers, 4 + round % 7, hole);
        let turn = numbers.next(-90.0, 90.0);
        let first = shape.0[0].exterior().0[0];
        let frame = upright(first.x, first.y);
        let spec = PavingSpec {
            turn,
            ..PavingSpec::plain(0, bond.clone())
        };
        let ground = Ground {
            rings: &[],
            shape: &shape,
        };
        let paving = lay(&spec, &stones, ground, &frame).unwrap();
        let along = Vector::new(1.0, 0.0).turned(turn);
        let across = along.left();
        let ground: Geometry = (&shape).try_into().unwrap();
        let prepared = ground.to_prepared_geom().unwrap();
        for (kind, stone) in stones.iter().enumerate() {
            let (mut whole, mut cut, mut area) = (0usize, 0usize, 0.0);
            let side = stone.length;
            let full = side * side;
            for (i, j) in (-40..=40).flat_map(|i| (-40..=40).map(move |j| (i, j))) {
                let (i, j) = (f64::from(i), f64::from(j));
                let x = 203.0 * i - 103.0 * j + [0.0, 203.0][kind];
                let y = 103.0 * i + 203.0 * j;
                let at = |x: f64, y: f64| frame.origin + along * x + across * y;
                let (right, top) = (x + side, y + side);
                let slot = [at(x, y), at(right, y), at(right, top), at(x, top)];
                let Some(kept) = kept(&ground, &prepared, &slot) else {
                    continue;
                };
                area += kept;
                if kept > full - 0.3 {
                    whole += 1;
                } else {
                    cut += 1;
                }
            }
            let laid = &paving.courses[kind];
            let pieces = laid.cut.iter().map(|piece| piece.shape.unsigned_area());
            let ours = laid.whole.len() as f64 * full + pieces.sum::<f64>();
            assert!((ours - area).abs() < 40.0, "round {round}: {ours} {area}");
            assert!(laid.whole.len().abs_diff(whole) <= 1, "round {round}");
            assert!(laid.cut.len().abs_diff(cut) <= 1, "round {round}");
        }
    }
}

/// Two border courses on generated outlines, mitred and butted: pavers and joints of each course
/// make up the band between two insets that GEOS takes, and the field is what GEOS leaves.
#[test]
fn borders_fill_the_bands_that_geos_takes() {
    let mut numbers = Knuth(23);
    let stones = [paver(200.0, 100.0, 3.0), paver(150.0, 150.0, 3.0)];
    for round in 0..10 {
        let corners = [Corners::Mitred, Corners::Butted][round % 2];
        let sides = 4 + round % 5;
        let ring: Vec<Point> = (0..sides)
            .map(|corner| {
                let share = (corner as f64 + numbers.next(0.0, 0.4)) / sides as f64;
                let angle = share * std::f64::consts::TAU;
                let radius = numbers.next(3200.0, 3600.0);
                Point::new(radius * angle.cos(), radius * angle.sin())
            })
            .collect();
        let rings = [Ring::polygon(&ring)];
        let shape = clip::shape_of(&rings[0]);
        let spec = two_courses(corners);
        let frame = upright(ring[0].x, ring[0].y);
        let ground = Ground {
            rings: &rings,
            shape: &shape,
        };
        let paving = lay(&spec, &stones, ground, &frame).unwrap();
        let outline: Geometry = (&shape).try_into().unwrap();
        let inset = |by: f64| inset_area(&outline, by);
        let edges = [outline.area().unwrap(), inset(203.0), inset(356.0)];
        let field = paving.field.unsigned_area();
        assert!((field - edges[2]).abs() < 10.0, "round {round}");
        for (number, laid) in paving.courses[1..].iter().enumerate() {
            let stone = &stones[laid.paver];
            let pieces = laid.cut.iter().map(|piece| piece.area);
            let whole = laid.whole.len() as f64 * stone.length * stone.width;
            let got = whole + pieces.sum::<f64>() + laid.joint_area;
            let band = edges[number] - edges[number + 1];
            let gap = got / band - 1.0;
            assert!(gap.abs() < 0.01, "round {round}, {corners:?}: {gap}");
        }
    }
}
