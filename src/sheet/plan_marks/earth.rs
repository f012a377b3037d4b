//! The earth on plan: contours, spot levels, depths of dig, the line where cut turns to fill; and
//! buried services with the band to dig by hand.
//!
//! In: the plan's ground and services. Out: lines on their layers, and asks for their lettering.

use super::{bearing, half_of, keyed, run, upright, worth};
use crate::draw::paper::Rect;
use crate::draw::{Colour, Dash, Face, Item, LineWidth, Pt, Stroke};
use crate::geom::{Point, Vector};
use crate::language::phrase;
use crate::sheet::labels::{Ask, Box2, CLEAR, Candidate, Label, Request, around, led, touching};
use crate::sheet::lettering::{NOTE, width};
use crate::sheet::plan::Marks;
use crate::sheet::{hatch, pen, symbol, window};

/// A contour of the existing ground.
pub const CONTOUR: Stroke = pen::solid(LineWidth::W18, pen::BROWN);
/// Where the formation meets the ground.
pub const NO_DEPTH: Stroke = pen::dashed(LineWidth::W50, Dash::LongDashDot, pen::BROWN);
/// A buried service.
pub const SERVICE: Stroke = pen::dashed(LineWidth::W50, Dash::LongDashDoubleDot, Colour::BLACK);
/// The edge of a band to dig by hand.
pub const BAND: Stroke = pen::dashed(LineWidth::W18, Dash::Dashed, Colour::BLACK);
/// Pitch of the hatch of a band to dig by hand.
pub const BAND_PITCH: f64 = 4.0;

/// Draws services and asks for the places of their words.
pub fn services(marks: &mut Marks) {
    let model = marks.model;
    for service in &model.services {
        let bands = marks.rings(&service.bands);
        let hatched = hatch::parallel(&bands, 60.0, BAND_PITCH, 0.0);
        for segment in &hatched {
            marks.taken.add_line(*segment, 0.3);
        }
        for ring in &bands {
            marks.taken.add_ring(ring, 1.0);
        }
        marks.add(
            "services",
            pen::lines(&hatched, pen::solid(LineWidth::W18, Colour::BLACK)),
        );
        marks.add("services", [pen::region(&bands, Some(BAND), None)]);
        let course: Vec<Pt> = service.line.iter().map(|p| marks.at(*p)).collect();
        let shown = marks.shown();
        let sides: Vec<[Pt; 2]> = course
            .windows(2)
            .filter_map(|pair| window::segment(shown, [pair[0], pair[1]]))
            .collect();
        for side in &sides {
            marks.taken.add_line(*side, 4.0);
        }
        marks.add("services", pen::lines(&sides, SERVICE));
        let label = Label {
            face: Face::SemiBold,
            ..Label::note(&service.words)
        };
        let mut candidates = Vec::new();
        for [a, b] in &sides {
            for share in [0.5, 0.2, 0.8, 0.05, 0.95] {
                let from = Pt::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share);
                candidates.extend(led(&marks.taken, from, half_of(&label), 30.0));
            }
        }
        // What is nowhere in the view has no words there.
        let Some(middle) = service.line.get(service.line.len() / 2) else {
            continue;
        };
        if sides.is_empty() {
            continue;
        }
        marks.ask(Ask {
            request: Request::new(worth::SERVICE, candidates),
            layer: "services",
            drawn: Box::new(move |candidate| {
                let mut items = vec![pen::polyline(&candidate.leader, pen::FINE)];
                items.extend(label.drawn(candidate.bounds().centre));
                items
            }),
            otherwise: keyed(marks, *middle, service.words.clone()),
        });
    }
}

/// Draws the ground and asks for the places of its figures.
pub fn ground(marks: &mut Marks) {
    let model = marks.model;
    let Some(earth) = &model.earth else {
        return;
    };
    for (words, runs) in &earth.contours {
        for points in runs {
            let on_paper: Vec<Pt> = points.iter().map(|p| marks.at(*p)).collect();
            marks.taken.add_run(&on_paper, 0.6);
            let room = marks.taken.room();
            let seen: Vec<Seen> = (1..points.len())
                .filter_map(|i| {
                    let line = window::segment(room, [on_paper[i - 1], on_paper[i]])?;
                    let sites = [points[i - 1], points[i]];
                    Some(Seen::of(line, [on_paper[i - 1], on_paper[i]], sites))
                })
                .collect();
            if on_paper.iter().all(|at| room.has(*at)) {
                marks.add("ground", [pen::polyline(&on_paper, CONTOUR)]);
            } else {
                let lines: Vec<[Pt; 2]> = seen.iter().map(|side| side.line).collect();
                marks.add("ground", pen::lines(&lines, CONTOUR));
            }
            contour_words(marks, words, &seen);
        }
    }
    for [a, b] in &earth.no_depth {
        let line = [marks.at(*a), marks.at(*b)];
        let Some(line) = window::segment(marks.taken.room(), line) else {
            continue;
        };
        marks.taken.add_line(line, 3.0);
        marks.add("ground", [pen::line(line[0], line[1], NO_DEPTH)]);
    }
    for (place, words) in &earth.depths {
        let at = marks.at(*place);
        let label = Label::note(words);
        // The ring of a leader may come to stand on it.
        marks.taken.add_mark(square(at, DOT));
        marks.add("ground", [depth_sign(at)]);
        let near = around(at, half_of(&label), 270.0, &[1.6, 2.5], 8);
        let candidates = near
            .into_iter()
            .enumerate()
            .map(|(rank, centre)| Candidate::bare(label.box_at(centre), rank as f64 * 0.3))
            .collect();
        marks.ask(Ask {
            request: Request::new(worth::DEPTH, candidates),
            layer: "ground",
            drawn: Box::new(move |candidate| label.drawn(candidate.bounds().centre)),
            otherwise: keyed(marks, *place, words.clone()),
        });
    }
    for (place, words) in &earth.spots {
        let face = Face::Regular;
        pointed(marks, *place, words, face, CROSS, symbol::level_cross);
    }
    for (place, words) in &earth.extremes {
        pointed(marks, *place, words, Face::SemiBold, DOT, extreme_sign);
    }
    for (place, words) in &earth.banks {
        pointed(marks, *place, words, Face::SemiBold, RING, bank_sign);
    }
}

/// Half of the square that a dot takes, with the ring of a leader round it.
const DOT: f64 = 1.2;
/// Half of the square that the cross of a spot takes.
const CROSS: f64 = 1.5;
/// Half of the square that the ring of a bank takes.
const RING: f64 = 2.2;

/// An upright square about a place.
fn square(at: Pt, half: f64) -> Box2 {
    Box2::upright(Rect::between(at.moved(-half, -half), at.moved(half, half)))
}

/// The sign of a depth of dig: a small dot.
pub fn depth_sign(at: Pt) -> Item {
    pen::circle(at, 0.35, None, Some(Colour::BLACK))
}

/// The sign of the least and of the greatest depth: a large dot.
pub fn extreme_sign(at: Pt) -> Item {
    pen::circle(at, 0.9, None, Some(Colour::BLACK))
}

/// The sign where the ground outside an edge stands highest above its finish: a ring that holds the
/// cross of a corner.
pub fn bank_sign(at: Pt) -> Item {
    let black = pen::solid(LineWidth::W25, Colour::BLACK);
    pen::circle(at, 1.8, Some(black), Some(Colour::WHITE))
}

/// A figure of a point on a leader, with the point's own mark, which takes a square of that half.
fn pointed(
    marks: &mut Marks,
    place: Point,
    words: &str,
    face: Face,
    half: f64,
    mark: impl Fn(Pt) -> Item,
) {
    let at = marks.at(place);
    if marks.taken.room().has(at) {
        marks.taken.add_mark(square(at, half));
        marks.add("ground", [mark(at)]);
    }
    let label = Label {
        face,
        ..Label::note(words)
    };
    let out = bearing(Vector::new(1.0, 1.0));
    let room = marks.taken.room();
    // A point off the view is listed, by its coordinates.
    let shown = room.has(at);
    let candidates = match shown {
        true => led(&marks.taken, at, half_of(&label), out),
        false => Vec::new(),
    };
    let otherwise = match shown {
        true => keyed(marks, place, words.to_string()),
        false => keyed(
            marks,
            place,
            phrase!("{words}, off the view", words = words.to_string()),
        ),
    };
    marks.ask(Ask {
        request: Request::new(worth::POINT, candidates),
        layer: "ground",
        drawn: Box::new(move |candidate| {
            let to = touching(candidate.bounds().grown(CLEAR), at);
            let mut items = vec![pen::line(at, to, pen::FINE)];
            items.extend(label.drawn(candidate.bounds().centre));
            items
        }),
        otherwise,
    });
}

/// What the view shows of a side of a contour.
struct Seen {
    /// On paper.
    line: [Pt; 2],
    /// The middle of it on site.
    middle: Point,
}

impl Seen {
    /// The part `line` of the side from `a` to `b`, which is `sites` on site.
    fn of(line: [Pt; 2], [a, b]: [Pt; 2], sites: [Point; 2]) -> Self {
        let middle = Pt::new((line[0].x + line[1].x) / 2.0, (line[0].y + line[1].y) / 2.0);
        let share = a.distance(middle) / a.distance(b).max(1e-9);
        Self {
            line,
            middle: sites[0] + (sites[1] - sites[0]) * share,
        }
    }
}

/// Asks for a place in a contour for its level, along what is seen of the line; none where that is
/// nowhere in the view.
fn contour_words(marks: &mut Marks, words: &str, seen: &[Seen]) {
    let Some(middle) = seen.get(seen.len() / 2).map(|side| side.middle) else {
        return;
    };
    let half = width(words, NOTE, Face::Regular) / 2.0;
    let mut candidates = Vec::new();
    for pair in seen.iter().map(|side| side.line) {
        let long = pair[0].distance(pair[1]);
        if long < half * 2.0 {
            continue;
        }
        let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        let angle = upright(-libm::atan2(dy, dx).to_degrees());
        for (rank, share) in [0.5, 0.3, 0.7, 0.15, 0.85].into_iter().enumerate() {
            let centre = Pt::new(pair[0].x + dx * share, pair[0].y + dy * share);
            let bounds = Box2 {
                centre,
                half,
                rise: NOTE * 0.72,
                angle,
            };
            candidates.push(Candidate::bare(bounds, rank as f64));
        }
    }
    let (words, said) = (words.to_string(), phrase!("contour {words}", words));
    marks.ask(Ask {
        request: Request {
            shy: 0.3,
            ..Request::new(worth::CONTOUR, candidates)
        },
        layer: "ground",
        drawn: Box::new(move |candidate| {
            let bounds = candidate.bounds();
            vec![run(bounds.centre, bounds.angle, &words, Face::Regular)]
        }),
        otherwise: keyed(marks, middle, said),
    });
}
