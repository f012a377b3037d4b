//! Marks of panels: inside the panel where there is clear room; for a trimmed panel, which the
//! cutting list names, also beside it on a leader that ends in a ring on it, as far inside its
//! outline as can be. What lies under the pavers that are shown has no mark there.

use super::{half_of, holds, nearest_inside, where_is, worth};
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

/// Where the pavers of an area are shown over its panels: in its paving, as far as the corner reaches
/// that they are drawn in.
struct Cover {
    corner: Vec<Vec<Pt>>,
    paving: Vec<Vec<Pt>>,
}

impl Cover {
    fn holds(&self, at: Pt) -> bool {
        holds(&self.corner, at) && holds(&self.paving, at)
    }

    fn comes_near(&self, bounds: Rect) -> bool {
        let corner = Rect::around(self.corner.iter().flatten().copied());
        corner.is_some_and(|corner| corner.overlaps(bounds))
    }
}

/// Asks for the place of every panel's mark.
pub fn ask(marks: &mut Marks) {
    let areas = marks.model.areas.iter();
    let shown = areas.filter(|area| !area.patch.is_empty());
    let covers: Vec<Cover> = shown
        .map(|area| Cover {
            corner: marks.rings(std::slice::from_ref(&area.patch)),
            paving: marks.rings(&area.rings),
        })
        .collect();
    for piece in &marks.model.pieces {
        let asked = mark(marks, piece, &covers);
        marks.asks.extend(asked);
    }
}

fn mark(marks: &Marks, piece: &Piece, covers: &[Cover]) -> Option<Ask> {
    let rings = marks.rings(&piece.rings);
    let label = Label::note(&piece.mark);
    let middle = marks.at(piece.middle);
    let (wide, high) = label.size();
    let bounds = Rect::around(rings.iter().flatten().copied())?;
    // Where the mark is larger than the panel there is no use in looking for a place inside.
    let roomy = wide < bounds.width() && high < bounds.height();
    let inside = roomy.then(|| nearest_inside(&rings).step_by(3));
    let places = std::iter::once(middle).chain(inside.into_iter().flatten());
    let near = covers.iter().filter(|cover| cover.comes_near(bounds));
    let near: Vec<&Cover> = near.collect();
    let covered = |p: Pt| near.iter().any(|cover| cover.holds(p));
    let fits = |p: &Pt| {
        let bounds = label.box_at(*p).grown(0.8);
        let mut corners = bounds.corners().into_iter();
        corners.all(|c| holds(&rings, c) && !covered(c))
    };
    let mut candidates: Vec<Candidate> = places
        .filter(|p| fits(p))
        .take(INSIDE)
        .enumerate()
        .map(|(rank, p)| Candidate::bare(label.box_at(p), rank as f64 * 0.05))
        .collect();
    // A panel thinner than the grid that is looked at has its ring in its middle.
    let ring = || innermost(&rings, &near).or((!covered(middle)).then_some(middle));
    let Some(at) = piece.trimmed.then(ring).flatten() else {
        return Some(Ask {
            request: Request::new(worth::WHOLE, candidates),
            layer: "panels",
            drawn: Box::new(move |candidate| label.drawn(candidate.bounds().centre)),
            otherwise: Otherwise::Leave,
        });
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
        otherwise: Otherwise::Key {
            at,
            words: phrase!("Panel {mark}", mark = piece.mark),
            place: where_is(marks.model, piece.middle).into(),
        },
    })
}

/// Of a grid of points in a panel's rings and outside of what covers it, the one farthest from
/// their outlines; none where there is no such point.
fn innermost(rings: &[Vec<Pt>], covers: &[&Cover]) -> Option<Pt> {
    let seen = nearest_inside(rings).filter(|p| !covers.iter().any(|cover| cover.holds(*p)));
    let over = covers.iter();
    let over = over.flat_map(|cover| cover.corner.iter().chain(&cover.paving));
    let outlines = rings.iter().chain(over);
    let sides = outlines.flat_map(|ring| {
        let next = ring.iter().cycle().skip(1);
        ring.iter().zip(next).map(|(a, b)| [*a, *b])
    });
    let sides: Vec<[Pt; 2]> = sides.collect();
    let clear = |p: Pt| {
        sides
            .iter()
            .map(|side| p.off(*side))
            .fold(f64::INFINITY, f64::min)
    };
    // Of those as far from the outlines the first, which is the nearest to the middle.
    let farther = |best: (Pt, f64), next: (Pt, f64)| {
        if next.1 > best.1 + 1e-6 { next } else { best }
    };
    let found = seen.map(|p| (p, clear(p))).reduce(farther);
    found.map(|(at, _)| at)
}
