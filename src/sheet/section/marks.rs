//! What is lettered on a section: dimensions, levels on shelves, falls, names.
//!
//! In: the section with its layers drawn. Out: lines and lettering, and what found no place. Paper
//! millimetres, y down.

use super::SectionModel;
use crate::draw::paper::Rect;
use crate::draw::{Anchor, Face, Item, Pt};
use crate::language::{Phrase, say};
use crate::sheet::dimension::Chain;
use crate::sheet::labels::{
    Ask, Box2, Candidate, Keyed, Label, Otherwise, Request, Taken, led, settle,
};
use crate::sheet::lettering::{NOTE, width};
use crate::sheet::{pen, symbol};

/// What a name on a leader costs more than one in what it names.
const BESIDE: f64 = 20.0;
/// How far into its wall the mark of a sill stands, in paper millimetres.
const INTO_WALL: f64 = 4.5;

/// The dimensions, levels, falls and names of a section, with the places that are best for all of
/// them together, with those asked for before; and what found none.
pub fn words(
    model: &SectionModel,
    at: &impl Fn(f64, f64) -> Pt,
    [low, high]: [f64; 2],
    room: Rect,
    (taken, mut asks): (&mut Taken, Vec<Ask>),
) -> (Vec<Item>, Vec<Keyed>) {
    let mut items = Vec::new();
    let top = at(0.0, high).y;
    let foot = at(0.0, low).y;
    if let Some((stations, spans)) = &model.across {
        let chain = Chain {
            features: stations
                .iter()
                .map(|s| Pt::new(at(*s, low).x, foot + 1.5))
                .collect(),
            words: spans.clone(),
            on: Pt::new(0.0, (foot + 11.0).min(room.bottom - 6.0)),
            along: (1.0, 0.0),
            places: Vec::new(),
            origin: None,
            clear_of: Vec::new(),
        };
        items.extend(chain.lines(taken));
        asks.extend(chain.asks());
    }
    for depth in &model.depths {
        let [ground, formation] = depth.levels.map(|level| at(depth.at, level));
        let chain = Chain {
            features: vec![ground, formation],
            words: vec![depth.words.clone()],
            on: Pt::new(ground.x + depth.side * 6.0, 0.0),
            along: (0.0, 1.0),
            places: Vec::new(),
            origin: None,
            clear_of: Vec::new(),
        };
        items.extend(chain.lines(taken));
        asks.extend(chain.asks());
    }
    for (s, l, words) in &model.formation {
        asks.push(formation_mark(at(*s, *l), foot + 6.0, words.clone()));
    }
    let marked = model.levels.iter().chain(&model.banks);
    let levels = marked.map(|(s, l, words)| (at(*s, *l), words));
    // A sill is level into its wall: its mark stands there, clear of the finish below it.
    let sills = model.sills.iter().map(|(s, l, words)| {
        let mut walls = model.structures.iter();
        let into = walls.find_map(|wall| {
            let ends = [(wall.at[0], 1.0), (wall.at[1], -1.0)];
            ends.into_iter().find(|(end, _)| (end - s).abs() < 1.0)
        });
        let into = into.map_or(0.0, |(_, way)| way * INTO_WALL);
        (at(*s, *l).moved(into, 0.0), words)
    });
    for (tip, words) in levels.chain(sills) {
        // The arrowhead on the level stays clear of other words.
        let arrow = Rect::between(tip.moved(-2.0, -2.0), tip.moved(2.0, 0.3));
        taken.add_mark(Box2::upright(arrow));
        asks.push(level_mark(tip, top, words.clone()));
    }
    for (fall, way, middle) in &model.falls {
        asks.push(fall_mark(Pt::new(at(*middle, high).x, top), *way, fall));
    }
    let mut named = |words: &str, candidates: Vec<Candidate>, middle: Pt| {
        let label = Label::note(words);
        asks.push(Ask {
            request: Request::new(500.0, candidates),
            layer: "section",
            drawn: Box::new(move |candidate| label.placed(candidate)),
            otherwise: Otherwise::Key {
                at: middle,
                words: words.into(),
                place: Phrase::default(),
            },
        });
    };
    for structure in &model.structures {
        // In what is cut, or on a leader from it: beside it the words would stand in the ground.
        let [left, right] = structure.at.map(|s| at(s, low).x);
        let middle = Pt::new((left + right) / 2.0, (top + foot) / 2.0);
        let label = Label::note(&structure.name);
        let (wide, high) = label.size();
        let reach = (foot - top).abs() / 2.0 - high / 2.0;
        let inside = [0.0_f64, -8.0, 8.0, -16.0, 16.0]
            .into_iter()
            .filter(|dy| dy.abs() < reach)
            .map(|dy| Candidate::bare(label.box_at(middle.moved(0.0, dy)), dy.abs()));
        let led = led(taken, middle, (wide / 2.0, high / 2.0), 60.0);
        let led = led.into_iter().map(|mut candidate| {
            candidate.cost += BESIDE;
            candidate
        });
        named(&structure.name, inside.chain(led).collect(), middle);
    }
    let ground = if model.assumed_ground {
        say!(model.languages, "Ground assumed at finish level")
    } else {
        say!(model.languages, "Dashed: existing ground")
    };
    let label = Label::note(&ground);
    let middle = at((model.span[0] + model.span[1]) / 2.0, low).x;
    let middle = Pt::new(middle, foot + 15.5);
    let places = (0..24).map(|i| {
        let side = if i % 2 == 0 { 1.0 } else { -1.0 };
        let centre = middle.moved(f64::from(i / 2) * 4.0 * side, 0.0);
        Candidate::bare(label.box_at(centre), f64::from(i))
    });
    named(&ground, places.collect(), middle);
    let settled = settle(taken, asks);
    items.extend(settled.items.into_iter().map(|(_, item)| item));
    (items, settled.keyed)
}

/// Height of a shelf's line under the middle of its words.
const SHELF: f64 = NOTE * 0.95;

/// One place of words on a shelf beside the upright over or under its tip: on which side, and the
/// height of the words' middle on paper.
fn on_shelf(tip: Pt, long: f64, side: f64, y: f64, cost: f64) -> Candidate {
    let bounds = Box2 {
        centre: Pt::new(tip.x + side * (long / 2.0 + 1.4), y),
        half: long / 2.0,
        rise: NOTE * 0.75,
        angle: 0.0,
    };
    let beside = if side > 0.0 { 0.0 } else { 0.5 };
    Candidate {
        boxes: vec![bounds],
        leader: vec![
            tip,
            Pt::new(tip.x, y + SHELF),
            Pt::new(tip.x + side * (long + 2.0), y + SHELF),
        ],
        cost: cost + beside,
    }
}

/// Words on a shelf, with the sign at the tip of its leader.
fn shelved(tip: Pt, words: String, sign: Item, worth: f64, candidates: Vec<Candidate>) -> Ask {
    let lettered = words.clone();
    Ask {
        request: Request {
            beside: 0.75,
            ..Request::new(worth, candidates)
        },
        layer: "section",
        drawn: Box::new(move |candidate| {
            let centre = candidate.bounds().centre;
            let base = Pt::new(centre.x, centre.y + NOTE * 0.42);
            vec![
                sign.clone(),
                pen::polyline(&candidate.leader, pen::FINE),
                pen::text(base, NOTE, Anchor::Middle, &lettered),
            ]
        }),
        otherwise: Otherwise::Key {
            at: tip,
            words: words.into(),
            place: Phrase::default(),
        },
    }
}

/// A level on a shelf over its place, with an open arrowhead on the level.
fn level_mark(tip: Pt, top: f64, words: String) -> Ask {
    let long = width(&words, NOTE, Face::Regular);
    let candidates = (0..16)
        .map(f64::from)
        .flat_map(|step| [(step, 1.0), (step, -1.0)])
        .map(|(step, side)| {
            let y = (top - 3.0 - step * 2.0).min(tip.y - 6.0 - step);
            on_shelf(tip, long, side, y, step * 2.0)
        })
        .collect();
    shelved(tip, words, symbol::level_arrow(tip), 1500.0, candidates)
}

/// A formation level on a shelf under its place, not below `foot`, with a ring on the formation.
fn formation_mark(tip: Pt, foot: f64, words: String) -> Ask {
    let long = width(&words, NOTE, Face::Regular);
    let candidates = (0..24)
        .map(f64::from)
        .filter(|step| tip.y + 4.5 + step + SHELF <= foot || *step == 0.0)
        .flat_map(|step| [(step, 1.0), (step, -1.0)])
        .map(|(step, side)| on_shelf(tip, long, side, tip.y + 4.5 + step, step))
        .collect();
    shelved(tip, words, symbol::leader_end(tip), 1400.0, candidates)
}

/// The words of a fall with an arrow under them, over the stretch whose middle is `from`.
fn fall_mark(from: Pt, way: f64, words: &str) -> Ask {
    const ARROW: f64 = 8.0;
    const DROP: f64 = 1.8;
    let label = Label {
        face: Face::SemiBold,
        ..Label::note(words)
    };
    // The box holds the words and the arrow under them.
    let candidates = (0..24)
        .flat_map(|i| [(i, 0.0), (i, 12.0), (i, -12.0)])
        .map(|(i, along)| {
            let words = label.box_at(from.moved(along, -8.0 - f64::from(i) * 0.7));
            let bounds = Box2 {
                centre: words.centre.moved(0.0, DROP),
                half: words.half.max(ARROW + 0.5),
                rise: words.rise + DROP,
                ..words
            };
            Candidate::bare(bounds, f64::from(i) * 0.7 + along.abs() * 0.5)
        })
        .collect();
    let key = words.to_string();
    Ask {
        request: Request::new(1000.0, candidates),
        layer: "section",
        drawn: Box::new(move |candidate| {
            let centre = candidate.bounds().centre.moved(0.0, -DROP);
            let half = ARROW * way;
            let mut items = label.drawn(centre);
            items.extend(symbol::arrow(
                centre.moved(-half, 3.4),
                centre.moved(half, 3.4),
                pen::BLUE,
            ));
            items
        }),
        otherwise: Otherwise::Key {
            at: from,
            words: key.into(),
            place: Phrase::default(),
        },
    }
}
