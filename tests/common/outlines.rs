//! Generated outlines laid with panels: what tests and the bench share offcuts on.

use groundsheet::geom::{Frame, Point, Shape, Vector};
use groundsheet::panels::{self, Layout, LayoutRule, PanelSpec};

use super::numbers::Lehmer;
use super::panels::{PANEL, spec};

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

/// A generated outline laid with panels, at a turn and a stagger of its own.
pub fn laid(numbers: &mut Lehmer, round: usize) -> (Layout, PanelSpec) {
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
