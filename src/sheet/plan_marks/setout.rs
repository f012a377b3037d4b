//! Base line and stakes: the line with its ends, the strings from the corners to the stakes, and
//! their names.
//!
//! In: what is set out from where. Out: lines on their layer, and asks for their lettering. Paper
//! millimetres, y down.

use super::{half_of, keyed, on_paper, water, worth};
use crate::draw::{Colour, Dash, Face, Item, LineWidth, Pt, Stroke};
use crate::geom::Point;
use crate::levels::Held;
use crate::sheet::labels::{Ask, Label, Request, led};
use crate::sheet::model::{PlanModel, Setout, SharedEdge};
use crate::sheet::plan::{CONTEXT, Marks, RAIL};
use crate::sheet::{pen, symbol, window};

/// The base line.
pub const BASE_LINE: Stroke = pen::dashed(LineWidth::W25, Dash::LongDashDot, Colour::BLACK);
/// A string from a corner to its stake.
pub const STRING: Stroke = pen::solid(LineWidth::W18, pen::GREY);
/// How far the base line is drawn beyond its ends.
const BEYOND: f64 = 6.0;
/// Radius of the sign at its ends.
const END: f64 = 1.5;
/// Depth of the sign of a mark on a wall.
pub const FACE: f64 = 2.4;
/// Half the side of a stake's sign.
const STAKE: f64 = 0.9;
/// Corners nearer to an end of the base line than this are that end, in millimetres on site.
const SAME: f64 = 1.0;

/// Draws base line, strings and stakes, and asks for the places of their names.
pub fn ask(marks: &mut Marks) {
    let model = marks.model;
    let Some(setout) = &model.setout else {
        return;
    };
    base_line(marks, setout);
    points(marks, setout);
    for (words, [high, low]) in &setout.rails {
        let line = [*high, *low].map(|end| marks.at(end));
        marks.taken.add_line(line, 1.5);
        marks.add("rails", [pen::line(line[0], line[1], RAIL)]);
        name(marks, words, *high, 135.0);
    }
    for (index, stake) in setout.stakes.iter().enumerate() {
        let (corner, at) = (marks.at(stake.corner), marks.at(stake.at));
        let (x, y) = on_paper(stake.beyond);
        // A mark at the corner itself is drawn past the corner's own sign.
        let past = match stake.held {
            Held::Face if corner.distance(at) < END => END - corner.distance(at),
            _ => 0.0,
        };
        let tip = at.moved(x * past, y * past);
        let (sign, middle) = match stake.held {
            Held::Stake => (stake_sign(at), at),
            Held::Face => (
                face_sign(tip, (x, y)),
                tip.moved(x * FACE / 2.0, y * FACE / 2.0),
            ),
        };
        marks.taken.add_line([corner, at], 1.0);
        marks.add("set-out", [pen::line(corner, at, STRING)]);
        // One stake that holds two strings has one sign and one name.
        let before = &setout.stakes[..index];
        if before.iter().any(|other| other.name == stake.name) {
            continue;
        }
        marks.taken.add_mark(symbol::cross_box(middle));
        marks.add("set-out", sign);
        let prefer = super::bearing(stake.beyond);
        named(marks, &stake.name, (stake.at, middle), prefer);
    }
}

/// Whether an end of the base line that the plan shows is at a place.
pub fn is_end(model: &PlanModel, at: Point) -> bool {
    let ends = model.setout.iter().flat_map(|setout| &setout.base_line);
    ends.map(|(_, end)| *end).any(|end| end.distance(at) < SAME)
}

/// What is taped beside corners: a cross each, with its name where the plan has none by it.
fn points(marks: &mut Marks, setout: &Setout) {
    let shown = marks.dig.grown(CONTEXT);
    let room = marks.taken.room();
    for point in &setout.points {
        let at = marks.at(point.at);
        // What lies off the view is given by the table.
        if !room.grown(-END).has(at) {
            continue;
        }
        marks.taken.add_mark(symbol::cross_box(at));
        marks.add("set-out", [symbol::level_cross(at)]);
        // A structure in view bears its name already.
        let middle = point.of_middle.as_ref().filter(|_| shown.has(at));
        let words = middle.unwrap_or(&point.words);
        if !words.is_empty() {
            name(marks, words, point.at, 225.0);
        }
    }
}

/// The line from a little before its first end to a little beyond its last, with its words.
fn base_line(marks: &mut Marks, setout: &Setout) {
    let [a, b] = setout.base_line.each_ref().map(|(_, end)| *end);
    let [from, to] = [marks.at(a), marks.at(b)];
    let long = from.distance(to);
    if long < 1.0 {
        return;
    }
    let (x, y) = ((to.x - from.x) / long, (to.y - from.y) / long);
    let line = [
        from.moved(-x * BEYOND, -y * BEYOND),
        to.moved(x * BEYOND, y * BEYOND),
    ];
    let room = marks.taken.room();
    let Some(line) = window::segment(room, line) else {
        return;
    };
    marks.taken.add_line(line, 3.0);
    marks.add("set-out", [pen::line(line[0], line[1], BASE_LINE)]);
    for (end, at) in &setout.base_line {
        let on_paper = marks.at(*at);
        // An end off the view is given by the words along the line.
        if !room.grown(-END).has(on_paper) {
            continue;
        }
        marks.taken.add_mark(symbol::cross_box(on_paper));
        marks.add("set-out", end_sign(on_paper));
        let lettered = |corner: &crate::sheet::model::Corner| corner.at.distance(*at) < SAME;
        if !marks.model.corners.iter().any(lettered) {
            name(marks, end, *at, 45.0);
        }
    }
    let named = SharedEdge {
        name: String::new(),
        run: vec![a, b],
        middle: a.midpoint(b),
        words: setout.words.clone(),
    };
    water::shared_edge(marks, &named, water::Side::Either);
}

/// Asks for the place of a name by its point.
fn name(marks: &mut Marks, words: &str, point: Point, prefer: f64) {
    let at = marks.at(point);
    named(marks, words, (point, at), prefer);
}

/// Asks for the place of the name of a point by the middle of its sign.
fn named(marks: &mut Marks, words: &str, (point, at): (Point, Pt), prefer: f64) {
    let label = Label {
        face: Face::SemiBold,
        ..Label::note(words)
    };
    let candidates = led(&marks.taken, at, half_of(&label), prefer);
    let asked = Ask {
        request: Request::new(worth::STAKE, candidates),
        layer: "set-out",
        drawn: Box::new(move |place| label.placed(place)),
        otherwise: keyed(marks, point, words.to_string()),
    };
    marks.ask(asked);
}

/// The sign at an end of the base line: a circle with its middle.
pub fn end_sign(at: Pt) -> Vec<Item> {
    vec![
        pen::circle(
            at,
            END,
            Some(pen::solid(LineWidth::W25, Colour::BLACK)),
            Some(Colour::WHITE),
        ),
        pen::circle(at, 0.4, None, Some(Colour::BLACK)),
    ]
}

/// The sign of a stake: a filled square.
pub fn stake_sign(at: Pt) -> Vec<Item> {
    let square = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let corners = square.map(|(x, y)| at.moved(x * STAKE, y * STAKE));
    vec![pen::polygon(&corners, None, Some(Colour::BLACK))]
}

/// The sign of a mark on a wall's face: an open triangle in the wall, its tip on the mark. The string
/// comes along `beyond`, at unit length.
pub fn face_sign(at: Pt, (x, y): (f64, f64)) -> Vec<Item> {
    let foot = at.moved(x * FACE, y * FACE);
    let half = FACE * 0.6;
    let corners = [
        at,
        foot.moved(-y * half, x * half),
        foot.moved(y * half, -x * half),
    ];
    vec![pen::polygon(
        &corners,
        Some(pen::solid(LineWidth::W25, Colour::BLACK)),
        Some(Colour::WHITE),
    )]
}
