//! Marks of panels: inside the panel where there is clear room; for a trimmed panel, which the
//! cutting list names, also beside it on a leader that ends in a ring on it.

use super::{half_of, holds, keyed, nearest_inside, worth};
use crate::draw::Pt;
use crate::draw::paper::Rect;
use crate::language::phrase;
use crate::sheet::labels::{Ask, Candidate, Label, Otherwise, Request, led};
use crate::sheet::model::Piece;
use crate::sheet::plan::Marks;
use crate::sheet::symbol;

/// What a place beside the panel costs more than one inside it.
const BESIDE: f64 = 12.0;
/// Places inside a panel that are looked at.
const INSIDE: usize = 12;

/// Asks for the place of every panel's mark.
pub fn ask(marks: &mut Marks) {
    let patches: Vec<Vec<Vec<Pt>>> = marks
        .model
        .areas
        .iter()
        .map(|area| marks.rings(std::slice::from_ref(&area.patch)))
        .collect();
    for piece in &marks.model.pieces {
        let asked = mark(marks, piece, &patches);
        marks.asks.extend(asked);
    }
}

fn mark(marks: &Marks, piece: &Piece, patches: &[Vec<Vec<Pt>>]) -> Option<Ask> {
    let rings = marks.rings(&piece.rings);
    let label = Label::note(&piece.mark);
    let middle = marks.at(piece.middle);
    let (wide, high) = label.size();
    let bounds = Rect::around(rings.iter().flatten().copied())?;
    // Where the mark is larger than the panel there is no use in looking for a place inside.
    let roomy = wide < bounds.width() && high < bounds.height();
    let inside = roomy.then(|| nearest_inside(&rings).step_by(3));
    let places = std::iter::once(middle).chain(inside.into_iter().flatten());
    let fits = |p: &Pt| {
        let bounds = label.box_at(*p).grown(0.8);
        bounds.corners().iter().all(|c| holds(&rings, *c))
            && !patches.iter().any(|patch| holds(patch, *p))
    };
    let mut candidates: Vec<Candidate> = places
        .filter(|p| fits(p))
        .take(INSIDE)
        .enumerate()
        .map(|(rank, p)| Candidate::bare(label.box_at(p), rank as f64 * 0.05))
        .collect();
    if !piece.trimmed {
        return Some(Ask {
            request: Request::new(worth::WHOLE, candidates),
            layer: "panels",
            drawn: Box::new(move |candidate| label.drawn(candidate.bounds().centre)),
            otherwise: Otherwise::Leave,
        });
    }
    let at = if holds(&rings, middle) {
        middle
    } else {
        nearest_inside(&rings).next()?
    };
    let centre = marks.dig.centre();
    let prefer = libm::atan2(centre.y - at.y, at.x - centre.x).to_degrees();
    let beside = led(&marks.taken, at, half_of(&label), prefer);
    candidates.extend(beside.into_iter().map(|mut candidate| {
        candidate.cost += BESIDE;
        candidate
    }));
    Some(Ask {
        request: Request::new(worth::TRIMMED, candidates),
        layer: "panels",
        drawn: Box::new(move |place| {
            let mut items = label.placed(place);
            if !place.leader.is_empty() {
                items.push(symbol::leader_end(at));
            }
            items
        }),
        otherwise: keyed(
            marks,
            piece.middle,
            phrase!("Panel {mark}", mark = piece.mark),
        ),
    })
}
