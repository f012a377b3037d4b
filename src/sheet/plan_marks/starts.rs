//! Where the pavers of an area start: the bond's words on a leader from the end of its start line.

use super::{bearing, half_of, keyed, worth};
use crate::geom::Vector;
use crate::sheet::labels::{Ask, CLEAR, Label, Otherwise, Request, led, touching};
use crate::sheet::plan::Marks;
use crate::sheet::{pen, surface};

/// Asks for the place of every start's words.
pub fn ask(marks: &mut Marks) {
    for area in &marks.model.areas {
        let Some(start) = &area.start else { continue };
        let [from, to] = surface::start_line(marks, start);
        let at = from.moved((to.x - from.x) / 2.0, (to.y - from.y) / 2.0);
        let label = Label {
            lines: start.words.clone(),
            ..Label::note("")
        };
        let out = Vector::new(to.x - from.x, -(to.y - from.y)).left();
        let candidates = led(&marks.taken, at, half_of(&label), bearing(out));
        let otherwise: Otherwise = keyed(marks, start.line[0], start.words.join(", "));
        marks.ask(Ask {
            request: Request::new(worth::POINT, candidates),
            layer: "labels",
            drawn: Box::new(move |candidate| {
                let reach = touching(candidate.bounds().grown(CLEAR), at);
                let mut items = vec![pen::line(at, reach, pen::FINE)];
                items.extend(label.drawn(candidate.bounds().centre));
                items
            }),
            otherwise,
        });
    }
}
