use super::*;
use crate::geom::{Ring, Vector, clip};
use crate::site::{AreaSpec, CornerSpec, EdgeKind, EdgeSpec, OutlineSpec, resolve};
use proptest::prelude::*;

fn point(p: (f64, f64), turn: f64) -> Point {
    Point::default() + Vector::new(p.0 * 1000.0, p.1 * 1000.0).turned(turn)
}

fn outline(corners: &[(f64, f64)], turn: f64) -> OutlineSpec {
    let points: Vec<Point> = corners.iter().map(|p| point(*p, turn)).collect();
    OutlineSpec {
        ring: Ring::polygon(&points),
        corners: points
            .iter()
            .map(|&at| CornerSpec { at, name: None })
            .collect(),
        edges: Vec::new(),
    }
}

/// An area from corners in metres, turned about the origin.
fn area(corners: &[(f64, f64)], turn: f64) -> AreaSpec {
    AreaSpec {
        name: "Area".into(),
        outline: outline(corners, turn),
        holes: Vec::new(),
    }
}

fn named(mut area: AreaSpec, edge: &str, kind: EdgeKind) -> AreaSpec {
    area.outline.edges.push(EdgeSpec {
        name: edge.into(),
        kind: Some(kind),
        extension: None,
    });
    area
}

/// A plane of 2 % or as stated, at a level in millimetres at a place in metres.
fn plane(at: (f64, f64), level: f64, fall: f64, way: (f64, f64), turn: f64) -> Plane {
    let way = Vector::new(way.0, way.1).unit().unwrap().turned(turn);
    Plane::falling(point(at, turn), level, fall, way)
}

fn water(areas: &[AreaSpec], planes: &[Plane]) -> Water {
    with_drains(areas, planes, &[])
}

fn with_drains(areas: &[AreaSpec], planes: &[Plane], drains: &[Shape]) -> Water {
    let site = resolve(areas, &[], &[]).expect("the areas of a test are sound");
    let water = trace(&site, planes, drains, &[]);
    let shares: f64 = water.outlets.iter().map(|o| o.share).sum();
    assert!((shares - 1.0).abs() < 1e-9, "shares add up to {shares}");
    let whole: f64 = site.areas.iter().map(|a| a.area_mm2()).sum();
    assert!(
        (water.area_mm2 / whole - 1.0).abs() < 1e-6,
        "{} of {whole} mm² is traced",
        water.area_mm2
    );
    water
}

fn square(left: f64, bottom: f64, side: f64) -> Shape {
    let (right, top) = (left + side, bottom + side);
    let ring = [(left, bottom), (right, bottom), (right, top), (left, top)];
    clip::shape_of_points(&ring.map(|p| point(p, 0.0)))
}

const ROOM: [(f64, f64); 4] = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)];
const WEST: [(f64, f64); 4] = [(0.0, 0.0), (2.0, 0.0), (2.0, 3.0), (0.0, 3.0)];
const EAST: [(f64, f64); 4] = [(2.0, 0.0), (4.0, 0.0), (4.0, 3.0), (2.0, 3.0)];

fn share_of(water: &Water, edge: &str) -> f64 {
    let of = water.outlets.iter().filter(|o| match &o.outlet {
        Outlet::Open { edge: name, .. }
        | Outlet::Flush { edge: name, .. }
        | Outlet::Wall { edge: name, .. }
        | Outlet::Hole { edge: name, .. } => name == edge,
        _ => false,
    });
    of.map(|o| o.share).sum()
}

/// By hand: of 4 m by 3 m falling at 45° to the corner C, what lies under the diagonal from C
/// reaches B-C: 3 × 3 / 2 = 4.5 of 12 m².
#[test]
fn a_fall_to_a_corner_parts_along_the_diagonal() {
    let room = named(area(&ROOM, 0.0), "B-C", EdgeKind::Flush);
    let found = water(&[room], &[plane((0.0, 0.0), 0.0, 0.02, (1.0, 1.0), 0.0)]);
    assert!((share_of(&found, "B-C") - 4.5 / 12.0).abs() < 1e-9);
    assert!((share_of(&found, "C-D") - 7.5 / 12.0).abs() < 1e-9);
    assert!((found.share("flush") - 0.375).abs() < 1e-9);
    assert!((found.share("open") - 0.625).abs() < 1e-9);
}

/// By hand: a hole of 1 m square that starts 1 m down the fall takes a strip of 1 m by 1 m.
#[test]
fn a_hole_takes_the_strip_above_it() {
    let mut room = area(&ROOM, 0.0);
    room.holes.push(outline(
        &[(1.5, 1.0), (2.5, 1.0), (2.5, 2.0), (1.5, 2.0)],
        0.0,
    ));
    let found = water(&[room], &[plane((0.0, 0.0), 0.0, 0.02, (0.0, 1.0), 0.0)]);
    assert!((found.share("hole") - 1.0 / 11.0).abs() < 1e-9);
    assert!((found.share("open") - 10.0 / 11.0).abs() < 1e-9);
}

#[test]
fn a_fall_towards_a_wall_ends_there() {
    let room = named(area(&ROOM, 0.0), "A-B", EdgeKind::Wall);
    let down = plane((0.0, 0.0), 0.0, 0.02, (0.0, -1.0), 0.0);
    let found = water(&[room], &[down]);
    assert!((found.share("wall") - 1.0).abs() < 1e-12);
    let reached = &found.outlets[0].reached;
    assert_eq!(reached.len(), 1);
    assert!((reached[0][0].distance(reached[0][1]) - 4000.0).abs() < 1e-6);
}

/// A valley that falls 1 % along x = 2 m carries all the water to the open edges at its end; a
/// level one holds it in its middle, and a drain there takes it.
#[test]
fn a_valley_carries_its_water_to_its_lower_end() {
    let areas = [area(&WEST, 0.0), area(&EAST, 0.0)];
    let sloped = [
        plane((2.0, 0.0), 0.0, 0.02, (1.0, 0.5), 0.0),
        plane((2.0, 0.0), 0.0, 0.02, (-1.0, 0.5), 0.0),
    ];
    let found = water(&areas, &sloped);
    assert!((found.share("open") - 1.0).abs() < 1e-9, "{found:?}");
    let level = [
        plane((2.0, 0.0), 0.0, 0.02, (1.0, 0.0), 0.0),
        plane((2.0, 0.0), 0.0, 0.02, (-1.0, 0.0), 0.0),
    ];
    let found = water(&areas, &level);
    assert!((found.share("held") - 1.0).abs() < 1e-9, "{found:?}");
    let low = found.outlets[0].at;
    assert!(low.distance(Point::new(2000.0, 1500.0)) < 1.0, "{low:?}");
    // A channel of 100 mm along the whole valley takes everything.
    let channel = clip::shape_of_points(
        &[(1.95, -0.1), (2.05, -0.1), (2.05, 3.1), (1.95, 3.1)].map(|p| point(p, 0.0)),
    );
    let found = with_drains(&areas, &level, &[channel]);
    assert!((found.share("drain") - 1.0).abs() < 1e-6, "{found:?}");
    assert!((found.catchment(0) / 12e6 - 1.0).abs() < 1e-6);
}

/// A valley that falls to its middle from both ends needs four planes; a gully at the middle
/// takes all, and without it all is held there. By hand: four quarters of 2 m by 1.5 m.
#[test]
fn four_planes_to_one_gully() {
    let quarter = |x: f64, y: f64| {
        area(
            &[(x, y), (x + 2.0, y), (x + 2.0, y + 1.5), (x, y + 1.5)],
            0.0,
        )
    };
    let areas = [
        quarter(0.0, 0.0),
        quarter(2.0, 0.0),
        quarter(2.0, 1.5),
        quarter(0.0, 1.5),
    ];
    let planes = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)]
        .map(|way| plane((2.0, 1.5), 0.0, 0.02, way, 0.0));
    let found = water(&areas, &planes);
    assert!((found.share("held") - 1.0).abs() < 1e-9, "{found:?}");
    assert!(found.outlets[0].at.distance(Point::new(2000.0, 1500.0)) < 1.0);
    let found = with_drains(&areas, &planes, &[square(1.85, 1.35, 0.3)]);
    assert!((found.share("drain") - 1.0).abs() < 1e-6, "{found:?}");
}

/// West falls to East. With East level with it or below, water goes on; 20 mm above, it is held at
/// the step and, where the step falls along, runs to its end.
#[test]
fn a_step_down_passes_and_a_step_up_holds() {
    let areas = [
        area(&WEST, 0.0),
        named(area(&EAST, 0.0), "E-F", EdgeKind::Flush),
    ];
    let run = |drop: f64, way: (f64, f64)| {
        let west = plane((2.0, 0.0), 0.0, 0.02, way, 0.0);
        let east = plane((2.0, 0.0), -drop, 0.02, (1.0, 0.0), 0.0);
        water(&areas, &[west, east])
    };
    for drop in [0.0, 0.4, 30.0] {
        assert!(
            (run(drop, (1.0, 0.0)).share("flush") - 1.0).abs() < 1e-9,
            "{drop}"
        );
    }
    let held = run(-20.0, (1.0, 0.0));
    assert!((held.share("held") - 0.5).abs() < 1e-9);
    assert!((held.share("flush") - 0.5).abs() < 1e-9);
    // Falling along the step too, all of West's water leaves over its upper edge.
    let along = run(-60.0, (1.0, 1.0));
    assert!((along.share("open") - 0.5).abs() < 1e-9, "{along:?}");
}

#[test]
fn a_level_area_holds_its_water() {
    let found = water(&[area(&ROOM, 0.0)], &[Plane::flat(5.0)]);
    assert!((found.share("held") - 1.0).abs() < 1e-12);
    let at = found.outlets[0].at;
    assert!(at.x > 0.0 && at.x < 4000.0 && at.y > 0.0 && at.y < 3000.0);
}

#[test]
fn water_poured_out_is_followed() {
    let site = resolve(&[area(&ROOM, 0.0)], &[], &[]).unwrap();
    let planes = [plane((0.0, 0.0), 0.0, 0.02, (1.0, 1.0), 0.0)];
    let places = [(3.5, 0.5), (0.5, 2.0), (0.0, 0.0), (9.0, 9.0)].map(|p| point(p, 0.0));
    let found = trace(&site, &planes, &[], &places);
    let edge = |index: usize| match &found.outlets[found.from[index].unwrap()].outlet {
        Outlet::Open { edge, .. } => edge.clone(),
        other => panic!("{other:?}"),
    };
    assert_eq!([edge(0), edge(1), edge(2)], ["B-C", "C-D", "C-D"]);
    assert_eq!(found.from[3], None);
}

/// Walks down in steps of a millimetre, area by area: another method for the same answer.
fn walk(site: &Site, planes: &[Plane], from: Point) -> Option<usize> {
    let mut at = from;
    for _ in 0..20_000 {
        let here = site
            .areas
            .iter()
            .position(|a| clip::contains(&a.shape(), at))?;
        let next = at + planes[here].downhill()? * 1.0;
        if !site.areas.iter().any(|a| clip::contains(&a.shape(), next)) {
            return Some(here);
        }
        at = next;
    }
    None
}

/// Three areas in a row that fall on into each other at different angles: each part is where a
/// walk down from its middle ends.
#[test]
fn parts_end_where_a_walk_ends() {
    let third = |x: f64| area(&[(x, 0.0), (x + 1.0, 0.0), (x + 1.0, 2.0), (x, 2.0)], 0.0);
    let areas = [third(0.0), third(1.0), third(2.0)];
    let planes = [
        plane((1.0, 0.0), 0.0, 0.02, (1.0, 0.4), 0.0),
        plane((1.0, 0.0), -40.0, 0.02, (1.0, -0.7), 0.0),
        plane((2.0, 0.0), -90.0, 0.02, (0.5, 1.0), 0.0),
    ];
    let site = resolve(&areas, &[], &[]).unwrap();
    let found = water(&areas, &planes);
    assert!(found.parts.len() > 4);
    for part in &found.parts {
        let [a, b, c, d] = part.ring;
        let middle = a.midpoint(c).midpoint(b.midpoint(d));
        let ends = walk(&site, &planes, middle).expect("the walk comes to an edge");
        match &found.outlets[part.outlet].outlet {
            Outlet::Open { area, .. } => assert_eq!(*area, ends, "{part:?}"),
            other => panic!("{other:?}"),
        }
    }
}

/// Four planes of 0.03 % that hand their water round in a ring, each over a step up of under 0.5 mm:
/// it goes round until it is called held, on no more stack than a small thread has.
#[test]
fn water_that_goes_round_is_held() {
    let ring = || {
        let quarter = |x: f64, y: f64| {
            area(
                &[(x, y), (x + 1.0, y), (x + 1.0, y + 1.0), (x, y + 1.0)],
                0.0,
            )
        };
        let areas = [
            quarter(0.0, 0.0),
            quarter(1.0, 0.0),
            quarter(1.0, 1.0),
            quarter(0.0, 1.0),
        ];
        let planes = [(1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0)];
        let planes = planes.map(|way| plane((1.0, 1.0), 0.0, 0.0003, way, 0.0));
        water(&areas, &planes).share("held")
    };
    let thread = std::thread::Builder::new().stack_size(1 << 20);
    let held = thread.spawn(ring).unwrap().join().unwrap();
    // Of each square the half that runs to the next one; the other half runs off the outer edge.
    assert!((held - 0.5).abs() < 1e-6, "{held}");
}

/// By hand: area 3 falls straight into area 2 and with it out over the east edge; the valley under
/// area 0 runs on area 1 to the south, where both leave. At the upper end of the valley the step up
/// to area 0 passes 0.5 mm, so that its first piece of edge is 0.4 mm long: shorter than the reach
/// within which ends count as one.
#[test]
fn a_short_piece_of_edge_carries_its_water_on() {
    let at = [(0.0, 0.0), (2.0, 0.0), (2.0, 1.5), (0.0, 1.5)];
    let falls = [
        (1.5305, 34.778),
        (1.0424, 268.968),
        (5.9242, 0.0),
        (7.2805, 0.0),
    ];
    let areas = at.map(|(x, y)| {
        let ring = [(x, y), (x + 2.0, y), (x + 2.0, y + 1.5), (x, y + 1.5)];
        area(&ring, 0.0)
    });
    let planes = falls.map(|(level, turn)| {
        let way = Vector::new(1.0, 0.0).turned(turn);
        plane((2.0, 1.5), level, 0.02, (way.x, way.y), 0.0)
    });
    let found = water(&areas, &planes);
    assert!((found.share("open") - 1.0).abs() < 1e-9, "{found:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    /// Turning the site with its falls changes no share, and shares add up to 1. Ends of joints
    /// that touch within a millimetre are one place, over runs of at most 5 m: of 12 m² 0.0004.
    #[test]
    fn turning_the_site_changes_nothing(
        ways in proptest::collection::vec(0.0..360.0f64, 4),
        levels in proptest::collection::vec(-40.0..40.0f64, 4),
        turn in 1.0..359.0f64,
    ) {
        let quarter = |x: f64, y: f64, turn: f64| {
            let ring = [(x, y), (x + 2.0, y), (x + 2.0, y + 1.5), (x, y + 1.5)];
            area(&ring, turn)
        };
        let at = [(0.0, 0.0), (2.0, 0.0), (2.0, 1.5), (0.0, 1.5)];
        let run = |turn: f64| {
            let areas = at.map(|(x, y)| quarter(x, y, turn));
            let planes: Vec<Plane> = (0..4).map(|i| {
                let way = Vector::new(1.0, 0.0).turned(ways[i]);
                plane((2.0, 1.5), levels[i], 0.02, (way.x, way.y), turn)
            }).collect();
            water(&areas, &planes)
        };
        let (still, turned) = (run(0.0), run(turn));
        for word in OUTLETS {
            let (a, b) = (still.share(word), turned.share(word));
            prop_assert!((a - b).abs() < 5e-4, "{} {} {}", word, a, b);
        }
    }
}
