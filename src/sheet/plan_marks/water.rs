//! Where areas meet and where water is taken: words along shared edges, grates with their rims.

use super::{half_of, keyed, run, upright, worth};
use crate::draw::{Colour, Face, LineWidth, Pt};
use crate::sheet::labels::{Ask, Box2, CLEAR, Candidate, Label, Request, led, touching};
use crate::sheet::lettering::{NOTE, width};
use crate::sheet::model::{Drain, SharedEdge};
use crate::sheet::plan::Marks;
use crate::sheet::{hatch, pen};

/// Clear paper between a shared edge and its words.
const BESIDE: f64 = 0.8;
/// Where there is no room beside an edge: this much further off.
const FURTHER: f64 = 2.6;
/// Sine of the angle to the paper's sides over which an edge runs askew.
const ASKEW: f64 = 0.1;
/// Radius of the sign of a downspout.
const SPOUT: f64 = 1.2;

/// Draws the grates and asks for the places of all words.
pub fn ask(marks: &mut Marks) {
    for drain in &marks.model.drains {
        grate(marks, drain);
    }
    for edge in &marks.model.shared_edges {
        shared_edge(marks, edge, Side::Either);
    }
    for surface in &marks.model.surfaces {
        shared_edge(marks, surface, Side::Outside);
    }
}

/// On which side of an edge its words stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// On either.
    Either,
    /// To the right of its course, where what it meets lies; on the left for want of room.
    Outside,
}

/// What a place on the wrong side of an edge costs more.
const WRONG_SIDE: f64 = 8.0;

/// Words along a shared edge, on either side of it, nearest its middle first.
pub(super) fn shared_edge(marks: &mut Marks, edge: &SharedEdge, wanted: Side) {
    let half = width(&edge.words, NOTE, Face::Regular) / 2.0;
    let mut candidates = Vec::new();
    for pair in edge.run.windows(2) {
        let (a, b) = (marks.at(pair[0]), marks.at(pair[1]));
        let long = a.distance(b);
        if long <= 0.0 {
            continue;
        }
        let (dx, dy) = ((b.x - a.x) / long, (b.y - a.y) / long);
        // Along the edge where it runs across or up the paper, level beside it where it runs askew.
        let askew = dx.abs().min(dy.abs()) > ASKEW;
        let (angle, off) = if askew {
            (0.0, dy.abs() * half + dx.abs() * NOTE * 0.72 + BESIDE)
        } else {
            (
                upright(-libm::atan2(dy, dx).to_degrees()),
                NOTE * 0.72 + BESIDE,
            )
        };
        for step in 0..=16 {
            let way = if step % 2 == 0 { 1.0 } else { -1.0 };
            let along = long / 2.0 + way * f64::from((step + 1) / 2) * long / 20.0;
            for (side, off) in [
                (1.0, off),
                (-1.0, off),
                (1.0, off + FURTHER),
                (-1.0, off + FURTHER),
            ] {
                let centre = a.moved(dx * along - dy * off * side, dy * along + dx * off * side);
                let bounds = Box2 {
                    centre,
                    half,
                    rise: NOTE * 0.72,
                    angle,
                };
                let over = (half - along.min(long - along)).max(0.0);
                let wrong = if wanted == Side::Outside && side < 0.0 {
                    WRONG_SIDE
                } else {
                    0.0
                };
                let cost = f64::from(step) * 0.3 + off * 0.4 + over + wrong;
                candidates.push(Candidate::bare(bounds, cost));
            }
        }
    }
    let words = edge.words.clone();
    let at = edge.middle;
    marks.ask(Ask {
        request: Request {
            // It lies on panel joints wherever it stands.
            shy: 0.2,
            ..Request::new(worth::FALL, candidates)
        },
        layer: "levels",
        drawn: Box::new(move |candidate| {
            let bounds = candidate.bounds();
            vec![run(bounds.centre, bounds.angle, &words, Face::Regular)]
        }),
        otherwise: keyed(marks, at, format!("{}: {}", edge.name, edge.words)),
    });
}

/// A grate with its bars, or the sign of a downspout; its words on a leader.
fn grate(marks: &mut Marks, drain: &Drain) {
    let at = marks.at(drain.at);
    let outline = pen::solid(LineWidth::W25, Colour::BLACK);
    if drain.grate.is_empty() {
        marks.add(
            "drains",
            [pen::circle(at, SPOUT, Some(outline), Some(Colour::WHITE))],
        );
        marks.add(
            "drains",
            [pen::circle(at, SPOUT / 3.0, None, Some(Colour::BLACK))],
        );
        // Words keep clear of the sign; its own leader comes from it.
        marks.taken.add_mark(Box2 {
            centre: at,
            half: SPOUT,
            rise: SPOUT,
            angle: 0.0,
        });
    } else {
        let ring: Vec<Pt> = drain.grate.iter().map(|p| marks.at(*p)).collect();
        let (dx, dy) = (ring[1].x - ring[0].x, ring[1].y - ring[0].y);
        let across = 90.0 - libm::atan2(dy, dx).to_degrees();
        let bars = hatch::parallel(std::slice::from_ref(&ring), across, hatch::BARS, 0.0);
        marks.taken.add_ring(&ring, 3.0);
        for bar in &bars {
            marks.taken.add_line(*bar, 2.0);
        }
        marks.add("drains", [pen::polygon(&ring, None, Some(Colour::WHITE))]);
        marks.add("drains", pen::lines(&bars, pen::FINE));
        marks.add("drains", [pen::polygon(&ring, Some(outline), None)]);
    }
    let label = Label {
        lines: drain.words.clone(),
        ..Label::note("")
    };
    let candidates = led(&marks.taken, at, half_of(&label), 45.0);
    let words = drain.words.join(", ");
    let rim = if drain.grate.is_empty() { SPOUT } else { 0.0 };
    marks.ask(Ask {
        request: Request::new(worth::POINT, candidates),
        layer: "levels",
        drawn: Box::new(move |candidate| {
            let to = touching(candidate.bounds().grown(CLEAR), at);
            let long = at.distance(to).max(1e-9);
            let from = at.moved((to.x - at.x) * rim / long, (to.y - at.y) * rim / long);
            let mut items = vec![pen::line(from, to, pen::FINE)];
            items.extend(label.drawn(candidate.bounds().centre));
            items
        }),
        otherwise: keyed(marks, drain.at, words),
    });
}
