//! What is lettered on the plan: dimensions, section marks, corners with their levels, courses,
//! falls, names, radii and panel marks.
//!
//! In: the plan with its ground layers drawn. Out: marks added to their layers. Fixed marks come
//! first (dimensions, section marks), then labels in order of worth: courses, corners, falls,
//! names, radii, panel marks. The mark of a whole panel that finds no clear place is left out: the course
//! number and the position from the start give it.

use super::dimension::{Chain, FIRST, NEXT};
use super::labels::{Box2, Label, Placed, knock_out, place, place_box, rings, touching};
use super::lettering::{HEADING, NOTE, width};
use super::model::{Area, Corner, Piece};
use super::plan::Marks;
use super::{pen, symbol, window};
use crate::draw::{Anchor, Colour, Face, Item, LineWidth, Pt};
use crate::geom::Vector;

/// Radii of the rings of candidate places round a corner.
const RADII: [f64; 8] = [3.0, 5.0, 8.0, 11.0, 15.0, 20.0, 26.0, 33.0];

/// Draws them all.
pub fn draw(marks: &mut Marks) {
    section_marks(marks);
    dimensions(marks);
    courses(marks);
    corners(marks);
    falls(marks);
    rail_words(marks);
    radii(marks);
    sills(marks);
    names(marks);
    pieces(marks);
}

/// A site direction on paper, at unit length.
fn on_paper(direction: Vector) -> (f64, f64) {
    (direction.x, -direction.y)
}

fn dimensions(marks: &mut Marks) {
    let dig: Vec<Pt> = marks
        .rings(&marks.model.dig)
        .into_iter()
        .flatten()
        .collect();
    let mut chains = Vec::new();
    for chain in &marks.model.chains {
        let (ox, oy) = on_paper(chain.outward);
        let reach = dig
            .iter()
            .map(|p| p.x * ox + p.y * oy)
            .fold(f64::NEG_INFINITY, f64::max);
        if !reach.is_finite() {
            continue;
        }
        let from = reach + FIRST + course_room(marks, chain.outward) + NEXT * chain.tier as f64;
        let features: Vec<Pt> = chain.features.iter().map(|p| marks.at(*p)).collect();
        let drawn = Chain {
            // Along the line as seen, so that it runs from the first feature to the last.
            along: forward(&features, (-oy, ox)),
            on: Pt::new(ox * from, oy * from),
            features,
            words: chain.words.clone(),
        };
        chains.push(drawn);
    }
    for chain in &chains {
        let items = chain.lines(&mut marks.taken);
        marks.add("dimensions", items);
    }
    for chain in &chains {
        let items = chain.texts(&mut marks.taken);
        marks.add("dimensions", items);
    }
}

/// The direction or its opposite, whichever runs from the first feature to the last.
fn forward(features: &[Pt], along: (f64, f64)) -> (f64, f64) {
    let (Some(first), Some(last)) = (features.first(), features.last()) else {
        return along;
    };
    let run = (last.x - first.x) * along.0 + (last.y - first.y) * along.1;
    if run < 0.0 {
        (-along.0, -along.1)
    } else {
        along
    }
}

/// Breadth that course labels take on a side before its first dimension line.
pub fn course_room(marks: &Marks, outward: Vector) -> f64 {
    courses_on(&marks.model.courses, outward)
}

/// Breadth of the labels of courses that start on a side.
pub fn courses_on(courses: &[super::model::Course], outward: Vector) -> f64 {
    courses
        .iter()
        .filter(|c| c.along.dot(outward) < -0.7)
        .map(|c| width(&c.words, NOTE, Face::Regular) + 1.0)
        .fold(0.0, f64::max)
}

fn section_marks(marks: &mut Marks) {
    let Some([a, b]) = marks.model.section else {
        return;
    };
    let (pa, pb) = (marks.at(a), marks.at(b));
    let long = pa.distance(pb);
    if long < 1.0 {
        return;
    }
    let along = ((pb.x - pa.x) / long, (pb.y - pa.y) / long);
    // The viewer looks to the left of A–A as seen on paper.
    let view = (along.1, -along.0);
    let dig = marks.dig.grown(2.0);
    let far = 1e4;
    let whole = [
        pa.moved(-along.0 * far, -along.1 * far),
        pb.moved(along.0 * far, along.1 * far),
    ];
    let ends = window::segment(dig, whole).unwrap_or([pa, pb]);
    for (end, inward) in [(ends[0], along), (ends[1], (-along.0, -along.1))] {
        let outer = end.moved(-inward.0 * 6.0, -inward.1 * 6.0);
        let tip = outer.moved(view.0 * 6.0, view.1 * 6.0);
        let letter = tip.moved(view.0 * 3.3, view.1 * 3.3);
        let items = symbol::section_end(end, inward, view);
        marks.add("section-marks", items);
        marks.taken.add_line([outer, end], 8.0);
        marks.taken.add_line([outer, tip], 8.0);
        let base = letter.moved(0.0, HEADING / 2.0);
        let bounds = Box2::of_text(base, Anchor::Middle, 0.0, HEADING, Face::SemiBold, "A");
        marks.add("section-marks", [knock_out(bounds.grown(0.5))]);
        marks.taken.add_box(bounds.grown(0.5));
        marks.add(
            "section-marks",
            [pen::bold(base, HEADING, Anchor::Middle, "A")],
        );
    }
}

fn corners(marks: &mut Marks) {
    let model = marks.model;
    for corner in &model.corners {
        corner_mark(marks, corner);
    }
}

/// Letter in a circle with finish over formation beside it, and a leader to the corner.
fn corner_mark(marks: &mut Marks, corner: &Corner) {
    let at = marks.at(corner.at);
    let levels = Label {
        lines: corner.levels.clone(),
        height: NOTE,
        face: Face::Regular,
        ruled: true,
    };
    let radius = symbol::corner_radius(&corner.name);
    let (wide, high) = if corner.levels.is_empty() {
        (0.0, 0.0)
    } else {
        levels.size()
    };
    let gap = if corner.levels.is_empty() { 0.0 } else { 1.2 };
    let (half, rise) = (radius + (gap + wide) / 2.0, radius.max(high / 2.0));
    let prefer = libm::atan2(corner.outward.y, corner.outward.x).to_degrees();
    let mut boxes = Vec::new();
    for reach in RADII {
        for step in 0..24 {
            let turn = f64::from((step + 1) / 2) * 15.0 * if step % 2 == 0 { 1.0 } else { -1.0 };
            let angle = (prefer + turn).to_radians();
            let (sin, cos) = (libm::sin(angle), libm::cos(angle));
            boxes.push(Box2 {
                centre: at.moved(cos * (reach + half), -sin * (reach + rise)),
                half,
                rise,
                angle: 0.0,
            });
        }
    }
    let Some(placed) = place_box(&mut marks.taken, &boxes, Some(at)) else {
        return;
    };
    let leader = touching(placed.bounds, at);
    marks.add(
        "levels",
        [symbol::level_cross(at), pen::line(at, leader, pen::FINE)],
    );
    if placed.knocked_out {
        marks.add("levels", [knock_out(placed.bounds)]);
    }
    // The letter stands on the side of the corner.
    let side = if at.x <= placed.centre.x { -1.0 } else { 1.0 };
    let letter = placed.centre.moved(side * (half - radius), 0.0);
    marks.add("levels", symbol::corner(letter, &corner.name));
    if !corner.levels.is_empty() {
        let words = placed.centre.moved(-side * (half - wide / 2.0), 0.0);
        marks.add("levels", levels.drawn(words));
    }
}

fn courses(marks: &mut Marks) {
    let model = marks.model;
    for course in &model.courses {
        let at = marks.at(course.at);
        let (dx, dy) = on_paper(course.along);
        let half = width(&course.words, NOTE, Face::Regular) / 2.0;
        let angle = upright(-libm::atan2(dy, dx).to_degrees());
        let boxes: Vec<Box2> = (0..20)
            .map(|step| {
                let back = 1.8 + half + f64::from(step) * 1.5;
                Box2 {
                    centre: at.moved(-dx * back, -dy * back),
                    half,
                    rise: NOTE * 0.72,
                    angle,
                }
            })
            .collect();
        if let Some(placed) = place_box(&mut marks.taken, &boxes, None) {
            run(marks, "labels", placed, angle, &course.words, Face::Regular);
        }
    }
}

/// One run in a placed box, with its white ground where it needs one.
fn run(
    marks: &mut Marks,
    layer: &'static str,
    placed: Placed,
    angle: f64,
    words: &str,
    face: Face,
) {
    if placed.knocked_out {
        marks.add(layer, [knock_out(placed.bounds)]);
    }
    let radians = angle.to_radians();
    let drop = NOTE * 0.4;
    let base = placed
        .centre
        .moved(libm::sin(radians) * drop, libm::cos(radians) * drop);
    // The middle of the box lies 0.4 of the height above the baseline.
    marks.add(
        layer,
        [pen::lettered(
            base,
            angle,
            NOTE,
            face,
            Anchor::Middle,
            words,
        )],
    );
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

fn falls(marks: &mut Marks) {
    let model = marks.model;
    for area in &model.areas {
        fall(marks, area);
    }
}

fn fall(marks: &mut Marks, area: &Area) {
    let Some((downhill, words)) = &area.fall else {
        return;
    };
    let (dx, dy) = on_paper(*downhill);
    let rings = marks.rings(&area.rings);
    let label = Label {
        face: Face::SemiBold,
        ..Label::note(words)
    };
    let (wide, high) = label.size();
    let long = 16.0;
    let off = (dy.abs() * wide + dx.abs() * high) / 2.0 + 2.0;
    // Words beside the arrow, on either side; arrow and words inside the area.
    let mut best: Option<(f64, Pt, Pt)> = None;
    for middle in inside_points(&rings) {
        for side in [1.0, -1.0] {
            let centre = middle.moved(-dy * off * side, dx * off * side);
            let bounds = label.box_at(centre).grown(0.7);
            let arrow = [
                middle.moved(-dx * long / 2.0, -dy * long / 2.0),
                middle.moved(dx * long / 2.0, dy * long / 2.0),
            ];
            let strip = Box2 {
                centre: middle,
                half: long / 2.0,
                rise: 1.6,
                angle: -libm::atan2(dy, dx).to_degrees(),
            };
            if marks.taken.touches_text(bounds) || marks.taken.touches_text(strip) {
                continue;
            }
            let within = bounds
                .corners()
                .iter()
                .chain(&arrow)
                .all(|p| holds(&rings, *p));
            let cost = marks.taken.line_weight(bounds)
                + 0.5 * marks.taken.line_weight(strip)
                + if within { 0.0 } else { 50.0 };
            if best.is_none_or(|(least, ..)| cost < least) {
                best = Some((cost, middle, centre));
            }
        }
    }
    let Some((_, middle, centre)) = best else {
        return;
    };
    let ends = [
        middle.moved(-dx * long / 2.0, -dy * long / 2.0),
        middle.moved(dx * long / 2.0, dy * long / 2.0),
    ];
    marks.add("levels", [knock_out(label.box_at(centre).grown(0.5))]);
    marks.add("levels", label.drawn(centre));
    marks.add("levels", symbol::arrow(ends[0], ends[1], pen::BLUE));
    marks.taken.add_box(label.box_at(centre).grown(0.5));
    marks.taken.add_box(Box2 {
        centre: middle,
        half: long / 2.0,
        rise: 1.4,
        angle: -libm::atan2(dy, dx).to_degrees(),
    });
}

/// A grid of points inside the rings, from the middle of their box outward.
fn inside_points(rings: &[Vec<Pt>]) -> Vec<Pt> {
    let Some(bounds) = crate::draw::paper::Rect::around(rings.iter().flatten().copied()) else {
        return Vec::new();
    };
    let centre = bounds.centre();
    let mut points = Vec::new();
    for i in -12..=12 {
        for j in -12..=12 {
            let p = centre.moved(
                f64::from(i) * bounds.width() / 26.0,
                f64::from(j) * bounds.height() / 26.0,
            );
            if holds(rings, p) {
                points.push(p);
            }
        }
    }
    points.sort_by(|a, b| a.distance(centre).total_cmp(&b.distance(centre)));
    points
}

/// Whether a point lies inside the rings (even-odd).
pub fn holds(rings: &[Vec<Pt>], at: Pt) -> bool {
    let mut inside = false;
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            if (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x)
            {
                inside = !inside;
            }
        }
    }
    inside
}

/// The rails' spacing, lettered beside one of them.
fn rail_words(marks: &mut Marks) {
    let model = marks.model;
    let Some(words) = &model.rail_words else {
        return;
    };
    let label = Label::note(words);
    let half = label.size().0 / 2.0 + 2.5;
    let mut centres = Vec::new();
    for [from, to] in &model.rails {
        let (a, b) = (marks.at(*from), marks.at(*to));
        for k in 1..10 {
            let t = f64::from(k) / 10.0;
            let on = Pt::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
            centres.extend([on.moved(half, 0.0), on.moved(-half, 0.0)]);
        }
    }
    if let Some(placed) = place(&mut marks.taken, &label, &centres, None) {
        run(marks, "labels", placed, 0.0, words, Face::Regular);
    }
}

fn radii(marks: &mut Marks) {
    let model = marks.model;
    for radius in &model.radii {
        let at = marks.at(radius.at);
        let label = Label::note(&radius.words);
        let prefer = libm::atan2(radius.outward.y, radius.outward.x).to_degrees();
        let candidates = rings(at, &label, prefer, &RADII);
        let Some(placed) = place(&mut marks.taken, &label, &candidates, Some(at)) else {
            continue;
        };
        let to = touching(placed.bounds, at);
        marks.add("dimensions", symbol::arrow(to, at, Colour::BLACK));
        if placed.knocked_out {
            marks.add("dimensions", [knock_out(placed.bounds)]);
        }
        marks.add("dimensions", label.drawn(placed.centre));
    }
}

fn sills(marks: &mut Marks) {
    let model = marks.model;
    for (words, at) in &model.sills {
        let at = marks.at(*at);
        let label = Label::note(words);
        let candidates = rings(at, &label, 90.0, &RADII);
        let Some(placed) = place(&mut marks.taken, &label, &candidates, Some(at)) else {
            continue;
        };
        let to = touching(placed.bounds, at);
        marks.add(
            "levels",
            [symbol::level_cross(at), pen::line(at, to, pen::FINE)],
        );
        if placed.knocked_out {
            marks.add("levels", [knock_out(placed.bounds)]);
        }
        marks.add("levels", label.drawn(placed.centre));
    }
}

/// Names of structures, inside them where they fit.
fn names(marks: &mut Marks) {
    let model = marks.model;
    let shown = marks.dig.grown(super::plan::CONTEXT);
    for structure in &model.structures {
        let ring: Vec<Pt> = structure.ring.iter().map(|p| marks.at(*p)).collect();
        let cut = window::ring(shown, &ring);
        if cut.len() < 3 {
            continue;
        }
        let label = Label {
            face: Face::SemiBold,
            ..Label::note(&structure.name)
        };
        let inside = [cut];
        let fits = |p: &Pt| {
            label
                .box_at(*p)
                .grown(0.6)
                .corners()
                .iter()
                .all(|c| holds(&inside, *c))
        };
        let mut centres: Vec<Pt> = inside_points(&inside).into_iter().filter(fits).collect();
        let mut from = None;
        if centres.is_empty() {
            let bounds = crate::draw::paper::Rect::around(inside[0].iter().copied());
            let Some(centre) = bounds.map(|b| b.centre()) else {
                continue;
            };
            centres = rings(centre, &label, 60.0, &RADII);
            from = Some(centre);
        }
        let Some(placed) = place(&mut marks.taken, &label, &centres, from) else {
            continue;
        };
        if let Some(from) = from {
            let to = touching(placed.bounds, from);
            marks.add("labels", [pen::line(from, to, pen::FINE)]);
        }
        if placed.knocked_out {
            marks.add("labels", [knock_out(placed.bounds)]);
        }
        marks.add("labels", label.drawn(placed.centre));
    }
}

/// Marks of panels: inside the panel where there is clear room, and for a trimmed panel, which the
/// cutting list names, on a leader where there is none.
fn pieces(marks: &mut Marks) {
    let model = marks.model;
    let patches: Vec<Vec<Vec<Pt>>> = model
        .areas
        .iter()
        .map(|area| marks.rings(std::slice::from_ref(&area.patch)))
        .collect();
    let (trimmed, whole): (Vec<&Piece>, Vec<&Piece>) =
        model.pieces.iter().partition(|piece| piece.trimmed);
    let outside: Vec<&Piece> = trimmed
        .into_iter()
        .filter(|piece| !mark_inside(marks, piece, &patches))
        .collect();
    for piece in outside {
        mark_on_leader(marks, piece);
    }
    for piece in whole {
        mark_inside(marks, piece, &patches);
    }
}

/// Marks a panel inside its outline, clear of the patches of pavers; whether there was room.
fn mark_inside(marks: &mut Marks, piece: &Piece, patches: &[Vec<Vec<Pt>>]) -> bool {
    let inside = marks.rings(&piece.rings);
    let label = Label::note(&piece.mark);
    let mut centres = vec![marks.at(piece.middle)];
    centres.extend(inside_points(&inside).into_iter().step_by(3));
    let fits = |p: &Pt| {
        let bounds = label.box_at(*p).grown(0.8);
        bounds.corners().iter().all(|c| holds(&inside, *c))
            && !patches.iter().any(|patch| holds(patch, *p))
            && marks.taken.line_weight(bounds) < 0.9
    };
    let centres: Vec<Pt> = centres.into_iter().filter(fits).take(12).collect();
    let Some(placed) = place(&mut marks.taken, &label, &centres, None) else {
        return false;
    };
    if placed.knocked_out {
        marks.add("panels", [knock_out(placed.bounds)]);
    }
    marks.add("panels", label.drawn(placed.centre));
    true
}

/// Marks a panel beside it, with a leader that ends in a dot on it.
fn mark_on_leader(marks: &mut Marks, piece: &Piece) {
    let rings_on_paper = marks.rings(&piece.rings);
    let middle = marks.at(piece.middle);
    let on_piece = match holds(&rings_on_paper, middle) {
        true => Some(middle),
        false => inside_points(&rings_on_paper).first().copied(),
    };
    let Some(at) = on_piece else { return };
    let label = Label::note(&piece.mark);
    let away = Pt::new(
        at.x - (marks.dig.left + marks.dig.right) / 2.0,
        at.y - (marks.dig.top + marks.dig.bottom) / 2.0,
    );
    let prefer = libm::atan2(-away.y, away.x).to_degrees();
    let candidates = rings(at, &label, prefer, &RADII);
    let Some(placed) = place(&mut marks.taken, &label, &candidates, Some(at)) else {
        return;
    };
    let to = touching(placed.bounds, at);
    if placed.knocked_out {
        marks.add("labels", [knock_out(placed.bounds)]);
    }
    marks.add(
        "labels",
        [
            pen::line(at, to, pen::FINE),
            pen::circle(at, 0.4, None, Some(Colour::BLACK)),
        ],
    );
    marks.add("labels", label.drawn(placed.centre));
}

/// The stroke of a leader.
pub fn leader(from: Pt, to: Pt) -> Item {
    pen::line(from, to, pen::solid(LineWidth::W18, Colour::BLACK))
}
