//! Names of structures: inside them where they fit, else on a leader.

use super::{half_of, holds, inside_points, worth};
use crate::draw::paper::Rect;
use crate::draw::{Face, Pt};
use crate::language::Phrase;
use crate::sheet::labels::{Ask, Candidate, Label, Otherwise, Request, led};
use crate::sheet::plan::Marks;
use crate::sheet::window;

/// Asks for the place of every structure's name.
pub fn ask(marks: &mut Marks) {
    let shown = marks.shown();
    for structure in &marks.model.structures {
        let ring: Vec<Pt> = structure.ring.iter().map(|p| marks.at(*p)).collect();
        let cut = window::ring(shown, &ring);
        if cut.len() < 3 {
            continue;
        }
        let Some(middle) = Rect::around(cut.iter().copied()).map(|b| b.centre()) else {
            continue;
        };
        let label = Label {
            face: Face::SemiBold,
            ..Label::note(&structure.name)
        };
        let inside = [cut];
        let points = inside_points(&inside);
        let fits = |p: &Pt| {
            let corners = label.box_at(*p).grown(0.6).corners();
            corners.iter().all(|c| holds(&inside, *c))
        };
        let mut candidates: Vec<Candidate> = points
            .iter()
            .filter(|p| fits(p))
            .enumerate()
            .map(|(rank, p)| Candidate::bare(label.box_at(*p), rank as f64 * 0.05))
            .collect();
        let at = points.first().copied().unwrap_or(middle);
        let beside = led(&marks.taken, at, half_of(&label), 60.0);
        // Beside the structure only where it is a poor place inside.
        candidates.extend(beside.into_iter().map(|mut candidate| {
            candidate.cost += 40.0;
            candidate
        }));
        let words = structure.name.clone();
        marks.ask(Ask {
            request: Request::new(worth::NAME, candidates),
            layer: "labels",
            drawn: Box::new(move |place| label.placed(place)),
            otherwise: Otherwise::Key {
                at,
                words: words.into(),
                place: Phrase::default(),
            },
        });
    }
}
