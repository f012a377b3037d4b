//! Marks of points with words on a leader: radii and diameters, sills.

use super::{bearing, half_of, keyed, worth};
use crate::draw::Colour;
use crate::sheet::labels::{Ask, Box2, CLEAR, Label, Request, led, touching};
use crate::sheet::plan::Marks;
use crate::sheet::{pen, symbol};

/// Shortest arrow: its head and a bit of its shaft.
const ARROW: f64 = 5.0;

/// Asks for the place of every radius: an arrow to the arc.
pub fn radii(marks: &mut Marks) {
    for radius in &marks.model.radii {
        let at = marks.at(radius.at);
        let label = Label::note(&radius.words);
        let mut candidates = led(&marks.taken, at, half_of(&label), bearing(radius.outward));
        let reach = |bounds: Box2| touching(bounds.grown(CLEAR), at).distance(at);
        candidates.retain(|candidate| reach(candidate.bounds()) >= ARROW);
        for candidate in &mut candidates {
            // The head is broader than a leader.
            let from = touching(candidate.bounds().grown(CLEAR), at);
            if let Some([tip, left, right]) = symbol::arrow_head(from, at) {
                candidate.leader = vec![tip, left, right, tip, from];
            }
        }
        marks.ask(Ask {
            request: Request::new(worth::POINT, candidates),
            layer: "dimensions",
            drawn: Box::new(move |candidate| {
                let to = touching(candidate.bounds().grown(CLEAR), at);
                let mut items = symbol::arrow(to, at, Colour::BLACK);
                items.extend(label.drawn(candidate.bounds().centre));
                items
            }),
            otherwise: keyed(marks, radius.at, radius.words.clone()),
        });
    }
}

/// Asks for the place of every sill: its level on a leader from a cross.
pub fn sills(marks: &mut Marks) {
    for (words, place) in &marks.model.sills {
        let at = marks.at(*place);
        marks.taken.add_mark(symbol::cross_box(at));
        let label = Label::note(words);
        let candidates = led(&marks.taken, at, half_of(&label), 90.0);
        marks.ask(Ask {
            request: Request::new(worth::POINT, candidates),
            layer: "levels",
            drawn: Box::new(move |candidate| {
                let to = touching(candidate.bounds().grown(CLEAR), at);
                let mut items = vec![symbol::level_cross(at), pen::line(at, to, pen::FINE)];
                items.extend(label.drawn(candidate.bounds().centre));
                items
            }),
            otherwise: keyed(marks, *place, words.clone()),
        });
    }
}
