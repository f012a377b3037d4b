//! Extents by hand figures, and laws that must hold: turn the site and nothing changes.

use groundsheet::geom::{Arc, Edge, Point, Ring, Vector, clip};
use groundsheet::site::{
    AreaSpec, CornerSpec, EdgeKind, EdgeSpec, Extents, OutlineSpec, Site, StartSpec, StructureKind,
    StructureSpec, extents, resolve,
};
use groundsheet::units::System;

const FOOT: f64 = 304.8;
const INCH: f64 = 25.4;

fn outline(ring: Ring, edges: &[(&str, EdgeKind)]) -> OutlineSpec {
    let circle = ring.edges.len() == 1;
    let corners = ring
        .edges
        .iter()
        .filter(|_| !circle)
        .map(|edge| CornerSpec {
            at: edge.from,
            name: None,
        });
    OutlineSpec {
        corners: corners.collect(),
        edges: edges
            .iter()
            .map(|(name, kind)| EdgeSpec {
                name: (*name).to_owned(),
                kind: Some(*kind),
                extension: None,
            })
            .collect(),
        ring,
    }
}

fn area(name: &str, outline: OutlineSpec) -> AreaSpec {
    AreaSpec {
        name: name.to_owned(),
        outline,
        holes: Vec::new(),
    }
}

fn rectangle(x: f64, y: f64, width: f64, depth: f64) -> Ring {
    let p = Point::new;
    Ring::polygon(&[
        p(x, y),
        p(x + width, y),
        p(x + width, y + depth),
        p(x, y + depth),
    ])
}

fn structure(name: &str, kind: StructureKind, ring: Ring) -> StructureSpec {
    StructureSpec {
        name: name.to_owned(),
        kind,
        ring,
        on_paving: false,
    }
}

fn near(found: f64, wanted: f64, slack: f64) {
    assert!(
        (found - wanted).abs() <= slack,
        "found {found}, wanted {wanted}"
    );
}

fn solved(areas: &[AreaSpec], structures: &[StructureSpec]) -> (Site, Extents) {
    let site = resolve(areas, structures, &[]).expect("a sound site");
    let extents = extents(&site, 6.0 * INCH, 6.0 * INCH);
    (site, extents)
}

/// 12' × 14' against a house along its 12' side: base 13' × 14'-6".
#[test]
fn rectangle_at_a_wall() {
    let paving = area(
        "Landing",
        outline(rectangle(0.0, 0.0, 12.0 * FOOT, 14.0 * FOOT), &[]),
    );
    let house = structure(
        "House",
        StructureKind::Building,
        rectangle(-10.0 * FOOT, -20.0 * FOOT, 40.0 * FOOT, 20.0 * FOOT),
    );
    let (site, found) = solved(&[paving], &[house]);
    let square = FOOT * FOOT;
    near(found.paved.area_mm2, 168.0 * square, 1e-3);
    near(found.base.area_mm2, 13.0 * 14.5 * square, 1e-3);
    near(found.base.perimeter_mm, 55.0 * FOOT, 1e-6);
    near(found.edges_mm[&EdgeKind::Wall], 12.0 * FOOT, 1e-9);
    near(found.edges_mm[&EdgeKind::Open], 40.0 * FOOT, 1e-9);
    let names: Vec<&str> = site.areas[0].edges().map(|e| e.name.as_str()).collect();
    assert_eq!(names, ["A-B", "B-C", "C-D", "D-A"]);
    let start = site.default_start(0).expect("a rectangle has corners");
    assert_eq!((start.corner.as_str(), start.along.as_str()), ("A", "A-B"));
    let frame = site.base_frame(&found, &start, 0).expect("A starts A-B");
    assert!(frame.origin.distance(Point::new(-6.0 * INCH, 0.0)) < 1e-9);
    assert_eq!(
        (frame.u, frame.v),
        (Vector::new(1.0, 0.0), Vector::new(0.0, 1.0))
    );
}

/// The same rectangle written clockwise keeps its letters in the order written.
#[test]
fn clockwise_outline_keeps_its_letters() {
    let p = Point::new;
    let ring = Ring::polygon(&[
        p(0.0, 0.0),
        p(0.0, 3000.0),
        p(4000.0, 3000.0),
        p(4000.0, 0.0),
    ]);
    let (site, found) = solved(&[area("P", outline(ring, &[("A-D", EdgeKind::Wall)]))], &[]);
    assert_eq!(site.corner("B").map(|c| c.at), Some(p(0.0, 3000.0)));
    near(found.edges_mm[&EdgeKind::Wall], 4000.0, 1e-9);
    assert!(site.areas[0].rings[0].ring().is_anticlockwise());
    let start = StartSpec {
        corner: "A".into(),
        along: "A-B".into(),
    };
    let frame = site.frame(&start, 0).expect("A is an end of A-B");
    assert_eq!(
        (frame.u, frame.v),
        (Vector::new(0.0, 1.0), Vector::new(1.0, 0.0))
    );
    let fault = site.start_fault(
        &StartSpec {
            corner: "A".into(),
            along: "B-C".into(),
        },
        0,
    );
    assert!(fault.is_some_and(|f| f.wanted.contains("A-B")));
}

/// Base steps out square where an edge runs on past the house.
#[test]
fn edge_past_the_house_steps_square() {
    let paving = area("P", outline(rectangle(0.0, 0.0, 6000.0, 3000.0), &[]));
    let house = structure(
        "House",
        StructureKind::Building,
        rectangle(-5000.0, -5000.0, 9000.0, 5000.0),
    );
    let site = resolve(&[paving], &[house], &[]).expect("a sound site");
    let found = extents(&site, 150.0, 300.0);
    near(found.base.area_mm2, 6300.0 * 3150.0 + 2150.0 * 150.0, 1e-3);
    near(found.dig.area_mm2, 6600.0 * 3300.0 + 2300.0 * 300.0, 1e-3);
    near(found.base.perimeter_mm, 2.0 * (6300.0 + 3300.0), 1e-6);
    near(found.edges_mm[&EdgeKind::Wall], 4000.0, 1e-6);
    assert_eq!(found.open_runs.len(), 4);
}

/// A corner of 30° reaches past twice the extension and is cut square to its bisector there; by
/// hand: the kite to the mitre less the triangle beyond the cut.
#[test]
fn sharp_corner_is_cut() {
    let p = Point::new;
    let half = 15f64.to_radians();
    let (s, c) = (libm::sin(half), libm::cos(half));
    let tip = p(0.0, 0.0);
    let (a, b) = (p(-4000.0 * c, -4000.0 * s), p(-4000.0 * c, 4000.0 * s));
    let kinds = [("B-C", EdgeKind::Flush)];
    let ring = Ring::polygon(&[tip, b, a]);
    let site = resolve(&[area("P", outline(ring, &kinds))], &[], &[]).expect("a sound site");
    let d = 100.0;
    let found = extents(&site, d, d);
    // Flush side x = −4000 c; moved sides at ± (y − ...) cut at x = 2d.
    let paved = 4000.0 * s * 4000.0 * c;
    // Height of the moved side over the axis at x: (d / c) − x tan(half).
    let t = s / c;
    let y = |x: f64| d / c - x * t;
    let base = (y(-4000.0 * c) + y(2.0 * d)) * (4000.0 * c + 2.0 * d);
    near(found.paved.area_mm2, paved, 1e-3);
    near(found.base.area_mm2, base, 1e-2);
}

/// A circle of radius 6' grows to 6'-6", arcs exact.
#[test]
fn circle_grows_exactly() {
    let ring = Ring::circle(Point::new(8.0 * FOOT, 8.0 * FOOT), 6.0 * FOOT);
    let (site, found) = solved(&[area("Round", outline(ring, &[]))], &[]);
    let pi = std::f64::consts::PI;
    near(found.base.area_mm2, pi * (6.5 * FOOT) * (6.5 * FOOT), 1e-3);
    near(found.base.perimeter_mm, pi * 13.0 * FOOT, 1e-6);
    assert_eq!(site.areas[0].rings[0].edges[0].name, "edge");
    assert_eq!(site.default_start(0), None);
    let frame = found.box_frame().expect("there is a base");
    near(frame.origin.x, 1.5 * FOOT, 0.05);
}

/// A rounded corner: quarter circle of 4' on a 14' × 12' outline, all open.
#[test]
fn rounded_corner_grows_exactly() {
    let f = |x: f64, y: f64| Point::new(x * FOOT, y * FOOT);
    let mut ring = Ring::polygon(&[
        f(0.0, 0.0),
        f(14.0, 0.0),
        f(14.0, 8.0),
        f(10.0, 12.0),
        f(0.0, 12.0),
    ]);
    ring.edges[2] = Edge {
        arc: Some(Arc {
            centre: f(10.0, 8.0),
            radius: 4.0 * FOOT,
            anticlockwise: true,
        }),
        ..ring.edges[2]
    };
    let (_, found) = solved(&[area("P", outline(ring, &[]))], &[]);
    let missing = 1.0 - std::f64::consts::FRAC_PI_4;
    let square = FOOT * FOOT;
    near(
        found.paved.area_mm2,
        (168.0 - 16.0 * missing) * square,
        1e-3,
    );
    near(
        found.base.area_mm2,
        (15.0 * 13.0 - 4.5 * 4.5 * missing) * square,
        1e-2,
    );
    assert!(
        found.base.rings[0]
            .edges
            .iter()
            .any(|edge| edge.arc.is_some())
    );
}

/// Holes: the base moves into them; one smaller than the extension vanishes; a tree in one is taken
/// off.
#[test]
fn holes_shrink_vanish_and_keep_their_tree() {
    let mut paving = area("P", outline(rectangle(0.0, 0.0, 6000.0, 6000.0), &[]));
    let hole = |x: f64, radius: f64| outline(Ring::circle(Point::new(x, 3000.0), radius), &[]);
    paving.holes = vec![hole(1500.0, 500.0), hole(4500.0, 100.0)];
    let tree = structure(
        "Maple",
        StructureKind::Tree,
        Ring::circle(Point::new(1500.0, 3000.0), 200.0),
    );
    let site = resolve(&[paving.clone()], &[tree], &[]).expect("a sound site");
    let pi = std::f64::consts::PI;
    let found = extents(&site, 150.0, 150.0);
    near(
        found.paved.area_mm2,
        36e6 - pi * (500.0f64.powi(2) + 100.0f64.powi(2)),
        1e-3,
    );
    near(found.paved.perimeter_mm, 24_000.0 + 2.0 * pi * 600.0, 1e-6);
    near(
        found.base.area_mm2,
        6300.0 * 6300.0 - pi * 350.0f64.powi(2),
        1e-2,
    );
    // 400 mm: the first hole shrinks to 100 mm, inside the tree of 200 mm, which stays out.
    let wide = extents(&site, 400.0, 400.0);
    near(
        wide.base.area_mm2,
        6800.0 * 6800.0 - pi * 200.0f64.powi(2),
        50.0,
    );
    // A square hole narrower than twice the extension vanishes too.
    paving.holes = vec![outline(rectangle(2000.0, 2000.0, 250.0, 1000.0), &[])];
    let site = resolve(&[paving], &[], &[]).expect("a sound site");
    let found = extents(&site, 150.0, 150.0);
    near(found.base.area_mm2, 6300.0 * 6300.0, 1.0);
}

/// An area in the hole of another: base and dig lie under it too, in the hole's ring and in it.
#[test]
fn area_in_a_hole_has_its_base() {
    let mut around = area("P", outline(rectangle(0.0, 0.0, 10_000.0, 10_000.0), &[]));
    around.holes = vec![outline(rectangle(2000.0, 2000.0, 6000.0, 6000.0), &[])];
    let island = area("Q", outline(rectangle(4000.0, 4000.0, 2000.0, 2000.0), &[]));
    let site = resolve(&[around, island], &[], &[]).expect("a sound site");
    let found = extents(&site, 150.0, 400.0);
    let square = |side: f64| side * side;
    near(clip::area(&found.paved.shape), 68e6, 1.0);
    let base = square(10_300.0) - square(5700.0) + square(2300.0);
    near(found.base.area_mm2, base, 1.0);
    near(clip::area(&found.base.shape), base, 1.0);
    let dig = square(10_800.0) - square(5200.0) + square(2800.0);
    near(clip::area(&found.dig.shape), dig, 1.0);
}

/// Two areas side by side: the shared edge is joined on both, counted once, and vanishes.
#[test]
fn joined_edge_vanishes() {
    let west = area("West", outline(rectangle(0.0, 0.0, 3000.0, 4000.0), &[]));
    let east = area("East", outline(rectangle(3000.0, 0.0, 2000.0, 3000.0), &[]));
    let (site, found) = solved(&[west, east], &[]);
    let names: Vec<&str> = site.corners.iter().map(|c| c.name.as_str()).collect();
    assert_eq!(names, ["A", "B", "C", "D", "E", "F", "G"][..names.len()]);
    near(found.edges_mm[&EdgeKind::Joined], 3000.0, 1e-6);
    near(found.edges_mm[&EdgeKind::Open], 18_000.0, 1e-6);
    near(found.paved.perimeter_mm, 21_000.0, 1e-6);
    near(found.paved.area_mm2, 18e6, 1e-3);
    let e = 6.0 * INCH;
    near(found.base.area_mm2, 18e6 + 18_000.0 * e + 4.0 * e * e, 1e-2);
    near(found.base.perimeter_mm, 18_000.0 + 8.0 * e, 1e-6);
}

/// A notch narrower than twice the extension fills.
#[test]
fn narrow_notch_fills() {
    let p = Point::new;
    let ring = Ring::polygon(&[
        p(0.0, 0.0),
        p(4000.0, 0.0),
        p(4000.0, 3000.0),
        p(2100.0, 3000.0),
        p(2100.0, 2000.0),
        p(1900.0, 2000.0),
        p(1900.0, 3000.0),
        p(0.0, 3000.0),
    ]);
    let site = resolve(&[area("P", outline(ring, &[]))], &[], &[]).expect("a sound site");
    let found = extents(&site, 150.0, 150.0);
    near(found.base.area_mm2, 4300.0 * 3300.0, 1.0);
}

fn turned(at: Point, degrees: f64) -> Point {
    let from = Vector::new(at.x, at.y).turned(degrees);
    Point::new(from.x + 731.0, from.y - 912.0)
}

fn turned_ring(ring: &Ring, degrees: f64) -> Ring {
    let edges = ring.edges.iter().map(|edge| Edge {
        from: turned(edge.from, degrees),
        to: turned(edge.to, degrees),
        arc: edge.arc.map(|arc| Arc {
            centre: turned(arc.centre, degrees),
            ..arc
        }),
    });
    Ring {
        edges: edges.collect(),
    }
}

/// An L with a rounded corner, a wall and a tree keeps every figure at any turn.
#[test]
fn turning_the_site_changes_nothing() {
    let p = Point::new;
    let mut ring = Ring::polygon(&[
        p(0.0, 0.0),
        p(5000.0, 0.0),
        p(5000.0, 2000.0),
        p(3000.0, 2000.0),
        p(3000.0, 3000.0),
        p(2000.0, 4000.0),
        p(0.0, 4000.0),
    ]);
    ring.edges[4].arc = Some(Arc {
        centre: p(2000.0, 3000.0),
        radius: 1000.0,
        anticlockwise: true,
    });
    let house = rectangle(-2000.0, -3000.0, 5000.0, 3000.0);
    let site = |tree: [f64; 2], degrees: f64| {
        let paving = area("P", outline(turned_ring(&ring, degrees), &[]));
        let tree = Ring::circle(p(tree[0], tree[1]), 250.0);
        let structures = [
            structure(
                "House",
                StructureKind::Building,
                turned_ring(&house, degrees),
            ),
            structure("Elm", StructureKind::Tree, turned_ring(&tree, degrees)),
        ];
        resolve(&[paving], &structures, &[])
    };
    assert!(
        site([5100.0, 2100.0], 0.0).is_err(),
        "the tree stands in the paving and is refused"
    );
    let at = |degrees: f64| {
        let site = site([5300.0, 2300.0], degrees).expect("a sound site");
        extents(&site, 150.0, 400.0)
    };
    let plain = at(0.0);
    for degrees in [17.0, 90.0, 123.4, 301.0] {
        let other = at(degrees);
        near(other.paved.area_mm2, plain.paved.area_mm2, 1e-2);
        near(other.base.area_mm2, plain.base.area_mm2, 20.0);
        near(other.dig.area_mm2, plain.dig.area_mm2, 20.0);
        for (kind, length) in &plain.edges_mm {
            near(other.edges_mm[kind], *length, 1e-3);
        }
        near(
            clip::area(&other.dig.shape),
            clip::area(&plain.dig.shape),
            60.0,
        );
    }
}

#[test]
fn refusals_come_together() {
    let p = Point::new;
    let bow = Ring::polygon(&[
        p(0.0, 0.0),
        p(9000.0, 9000.0),
        p(9000.0, 0.0),
        p(0.0, 9000.0),
    ]);
    let two = Ring::polygon(&[p(0.0, 0.0), p(1000.0, 0.0)]);
    let errors = resolve(
        &[
            area("Bow", outline(bow, &[])),
            area("Two", outline(two, &[])),
        ],
        &[],
        &[],
    );
    assert_eq!(errors.expect_err("both are refused").len(), 2);
    let one = area(
        "One",
        outline(
            rectangle(0.0, 0.0, 2000.0, 2000.0),
            &[("A-C", EdgeKind::Wall)],
        ),
    );
    let other = area(
        "Other",
        outline(rectangle(1500.0, 0.0, 2000.0, 2000.0), &[]),
    );
    let pool = structure(
        "Pool",
        StructureKind::Pool,
        rectangle(500.0, 500.0, 300.0, 300.0),
    );
    let errors = resolve(&[one, other], &[pool], &[]).expect_err("refused");
    let found: Vec<String> = errors.iter().map(|e| e.found.to_string()).collect();
    let found: Vec<&str> = found.iter().map(String::as_str).collect();
    assert_eq!(found.len(), 3, "{found:?}");
    assert!(found.contains(&"Other overlaps One"));
    assert!(found.contains(&"One overlaps Pool"));
    assert!(found.contains(&"no edge A-C on this outline"));
}

#[test]
fn corner_a_little_inside_the_house_is_on_its_face() {
    let p = Point::new;
    let ring = Ring::polygon(&[
        p(0.0, -8.0),
        p(3000.0, 2.0),
        p(3000.0, 2000.0),
        p(0.0, 2000.0),
    ]);
    let house = structure(
        "House",
        StructureKind::Building,
        rectangle(-1000.0, -4000.0, 6000.0, 4000.0),
    );
    let (site, found) = solved(&[area("P", outline(ring, &[]))], &[house]);
    assert_eq!(site.corner("A").map(|c| c.at), Some(p(0.0, 0.0)));
    assert_eq!(site.notes.len(), 1);
    assert!(
        site.notes[0]
            .kind
            .phrase(System::Metric)
            .to_string()
            .contains("8 mm inside House")
    );
    assert!(found.edges_mm[&EdgeKind::Wall] > 2999.0);
}

/// Whatever the kinds and extensions: paving lies within the base and within the dig, and the exact
/// area is that of the flattened shape within what flattening leaves out.
#[test]
fn paving_in_base_and_dig_for_any_kinds() {
    let mut seed = 3_u64;
    let mut next = || {
        seed = seed
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (seed >> 33) as f64 / (1u64 << 31) as f64
    };
    for case in 0..150 {
        let corners = 3 + case % 7;
        let points: Vec<Point> = (0..corners)
            .map(|k| {
                let angle = (k as f64 + 0.7 * next()) / corners as f64 * std::f64::consts::TAU;
                let radius = 800.0 + 3000.0 * next();
                Point::new(radius * libm::cos(angle), radius * libm::sin(angle))
            })
            .collect();
        let mut ring = Ring::polygon(&points);
        // One edge in two cases of three becomes an arc bulging either way.
        if case % 3 != 0 {
            let edge = ring.edges[0];
            let half = edge.from.distance(edge.to) / 2.0;
            let out = (edge.to - edge.from).left().unit().unwrap_or_default();
            let side = if case % 3 == 1 { 1.0 } else { -1.0 };
            let centre = edge.from.midpoint(edge.to) + out * (side * half * 2.0);
            let radius = centre.distance(edge.from);
            let anticlockwise = side > 0.0;
            ring.edges[0].arc = Some(Arc {
                centre,
                radius,
                anticlockwise,
            });
        }
        let mut spec = outline(ring, &[]);
        let letters = ["A", "B", "C", "D", "E", "F", "G", "H", "J"];
        for k in 0..corners {
            let name = format!("{}-{}", letters[k], letters[(k + 1) % corners]);
            let pick = next();
            let kind = (pick < 0.4).then_some(EdgeKind::Flush);
            let extension = (pick > 0.7).then(|| 400.0 * next());
            spec.edges.push(EdgeSpec {
                name,
                kind,
                extension,
            });
        }
        // An outline that happens to cross itself is refused, which is right.
        let Ok(site) = resolve(&[area("P", spec)], &[], &[]) else {
            continue;
        };
        let found = extents(&site, 150.0, 250.0);
        let outside = |a: &groundsheet::site::Region, b: &groundsheet::site::Region| {
            clip::area(&clip::difference(&a.shape, &b.shape))
        };
        assert!(outside(&found.paved, &found.base) < 30.0, "case {case}");
        assert!(outside(&found.paved, &found.dig) < 30.0, "case {case}");
        for region in [&found.paved, &found.base, &found.dig] {
            let slack = 0.03 * region.perimeter_mm;
            near(region.area_mm2, clip::area(&region.shape), slack);
        }
    }
}

/// Outlines with short edges, sharp corners and edges of every kind and extension: whatever the
/// base covers is dug.
#[test]
fn the_dig_holds_the_base() {
    let mut seed = 7_u64;
    let mut next = move || {
        seed = seed
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (seed >> 11) as f64 / (1u64 << 53) as f64
    };
    let mut tried = 0;
    for _ in 0..400 {
        let corners = 4 + (next() * 5.0) as usize;
        let points: Vec<Point> = (0..corners)
            .map(|k| {
                let share = (k as f64 + 0.9 * next()) / corners as f64;
                let angle = share * std::f64::consts::TAU;
                let radius = 1500.0 * (1.0 - 0.85 * next());
                Point::new(radius * libm::cos(angle), radius * libm::sin(angle))
            })
            .collect();
        let mut outline = outline(Ring::polygon(&points), &[]);
        outline.edges = (0..corners)
            .map(|k| EdgeSpec {
                name: format!(
                    "{}-{}",
                    ["A", "B", "C", "D", "E", "F", "G", "H", "J"][k],
                    ["A", "B", "C", "D", "E", "F", "G", "H", "J"][(k + 1) % corners]
                ),
                kind: Some(
                    [EdgeKind::Open, EdgeKind::Open, EdgeKind::Flush][(next() * 3.0) as usize],
                ),
                extension: Some(next() * 400.0),
            })
            .collect();
        for edge in &mut outline.edges {
            if edge.kind == Some(EdgeKind::Flush) {
                edge.extension = None;
            }
        }
        let Ok(site) = resolve(&[area("Odd", outline)], &[], &[]) else {
            continue;
        };
        tried += 1;
        let extents = extents(&site, 150.0, 200.0);
        let out = clip::area(&clip::difference(&extents.base.shape, &extents.dig.shape));
        // Whole micrometres along the shared edges.
        assert!(out < 10.0, "{out} mm² of {points:?}");
        let same = (clip::area(&extents.dig.shape) - extents.dig.area_mm2).abs();
        assert!(same < 0.004 * extents.dig.perimeter_mm + 1.0, "{same}");
    }
    assert!(tried > 100, "{tried}");
}
