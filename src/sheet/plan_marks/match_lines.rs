//! Match lines, the names of parts, and clouds round what a revision changed.
//!
//! In: the plan with its ground layers drawn. Out: marks and lettering that stand where they are:
//! other words go round them. A cloud is a row of scallops with the revision's letter in a triangle.

use super::{keyed, run, worth};
use crate::draw::paper::Rect;
use crate::draw::{Anchor, Colour, Dash, Face, LineWidth, Pt, build};
use crate::language::{Phrase, phrase};
use crate::sheet::labels::{Ask, Box2, Candidate, Label, Otherwise, Request, knock_out};
use crate::sheet::lettering::{HEADING, NOTE, width};
use crate::sheet::pen;
use crate::sheet::plan::{CONTEXT, Marks};

/// How far a match line runs past its window.
const PAST: f64 = 4.0;
/// How much farther out a match line's words stand beyond a line of dimensions.
const BEYOND: f64 = 13.0;
/// Places to either side of the middle that a match line's words may take.
const STEPS: i32 = 12;
/// How far a cloud stands off what it goes round.
const OFF: f64 = 5.0;
/// Length of a scallop.
const SCALLOP: f64 = 5.0;

/// Draws them.
pub fn draw(marks: &mut Marks) {
    let model = marks.model;
    let stroke = pen::dashed(LineWidth::W35, Dash::LongDashDoubleDot, Colour::BLACK);
    let window = model.window.iter().flat_map(|window| &window.lines);
    for line in model.match_lines.iter().chain(window) {
        let [a, b] = line.ends.map(|p| marks.at(p));
        let long = a.distance(b).max(1e-9);
        let (dx, dy) = ((b.x - a.x) / long * PAST, (b.y - a.y) / long * PAST);
        let ends = [a.moved(-dx, -dy), b.moved(dx, dy)];
        marks.add("dimensions", [pen::line(ends[0], ends[1], stroke)]);
        marks.taken.add_line(ends, 6.0);
        if !line.words.is_empty() {
            words(marks, ends, &line.words);
        }
    }
    for (name, at) in &model.parts {
        let label = Label {
            height: HEADING,
            face: Face::SemiBold,
            ..Label::note(name)
        };
        // Names of neighbours that stand side by side step aside up and down.
        let candidates = (0..16_i32)
            .map(|k| {
                let step = f64::from((k + 1) / 2) * if k % 2 == 0 { 6.0 } else { -6.0 };
                Candidate::bare(label.box_at(marks.at(*at).moved(0.0, step)), step.abs())
            })
            .collect();
        marks.ask(Ask {
            request: Request {
                shy: 0.1,
                ..Request::new(worth::COURSE, candidates)
            },
            layer: "dimensions",
            drawn: Box::new(move |candidate| {
                let mut items = vec![knock_out(candidate.bounds().grown(0.5))];
                items.extend(label.drawn(candidate.bounds().centre));
                items
            }),
            otherwise: keyed(marks, *at, phrase!("Part {name}", name)),
        });
    }
    let Some(shown) = shown(marks) else {
        return;
    };
    for cloud in &model.clouds {
        let points: Vec<Pt> = cloud.points.iter().map(|p| marks.at(*p)).collect();
        if let Some(bounds) = Rect::around(points)
            && let Some(bounds) = in_view(bounds, shown)
        {
            scallops(marks, bounds, shown, &cloud.mark);
        }
    }
}

/// Asks for the place of a match line's words: along it outside of the window, near its middle and
/// clear of the dimensions there.
fn words(marks: &mut Marks, [a, b]: [Pt; 2], words: &str) {
    let middle = Pt::new((a.x + b.x) / 2.0, (a.y + b.y) / 2.0);
    let (seen, dig) = (marks.dig.centre(), marks.dig);
    let upright = (b.x - a.x).abs() < (b.y - a.y).abs();
    let half = a.distance(b) / 2.0;
    let mut candidates = Vec::new();
    for (rank, off) in [0.0, BEYOND].into_iter().enumerate() {
        let base = match (upright, middle.x > seen.x, middle.y > seen.y) {
            (true, true, _) => Pt::new(dig.right + 4.5 + off, middle.y),
            (true, false, _) => Pt::new(dig.left - 2.5 - off, middle.y),
            (false, _, true) => Pt::new(middle.x, dig.bottom + 5.5 + off),
            (false, _, false) => Pt::new(middle.x, dig.top - 3.0 - off),
        };
        for step in 0..=2 * STEPS {
            let away = f64::from((step + 1) / 2) * if step % 2 == 0 { 1.0 } else { -1.0 };
            let away = away * half / f64::from(STEPS + 1);
            let (at, angle) = if upright {
                (base.moved(0.0, away), 90.0)
            } else {
                (base.moved(away, 0.0), 0.0)
            };
            let bounds = Box2::of_text(at, Anchor::Middle, angle, NOTE, Face::SemiBold, words);
            candidates.push(Candidate::bare(bounds, rank as f64 + away.abs() * 0.02));
        }
    }
    let said = words.to_string();
    marks.ask(Ask {
        request: Request::new(worth::FALL, candidates),
        layer: "dimensions",
        drawn: Box::new(move |candidate| {
            let bounds = candidate.bounds();
            let angle = bounds.angle;
            vec![
                knock_out(bounds.grown(0.5)),
                run(bounds.centre, angle, &said, Face::SemiBold),
            ]
        }),
        otherwise: Otherwise::Key {
            at: middle,
            words: Phrase::own(words),
            place: Phrase::default(),
        },
    });
}

/// Where clouds are shown: the view, or what stands in and round its window.
fn shown(marks: &Marks) -> Option<Rect> {
    let room = marks.taken.room();
    match marks.model.window {
        Some(_) => room.common(marks.dig.grown(CONTEXT)),
        None => Some(room),
    }
}

/// The rectangle of a cloud round what was changed, as far as that is in the view and moved so that
/// its scallops stay there too; none where the change is off the view.
fn in_view(changed: Rect, shown: Rect) -> Option<Rect> {
    let seen = changed.common(shown)?;
    let (cloud, shown) = (seen.grown(OFF), shown.grown(-SCALLOP / 2.0 - 0.8));
    let (wide, high) = (
        cloud.width().min(shown.width()),
        cloud.height().min(shown.height()),
    );
    if wide < SCALLOP || high < SCALLOP {
        return None;
    }
    // A cloud as large as the view has no play in it, and by rounding less than none.
    let left = cloud.left.min(shown.right - wide).max(shown.left);
    let top = cloud.top.min(shown.bottom - high).max(shown.top);
    Some(Rect {
        left,
        top,
        right: left + wide,
        bottom: top + high,
    })
}

/// The triangle of a cloud's letter: at the first of its corners, from the top right on, where it
/// is in the view and clear of what stands there.
fn triangle(marks: &Marks, around: Rect, shown: Rect, half: f64) -> [Pt; 3] {
    let (right, left) = (around.right + SCALLOP + half, around.left - SCALLOP - half);
    let (top, foot) = (around.top, around.bottom + half * 1.73);
    let corners = [(right, top), (left, top), (right, foot), (left, foot)];
    let triangles = corners.map(|(x, y)| {
        let foot = Pt::new(x, y);
        [
            foot.moved(-half, 0.0),
            foot.moved(half, 0.0),
            foot.moved(0.0, -half * 1.73),
        ]
    });
    let inside = |points: &&[Pt; 3]| {
        let bounds = Rect::around(points.iter().copied());
        bounds.is_some_and(|b| shown.holds(b.grown(0.5)))
    };
    let clear = |points: &&[Pt; 3]| {
        let bounds = Rect::around(points.iter().copied());
        bounds.is_some_and(|b| !marks.taken.touches_text(Box2::upright(b.grown(0.6))))
    };
    let mut seen = triangles.iter().filter(inside);
    *seen
        .clone()
        .find(clear)
        .or_else(|| seen.next())
        .unwrap_or(&triangles[0])
}

/// A cloud along a rectangle, bulging outward, and its letter in a triangle at a corner.
fn scallops(marks: &mut Marks, around: Rect, shown: Rect, mark: &str) {
    let corners = around.corners();
    let mut outline = Vec::new();
    for (i, a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % 4];
        let count = (a.distance(b) / SCALLOP).round().max(1.0);
        // The corners run clockwise as seen, so each half circle turns clockwise too.
        let along = -libm::atan2(b.y - a.y, b.x - a.x).to_degrees();
        let radius = a.distance(b) / count / 2.0;
        for k in 0..count as usize {
            let t = (k as f64 + 0.5) / count;
            let centre = Pt::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
            let arc = build::arc(centre, crate::draw::Mm(radius), along + 180.0, -180.0);
            outline.extend(arc.into_iter().skip(usize::from(!outline.is_empty())));
        }
        let strip = Rect::between(*a, b).grown(radius + 0.8);
        marks.taken.add_box(Box2::upright(strip));
    }
    let stroke = pen::solid(LineWidth::W50, pen::RED);
    marks.add("revisions", [pen::path(outline, Some(stroke), None)]);
    let half = (width(mark, NOTE, Face::SemiBold) / 2.0 + 3.4).max(4.6);
    let triangle = triangle(marks, around, shown, half);
    let foot = Pt::new(triangle[2].x, triangle[0].y);
    marks.letter(
        "revisions",
        [
            pen::polygon(&triangle, Some(stroke), Some(Colour::WHITE)),
            pen::bold(foot.moved(0.0, -1.4), NOTE, Anchor::Middle, mark),
        ],
    );
    if let Some(bounds) = Rect::around(triangle) {
        marks.taken.add_box(Box2::upright(bounds.grown(0.6)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cloud stays in its view with its scallops; a change off the view has none there.
    #[test]
    fn a_cloud_stays_in_its_view() {
        let view = Rect::between(Pt::new(20.0, 20.0), Pt::new(200.0, 150.0));
        let spot = |x: f64, y: f64| Rect::between(Pt::new(x, y), Pt::new(x, y));
        assert_eq!(
            in_view(spot(100.0, 80.0), view),
            Some(spot(100.0, 80.0).grown(OFF))
        );
        assert_eq!(in_view(spot(100.0, -6.0), view), None);
        assert_eq!(in_view(spot(230.0, 80.0), view), None);
        for (x, y) in [(20.0, 20.0), (199.0, 80.0), (100.0, 150.0)] {
            let cloud = in_view(spot(x, y), view).expect("a cloud");
            assert!(view.holds(cloud.grown(SCALLOP / 2.0)), "{cloud:?}");
            assert!((cloud.width() - 2.0 * OFF).abs() < 1e-9);
        }
        // What was changed is the whole view, whatever its sides round to.
        for k in 0..1000 {
            let far = f64::from(k);
            let view = Rect::between(
                Pt::new(20.0 + 0.1 * far, 15.0 + 0.3 * far),
                Pt::new(200.0 + 0.37 * far, 150.0 + 0.73 * far),
            );
            let cloud = in_view(view.grown(9.0), view).expect("a cloud");
            assert!(view.holds(cloud.grown(SCALLOP / 2.0)), "{cloud:?}");
        }
        let across = Rect::between(Pt::new(-50.0, 60.0), Pt::new(60.0, 400.0));
        let cloud = in_view(across, view).expect("a cloud");
        assert!(view.holds(cloud.grown(SCALLOP / 2.0)), "{cloud:?}");
        assert!(cloud.holds(Rect::between(Pt::new(30.0, 70.0), Pt::new(60.0, 140.0))));
    }
}
