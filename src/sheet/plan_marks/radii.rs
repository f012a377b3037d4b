//! Radii and diameters: an arrow to the arc, on a line through its centre (ISO 129-1), with the
//! words at the arrow's end.

use super::{half_of, keyed, worth};
use crate::draw::{Colour, Pt};
use crate::sheet::labels::{Ask, Box2, CLEAR, Candidate, Label, RADII, Request};
use crate::sheet::model::Radius;
use crate::sheet::plan::Marks;
use crate::sheet::symbol;

/// Shortest arrow: its head and a bit of its shaft.
const ARROW: f64 = 5.0;

/// What it costs to stand on the paving.
const ON_PAVING: f64 = 2.0;

/// What it costs to stand one place away from the middle of the arc.
const ASIDE: f64 = 0.3;

/// The steepest that a line meets the middle of a short side, and the flattest that it meets a long
/// one: as the sine of its slope.
const SHORT_SIDE: f64 = 0.8;
const LONG_SIDE: f64 = 0.5;

/// Asks for the place of every radius.
pub fn ask(marks: &mut Marks) {
    for radius in &marks.model.radii {
        let Some(first) = radius.places.first() else {
            continue;
        };
        let label = Label::note(&radius.words);
        let candidates = candidates(marks, radius, half_of(&label));
        marks.ask(Ask {
            request: Request::new(worth::POINT, candidates),
            layer: "dimensions",
            drawn: Box::new(move |candidate| {
                let mut items = Vec::new();
                if let [tip, .., from] = candidate.leader[..] {
                    items = symbol::arrow(from, tip, Colour::BLACK);
                }
                items.extend(label.drawn(candidate.bounds().centre));
                items
            }),
            otherwise: keyed(marks, first.0, radius.words.clone()),
        });
    }
}

/// Places for the words, of given half sizes, at the end of an arrow to one of the places along the
/// arc, out of the paving or over it.
fn candidates(marks: &Marks, radius: &Radius, half: (f64, f64)) -> Vec<Candidate> {
    let centre = marks.at(radius.centre);
    let mut candidates = Vec::new();
    for (rank, (place, out)) in radius.places.iter().enumerate() {
        let at = marks.at(*place);
        for (way, cost) in [(*out, 0.0), (-*out, ON_PAVING)] {
            let (dx, dy) = super::on_paper(way);
            // From inside of the arc the arrow starts no farther off than its centre.
            let inside = way.dot(radius.centre - *place) > 0.0;
            let longest = if inside {
                centre.distance(at)
            } else {
                f64::MAX
            };
            for long in RADII.into_iter().filter(|r| (ARROW..=longest).contains(r)) {
                let from = at.moved(dx * long, dy * long);
                let Some([tip, left, right]) = symbol::arrow_head(from, at) else {
                    continue;
                };
                let cost = cost + rank as f64 * ASIDE + long;
                candidates.extend(ends(from, (dx, dy), half).map(|bounds| Candidate {
                    boxes: vec![bounds],
                    // The head is broader than a leader.
                    leader: vec![tip, left, right, tip, from],
                    cost,
                }));
            }
        }
    }
    candidates
}

/// Boxes of words at the end of a line that comes in a direction at unit length: beside it, above
/// it or below it.
fn ends(from: Pt, (dx, dy): (f64, f64), half: (f64, f64)) -> impl Iterator<Item = Box2> {
    let beside = from.moved((half.0 + CLEAR).copysign(dx), 0.0);
    let over = from.moved(0.0, (half.1 + CLEAR).copysign(dy));
    let beside = Some(beside).filter(|_| dy.abs() <= SHORT_SIDE);
    let over = Some(over).filter(|_| dy.abs() >= LONG_SIDE);
    beside.into_iter().chain(over).map(move |centre| Box2 {
        centre,
        half: half.0,
        rise: half.1,
        angle: 0.0,
    })
}
