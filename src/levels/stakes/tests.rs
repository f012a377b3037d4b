//! Stakes of worked edges, and the law that no two are in each other's way.

use super::*;
use geo::{Coord, LineString, Polygon};

fn rectangle(x: [f64; 2], y: [f64; 2]) -> Shape {
    let corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])];
    let line = LineString::new(corners.iter().map(|&(x, y)| Coord { x, y }).collect());
    Shape::new(vec![Polygon::new(line, Vec::new())])
}

fn line(edge: &str, a: (f64, f64), b: (f64, f64)) -> StakeLine {
    StakeLine {
        edge: edge.into(),
        ends: [Point::new(a.0, a.1), Point::new(b.0, b.1)],
        finish: Plane::falling(Point::new(0.0, 0.0), 0.0, 0.02, Vector::new(0.0, 1.0)),
    }
}

/// Paving 4 m × 3 m against a house below it, dig 150 mm past its three open edges.
#[test]
fn stakes_stand_outside_the_dig_and_marks_on_the_house() {
    let dig = rectangle([-150.0, 4150.0], [0.0, 3150.0]);
    let house = rectangle([0.0, 6000.0], [-5000.0, 0.0]);
    let lines = [
        line("A-B", (0.0, 0.0), (4000.0, 0.0)),
        line("B-C", (4000.0, 0.0), (4000.0, 3000.0)),
        line("C-D", (4000.0, 3000.0), (0.0, 3000.0)),
    ];
    let found = stakes(&lines, &dig, &house, 600.0);
    let at: Vec<_> = found.iter().map(|s| (s.at.x, s.at.y, s.held)).collect();
    assert_eq!(
        at,
        [
            (-750.0, 0.0, Held::Stake),
            (4750.0, 0.0, Held::Stake),
            (4000.0, 0.0, Held::Face),
            (4000.0, 3750.0, Held::Stake),
            (4750.0, 3000.0, Held::Stake),
            (-750.0, 3000.0, Held::Stake),
        ]
    );
    // 2 % down from the wall: 60 mm along the far edge, 75 mm beyond it.
    for (index, finish) in [(0, 0.0), (2, 0.0), (3, -75.0), (4, -60.0)] {
        assert!((found[index].finish - finish).abs() < 1e-9, "{index}");
    }
    assert_eq!(stakes(&[], &dig, &house, 600.0), []);
}

/// Two strings at right angles that would end 10 mm and 50 mm past their crossing are held by
/// one stake at it; two side by side, 100 mm apart, by stakes one of which stands further out.
#[test]
fn no_two_stakes_are_in_each_others_way() {
    let none = Shape::new(Vec::new());
    let at = |lines: &[StakeLine], dig: &Shape| -> Vec<(f64, f64)> {
        let found = stakes(lines, dig, &none, 600.0);
        for stake in &found {
            let off = stake.at.distance(stake.corner) - stake.from_corner;
            assert!(off.abs() < 1e-9);
            assert!((stake.finish - lines[0].finish.level_at(stake.at)).abs() < 1e-9);
        }
        for (index, one) in found.iter().enumerate() {
            for other in &found[..index] {
                let apart = one.at.distance(other.at);
                assert!(apart == 0.0 || apart >= APART, "{one:?} {other:?}");
            }
        }
        found.iter().map(|s| (s.at.x, s.at.y)).collect()
    };
    let dig = rectangle([-1000.0, 1000.0], [-1000.0, 1000.0]);
    let far = [
        line("A-B", (0.0, 2000.0), (1000.0, 2000.0)),
        line("C-D", (1650.0, 0.0), (1650.0, 1000.0)),
    ];
    let found = at(&far, &dig);
    assert_eq!((found[1], found[3]), ((1600.0, 2000.0), (1650.0, 1600.0)));
    let near = [
        line("A-B", (0.0, 2000.0), (1000.0, 2000.0)),
        line("C-D", (1650.0, 0.0), (1650.0, 1350.0)),
    ];
    let found = at(&near, &dig);
    assert_eq!((found[1], found[3]), ((1650.0, 2000.0), (1650.0, 2000.0)));
    let beside = [
        line("A-B", (0.0, 0.0), (1000.0, 0.0)),
        line("C-D", (0.0, 100.0), (1000.0, 100.0)),
    ];
    let found = at(&beside, &dig);
    assert_eq!((found[1], found[3]), ((1600.0, 0.0), (1800.0, 100.0)));
    // Two that come towards each other go on until they are past.
    let towards = [
        line("A-B", (0.0, 2000.0), (1000.0, 2000.0)),
        line("C-D", (3300.0, 2100.0), (2350.0, 2100.0)),
    ];
    let found = at(&towards, &rectangle([-1000.0, 1000.0], [-1000.0, 1000.0]));
    assert!(found[1].0 - found[3].0 > 100.0, "{found:?}");
    // A third string that ends by the shared stake is held by it if it runs through it, else
    // further out.
    let third = |y: f64| {
        let mut lines = near.to_vec();
        lines.push(line("E-F", (0.0, y), (1200.0, y + 1200.0)));
        at(&lines, &dig)[5]
    };
    let (x, y) = third(350.0);
    assert!((x - 1650.0).abs() < 1e-9 && (y - 2000.0).abs() < 1e-9);
    let (x, y) = third(450.0);
    let along = 800.0 * 0.5_f64.sqrt();
    assert!((x - 1200.0 - along).abs() < 1e-9 && (y - 1650.0 - along).abs() < 1e-9);
}

/// The sides of a regular figure of so many corners in a circle of 5 m; its strings run on
/// 750 mm and cross by their ends.
fn figure(corners: usize) -> (Vec<StakeLine>, Shape) {
    let at = |radius: f64, corner: usize| {
        let turn = std::f64::consts::TAU * corner as f64 / corners as f64;
        (radius * libm::cos(turn), radius * libm::sin(turn))
    };
    let sides = (0..corners).map(|side| line("side", at(5000.0, side), at(5000.0, side + 1)));
    let dig = (0..corners).map(|corner| Coord::from(at(5150.0, corner)));
    let dig = Polygon::new(LineString::new(dig.collect()), Vec::new());
    (sides.collect(), Shape::new(vec![dig]))
}

/// However many strings there are, no two stakes end in each other's way, nor does one go far out
/// for it.
#[test]
fn many_strings_are_set_apart() {
    let none = Shape::new(Vec::new());
    for corners in [24, 100, 300] {
        let (sides, dig) = figure(corners);
        let found = stakes(&sides, &dig, &none, 600.0);
        let far = found
            .iter()
            .map(|stake| stake.from_corner)
            .fold(0.0, f64::max);
        assert!(far < 4000.0, "of {corners}: {far}");
        let mut near = 0;
        for (index, one) in found.iter().enumerate() {
            for other in &found[..index] {
                let apart = one.at.distance(other.at);
                near += usize::from(apart > 0.0 && apart < APART);
            }
            let along = (one.at - one.corner).unit().unwrap();
            let off = along.cross(one.at - one.corner);
            assert!(off.abs() < ON_STRING, "{one:?}");
        }
        assert_eq!(near, 0, "of {corners}");
    }
}

/// Two pairs of strings that cross 150 mm apart: the stake where the last two would be held
/// together is in the way of that which holds the first two, so that the one of them whose string
/// passes there is held there too, and the other one alone.
#[test]
fn a_stake_of_two_strings_keeps_both() {
    let stake = |corner: (f64, f64), at: (f64, f64)| {
        let [corner, at] = [corner, at].map(|(x, y)| Point::new(x, y));
        Stake {
            edge: "A-B".into(),
            end: 1,
            corner,
            at,
            held: Held::Stake,
            from_corner: corner.distance(at),
            finish: 0.0,
        }
    };
    let mut all = [
        stake((-1000.0, 0.0), (-10.0, 0.0)),
        stake((0.0, -1000.0), (0.0, -10.0)),
        stake((150.0, -1000.0), (150.0, -150.0)),
        stake((1000.0, 0.0), (250.0, 0.0)),
    ];
    set_apart(&mut all, &Shape::new(Vec::new()));
    for (index, one) in all.iter().enumerate() {
        for other in &all[..index] {
            let apart = one.at.distance(other.at);
            assert!(apart == 0.0 || apart >= APART, "{all:#?}");
        }
    }
    for one in &all {
        let off = (one.at - one.corner)
            .unit()
            .unwrap()
            .cross(one.at - one.corner);
        assert!(off.abs() < ON_STRING);
    }
}
