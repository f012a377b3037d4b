//! Numbers of what the checks found, at the places where they found it.
//!
//! In: numbers and places. Out: a black sign with its number on a leader to the place; rows for
//! places that lie off the view. Paper millimetres, y down.

use super::{keyed, where_is, worth};
use crate::language::phrase;
use crate::sheet::labels::{Ask, CLEAR, Keyed, Request, led, touching};
use crate::sheet::plan::Marks;
use crate::sheet::{pen, symbol};

/// Asks for the place of every number in view; gives rows for those off it.
pub fn ask(marks: &mut Marks) -> Vec<Keyed> {
    let room = marks.taken.room();
    let mut off = Vec::new();
    for trouble in &marks.model.troubles {
        let number = trouble.words();
        let at = marks.at(trouble.at);
        if !room.has(at) {
            off.push(Keyed {
                number: 0,
                words: phrase!("Number {number} of the checks", number),
                place: where_is(marks.model, trouble.at).into(),
            });
            continue;
        }
        let candidates = led(&marks.taken, at, symbol::trouble_half(&number), 60.0);
        let words = phrase!("Number {number} of the checks", number = &number);
        let otherwise = keyed(marks, trouble.at, words);
        marks.ask(Ask {
            request: Request {
                // It is seen wherever it stands, and stands by its place.
                shy: 0.3,
                ..Request::new(worth::TROUBLE, candidates)
            },
            layer: "checks",
            drawn: Box::new(move |candidate| {
                let to = touching(candidate.bounds().grown(CLEAR - 0.5), at);
                let mut items = vec![pen::line(at, to, pen::FINE), symbol::leader_end(at)];
                items.extend(symbol::trouble(candidate.bounds().centre, &number));
                items
            }),
            otherwise,
        });
    }
    off
}
