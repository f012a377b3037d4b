//! What is lettered on the plan: dimensions, section marks, corners with their levels, courses,
//! falls, names, radii, panel marks and the numbers of what the checks found.
//!
//! In: the plan with its ground layers drawn. Out: lines added to their layers, and lettering with
//! the places that are best for all of it together. What finds no place is keyed to a table; the
//! mark of a whole panel is left off where there is no clear room in it, that of any panel where it
//! lies under the pavers that are shown, and the table says how many: the course number and the position from the start give it.
//!
//! Worth, from most to least: dimensions, corners, what the checks found, courses, falls, radii and
//! sills, trimmed panels, names, whole panels.
//!
//! Paper millimetres, y down; angles in degrees, anticlockwise as seen.

mod angles;
mod corners;
mod courses;
mod dimensions;
pub mod earth;
mod falls;
mod match_lines;
mod names;
mod panels;
mod points;
mod radii;
#[cfg(test)]
mod radii_tests;
mod rails;
mod section_line;
pub mod setout;
mod starts;
#[cfg(test)]
mod tests;
mod troubles;
mod water;

pub use courses::{course_room, courses_on};
pub use section_line::ends as section_ends;

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::labels::{Ask, Keyed, Label, Otherwise, settle};
use super::lettering::NOTE;
use super::model::PlanModel;
use super::pen;
use super::plan::Marks;
use crate::draw::paper::Rect;
use crate::draw::{Anchor, Face, Item, Pt};
use crate::geom::{Point, Vector};
use crate::language::{Phrase, phrase};
use crate::units::{Length, Precision, print};

/// What the different marks cost when they are left without a place.
mod worth {
    pub const CORNER: f64 = 1500.0;
    pub const TROUBLE: f64 = 1400.0;
    pub const COURSE: f64 = 1200.0;
    pub const FALL: f64 = 1000.0;
    pub const SERVICE: f64 = 1100.0;
    pub const STAKE: f64 = 1100.0;
    pub const DEPTH: f64 = 750.0;
    pub const CONTOUR: f64 = 300.0;
    pub const POINT: f64 = 900.0;
    pub const TRIMMED: f64 = 800.0;
    pub const RAILS: f64 = 700.0;
    pub const NAME: f64 = 600.0;
    pub const WHOLE: f64 = 9.0;
}

/// Draws the lines of all marks and letters the plan; gives the rows of its keyed table.
pub fn draw(marks: &mut Marks) -> Vec<Keyed> {
    match_lines::draw(marks);
    section_line::draw(marks);
    dimensions::draw(marks);
    courses::ask(marks);
    corners::ask(marks);
    falls::ask(marks);
    rails::ask(marks);
    earth::services(marks);
    earth::ground(marks);
    setout::ask(marks);
    angles::ask(marks);
    radii::ask(marks);
    points::sills(marks);
    starts::ask(marks);
    water::ask(marks);
    names::ask(marks);
    panels::ask(marks);
    let off_view = troubles::ask(marks);
    let asks = std::mem::take(&mut marks.asks);
    let settled = settle(&mut marks.taken, asks);
    for (layer, item) in settled.items {
        marks.letter(layer, [item]);
    }
    let mut keyed = settled.keyed;
    keyed.extend(off_view);
    if settled.left > 0 {
        keyed.push(Keyed {
            number: 0,
            words: phrase!(
                "{count} panel has no mark on the plan. A mark is the course, then the place in it from its start. | {count} panels have no mark on the plan. A mark is the course, then the place in it from its start.",
                count = settled.left
            ),
            place: Phrase::default(),
        });
    }
    keyed
}

/// What becomes of a mark of a site point without a place: it is keyed, with its coordinates.
fn keyed(marks: &Marks, at: Point, words: impl Into<Phrase>) -> Otherwise {
    Otherwise::Key {
        at: marks.at(at),
        words: words.into(),
        place: where_is(marks.model, at).into(),
    }
}

/// A site point in words.
fn where_is(model: &PlanModel, at: Point) -> String {
    let length = |v: f64| print::length(Length::from_mm(v), model.units, Precision::Drawing);
    format!("x {}, y {}", length(at.x), length(at.y))
}

/// A site direction on paper, at unit length.
fn on_paper(direction: Vector) -> (f64, f64) {
    (direction.x, -direction.y)
}

/// The direction of a site vector in degrees, anticlockwise as seen.
fn bearing(direction: Vector) -> f64 {
    libm::atan2(direction.y, direction.x).to_degrees()
}

/// One run of notes whose box has its middle at a point, at an angle.
fn run(centre: Pt, angle: f64, words: &str, face: Face) -> Item {
    let radians = angle.to_radians();
    // The middle of the box lies 0.4 of the height above the baseline.
    let drop = NOTE * 0.4;
    let base = centre.moved(libm::sin(radians) * drop, libm::cos(radians) * drop);
    pen::lettered(base, angle, NOTE, face, Anchor::Middle, words)
}

/// The same direction within -90 to 90 degrees, so that it reads from below or from the right.
fn upright(angle: f64) -> f64 {
    let turned = (angle * 1e6).round() / 1e6;
    if turned > 90.0 {
        turned - 180.0
    } else if turned <= -90.0 {
        turned + 180.0
    } else {
        turned
    }
}

/// A grid of points inside the rings, from the middle of their box outward.
pub fn inside_points(rings: &[Vec<Pt>]) -> Vec<Pt> {
    nearest_inside(rings).collect()
}

/// The same, each looked for when it is asked for.
pub fn nearest_inside(rings: &[Vec<Pt>]) -> impl Iterator<Item = Pt> {
    let bounds = Rect::around(rings.iter().flatten().copied());
    let place = |bounds: Rect, [i, j]: [i8; 2]| {
        bounds.centre().moved(
            f64::from(i) * bounds.width() / 26.0,
            f64::from(j) * bounds.height() / 26.0,
        )
    };
    // A distance is not under zero, so that its bits are in the order of its value.
    let far = |bounds: Rect, at| place(bounds, at).distance(bounds.centre()).to_bits();
    let grid = (-12..=12).flat_map(|i| (-12..=12).map(move |j| [i, j]));
    let mut waiting: BinaryHeap<Reverse<(u64, [i8; 2])>> = bounds
        .into_iter()
        .flat_map(|bounds| grid.clone().map(move |at| Reverse((far(bounds, at), at))))
        .collect();
    let rings = boxed(rings);
    std::iter::from_fn(move || {
        loop {
            let Reverse((_, at)) = waiting.pop()?;
            let p = place(bounds?, at);
            if within(&rings, p) {
                return Some(p);
            }
        }
    })
}

/// Whether a point lies inside the rings (even-odd).
pub fn holds(rings: &[Vec<Pt>], at: Pt) -> bool {
    rings.iter().filter(|ring| winds_round(ring, at)).count() % 2 == 1
}

/// Rings with their boxes, for asking of many points.
fn boxed(rings: &[Vec<Pt>]) -> Vec<(Rect, &[Pt])> {
    let boxed = rings.iter().map(|ring| {
        let bounds = Rect::around(ring.iter().copied())?;
        Some((bounds, &ring[..]))
    });
    boxed.flatten().collect()
}

/// Whether a point lies inside the rings (even-odd).
fn within(rings: &[(Rect, &[Pt])], at: Pt) -> bool {
    let round = |(bounds, ring): &&(Rect, &[Pt])| bounds.has(at) && winds_round(ring, at);
    rings.iter().filter(round).count() % 2 == 1
}

/// Whether a ring winds round a point.
fn winds_round(ring: &[Pt], at: Pt) -> bool {
    let mut inside = false;
    for (i, a) in ring.iter().enumerate() {
        let b = ring[(i + 1) % ring.len()];
        if (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}

/// Half the size of a block of words.
fn half_of(label: &Label) -> (f64, f64) {
    let (wide, high) = label.size();
    (wide / 2.0, high / 2.0)
}

impl Marks<'_> {
    /// A mark asks for a place.
    pub fn ask(&mut self, ask: Ask) {
        self.asks.push(ask);
    }
}
