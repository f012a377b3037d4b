//! Cut and fill against published figures and against a second triangulation.

mod common;

use common::numbers::Knuth;
use geo::{Coord, LineString, Polygon};
use groundsheet::geom::{Point, Shape, Vector};
use groundsheet::levels::{BuildUp, DigPart, Earthwork, Ground, Plane, Spot, earthwork};

const NONE: BuildUp = BuildUp {
    paver: 0.0,
    panel: 0.0,
    bedding_loose: 0.0,
    bedding_compacted: 0.0,
};
const FOOT: f64 = 304.8;
const YARD3: f64 = 0.764_554_857_984;

fn rectangle(x: f64, y: f64, wide: f64, high: f64) -> Shape {
    let corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)];
    let line = corners.map(|(x, y)| Coord { x, y }).to_vec();
    Shape::new(vec![Polygon::new(LineString::new(line), Vec::new())])
}

fn dug(shape: Shape, finish: Plane, spots: &[Spot]) -> Earthwork {
    let part = DigPart {
        shape,
        finish,
        build_up: NONE,
    };
    earthwork(&[part], Ground::through(spots).as_ref()).expect("a dig with area")
}

fn spot(x: f64, y: f64, level: f64) -> Spot {
    Spot {
        at: Point::new(x, y),
        level,
    }
}

/// Wikibooks, Fundamentals of Transportation, Earthwork: cut areas of 0, 10, 15 and 30 m² at 75,
/// 100, 115 and 150 m by average end areas, the first as a pyramid: 1,058.3 m³; fill areas of 60,
/// 50, 25, 5 and 0 m² at 0, 50, 75, 100 and 115 m: 4,087.5 m³. Trenches and banks of one breadth
/// whose depth is straight between stations have those end areas, and are average-end solids; the
/// pyramids at both ends taper in breadth too, so they are dug as such by themselves.
#[test]
fn published_end_areas() {
    let metre = 1000.0;
    // Depth over a breadth of 10 m makes the end area; `sign` is 1 for cut, -1 for fill.
    let run = |stations: &[(f64, f64)], sign: f64| {
        let spots: Vec<Spot> = stations
            .iter()
            .flat_map(|(s, area)| {
                let level = sign * area / 10.0 * metre;
                [
                    spot(s * metre, 0.0, level),
                    spot(s * metre, 10.0 * metre, level),
                ]
            })
            .collect();
        let (from, to) = (stations[0].0, stations[stations.len() - 1].0);
        let shape = rectangle(from * metre, 0.0, (to - from) * metre, 10.0 * metre);
        let done = dug(shape, Plane::flat(0.0), &spots);
        (done.cut_m3, done.fill_m3.expect("there are spots"))
    };
    // A pyramid with its end area upright and its apex `long` metres off: both breadth and depth
    // run out. Ground over the half base by the half base: a cone of three spots.
    let pyramid = |area: f64, long: f64| {
        let depth = area / 10.0 * 2.0;
        let spots = [
            spot(0.0, -5.0 * metre, 0.0),
            spot(0.0, 5.0 * metre, 0.0),
            spot(long * metre, 0.0, 0.0),
            spot(0.0, 0.0, depth * metre),
        ];
        let shape = rectangle(0.0, -5.0 * metre, long * metre, 10.0 * metre);
        dug(shape, Plane::flat(0.0), &spots).cut_m3
    };
    let cut = run(&[(100.0, 10.0), (115.0, 15.0), (150.0, 30.0)], 1.0).0 + pyramid(10.0, 25.0);
    assert!((cut - 1058.3).abs() < 0.05, "{cut}");
    let fill = run(
        &[(0.0, 60.0), (50.0, 50.0), (75.0, 25.0), (100.0, 5.0)],
        -1.0,
    )
    .1 + pyramid(5.0, 15.0);
    // The source takes the last fill wedge as a pyramid as well: 5 × 15 / 3 = 25.
    assert!((fill - 4087.5).abs() < 0.05, "{fill}");
}

/// Frustum of a pyramid (a worked exercise at algebra.com): ends of 3,600 and 5,184 ft² 15 ft apart
/// hold 65,520 ft³ = 2,426.67 yd³. As a bank: triangular ends of half breadth and depth 60 and
/// 72 ft, its sides plane. The prismoidal formula with the middle area, 66² ft², gives the same.
#[test]
fn published_frustum() {
    let mut spots = Vec::new();
    for (x, size) in [(0.0, 60.0), (15.0, 72.0)] {
        spots.push(spot(x * FOOT, -size * FOOT, 0.0));
        spots.push(spot(x * FOOT, 0.0, size * FOOT));
        spots.push(spot(x * FOOT, size * FOOT, 0.0));
    }
    let shape = rectangle(0.0, -80.0 * FOOT, 15.0 * FOOT, 160.0 * FOOT);
    let yards = dug(shape, Plane::flat(0.0), &spots).cut_m3 / YARD3;
    assert!((yards - 2426.67).abs() < 0.005, "{yards}");
    let prismoid = 15.0 * (3600.0 + 4.0 * 66.0 * 66.0 + 5184.0) / 6.0 / 27.0;
    assert!((yards - prismoid).abs() < 1e-6, "{yards} {prismoid}");
}

/// Hicks, civil engineering calculations handbook: ends of 1,504 and 2,240 ft² 100 ft apart with
/// 1,860 ft² midway hold 6,904 yd³ by the prismoidal formula, 6,933 by average end areas. Such a
/// solid is a trench 40 ft wide whose bottom is level and whose top is two plane triangles: the
/// depths at its corners add up to 2 × 1,504 / 40 at one end and 2 × 2,240 / 40 at the other, and
/// the middle area sets how much one corner is deeper than the next.
#[test]
fn published_prismoid() {
    let ends = [[37.6, 37.6], [57.2, 54.8]];
    let spots: Vec<Spot> = [0.0, 100.0]
        .iter()
        .zip(ends)
        .flat_map(|(x, [near, far])| {
            [
                spot(x * FOOT, 0.0, near * FOOT),
                spot(x * FOOT, 40.0 * FOOT, far * FOOT),
            ]
        })
        .collect();
    // The section areas are those of the source, measured on the ground itself.
    let ground = Ground::through(&spots).expect("a ground");
    let section = |x: f64| {
        let [from, to] = [0.0, 40.0].map(|y| Point::new(x * FOOT, y * FOOT));
        let profile = ground.profile(from, to);
        let trapezia = profile.windows(2).map(|pair| {
            let [[s, a], [t, b]] = [pair[0], pair[1]];
            (t - s) * (a + b) / 2.0
        });
        trapezia.sum::<f64>() / (FOOT * FOOT)
    };
    let areas = [0.0, 50.0, 100.0].map(section);
    for (area, published) in areas.iter().zip([1504.0, 1860.0, 2240.0]) {
        assert!((area - published).abs() < 1e-6, "{area}");
    }
    let shape = rectangle(0.0, 0.0, 100.0 * FOOT, 40.0 * FOOT);
    let yards = dug(shape, Plane::flat(0.0), &spots).cut_m3 / YARD3;
    assert!((yards - 6904.0).abs() < 0.5, "{yards}");
    assert!((yards - 186_400.0 / 27.0).abs() < 1e-4, "{yards}");
}

fn random_ground(numbers: &mut Knuth) -> Vec<Spot> {
    let count = 5 + (numbers.share() * 60.0) as usize;
    (0..count)
        .map(|_| {
            let (x, y) = (numbers.share() * 12_000.0, numbers.share() * 9_000.0);
            spot(x, y, (numbers.share() - 0.5) * 800.0)
        })
        .collect()
}

/// The volume over the hull by another Delaunay library's triangles: no two random spots share a
/// circle with two others, so that the triangulation is the only one.
#[test]
fn a_second_triangulation_gives_the_same_volume() {
    let mut numbers = Knuth(11);
    for _ in 0..200 {
        let spots = random_ground(&mut numbers);
        let points: Vec<delaunator::Point> = spots
            .iter()
            .map(|s| delaunator::Point {
                x: s.at.x,
                y: s.at.y,
            })
            .collect();
        let theirs = delaunator::triangulate(&points);
        let depth = -1000.0;
        let volume: f64 = theirs
            .triangles
            .chunks_exact(3)
            .map(|t| {
                let [a, b, c] = [spots[t[0]], spots[t[1]], spots[t[2]]];
                let area = ((b.at - a.at).cross(c.at - a.at) / 2.0).abs();
                area * ((a.level + b.level + c.level) / 3.0 - depth)
            })
            .sum();
        let hull: Vec<Coord<f64>> = theirs
            .hull
            .iter()
            .map(|&i| Coord {
                x: spots[i].at.x,
                y: spots[i].at.y,
            })
            .collect();
        let shape = Shape::new(vec![Polygon::new(LineString::new(hull), Vec::new())]);
        let done = dug(shape, Plane::flat(depth), &spots);
        let theirs = volume / 1e9;
        assert!(
            (done.cut_m3 - theirs).abs() < 1e-6 * theirs,
            "{} {theirs}",
            done.cut_m3
        );
        assert_eq!(done.fill_m3, Some(0.0));
    }
}

/// Digging to a ground's mirror image under a level plane: cut and fill change places.
#[test]
fn swapping_the_surfaces_swaps_cut_and_fill() {
    let mut numbers = Knuth(5);
    for _ in 0..100 {
        let spots = random_ground(&mut numbers);
        let downhill = Vector::new(0.6, 0.8);
        let plane = Plane::falling(Point::new(0.0, 0.0), 60.0, 0.02, downhill);
        let shape = rectangle(-500.0, -500.0, 11_000.0, 8_000.0);
        let plain = dug(shape.clone(), plane, &spots);
        // Both surfaces turned over: what stood above the plane now lies below it.
        let over: Vec<Spot> = spots
            .iter()
            .map(|s| spot(s.at.x, s.at.y, -s.level))
            .collect();
        let under = Plane::falling(Point::new(0.0, 0.0), -60.0, -0.02, downhill);
        let turned = dug(shape, under, &over);
        let fill = |done: &Earthwork| done.fill_m3.expect("there are spots");
        assert!((plain.cut_m3 - fill(&turned)).abs() < 1e-9 + 1e-9 * plain.cut_m3);
        assert!((fill(&plain) - turned.cut_m3).abs() < 1e-9 + 1e-9 * turned.cut_m3);
    }
}
