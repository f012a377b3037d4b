//! The ends of the section lines: stroke, arrow in the viewing direction and letter, in fixed places
//! just outside the dig.

use crate::draw::{Anchor, Face, Pt};
use crate::geom::Point;
use crate::sheet::labels::{Box2, knock_out};
use crate::sheet::lettering::HEADING;
use crate::sheet::plan::Marks;
use crate::sheet::{pen, symbol, window};

/// How far an end reaches out of the dig: short enough that arrow and letter stay within the first
/// dimension line.
const REACH: f64 = 4.4;
/// How much further a line aslant reaches, so that its letter clears the dig.
const ASLANT: f64 = 5.0;

/// Draws both ends of every section line.
pub fn draw(marks: &mut Marks) {
    let model = marks.model;
    for (name, line) in &model.sections {
        ends(marks, name, *line);
    }
}

/// Both ends of one line, each with the section's letter.
fn ends(marks: &mut Marks, name: &str, [a, b]: [Point; 2]) {
    let (pa, pb) = (marks.at(a), marks.at(b));
    let long = pa.distance(pb);
    if long < 1.0 {
        return;
    }
    let along = ((pb.x - pa.x) / long, (pb.y - pa.y) / long);
    // The viewer looks to the left of the line as seen on paper.
    let view = (along.1, -along.0);
    let dig = marks.dig.grown(2.0);
    let far = 1e4;
    let whole = [
        pa.moved(-along.0 * far, -along.1 * far),
        pb.moved(along.0 * far, along.1 * far),
    ];
    let ends = window::segment(dig, whole).unwrap_or([pa, pb]);
    for (end, inward) in [(ends[0], along), (ends[1], (-along.0, -along.1))] {
        let reach = REACH + ASLANT * (2.0 * inward.0 * inward.1).abs();
        let outer = end.moved(-inward.0 * reach, -inward.1 * reach);
        let tip = outer.moved(view.0 * 6.0, view.1 * 6.0);
        let letter = tip.moved(view.0 * 3.3, view.1 * 3.3);
        marks.add("section-marks", symbol::section_end(end, outer, view));
        for (from, to, rise) in [(outer, end, 0.8), (outer, tip, 1.6)] {
            marks.taken.add_mark(Box2 {
                centre: Pt::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0),
                half: from.distance(to) / 2.0 + 0.5,
                rise,
                angle: -libm::atan2(to.y - from.y, to.x - from.x).to_degrees(),
            });
        }
        let base = letter.moved(0.0, HEADING / 2.0);
        let bounds = Box2::of_text(base, Anchor::Middle, 0.0, HEADING, Face::SemiBold, name);
        marks.taken.add_box(bounds.grown(0.5));
        marks.letter(
            "section-marks",
            [
                knock_out(bounds.grown(0.5)),
                pen::bold(base, HEADING, Anchor::Middle, name),
            ],
        );
    }
}
