//! Buried services on a section: pipe, tolerance zone, and what is to be dug by hand.
//!
//! In: services on the model and the map to paper. Out: lines, and asks for the words. A service is
//! a circle with its top at its level, not to its size, which a job does not state. Round the top
//! its tolerance zone, dashed; the earth under the formation within the zone is hatched as the band
//! to dig by hand is on plan. Where levels would make all else too small the circle stands below a
//! break. Paper millimetres, y down.

use super::SectionModel;
use super::model::{CutService, Fit};
use crate::draw::{Colour, Item, LineWidth, Pt};
use crate::language::Phrase;
use crate::sheet::labels::{Ask, Label, Otherwise, Request, Taken, led};
use crate::sheet::plan_marks::earth::{BAND, BAND_PITCH};
use crate::sheet::{hatch, pen};

/// Radius of the circle of a pipe or cable.
const PIPE: f64 = 1.0;
/// Height of the break over a service that stands out of its level.
const BREAK: f64 = 2.0;

/// A service on paper.
pub struct Drawn {
    /// Sides of its zone, from left to right.
    sides: [f64; 2],
    /// Where its course runs, and the height of its top or of the foot where that is not known.
    top: Pt,
    /// Foot of what is to be dug by hand.
    foot: f64,
    /// Whether the top is at its level.
    true_level: bool,
}

/// The place of a service on paper.
pub fn drawn(
    service: &CutService,
    fit: &Fit,
    at: &impl Fn(f64, f64) -> Pt,
    low: f64,
    span: [f64; 2],
) -> Drawn {
    let sides = service.zone.map(|s| at(s.clamp(span[0], span[1]), low).x);
    let foot = at(0.0, low).y;
    let x = at(service.at, low).x;
    match service.top {
        Some(top) if fit.deep || top >= low + PIPE * 2.0 * fit.scale.ratio => Drawn {
            sides,
            top: at(service.at, top),
            foot: at(0.0, (top - service.clear).max(low)).y,
            true_level: true,
        },
        _ => Drawn {
            sides,
            top: Pt::new(x, foot - PIPE * 2.0),
            foot,
            true_level: false,
        },
    }
}

/// Whether a place on paper is in the zone of a service.
pub fn within(all: &[Drawn], x: f64) -> bool {
    all.iter()
        .any(|one| (one.sides[0]..=one.sides[1]).contains(&x))
}

/// Draws the services under the layers of the section; `surface` is the ground and the formation as
/// they will be cut.
pub fn earth(all: &[Drawn], surface: &[Vec<Pt>], taken: &mut Taken) -> Vec<Item> {
    let mut items = Vec::new();
    for one in all {
        for ring in strips(one, surface) {
            let hatched = hatch::parallel(std::slice::from_ref(&ring), 60.0, BAND_PITCH, 0.0);
            for stroke in &hatched {
                taken.add_line(*stroke, 0.3);
            }
            taken.add_ring(&ring, 1.0);
            items.extend(pen::lines(
                &hatched,
                pen::solid(LineWidth::W18, Colour::BLACK),
            ));
            // Open on top, where the formation and the ground are drawn.
            let (first, last) = (ring[0], ring[ring.len() - 3]);
            let sides = [first, ring[ring.len() - 1], ring[ring.len() - 2], last];
            items.push(pen::polyline(&sides, BAND));
        }
    }
    items
}

/// What is to be dug by hand: under each stretch of the surface in the zone, down to the foot.
fn strips(one: &Drawn, surface: &[Vec<Pt>]) -> Vec<Vec<Pt>> {
    let mut rings = Vec::new();
    for run in surface {
        let mut upper: Vec<Pt> = Vec::new();
        for pair in run.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            let [left, right] = [a.x.max(one.sides[0]), b.x.min(one.sides[1])];
            if right < left {
                continue;
            }
            let y = |x: f64| {
                let t = if b.x > a.x {
                    (x - a.x) / (b.x - a.x)
                } else {
                    0.0
                };
                (a.y + (b.y - a.y) * t).min(one.foot)
            };
            if b.x > a.x {
                upper.extend([Pt::new(left, y(left)), Pt::new(right, y(right))]);
            } else {
                upper.extend([a, b].map(|p| Pt::new(p.x, p.y.min(one.foot))));
            }
        }
        let (Some(first), Some(last)) = (upper.first().copied(), upper.last().copied()) else {
            continue;
        };
        let deepest = upper.iter().map(|p| one.foot - p.y).fold(0.0, f64::max);
        if last.x - first.x > 0.3 && deepest > 0.3 {
            upper.extend([Pt::new(last.x, one.foot), Pt::new(first.x, one.foot)]);
            rings.push(upper);
        }
    }
    rings
}

/// Draws pipes with their tolerance zones, and asks for the places of their words.
pub fn pipes(
    model: &SectionModel,
    all: &[Drawn],
    fit: &Fit,
    taken: &mut Taken,
) -> (Vec<Item>, Vec<Ask>) {
    let mut items = Vec::new();
    let mut asks = Vec::new();
    for (service, one) in model.services.iter().zip(all) {
        let centre = one.top.moved(0.0, PIPE);
        if service.top.is_some() {
            if one.true_level {
                let tall = service.clear * fit.stretch / fit.scale.ratio;
                let round: Vec<Pt> = ellipse(one, tall);
                taken.add_ring(&round, 1.0);
                items.push(pen::polygon(&round, Some(BAND), None));
            } else {
                let line = broken(one);
                taken.add_run(&line, 1.0);
                items.push(pen::polyline(&line, pen::FINE));
            }
            let line = match service.crosses {
                true => pen::solid(LineWidth::W35, Colour::BLACK),
                false => BAND,
            };
            items.push(pen::circle(centre, PIPE, Some(line), Some(Colour::WHITE)));
            let half = PIPE + 0.3;
            taken.add_ring(
                &[
                    centre.moved(-half, -half),
                    centre.moved(half, -half),
                    centre.moved(half, half),
                    centre.moved(-half, half),
                ],
                4.0,
            );
        }
        let label = Label::note(&service.words);
        let half = (label.box_at(centre).half, label.box_at(centre).rise);
        let candidates = led(taken, centre, half, 0.0);
        asks.push(Ask {
            request: Request::new(1300.0, candidates),
            layer: "section",
            drawn: Box::new(move |place| label.placed(place)),
            otherwise: Otherwise::Key {
                at: centre,
                words: service.words.clone().into(),
                place: Phrase::default(),
            },
        });
    }
    (items, asks)
}

/// The tolerance zone round a service's top: as wide as the cut runs in it.
fn ellipse(one: &Drawn, tall: f64) -> Vec<Pt> {
    const STEPS: u32 = 48;
    let [left, right] = one.sides;
    let middle = Pt::new((left + right) / 2.0, one.top.y);
    (0..STEPS)
        .map(|step| {
            let turn = std::f64::consts::TAU * f64::from(step) / f64::from(STEPS);
            let y = (middle.y + tall * libm::sin(turn)).min(one.foot);
            Pt::new(middle.x + (right - left) / 2.0 * libm::cos(turn), y)
        })
        .collect()
}

/// The sign of a break across the zone, over a service that lies deeper than drawn.
fn broken(one: &Drawn) -> Vec<Pt> {
    let [left, right] = one.sides;
    let (middle, y) = ((left + right) / 2.0, one.top.y - BREAK);
    vec![
        Pt::new(left - 1.0, y),
        Pt::new(middle - 1.2, y),
        Pt::new(middle - 0.5, y - BREAK * 0.6),
        Pt::new(middle + 0.5, y + BREAK * 0.6),
        Pt::new(middle + 1.2, y),
        Pt::new(right + 1.0, y),
    ]
}
