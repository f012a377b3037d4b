//! The finished surface on plan: every paver of an area, tinted by course for a client, or told
//! apart by what is sawn for the crew, with the line that the laying starts from.
//!
//! In: the area's pavers by course. Out: marks on the layer of the pavers. Where pavers would be
//! narrower on paper than `NARROWEST` their joints are left out, since they would run together.
//!
//! Paper millimetres, y down.

use super::labels::Taken;
use super::model::{Area, Filling, Start, Surface};
use super::plan::{Marks, PAVER};
use super::{hatch, pen, symbol};
use crate::draw::{Colour, LineWidth, Pt};

/// Tints for a client: the field, then the border courses in turn.
pub const TINTS: [Colour; 3] = [
    Colour(238, 230, 218),
    Colour(206, 192, 172),
    Colour(222, 212, 198),
];
/// Filling of a sliver.
pub const SLIVER: Colour = Colour(120, 120, 120);
/// Pitch of the hatch of cut pavers.
pub const CUT_PITCH: f64 = 1.5;
/// Least length of a start line on paper.
const LONG: f64 = 24.0;
/// Narrowest paver on paper whose joints are drawn.
const NARROWEST: f64 = 1.2;

/// Draws the surface of an area and its start.
pub fn draw(marks: &mut Marks, area: &Area) {
    for course in area.surface.iter() {
        match area.filling {
            Filling::Tinted => tinted(marks, course),
            Filling::BySaw => by_saw(marks, course),
        }
    }
    start(marks, area);
}

fn tinted(marks: &mut Marks, course: &Surface) {
    let tint = match course.border {
        0 => TINTS[0],
        number => TINTS[1 + (number - 1) % 2],
    };
    let cut = [&course.cut, &course.slivers];
    let mut rings = whole(marks, course);
    rings.extend(cut.iter().flat_map(|some| marks.rings(some)));
    if rings.is_empty() {
        return;
    }
    let stroke = told_apart(&rings).then_some(pen::solid(LineWidth::W18, pen::GREY));
    if stroke.is_some() {
        take(&mut marks.taken, &rings);
    }
    marks.add("pavers", [pen::region(&rings, stroke, Some(tint))]);
}

fn by_saw(marks: &mut Marks, course: &Surface) {
    let [cut, slivers] = [&course.cut, &course.slivers].map(|some| marks.rings(some));
    let mut shown = course.whole.iter();
    let broad = shown.any(|paver| broad(&paver.map(|p| marks.at(p))));
    let stroke = (broad || told_apart(&cut)).then_some(PAVER);
    // What is not drawn is not brought to paper: there may be millions.
    let whole = match stroke {
        Some(_) => whole(marks, course),
        None => Vec::new(),
    };
    if stroke.is_some() {
        for rings in [&whole, &cut, &slivers] {
            take(&mut marks.taken, rings);
        }
    }
    let hatched: Vec<[Pt; 2]> = hatch::parallel(&cut, 45.0, CUT_PITCH, 0.0);
    // Words on the hatch have a white ground.
    for segment in &hatched {
        marks.taken.add_line(*segment, 0.3);
    }
    marks.add(
        "pavers",
        pen::lines(&hatched, pen::solid(LineWidth::W18, pen::GREY)),
    );
    for (rings, fill) in [(&whole, None), (&cut, None), (&slivers, Some(SLIVER))] {
        if !rings.is_empty() && (stroke.is_some() || fill.is_some()) {
            marks.add("pavers", [pen::region(rings, stroke, fill)]);
        }
    }
}

/// The start corner and an arrow along the first course.
fn start(marks: &mut Marks, area: &Area) {
    let Some(start) = &area.start else {
        return;
    };
    let [from, to] = start_line(marks, start);
    marks.taken.add_line([from, to], 3.0);
    if let Some([corner, foot]) = start.measured {
        let [corner, foot] = [corner, foot].map(|p| marks.at(p));
        marks.taken.add_run(&[corner, foot, from], 1.5);
        marks.add(
            "dimensions",
            [pen::polyline(&[corner, foot, from], pen::FINE)],
        );
    }
    let mut items = vec![
        pen::circle(from, 1.4, None, Some(Colour::BLACK)),
        pen::line(from, to, pen::solid(LineWidth::W50, Colour::BLACK)),
    ];
    items.extend(symbol::arrow(from, to, Colour::BLACK));
    // Over outline and restraint, which a first course lies along.
    marks.add("labels", items);
}

/// The start line on paper: from the start corner along the first course, long enough to be seen.
pub fn start_line(marks: &Marks, start: &Start) -> [Pt; 2] {
    let [from, towards] = start.line.map(|p| marks.at(p));
    let long = from.distance(towards).max(1e-9);
    let reach = long.max(LONG);
    let to = from.moved(
        (towards.x - from.x) / long * reach,
        (towards.y - from.y) / long * reach,
    );
    [from, to]
}

/// Whole pavers of a course on paper.
fn whole(marks: &Marks, course: &Surface) -> Vec<Vec<Pt>> {
    let pavers = course.whole.iter();
    let rings = pavers.map(|paver| paver.iter().map(|p| marks.at(*p)).collect());
    rings.collect()
}

/// Whether pavers are broad enough on paper for their joints to be told apart.
fn told_apart(rings: &[Vec<Pt>]) -> bool {
    rings.iter().any(|ring| broad(ring))
}

/// Whether a paver is.
fn broad(ring: &[Pt]) -> bool {
    match ring {
        [a, b, c, ..] => a.distance(*b).min(b.distance(*c)) >= NARROWEST,
        _ => false,
    }
}

fn take(taken: &mut Taken, rings: &[Vec<Pt>]) {
    for ring in rings {
        taken.add_ring(ring, 0.6);
    }
}
