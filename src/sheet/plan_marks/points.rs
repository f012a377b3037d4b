//! Marks of points with words on a leader: sills.

use super::{half_of, keyed, worth};
use crate::sheet::labels::{Ask, CLEAR, Label, Request, led, touching};
use crate::sheet::plan::Marks;
use crate::sheet::{pen, symbol};

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
