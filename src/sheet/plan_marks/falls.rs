//! Falls: an arrow downhill inside the area with the words beside it, under the area's name where
//! that is lettered.

use super::{boxed, inside_points, keyed, on_paper, worth};
use crate::draw::{Face, Pt};
use crate::geom::Point;
use crate::language::phrase;
use crate::sheet::labels::{Ask, Box2, Candidate, Label, Request, knock_out};
use crate::sheet::model::Area;
use crate::sheet::plan::Marks;
use crate::sheet::{pen, symbol};

/// Length of the arrow.
const LONG: f64 = 16.0;

/// Asks for the place of every area's fall.
pub fn ask(marks: &mut Marks) {
    for area in &marks.model.areas {
        if let Some(asked) = fall(marks, area).or_else(|| name(marks, area)) {
            marks.ask(asked);
        }
    }
}

/// The area's name where it is lettered, and its words.
fn label(area: &Area, words: Option<&String>) -> Label {
    let name = Some(&area.name).filter(|_| area.named);
    Label {
        lines: name.into_iter().chain(words).cloned().collect(),
        face: Face::SemiBold,
        ..Label::note("")
    }
}

/// The name of an area without a fall.
fn name(marks: &Marks, area: &Area) -> Option<Ask> {
    let label = label(area, None);
    let middle = middle_of(area).filter(|_| area.named)?;
    let rings = marks.rings(&area.rings);
    let boxes = boxed(&rings);
    let places = inside_points(&rings).into_iter().enumerate();
    let candidates = places.map(|(rank, at)| {
        let words = label.box_at(at);
        let corners = words.grown(0.7).corners();
        let within = corners.iter().all(|p| super::within(&boxes, *p));
        Candidate::bare(words, rank as f64 * 0.01 + if within { 0.0 } else { 50.0 })
    });
    Some(Ask {
        request: Request::new(worth::NAME, candidates.collect()),
        layer: "labels",
        drawn: Box::new(move |place| label.placed(place)),
        otherwise: keyed(marks, middle, area.name.clone()),
    })
}

fn fall(marks: &Marks, area: &Area) -> Option<Ask> {
    let (downhill, words) = area.fall.as_ref()?;
    let (dx, dy) = on_paper(*downhill);
    let rings = marks.rings(&area.rings);
    let boxes = boxed(&rings);
    let label = label(area, Some(words));
    let (wide, high) = label.size();
    let off = (dy.abs() * wide + dx.abs() * high) / 2.0 + 2.0;
    let ends = move |middle: Pt| {
        [-0.5, 0.5].map(|share| middle.moved(dx * LONG * share, dy * LONG * share))
    };
    // Words beside the arrow, on either side; arrow and words inside the area.
    let mut candidates = Vec::new();
    for (rank, middle) in inside_points(&rings).into_iter().enumerate() {
        for side in [1.0, -1.0] {
            let words = label.box_at(middle.moved(-dy * off * side, dx * off * side));
            let strip = Box2 {
                centre: middle,
                half: LONG / 2.0,
                rise: 1.4,
                angle: -libm::atan2(dy, dx).to_degrees(),
            };
            let within = words
                .grown(0.7)
                .corners()
                .iter()
                .chain(&ends(middle))
                .all(|p| super::within(&boxes, *p));
            candidates.push(Candidate {
                boxes: vec![words, strip],
                leader: Vec::new(),
                cost: rank as f64 * 0.01 + if within { 0.0 } else { 50.0 },
            });
        }
    }
    let corner = area.rings.first().and_then(|ring| ring.first());
    let middle = middle_of(area).or(corner.copied())?;
    let words = phrase!("{area}: fall {words}", area = area.name, words);
    Some(Ask {
        request: Request {
            // Arrow and words always lie on joints.
            shy: 0.1,
            ..Request::new(worth::FALL, candidates)
        },
        layer: "levels",
        drawn: Box::new(move |candidate| {
            let [from, to] = ends(candidate.boxes[1].centre);
            // The words stand on white also where they lie on a whole field of pavers.
            let mut items = vec![knock_out(candidate.bounds().grown(0.5))];
            items.extend(label.drawn(candidate.bounds().centre));
            items.extend(symbol::arrow(from, to, pen::BLUE));
            items
        }),
        otherwise: keyed(marks, middle, words),
    })
}

/// The middle of the area's box on site.
fn middle_of(area: &Area) -> Option<Point> {
    let ring = area.rings.first()?;
    let mut points = ring.iter();
    let first = *points.next()?;
    let (low, high) = points.fold((first, first), |(low, high), p| {
        (
            Point::new(low.x.min(p.x), low.y.min(p.y)),
            Point::new(high.x.max(p.x), high.y.max(p.y)),
        )
    });
    Some(low.midpoint(high))
}
