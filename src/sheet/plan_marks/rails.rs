//! The rails' spacing where no chain gives it, lettered beside one of them.

use super::{half_of, run, worth};
use crate::draw::{Face, Pt};
use crate::language::Phrase;
use crate::sheet::labels::{Ask, Candidate, Label, Otherwise, Request};
use crate::sheet::plan::Marks;

/// Asks for the place of the rails' words.
pub fn ask(marks: &mut Marks) {
    let Some(words) = marks.model.rail_words.clone() else {
        return;
    };
    let label = Label::note(&words);
    let half = half_of(&label).0 + 2.5;
    let mut candidates = Vec::new();
    let mut first = None;
    for [from, to] in &marks.model.rails {
        let (a, b) = (marks.at(*from), marks.at(*to));
        first.get_or_insert(Pt::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0));
        for k in 1..10 {
            let t = f64::from(k) / 10.0;
            let on = Pt::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
            for side in [half, -half] {
                let rank = candidates.len() as f64;
                let bounds = label.box_at(on.moved(side, 0.0));
                candidates.push(Candidate::bare(bounds, rank * 0.05));
            }
        }
    }
    let Some(at) = first else { return };
    let drawn = words.clone();
    marks.ask(Ask {
        request: Request::new(worth::RAILS, candidates),
        layer: "labels",
        drawn: Box::new(move |candidate| {
            vec![run(candidate.bounds().centre, 0.0, &drawn, Face::Regular)]
        }),
        otherwise: Otherwise::Key {
            at,
            words: words.into(),
            place: Phrase::default(),
        },
    });
}
