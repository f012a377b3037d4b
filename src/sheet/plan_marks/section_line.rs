//! The ends of the section lines: stroke, arrow in the viewing direction and letter, in fixed places
//! just outside the dig.

use crate::draw::paper::Rect;
use crate::draw::scale::Placing;
use crate::draw::{Anchor, Face, Pt};
use crate::sheet::labels::{Box2, knock_out};
use crate::sheet::lettering::HEADING;
use crate::sheet::model::PlanModel;
use crate::sheet::plan::Marks;
use crate::sheet::{pen, symbol, window};

/// How far an end reaches out of the dig: short enough that arrow and letter stay within the first
/// dimension line.
const REACH: f64 = 4.4;
/// How much further a line aslant reaches, so that its letter clears the dig.
const ASLANT: f64 = 5.0;

/// How far the arrow's tip and the letter stand off the line.
const TIP: f64 = 6.0;
const LETTER: f64 = 9.3;

/// A direction on paper, of length one.
type Way = (f64, f64);

/// One end of a section line on paper.
#[derive(Clone, Copy)]
pub struct End<'a> {
    /// The section's letter.
    name: &'a str,
    /// Where the stroke begins, beside the dig.
    end: Pt,
    /// Where it turns to the arrow.
    outer: Pt,
    /// The arrow's tip.
    tip: Pt,
    /// The middle of the letter.
    letter: Pt,
    /// The viewing direction.
    view: Way,
}

/// How much further out an end is tried where its letter would stand on the cross of a corner or a
/// sill.
const FURTHER: [f64; 5] = [0.0, 3.0, 6.0, 9.0, 12.0];

impl<'a> End<'a> {
    /// The end that reaches so far out of the dig.
    fn of(name: &'a str, end: Pt, outward: Way, reach: f64, view: Way) -> Self {
        let outer = end.moved(outward.0 * reach, outward.1 * reach);
        let [tip, letter] = [TIP, LETTER].map(|by| outer.moved(view.0 * by, view.1 * by));
        Self {
            name,
            end,
            outer,
            tip,
            letter,
            view,
        }
    }

    /// The letter's box.
    fn lettered(&self) -> Box2 {
        let base = self.letter.moved(0.0, HEADING / 2.0);
        let (face, name) = (Face::SemiBold, self.name);
        Box2::of_text(base, Anchor::Middle, 0.0, HEADING, face, name).grown(0.5)
    }

    /// The box that stroke, arrow and letter take.
    pub fn bounds(&self) -> Rect {
        let letter = Rect::between(self.letter, self.letter).grown(HEADING);
        letter.union(Rect::between(self.end, self.outer).grown(1.0))
    }
}

/// Draws both ends of every section line.
pub fn draw(marks: &mut Marks) {
    for end in ends(marks.model, marks.placing, marks.dig) {
        draw_end(marks, &end);
    }
}

/// Both ends of every section line; `dig` is the dig's box on paper.
pub fn ends<'a>(model: &'a PlanModel, placing: &Placing, dig: Rect) -> Vec<End<'a>> {
    let dig = dig.grown(2.0);
    let corners = model.corners.iter().map(|corner| corner.at);
    let sills = model.sills.iter().map(|(_, at)| *at);
    let crosses = corners
        .chain(sills)
        .map(|at| symbol::cross_box(placing.at(at)));
    let crosses: &[Box2] = &crosses.collect::<Vec<_>>();
    let sections = model.sections.iter().flat_map(|(name, line)| {
        let [a, b] = line.map(|p| placing.at(p));
        let long = a.distance(b);
        let along = ((b.x - a.x) / long, (b.y - a.y) / long);
        // The viewer looks to the left of the line as seen on paper.
        let view = (along.1, -along.0);
        let far = 1e4;
        let whole = [
            a.moved(-along.0 * far, -along.1 * far),
            b.moved(along.0 * far, along.1 * far),
        ];
        let both = window::segment(dig, whole).unwrap_or([a, b]);
        let ways = [along, (-along.0, -along.1)];
        let ends = both.into_iter().zip(ways).map(move |(end, inward)| {
            let least = REACH + ASLANT * (2.0 * inward.0 * inward.1).abs();
            let outward = (-inward.0, -inward.1);
            let reaching = FURTHER.map(|more| End::of(name, end, outward, least + more, view));
            let [first, ..] = reaching;
            let clear = |at: &End| {
                let lettered = at.lettered().grown(0.5);
                !crosses.iter().any(|cross| cross.overlaps(lettered))
            };
            reaching.into_iter().find(clear).unwrap_or(first)
        });
        // A line of no length has no ends.
        ends.take(if long < 1.0 { 0 } else { 2 })
    });
    sections.collect()
}

fn draw_end(marks: &mut Marks, at: &End) {
    let (end, outer) = (at.end, at.outer);
    marks.add("section-marks", symbol::section_end(end, outer, at.view));
    for (from, to, rise) in [(outer, end, 0.8), (outer, at.tip, 1.6)] {
        marks.taken.add_mark(Box2 {
            centre: Pt::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0),
            half: from.distance(to) / 2.0 + 0.5,
            rise,
            angle: -libm::atan2(to.y - from.y, to.x - from.x).to_degrees(),
        });
    }
    let base = at.letter.moved(0.0, HEADING / 2.0);
    marks.taken.add_box(at.lettered());
    marks.letter(
        "section-marks",
        [
            knock_out(at.lettered()),
            pen::bold(base, HEADING, Anchor::Middle, at.name),
        ],
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::scale::Scale;
    use crate::geom::Point;

    /// A sill where the letter of the lower end would stand, at 1:50: the end reaches further out,
    /// and the upper one stays.
    #[test]
    fn a_letter_stands_on_no_cross() {
        let p = Point::new;
        let mut model = PlanModel {
            sections: vec![("A".to_owned(), [p(4000.0, 0.0), p(4000.0, 4000.0)])],
            ..PlanModel::default()
        };
        let placing = Scale::one_to(50.0).placed(p(4000.0, 2000.0), Pt::new(150.0, 100.0));
        let dig = Rect::between(placing.at(p(0.0, 0.0)), placing.at(p(8000.0, 4000.0)));
        let letters = |model: &PlanModel| -> Vec<Pt> {
            let ends = ends(model, &placing, dig).into_iter();
            ends.map(|end| end.letter).collect()
        };
        let before = letters(&model);
        let lower = usize::from(before[1].y > before[0].y);
        let on = [-LETTER * 50.0, -(2.0 + REACH) * 50.0];
        model.sills = vec![("Door".to_owned(), p(4000.0 + on[0], on[1]))];
        let cross = symbol::cross_box(placing.at(model.sills[0].1));
        assert!(cross.centre.distance(before[lower]) < 1e-6, "{before:?}");
        let after = letters(&model);
        assert_eq!(after[1 - lower], before[1 - lower]);
        let moved = after[lower].distance(before[lower]);
        assert!((moved - 6.0).abs() < 1e-6, "{moved}");
    }
}
