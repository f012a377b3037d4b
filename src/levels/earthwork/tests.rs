//! Cut and fill against published figures, sampled ground and laws.

use super::*;
use crate::geom::Vector;
use crate::levels::Spot;
use crate::levels::outline::is_inside;
use geo::{Coord, LineString, Polygon};

const FLAT: BuildUp = BuildUp {
    paver: 0.0,
    panel: 0.0,
    bedding_loose: 0.0,
    bedding_compacted: 0.0,
};

fn polygon(points: &[(f64, f64)], holes: &[&[(f64, f64)]]) -> Shape {
    let line = |points: &[(f64, f64)]| {
        LineString::new(points.iter().map(|&(x, y)| Coord { x, y }).collect())
    };
    let holes = holes.iter().map(|hole| line(hole)).collect();
    Shape::new(vec![Polygon::new(line(points), holes)])
}

fn spots(list: &[(f64, f64, f64)]) -> Vec<Spot> {
    list.iter()
        .map(|&(x, y, level)| Spot {
            at: Point::new(x, y),
            level,
        })
        .collect()
}

fn part(shape: Shape, finish: Plane) -> DigPart {
    DigPart {
        shape,
        finish,
        build_up: FLAT,
    }
}

/// Square pyramid by geometry: base 10 × 10 at 0, apex at 10, floor at −5:
/// 10³/3 + 500 = 833.333.
#[test]
fn pyramid_on_a_triangulated_surface() {
    let spots = spots(&[
        (0.0, 0.0, 0.0),
        (10.0, 0.0, 0.0),
        (10.0, 10.0, 0.0),
        (0.0, 10.0, 0.0),
        (5.0, 5.0, 10.0),
    ]);
    let ground = Ground::through(&spots).unwrap();
    let square = polygon(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)], &[]);
    let done = earthwork(&[part(square, Plane::flat(-5.0))], Some(&ground)).unwrap();
    assert!((done.cut_m3 * 1e9 - 2500.0 / 3.0).abs() < 1e-9);
    assert_eq!(done.fill_m3, Some(0.0));
    assert!(done.extrapolated_share.unwrap() < 1e-9);
    assert!((done.depth[1].value - 15.0).abs() < 1e-9);
    assert!(done.depth[1].at.distance(Point::new(5.0, 5.0)) < 1e-9);
    assert!((done.depth_mean - 2500.0 / 300.0).abs() < 1e-9);
}

const PLATE: [&[f64]; 5] = [
    &[5.2, 5.4, 5.7, 5.9, 6.2],
    &[4.7, 4.8, 5.2, 5.5, 5.8],
    &[4.2, 4.7, 4.8, 5.0],
    &[3.8, 4.0, 4.6, 4.6],
    &[3.4, 3.7, 4.2],
];

/// Ghilani & Wolf, Elementary Surveying, Plate B.2: a borrow pit on a 20 ft grid, 337 yd³ by
/// the mean of each cell's four corners. Two triangles a cell weigh the corners otherwise, so
/// the figure is met within the half difference of the diagonals (about 1 %); cells taken
/// with both diagonals and averaged meet it exactly.
#[test]
fn published_borrow_pit() {
    let foot = 304.8;
    let mut pit = Vec::new();
    for (row, rods) in PLATE.iter().enumerate() {
        for (column, rod) in rods.iter().enumerate() {
            pit.push((
                20.0 * foot * column as f64,
                -20.0 * foot * row as f64,
                (364.70 - rod) * foot,
            ));
        }
    }
    let spots = spots(&pit);
    let ground = Ground::through(&spots).unwrap();
    let x = |cells: f64| 20.0 * foot * cells;
    let outline = polygon(
        &[
            (0.0, 0.0),
            (0.0, x(-4.0)),
            (x(2.0), x(-4.0)),
            (x(2.0), x(-3.0)),
            (x(3.0), x(-3.0)),
            (x(3.0), x(-1.0)),
            (x(4.0), x(-1.0)),
            (x(4.0), 0.0),
        ],
        &[],
    );
    let done = earthwork(&[part(outline, Plane::flat(358.0 * foot))], Some(&ground)).unwrap();
    let cubic_yards = done.cut_m3 / 0.764_554_857_984;
    assert!((cubic_yards - 337.4).abs() < 3.4, "{cubic_yards}");
    assert!(done.extrapolated_share.unwrap() < 1e-9);
    assert!((done.depth[1].value - 3.3 * foot).abs() < 1e-6);

    // Each cell by both diagonals: the mean of the two is the mean of the four corners.
    let cut = |row: usize, column: usize| 364.70 - PLATE[row][column] - 358.0;
    let mut total = 0.0;
    for row in 0..4 {
        for column in 0..PLATE[row].len().min(PLATE[row + 1].len()) - 1 {
            let c = [
                cut(row, column),
                cut(row + 1, column),
                cut(row + 1, column + 1),
                cut(row, column + 1),
            ];
            let s = |i: usize| Point::new([0.0, 0.0, 20.0, 20.0][i], [0.0, -20.0, -20.0, 0.0][i]);
            for corners in [[0, 1, 2], [0, 2, 3], [0, 1, 3], [1, 2, 3]] {
                let three: Vec<Spot> = corners
                    .iter()
                    .map(|&i| Spot {
                        at: s(i),
                        level: c[i],
                    })
                    .collect();
                let facet = Ground::through(&three).unwrap().facets(1.0).remove(0);
                total += integral(&facet.corners, |p| facet.plane.level_at(p)).1 / 2.0;
            }
        }
    }
    assert!((total / 27.0 - 337.4).abs() < 0.05, "{}", total / 27.0);
}

fn uneven() -> Vec<Spot> {
    spots(&[
        (0.0, 0.0, 120.0),
        (3000.0, 200.0, -80.0),
        (2800.0, 3100.0, 60.0),
        (-200.0, 2900.0, -150.0),
        (1400.0, 1500.0, 90.0),
        (700.0, 2200.0, -20.0),
    ])
}

fn l_shape() -> Shape {
    polygon(
        &[
            (-600.0, -500.0),
            (3500.0, -500.0),
            (3500.0, 1500.0),
            (1200.0, 1500.0),
            (1200.0, 4000.0),
            (-600.0, 4000.0),
        ],
        &[&[
            (200.0, 200.0),
            (200.0, 600.0),
            (700.0, 600.0),
            (700.0, 200.0),
        ]],
    )
}

/// Fine sampling of the ground by the nearest-level rule agrees with the exact integral.
#[test]
fn sampled_ground_agrees_in_and_out_of_the_hull() {
    let two = spots(&[
        (0.0, 0.0, 100.0),
        (900.0, 500.0, -60.0),
        (1800.0, 1000.0, 70.0),
    ]);
    for spots in [uneven(), two] {
        let ground = Ground::through(&spots).unwrap();
        let plane = Plane::falling(Point::new(0.0, 0.0), 10.0, 0.02, Vector::new(0.6, 0.8));
        let done = earthwork(&[part(l_shape(), plane)], Some(&ground)).unwrap();
        let (step, mut cut, mut fill, mut outside, mut count) = (20.0, 0.0, 0.0, 0.0, 0.0);
        for i in 0..205 {
            for j in 0..225 {
                let at = Point::new(
                    -600.0 + step * (f64::from(i) + 0.5),
                    -500.0 + step * (f64::from(j) + 0.5),
                );
                if !is_inside(&l_shape(), at) {
                    continue;
                }
                let depth = ground.level_at(at) - plane.level_at(at);
                cut += depth.max(0.0) * step * step / 1e9;
                fill += (-depth).max(0.0) * step * step / 1e9;
                outside += if ground.is_extrapolated(at) { 1.0 } else { 0.0 };
                count += 1.0;
            }
        }
        assert!((done.area_mm2 - count * step * step).abs() < 1.0);
        assert!(
            (done.cut_m3 - cut).abs() < 2e-3 * cut,
            "{} {cut}",
            done.cut_m3
        );
        assert!(
            (done.fill_m3.unwrap() - fill).abs() < 2e-3 * fill,
            "{done:?} {fill}"
        );
        assert!((done.extrapolated_share.unwrap() - outside / count).abs() < 5e-3);
    }
}

#[test]
fn moving_and_turning_the_site_changes_nothing() {
    let plane = Plane::falling(Point::new(100.0, 50.0), 10.0, 0.02, Vector::new(0.0, 1.0));
    let plain = earthwork(
        &[part(l_shape(), plane)],
        Ground::through(&uneven()).as_ref(),
    )
    .unwrap();
    let place = |p: Point| Point::new(20_000.0, -7_000.0) + (p - Point::default()).turned(33.0);
    let spots: Vec<Spot> = uneven()
        .iter()
        .map(|s| Spot {
            at: place(s.at),
            ..*s
        })
        .collect();
    let coordinates = |line: &LineString<f64>| -> LineString<f64> {
        line.coords()
            .map(|c| place(Point::new(c.x, c.y)))
            .map(|p| Coord { x: p.x, y: p.y })
            .collect::<Vec<_>>()
            .into()
    };
    let shape = Shape::new(
        l_shape()
            .iter()
            .map(|p| {
                Polygon::new(
                    coordinates(p.exterior()),
                    p.interiors().iter().map(coordinates).collect(),
                )
            })
            .collect(),
    );
    let moved = Plane::falling(
        place(plane.at),
        10.0,
        0.02,
        Vector::new(0.0, 1.0).turned(33.0),
    );
    let turned = earthwork(&[part(shape, moved)], Ground::through(&spots).as_ref()).unwrap();
    assert!((plain.cut_m3 - turned.cut_m3).abs() < 1e-8);
    assert!((plain.fill_m3.unwrap() - turned.fill_m3.unwrap()).abs() < 1e-8);
    assert!((plain.extrapolated_share.unwrap() - turned.extrapolated_share.unwrap()).abs() < 1e-9);
    assert!((plain.depth[1].value - turned.depth[1].value).abs() < 1e-6);
    assert!((plain.depth[0].value - turned.depth[0].value).abs() < 1e-6);
}

#[test]
fn cut_and_fill_swap_when_the_surfaces_swap() {
    let upside_down: Vec<Spot> = uneven()
        .iter()
        .map(|s| Spot {
            level: -s.level,
            ..*s
        })
        .collect();
    let plane = Plane::falling(Point::new(0.0, 0.0), 10.0, 0.03, Vector::new(1.0, 0.0));
    let mirrored = Plane {
        level: -plane.level,
        gradient: -plane.gradient,
        ..plane
    };
    let a = earthwork(
        &[part(l_shape(), plane)],
        Ground::through(&uneven()).as_ref(),
    )
    .unwrap();
    let b = earthwork(
        &[part(l_shape(), mirrored)],
        Ground::through(&upside_down).as_ref(),
    )
    .unwrap();
    assert!(a.cut_m3 > 0.0 && a.fill_m3.unwrap() > 0.0);
    assert!((a.cut_m3 - b.fill_m3.unwrap()).abs() < 1e-12);
    assert!((b.cut_m3 - a.fill_m3.unwrap()).abs() < 1e-12);
    assert!((a.cut_m3 - a.fill_m3.unwrap() - a.depth_mean * a.area_mm2 / 1e9).abs() < 1e-9);
}

#[test]
fn without_spots_the_ground_is_at_finish() {
    let build_up = BuildUp {
        paver: 60.0,
        panel: 20.0,
        bedding_loose: 30.0,
        bedding_compacted: 20.0,
    };
    let finish = Plane::falling(Point::new(0.0, 0.0), 0.0, 0.02, Vector::new(0.0, 1.0));
    let part = DigPart {
        shape: l_shape(),
        finish,
        build_up,
    };
    let done = earthwork(&[part], None).unwrap();
    assert!((done.cut_m3 * 1e9 - 100.0 * done.area_mm2).abs() < 1e-3);
    assert_eq!((done.fill_m3, done.extrapolated_share), (None, None));
    assert!(
        (done.depth[0].value - 100.0).abs() < 1e-9 && (done.depth[1].value - 100.0).abs() < 1e-9
    );
    // Formation from the lower edge at −500 (finish 10) to the upper at 4000 (finish −80).
    assert!((done.formation[0].value + 180.0).abs() < 1e-9);
    assert!((done.formation[1].value + 90.0).abs() < 1e-9);
    assert_eq!(earthwork(&[], None), None);
}

/// Textbook example 9-2 of an earthmoving text: 1,000 bank cubic yards of dense clay at 30 %
/// swell are 1,300 loose, 186 loads of 7.
#[test]
fn published_loads() {
    assert_eq!(loads(1000.0 * 1.3, 7.0), 186);
    assert_eq!(loads(6.000_000_000_1, 2.0), 3);
    assert_eq!(loads(0.0, 2.0), 0);
}
