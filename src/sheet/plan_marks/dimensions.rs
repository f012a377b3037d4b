//! Chains of dimensions round the dig, tier by tier: the lines of all of them, then their words.

use super::courses::course_room;
use super::{on_paper, where_is};
use crate::draw::Pt;
use crate::language::phrase;
use crate::sheet::dimension::{Chain, FIRST, NEXT, outlines_end};
use crate::sheet::plan::Marks;

/// Draws the lines of all chains and asks for places for their words.
pub fn draw(marks: &mut Marks) {
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
        chains.push(Chain {
            // Along the line as seen, so that it runs from the first feature to the last.
            along: forward(&features, (-oy, ox)),
            on: Pt::new(ox * from, oy * from),
            features,
            words: chain.words.clone(),
            places: chain
                .features
                .windows(2)
                .map(|pair| {
                    let [from, to] = [pair[0], pair[1]].map(|p| where_is(marks.model, p));
                    phrase!("from {from} to {to}", from, to)
                })
                .collect(),
            origin: chain.origin,
            clear_of: Vec::new(),
        });
    }
    keep_clear(&mut chains, &outlines(marks));
    for chain in &chains {
        let items = chain.lines(&mut marks.taken);
        marks.add("dimensions", items);
        for ask in chain.asks() {
            marks.ask(ask);
        }
    }
}

/// The outlines that extension lines keep clear of.
fn outlines(marks: &Marks) -> Vec<Vec<Pt>> {
    let model = marks.model;
    let mut outlines = marks.rings(&model.dig);
    outlines.extend(marks.rings(&model.base));
    for area in &model.areas {
        outlines.extend(marks.rings(&area.rings));
    }
    outlines
}

/// Features whose extension lines lie nearer than this share one.
const ONE_LINE: f64 = 0.1;

/// Begins each extension line clear of outlines, and leaves those that lie on a line of a chain
/// farther out to that chain.
fn keep_clear(chains: &mut [Chain], outlines: &[Vec<Pt>]) {
    let feet: Vec<Vec<Pt>> = chains.iter().map(Chain::feet).collect();
    for index in 0..chains.len() {
        let clear = |feature: usize| {
            let (at, foot) = (chains[index].features[feature], feet[index][feature]);
            let farther = |other: usize| {
                let feet = feet[other].iter();
                feet.zip(&chains[other].features).any(|(end, from)| {
                    let (whole, part) = (from.distance(*end), foot.distance(*end));
                    // The foot lies between the other's feature and its foot.
                    other != index
                        && (whole - part - from.distance(foot)).abs() < 1e-6
                        && across(*from, *end, foot) < ONE_LINE
                        && (part > ONE_LINE || other > index)
                })
            };
            let shared = (0..chains.len()).any(farther);
            (!shared).then(|| outlines_end(at, foot, outlines))
        };
        let clear = (0..feet[index].len()).map(clear).collect();
        chains[index].clear_of = clear;
    }
}

/// How far a point lies from the line through two.
fn across(from: Pt, to: Pt, at: Pt) -> f64 {
    let long = from.distance(to).max(1e-9);
    ((to.x - from.x) * (at.y - from.y) - (to.y - from.y) * (at.x - from.x)).abs() / long
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
