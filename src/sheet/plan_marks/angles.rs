//! Angles of corners that are neither square nor straight: an arc between the sides with a tick at
//! each end, and the degrees.
//!
//! In: corners with the directions of their sides. Out: lines on the layer of dimensions, and asks
//! for the degrees. Paper millimetres, y down.

use super::{half_of, keyed, on_paper, worth};
use crate::draw::{Colour, LineWidth, Pt, Stroke};
use crate::geom::Vector;
use crate::sheet::labels::{Ask, Candidate, Label, Request, led};
use crate::sheet::model::AngleMark;
use crate::sheet::pen;
use crate::sheet::plan::Marks;

/// Radius of the arc.
const RADIUS: f64 = 9.0;
/// Least radius at which it is drawn; shorter sides have none.
const LEAST: f64 = 4.0;
/// Half the length of a tick.
const TICK: f64 = 1.4;
/// Degrees between the points that the arc is drawn through.
const STEP: f64 = 5.0;
/// Ticks, as those of lengths.
const TICKED: Stroke = pen::solid(LineWidth::W35, Colour::BLACK);

/// Draws the arcs and asks for the places of the degrees.
pub fn ask(marks: &mut Marks) {
    let model = marks.model;
    let Some(setout) = &model.setout else {
        return;
    };
    for angle in &setout.angles {
        let at = marks.at(angle.at);
        let ends = [0, 1].map(|side| marks.at(angle.at + angle.sides[side] * angle.lengths[side]));
        let shorter = ends
            .map(|end| end.distance(at))
            .into_iter()
            .fold(f64::MAX, f64::min);
        let radius = RADIUS.min(shorter * 0.7);
        let whole = marks.taken.room().grown(-radius);
        let spot = crate::draw::paper::Rect::between(at, at);
        if radius < LEAST || !whole.holds(spot) {
            continue;
        }
        let arc = arc(at, angle, radius);
        marks.taken.add_run(&arc, 2.0);
        let ticks = [0, arc.len() - 1].map(|end| tick(at, arc[end]));
        for tick in ticks {
            marks.taken.add_line(tick, 3.0);
        }
        marks.add("dimensions", [pen::polyline(&arc, pen::FINE)]);
        marks.add(
            "dimensions",
            ticks.map(|[from, to]| pen::line(from, to, TICKED)),
        );
        degrees(marks, angle, at, radius);
    }
}

/// Asks for the place of the degrees: beside the middle of the arc, inside it or out, or led to it.
fn degrees(marks: &mut Marks, angle: &AngleMark, at: Pt, radius: f64) {
    let label = Label::note(&angle.words);
    let half = half_of(&label);
    let turn = |share: f64| on_paper(turned(angle, share));
    let (dx, dy) = turn(0.5);
    let middle = at.moved(dx * radius, dy * radius);
    let mut candidates = Vec::new();
    for (rank, share) in [0.5, 0.35, 0.65, 0.2, 0.8].into_iter().enumerate() {
        let (dx, dy) = turn(share);
        // How far the box reaches towards the arc.
        let reach = half.0 * dx.abs() + half.1 * dy.abs() + 1.0;
        for beyond in [reach, -reach, reach + 3.0] {
            let centre = at.moved(dx * (radius + beyond), dy * (radius + beyond));
            let cost = rank as f64 + if beyond > 0.0 { 0.0 } else { 1.0 };
            candidates.push(Candidate::bare(label.box_at(centre), cost));
        }
    }
    let away = super::bearing(turned(angle, 0.5));
    let mut far = led(&marks.taken, middle, half, away);
    far.iter_mut().for_each(|place| place.cost += 8.0);
    candidates.extend(far);
    let asked = Ask {
        request: Request::new(worth::POINT, candidates),
        layer: "dimensions",
        drawn: Box::new(move |place| label.placed(place)),
        otherwise: keyed(marks, angle.at, angle.words.clone()),
    };
    marks.ask(asked);
}

/// The direction that share of the way from the first side to the second.
fn turned(angle: &AngleMark, share: f64) -> Vector {
    angle.sides[0].turned(angle.degrees * share)
}

/// The points of the arc from side to side.
fn arc(at: Pt, angle: &AngleMark, radius: f64) -> Vec<Pt> {
    let parts = (angle.degrees / STEP).ceil().max(2.0) as u32;
    let point = |part: u32| {
        let (dx, dy) = on_paper(turned(angle, f64::from(part) / f64::from(parts)));
        at.moved(dx * radius, dy * radius)
    };
    (0..=parts).map(point).collect()
}

/// An oblique tick where the arc meets a side.
fn tick(corner: Pt, end: Pt) -> [Pt; 2] {
    let radius = corner.distance(end).max(1e-9);
    let (x, y) = ((end.x - corner.x) / radius, (end.y - corner.y) / radius);
    // Half way between the side and the arc.
    let (dx, dy) = ((x - y) * TICK * 0.707, (y + x) * TICK * 0.707);
    [end.moved(-dx, -dy), end.moved(dx, dy)]
}
