//! Corners: the letter in a circle with finish over formation beside it, on a leader from the
//! corner.

use super::{bearing, keyed, setout, worth};
use crate::draw::{Face, Pt};
use crate::language::{Phrase, phrase};
use crate::sheet::labels::{Ask, Box2, CLEAR, Candidate, Label, Request, around, led};
use crate::sheet::lettering::NOTE;
use crate::sheet::model::Corner;
use crate::sheet::plan::Marks;
use crate::sheet::{labels, pen, symbol};

/// Asks for the place of every corner's mark.
pub fn ask(marks: &mut Marks) {
    for corner in &marks.model.corners {
        // The cross at the corner stays clear of other words.
        let at = marks.at(corner.at);
        marks.taken.add_mark(symbol::cross_box(at));
        let asked = corner_mark(marks, corner);
        marks.ask(asked);
    }
}

fn corner_mark(marks: &Marks, corner: &Corner) -> Ask {
    let at = marks.at(corner.at);
    let levels = Label {
        lines: corner.levels.clone(),
        height: NOTE,
        face: Face::Regular,
        ruled: true,
    };
    let radius = symbol::corner_radius(&corner.name);
    let plain = corner.levels.is_empty();
    let (wide, high) = if plain { (0.0, 0.0) } else { levels.size() };
    let gap = if plain { 0.0 } else { 1.2 };
    let (half, rise) = (radius + (gap + wide) / 2.0, radius.max(high / 2.0));
    let prefer = bearing(corner.outward);
    let level = |centre: Pt| Box2 {
        centre,
        half,
        rise,
        angle: 0.0,
    };
    let mut candidates: Vec<Candidate> = around(at, (half, rise), prefer, &labels::RADII, 24)
        .into_iter()
        .enumerate()
        .map(|(rank, centre)| Candidate::led(level(centre), at, rank as f64 * 0.05))
        .collect();
    let ringed = candidates.len();
    // Boundary slots come after the rings of the usual sixteen directions.
    let slots = led(&marks.taken, at, (half, rise), prefer);
    candidates.extend(slots.into_iter().skip(labels::RADII.len() * 16));
    debug_assert!(candidates.len() >= ringed);
    let name = corner.name.clone();
    // The ring of an end of the base line stands for the corner too.
    let ringed_end = setout::is_end(marks.model, corner.at);
    let words = if plain {
        phrase!("Corner {name}", name)
    } else {
        let levels = corner.levels.iter().map(Phrase::own);
        let levels = levels.reduce(|one, other| phrase!("{one} over {other}", one, other));
        phrase!(
            "Corner {name}: {levels}",
            name,
            levels = levels.unwrap_or_default()
        )
    };
    Ask {
        request: Request::new(worth::CORNER, candidates),
        layer: "levels",
        drawn: Box::new(move |candidate| {
            let centre = candidate.bounds().centre;
            let leader = labels::touching(candidate.bounds().grown(CLEAR), at);
            let mut items = vec![pen::line(at, leader, pen::FINE)];
            if !ringed_end {
                items.push(symbol::level_cross(at));
            }
            // The letter stands on the side of the corner.
            let side = if at.x <= centre.x { -1.0 } else { 1.0 };
            items.extend(symbol::corner(
                centre.moved(side * (half - radius), 0.0),
                &name,
            ));
            if !plain {
                items.extend(levels.drawn(centre.moved(-side * (half - wide / 2.0), 0.0)));
            }
            items
        }),
        otherwise: keyed(marks, corner.at, words),
    }
}
