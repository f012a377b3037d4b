//! Panel pieces against GEOS (the `geos` crate): on generated outlines, the number of pieces,
//! each one's area and the total, by laying the same cells there one by one.

mod common;

use common::numbers::Lehmer;
use common::panels::{PANEL, spec};
use geos::Geom as _;
use groundsheet::geom::{Frame, Point, Shape, Vector, clip};
use groundsheet::panels::{LayoutRule, PanelSpec, PanelsSpec, lay};

/// A star-shaped outline about (4 m, 3 m), with a hole in every other one.
fn outline(numbers: &mut Lehmer, holed: bool) -> Shape {
    let mut ring = |around: usize, low: f64, high: f64| {
        let point = |index: usize| {
            let angle = std::f64::consts::TAU * index as f64 / around as f64;
            let radius = numbers.next(low, high);
            let round = |value: f64| (value * 1000.0).round() / 1000.0;
            (
                round(4000.0 + radius * angle.cos()),
                round(3000.0 + radius * angle.sin()),
            )
        };
        geo::LineString::from((0..around).map(point).collect::<Vec<_>>())
    };
    let exterior = ring(11, 2000.0, 5000.0);
    let holes = if holed {
        vec![ring(7, 300.0, 900.0)]
    } else {
        Vec::new()
    };
    let mut shape = geo::Polygon::new(exterior, holes);
    use geo::orient::{Direction, Orient};
    shape = shape.orient(Direction::Default);
    geo::MultiPolygon(vec![shape])
}

/// Least distance between parallel lines along a side of the hull that hold it between them.
fn width(hull: &geos::Geometry) -> f64 {
    let geo::Geometry::Polygon(hull) = geo::Geometry::try_from(hull).expect("a hull converts")
    else {
        return 0.0;
    };
    let across = |side: geo::Line<f64>| {
        let (dx, dy) = (side.dx(), side.dy());
        let off = |at: &geo::Coord<f64>| {
            (dx * (at.y - side.start.y) - dy * (at.x - side.start.x)).abs() / dx.hypot(dy)
        };
        hull.exterior().coords().map(off).fold(0.0, f64::max)
    };
    hull.exterior()
        .lines()
        .map(across)
        .fold(f64::INFINITY, f64::min)
}

/// Areas of the pieces of one cell that GEOS finds, but for those under 0.5 mm wide.
fn cell_areas(base: &geos::Geometry, corners: [(f64, f64); 4]) -> Vec<f64> {
    let ring = geo::LineString::from(corners.to_vec());
    let cell = geo::Polygon::new(ring, Vec::new());
    let cell = geos::Geometry::try_from(&cell).expect("a rectangle is a geometry");
    let both = base.intersection(&cell).expect("both are valid");
    let count = both.get_num_geometries().expect("a collection counts");
    let mut areas = Vec::new();
    for index in 0..count {
        let part = both.get_geometry_n(index).expect("within the count");
        let area = part.area().expect("a part has an area");
        if area == 0.0 {
            continue;
        }
        if width(&part.convex_hull().expect("a part has a hull")) >= 0.5 {
            areas.push(area);
        }
    }
    areas
}

/// An outline of upright and level sides in steps of 150 mm about (3.9 m, 3 m), with holes: sides and
/// corners fall on those of panels, and on each other.
fn steps(numbers: &mut Lehmer) -> Shape {
    let mut shape = Shape::new(Vec::new());
    for number in 0..9 {
        let mut at = |low: f64, high: f64| numbers.next(low, high).floor() * 150.0;
        let (x, y) = (at(0.0, 40.0), at(0.0, 28.0));
        let (wide, high) = (at(2.0, 14.0), at(2.0, 12.0));
        let block = geo::Rect::new((x, y), (x + wide, y + high)).to_polygon();
        let block = Shape::new(vec![block]);
        shape = if number % 3 == 2 {
            clip::difference(&shape, &block)
        } else {
            clip::union([&shape, &block])
        };
    }
    shape
}

#[test]
fn pieces_agree_with_geos() {
    let mut numbers = Lehmer(20_260_504);
    for round in 0..24 {
        let base = outline(&mut numbers, round % 2 == 0);
        let turn = numbers.next(0.0, 360.0);
        agree(round, &base, turn);
    }
}

#[test]
fn pieces_agree_with_geos_where_sides_fall_together() {
    let mut numbers = Lehmer(20_260_518);
    for round in 0..48 {
        let base = steps(&mut numbers);
        // Each turn to either hand and with either joint.
        let turn = [0.0, 90.0, 180.0, 270.0, 45.0, 30.0][round / 8];
        agree(round, &base, turn);
    }
}

/// Lays the base and has GEOS find every cell.
fn agree(round: usize, base: &Shape, turn: f64) {
    let turn = Vector::new(1.0, 0.0).turned(turn);
    let frame = Frame {
        // On the grid of the outlines with sides in steps.
        origin: Point::new(3900.0, 3000.0),
        u: turn,
        v: if round.is_multiple_of(3) {
            -turn.left()
        } else {
            turn.left()
        },
    };
    let joint = if round.is_multiple_of(4) { 6.0 } else { 0.0 };
    let spec = PanelsSpec {
        panel: PanelSpec { joint, ..PANEL },
        ..spec(300.0 + joint, LayoutRule::Fixed)
    };
    let laid = lay(&spec, base, &frame);

    let whole_base = geos::Geometry::try_from(base).expect("a shape is a geometry");
    let (cell, pitch) = (900.0 + joint, 600.0 + joint);
    let mut wanted: Vec<f64> = Vec::new();
    for course in -12_i32..=12 {
        let shift = (f64::from(course) * spec.stagger).rem_euclid(cell);
        for index in -10_i32..=10 {
            let (u, v) = (shift + f64::from(index) * cell, f64::from(course) * pitch);
            let corner = |du: f64, dv: f64| {
                let at = frame.to_site(u + du, v + dv);
                (at.x, at.y)
            };
            wanted.extend(cell_areas(
                &whole_base,
                [
                    corner(0.0, 0.0),
                    corner(900.0, 0.0),
                    corner(900.0, 600.0),
                    corner(0.0, 600.0),
                ],
            ));
        }
    }
    assert_eq!(laid.pieces.len(), wanted.len(), "round {round}");
    let total: f64 = laid.pieces.iter().map(|piece| piece.area_mm2).sum();
    assert!(
        (total - wanted.iter().sum::<f64>()).abs() < 100.0,
        "round {round}"
    );
    let mut found: Vec<f64> = laid.pieces.iter().map(|piece| piece.area_mm2).collect();
    found.sort_by(f64::total_cmp);
    wanted.sort_by(f64::total_cmp);
    for (found, wanted) in found.iter().zip(&wanted) {
        assert!(
            (found - wanted).abs() < 5.0,
            "round {round}: {found} {wanted}"
        );
    }
    let wholes = wanted
        .iter()
        .filter(|&&area| area > 540_000.0 - 1.0)
        .count();
    assert!(laid.whole() >= wholes, "round {round}");
}
