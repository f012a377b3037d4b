//! Corners: the letter in a circle with finish over formation beside it, on a leader from the
//! corner; where areas meet at a step, with those of each.

use super::{bearing, keyed, setout, worth};
use crate::draw::{Item, Pt};
use crate::language::{Phrase, phrase};
use crate::sheet::labels::{Ask, Box2, CLEAR, Candidate, Label, Request, around, led};
use crate::sheet::model::{Corner, CornerLevels};
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

/// Clear paper round a name alone: side by side two letters would read as one word.
const BESIDE_NAMES: f64 = 1.3;
/// Between a name and the levels behind it, and between the levels of two areas, in paper
/// millimetres.
const APART: [f64; 2] = [1.0, 0.8];

/// The levels of one area at a corner: whose they are, and finish ruled off over formation.
struct Levels {
    area: Label,
    lines: Label,
}

impl Levels {
    fn of(levels: &CornerLevels) -> Self {
        let lines = vec![levels.finish.clone(), levels.formation.clone()];
        Self {
            area: Label::note(&levels.area),
            lines: Label {
                lines,
                ruled: true,
                ..Label::note("")
            },
        }
    }
}

/// The levels of a corner, area under area, the names in one column and the levels in another.
struct Block {
    levels: Vec<Levels>,
}

impl Block {
    fn of(corner: &Corner) -> Self {
        Self {
            levels: corner.levels.iter().map(Levels::of).collect(),
        }
    }

    /// Breadth of the names, none where there are none, and of the levels.
    fn columns(&self) -> [f64; 2] {
        let most = |pick: fn(&Levels) -> &Label| {
            let widths = self.levels.iter().map(|each| pick(each).size().0);
            widths.fold(0.0, f64::max)
        };
        [most(|each| &each.area), most(|each| &each.lines)]
    }

    /// Breadth and height; nothing without levels.
    fn size(&self) -> (f64, f64) {
        let [names, lines] = self.columns();
        let gap = if names > 0.0 { APART[0] } else { 0.0 };
        let heights = self.levels.iter().map(|each| each.lines.size().1);
        let between = APART[1] * self.levels.len().saturating_sub(1) as f64;
        (names + gap + lines, heights.sum::<f64>() + between)
    }

    /// The marks of the block centred at a point.
    fn drawn(&self, centre: Pt) -> Vec<Item> {
        let [names, lines] = self.columns();
        let (wide, high) = self.size();
        let mut top = centre.y - high / 2.0;
        let mut items = Vec::new();
        for each in &self.levels {
            let tall = each.lines.size().1;
            let middle = top + tall / 2.0;
            let left = centre.x - wide / 2.0;
            if names > 0.0 {
                items.extend(each.area.drawn(Pt::new(left + names / 2.0, middle)));
            }
            let right = Pt::new(centre.x + wide / 2.0 - lines / 2.0, middle);
            items.extend(each.lines.drawn(right));
            top += tall + APART[1];
        }
        items
    }

    /// The levels in words.
    fn words(&self, corner: &Corner) -> Phrase {
        let levels = corner.levels.iter().map(|each| {
            let over = phrase!(
                "{one} over {other}",
                one = &each.finish,
                other = &each.formation
            );
            match each.area.is_empty() {
                true => over,
                false => Phrase::row([Phrase::own(&each.area), over], " "),
            }
        });
        Phrase::listed(levels)
    }
}

fn corner_mark(marks: &Marks, corner: &Corner) -> Ask {
    let at = marks.at(corner.at);
    let levels = Block::of(corner);
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
        phrase!(
            "Corner {name}: {levels}",
            name,
            levels = levels.words(corner)
        )
    };
    Ask {
        request: Request {
            clear: if plain { BESIDE_NAMES } else { CLEAR },
            ..Request::new(worth::CORNER, candidates)
        },
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
