//! The purchase on generated outlines: near its bound or proved least, never more than a crew
//! that keeps only the last offcut would buy, and no region cut twice (by GEOS).

mod common;

use common::numbers::Lehmer;
use common::panels::{PANEL, spec};
use std::collections::BTreeSet;

use geos::Geom as _;
use groundsheet::geom::{Frame, Point, Shape, Vector};
use groundsheet::panels::{self, Layout, LayoutRule, PanelSpec, Purchase};

/// An outline about the origin that reaches 2 m to 9 m: a star, or a rectangle with a corner cut
/// off; every third with a hole.
fn outline(numbers: &mut Lehmer, round: usize) -> Shape {
    use geo::orient::{Direction, Orient};
    let whole = |value: f64| (value * 1000.0).round() / 1000.0;
    let mut star = |around: usize, low: f64, high: f64| {
        let point = |index: usize| {
            let angle = std::f64::consts::TAU * index as f64 / around as f64;
            let radius = numbers.next(low, high);
            (whole(radius * angle.cos()), whole(radius * angle.sin()))
        };
        geo::LineString::from((0..around).map(point).collect::<Vec<_>>())
    };
    let holes = if round.is_multiple_of(3) {
        vec![star(7, 300.0, 900.0)]
    } else {
        Vec::new()
    };
    let exterior = if round.is_multiple_of(2) {
        star(5 + round % 9, 2000.0, 9000.0)
    } else {
        let (wide, high) = (numbers.next(2.0, 9.0), numbers.next(2.0, 9.0));
        let (wide, high) = (whole(wide * 1000.0), whole(high * 1000.0));
        let (a, b) = (whole(wide * 0.3), whole(high * 0.4));
        geo::LineString::from(vec![
            (-wide, -high),
            (wide, -high),
            (wide, b),
            (a, high),
            (-wide, high),
        ])
    };
    geo::MultiPolygon(vec![
        geo::Polygon::new(exterior, holes).orient(Direction::Default),
    ])
}

fn laid(numbers: &mut Lehmer, round: usize) -> (Layout, PanelSpec) {
    let base = outline(numbers, round);
    let turn = match round % 4 {
        1 => 0.0,
        _ => numbers.next(0.0, 360.0),
    };
    let u = Vector::new(1.0, 0.0).turned(turn);
    let frame = Frame {
        origin: Point::new(numbers.next(-900.0, 900.0), numbers.next(-900.0, 900.0)),
        u,
        v: u.left(),
    };
    let spec = spec([450.0, 300.0, 250.0][round % 3], LayoutRule::Fixed);
    (panels::lay(&spec, &base, &frame), PANEL)
}

/// The installer's rule by itself: a course's first piece is cut from the panel that the course
/// before it cut last, where GEOS finds room; everything else takes a new panel.
fn installer(layout: &Layout, panel: &PanelSpec) -> usize {
    let region = |index: usize| {
        let piece = &layout.pieces[index];
        let moved = geo::MapCoords::map_coords(&piece.shape, |at| {
            let (u, v) = layout.frame.to_local(Point::new(at.x, at.y));
            (u - piece.cell[0], v - piece.cell[1]).into()
        });
        geos::Geometry::try_from(&moved).expect("a piece is a geometry")
    };
    let mut bought = 0;
    let mut offcut: Vec<geos::Geometry> = Vec::new();
    for course in &layout.courses {
        let mut before = std::mem::take(&mut offcut);
        for index in course.pieces.clone() {
            if layout.pieces[index].whole {
                bought += 1;
                continue;
            }
            let piece = region(index);
            let clear = |other: &geos::Geometry| {
                let both = piece.intersection(other).expect("both are valid");
                both.area().expect("an area") < 0.3 * (panel.length + panel.width)
            };
            let first = index == course.pieces.start;
            if first && !before.is_empty() && before.iter().all(clear) {
                offcut = std::mem::take(&mut before);
                offcut.push(piece);
            } else {
                bought += 1;
                offcut = vec![piece];
            }
        }
    }
    bought
}

fn check(layout: &Layout, panel: &PanelSpec, found: &Purchase) {
    let mut seen = BTreeSet::new();
    for cut in &found.cut_panels {
        let shapes: Vec<geos::Geometry> = cut
            .pieces
            .iter()
            .map(|piece| geos::Geometry::try_from(&piece.shape).expect("a geometry"))
            .collect();
        for (at, one) in shapes.iter().enumerate() {
            let piece = &layout.pieces[cut.pieces[at].of.1];
            assert!(seen.insert(piece.mark()), "{} is cut once", piece.mark());
            assert!((one.area().expect("an area") - piece.area_mm2).abs() < 5.0);
            let reach = geos::Geometry::try_from(
                &geo::Rect::new((-0.01, -0.01), (panel.length + 0.01, panel.width + 0.01))
                    .to_polygon(),
            )
            .expect("a rectangle");
            assert!(reach.contains(one).expect("both are valid"));
            for other in &shapes[at + 1..] {
                let both = one.intersection(other).expect("both are valid");
                let area = both.area().expect("an area");
                assert!(area < 0.5 * (panel.length + panel.width), "{area}");
            }
        }
    }
    let trimmed = layout.pieces.iter().filter(|piece| !piece.whole).count();
    assert_eq!(seen.len(), trimmed);
}

fn run(rounds: usize) {
    let mut numbers = Lehmer(20_260_511);
    let (mut proved, mut gained, mut widest) = (0, 0, 0.0_f64);
    for round in 0..rounds {
        let (layout, panel) = laid(&mut numbers, round);
        let found = panels::purchase(std::slice::from_ref(&layout), &panel);
        check(&layout, &panel, &found);
        let gap = found.buy as f64 / found.sharing_bound as f64 - 1.0;
        assert!(
            found.proved || gap <= 0.03,
            "round {round}: {} for at least {}",
            found.buy,
            found.sharing_bound
        );
        assert_eq!(found.proved, found.buy == found.sharing_bound);
        assert!(found.lower_bound <= found.sharing_bound);
        let crew = installer(&layout, &panel);
        assert!(
            found.buy <= crew && found.buy <= found.buy_installer,
            "round {round}: {} against {crew}",
            found.buy
        );
        proved += usize::from(found.proved);
        gained += crew - found.buy;
        widest = widest.max(gap);
    }
    println!(
        "{rounds} outlines: {proved} proved least, widest gap {:.1} %, {gained} panels fewer than \
         the installer's rule",
        widest * 100.0
    );
}

#[test]
fn the_purchase_is_near_its_bound_and_never_more_than_an_installer_buys() {
    run(40);
}

#[test]
#[ignore = "the full run: cargo test --release --test panels_sharing -- --ignored --nocapture"]
fn the_purchase_on_two_hundred_outlines() {
    run(200);
}
