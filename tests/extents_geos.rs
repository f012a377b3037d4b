//! Extents and areas against a second geometry library, GEOS, on generated outlines.
//!
//! Convex outlines, all open, with no corner sharp enough to be cut: the base is GEOS's buffer with
//! mitred joins. Pairs of overlapping outlines: union and difference of flattened shapes. The
//! outlines come from a fixed pseudo-random list, so that every run tries the same ones.

mod common;

use common::numbers::Knuth;
use geos::{BufferParams, CapStyle, Geom, Geometry, JoinStyle};
use groundsheet::geom::{Point, Ring, Shape, clip};
use groundsheet::site::{AreaSpec, CornerSpec, OutlineSpec, extents, resolve};

/// Corners round a centre at rising angles and the given spread of radii, anticlockwise.
fn star(numbers: &mut Knuth, centre: Point, corners: usize, spread: f64) -> Vec<Point> {
    (0..corners)
        .map(|k| {
            let share = (k as f64 + 0.6 * numbers.share()) / corners as f64;
            let angle = share * std::f64::consts::TAU;
            let radius = 3000.0 * (1.0 - spread * numbers.share());
            let (x, y) = (radius * libm::cos(angle), radius * libm::sin(angle));
            Point::new(centre.x + x, centre.y + y)
        })
        .collect()
}

fn geometry(points: &[Point]) -> Geometry {
    let mut text: Vec<String> = points
        .iter()
        .map(|p| format!("{:?} {:?}", p.x, p.y))
        .collect();
    text.push(text[0].clone());
    Geometry::new_from_wkt(&format!("POLYGON(({}))", text.join(", "))).expect("sound text")
}

fn area_spec(points: &[Point]) -> AreaSpec {
    AreaSpec {
        name: "Paving".into(),
        outline: OutlineSpec {
            ring: Ring::polygon(points),
            corners: points
                .iter()
                .map(|at| CornerSpec {
                    at: *at,
                    name: None,
                })
                .collect(),
            edges: Vec::new(),
        },
        holes: Vec::new(),
    }
}

fn mitred(geometry: &Geometry, by: f64, limit: f64) -> Geometry {
    let params = BufferParams::builder()
        .end_cap_style(CapStyle::Flat)
        .join_style(JoinStyle::Mitre)
        .mitre_limit(limit)
        .build()
        .expect("sound parameters");
    geometry.buffer_with_params(by, &params).expect("a buffer")
}

fn near(found: f64, wanted: f64, slack: f64, case: usize) {
    assert!(
        (found - wanted).abs() <= slack,
        "case {case}: found {found}, wanted {wanted}"
    );
}

#[test]
fn open_outlines_grow_as_a_mitred_buffer() {
    let mut numbers = Knuth(20);
    let mut tried = 0;
    for case in 0..120 {
        let corners = 5 + case % 5;
        let spread = if case % 2 == 0 { 0.0 } else { 0.45 };
        let points = star(&mut numbers, Point::new(500.0, -900.0), corners, spread);
        // Where a corner is sharp enough to be cut the libraries cut it differently: left out.
        let sharp = (0..corners).any(|k| {
            let (a, b) = (
                points[(k + corners - 1) % corners],
                points[(k + 1) % corners],
            );
            let (p, q) = ((a - points[k]).unit(), (b - points[k]).unit());
            p.zip(q).is_some_and(|(p, q)| p.dot(q) > 0.45)
        });
        if sharp {
            continue;
        }
        tried += 1;
        let site = resolve(&[area_spec(&points)], &[], &[]).expect("a sound site");
        let found = extents(&site, 152.4, 300.0);
        let theirs = geometry(&points);
        near(
            found.paved.area_mm2,
            theirs.area().expect("an area"),
            1e-2,
            case,
        );
        let base = mitred(&theirs, 152.4, 100.0);
        near(
            found.base.area_mm2,
            base.area().expect("an area"),
            0.5,
            case,
        );
        near(
            found.base.perimeter_mm,
            base.length().expect("a length"),
            0.01,
            case,
        );
        let dig = mitred(&theirs, 300.0, 100.0);
        near(found.dig.area_mm2, dig.area().expect("an area"), 0.5, case);
    }
    assert!(tried > 60, "only {tried} outlines tried");
}

#[test]
fn union_and_difference_agree() {
    let mut numbers = Knuth(7);
    for case in 0..100 {
        let a = star(&mut numbers, Point::new(0.0, 0.0), 7, 0.5);
        let b = star(&mut numbers, Point::new(2500.0, 700.0), 9, 0.6);
        let (ours_a, ours_b): (Shape, Shape) =
            (clip::shape_of_points(&a), clip::shape_of_points(&b));
        let (theirs_a, theirs_b) = (geometry(&a), geometry(&b));
        let area = |g: Result<Geometry, geos::Error>| g.expect("a shape").area().expect("an area");
        // A micrometre of rounding along some 40 m of outline.
        near(
            clip::area(&clip::union([&ours_a, &ours_b])),
            area(theirs_a.union(&theirs_b)),
            40.0,
            case,
        );
        near(
            clip::area(&clip::intersection(&ours_a, &ours_b)),
            area(theirs_a.intersection(&theirs_b)),
            40.0,
            case,
        );
        near(
            clip::area(&clip::difference(&ours_a, &ours_b)),
            area(theirs_a.difference(&theirs_b)),
            40.0,
            case,
        );
    }
}

/// Scattered stars less others, so many that they are clipped group by group, from far apart to
/// crowded, in a field or without one.
#[test]
fn many_shapes_clipped_in_groups_agree() {
    let mut numbers = Knuth(11);
    let (mut parts, mut holes) = (0, 0);
    for case in 0..24 {
        let reach = 20_000.0 + 6_000.0 * case as f64;
        let mut scattered = |count: usize| -> Vec<Vec<Point>> {
            let places = (0..count).map(|_| {
                let at = Point::new(reach * numbers.share(), reach * numbers.share());
                star(&mut numbers, at, 7, 0.6)
            });
            places.collect()
        };
        let (mut on, off) = (scattered(50), scattered(50));
        if case % 2 == 0 {
            let far = 1.2 * reach;
            let corners = [(-far, -far), (far, -far), (far, far), (-far, far)];
            on.push(corners.map(|(x, y)| Point::new(x, y)).to_vec());
        }
        let ours = |stars: &[Vec<Point>]| {
            let shapes: Vec<Shape> = stars.iter().map(|s| clip::shape_of_points(s)).collect();
            clip::union(&shapes)
        };
        let theirs = |stars: &[Vec<Point>]| {
            let all = stars.iter().map(|star| geometry(star));
            let all = all.reduce(|all, one| all.union(&one).expect("a shape"));
            all.expect("there are stars")
        };
        let (plain_on, plain_off) = (theirs(&on), theirs(&off));
        let (our_on, our_off) = (ours(&on), ours(&off));
        let area = |g: &Geometry| g.area().expect("an area");
        // A micrometre of rounding along some 20 m for each star.
        near(clip::area(&our_on), area(&plain_on), 2000.0, case);
        let left = clip::difference(&our_on, &our_off);
        let wanted = plain_on.difference(&plain_off).expect("a shape");
        near(clip::area(&left), area(&wanted), 4000.0, case);
        let read: Geometry = (&left).try_into().expect("GEOS takes what is left");
        assert!(read.is_valid().expect("GEOS can tell"), "case {case}");
        let apart = read.sym_difference(&wanted).expect("a shape");
        near(area(&apart), 0.0, 8000.0, case);
        parts += left.0.len();
        holes += left
            .iter()
            .map(|part| part.interiors().len())
            .sum::<usize>();
    }
    assert!(parts > 300 && holes > 100, "{parts} {holes}");
}
