//! Chains of dimensions round the dig, tier by tier: the lines of all of them, then their words.

use super::courses::course_room;
use super::{on_paper, where_is};
use crate::draw::Pt;
use crate::language::phrase;
use crate::sheet::dimension::{Chain, FIRST, NEXT};
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
        });
    }
    for chain in &chains {
        let items = chain.lines(&mut marks.taken);
        marks.add("dimensions", items);
        for ask in chain.asks() {
            marks.ask(ask);
        }
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
