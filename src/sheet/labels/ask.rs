//! Lettering a view: every mark asks for a place, all places are chosen together, and what finds
//! none is keyed: a number stands at its place and the words go to a table.
//!
//! In: asks, each with its candidates and how it is drawn. Out: items by layer, and the rows of
//! the keyed table. A number that finds no place either is not drawn; its row then says where the
//! thing is. Nothing is left out unsaid.

use super::request::{Candidate, KEPT, Request, led};
use super::solve::solve;
use super::taken::Taken;
use super::turned::Box2;
use crate::draw::{Anchor, Colour, Face, Item, LineWidth, Pt};
use crate::language::Phrase;
use crate::sheet::lettering::{NOTE, width};
use crate::sheet::{pen, symbol};

/// How a mark is drawn at the place it gets.
pub type Drawing = Box<dyn Fn(&Candidate) -> Vec<Item>>;

/// A mark that asks for a place.
pub struct Ask {
    /// Where it may go.
    pub request: Request,
    /// The layer that it is drawn on.
    pub layer: &'static str,
    /// How it is drawn at the place it gets.
    pub drawn: Drawing,
    /// What happens where it finds no place.
    pub otherwise: Otherwise,
}

impl std::fmt::Debug for Ask {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Ask")
            .field("layer", &self.layer)
            .field("worth", &self.request.worth)
            .field("candidates", &self.request.candidates.len())
            .field("otherwise", &self.otherwise)
            .finish_non_exhaustive()
    }
}

/// What becomes of a mark without a place.
#[derive(Clone, Debug, PartialEq)]
pub enum Otherwise {
    /// A number at the feature, and its words in the keyed table.
    Key {
        /// The feature on paper.
        at: Pt,
        /// What the mark says, as a row of the table.
        words: Phrase,
        /// Where the feature is, in words; may be empty.
        place: Phrase,
    },
    /// It is left off, and the sheet says how many were and where their words are found.
    Leave,
}

/// A row of the keyed table.
#[derive(Clone, Debug, PartialEq)]
pub struct Keyed {
    /// The number; 0 when not even the number found a place.
    pub number: usize,
    /// What the mark says.
    pub words: Phrase,
    /// Where it is.
    pub place: Phrase,
}

/// A view lettered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settled {
    /// What is drawn: layer and item, in painting order.
    pub items: Vec<(&'static str, Item)>,
    /// What is keyed.
    pub keyed: Vec<Keyed>,
    /// How many marks were left off.
    pub left: usize,
}

/// Chooses places for all asks and draws them.
pub fn settle(taken: &mut Taken, asks: Vec<Ask>) -> Settled {
    let (requests, marks): (Vec<Request>, Vec<Marks>) = asks
        .into_iter()
        .map(|ask| (ask.request, (ask.layer, ask.drawn, ask.otherwise)))
        .unzip();
    let chosen = solve(taken, &requests);
    let mut settled = Settled::default();
    let mut without = Vec::new();
    for ((request, (layer, drawn, otherwise)), chosen) in requests.iter().zip(marks).zip(chosen) {
        let Some(chosen) = chosen else {
            match otherwise {
                Otherwise::Key { at, words, place } => without.push((at, words, place)),
                Otherwise::Leave => settled.left += 1,
            }
            continue;
        };
        let candidate = &request.candidates[chosen.candidate];
        if chosen.knocked_out {
            let ground = knock_out(candidate.bounds().grown(request.ground()));
            settled.items.push((layer, ground));
        }
        let items = drawn(candidate);
        settled.items.extend(items.into_iter().map(|i| (layer, i)));
    }
    keys(taken, without, &mut settled);
    settled
}

type Marks = (&'static str, Drawing, Otherwise);

/// Half the side of a key's square for the highest number.
fn key_half(highest: usize) -> f64 {
    width(&highest.to_string(), NOTE, Face::SemiBold) / 2.0 + 0.9
}

/// Numbers at the features that are keyed, and their rows. A feature off the room has no number: a
/// leader to it would leave the view.
fn keys(taken: &mut Taken, without: Vec<(Pt, Phrase, Phrase)>, settled: &mut Settled) {
    let half = (key_half(without.len()).max(2.1), 2.1);
    let room = taken.room();
    let places = |at: Pt| match room.has(at) {
        true => led(taken, at, half, 45.0),
        false => Vec::new(),
    };
    let requests: Vec<Request> = without
        .iter()
        .map(|(at, ..)| Request::new(1000.0, places(*at)))
        .collect();
    let chosen = solve(taken, &requests);
    for (i, ((_, words, place), chosen)) in without.into_iter().zip(chosen).enumerate() {
        let number = i + 1;
        settled.keyed.push(Keyed {
            number: if chosen.is_some() { number } else { 0 },
            words,
            place,
        });
        let Some(chosen) = chosen else { continue };
        let candidate = &requests[i].candidates[chosen.candidate];
        let items = key(candidate, number);
        settled
            .items
            .extend(items.into_iter().map(|i| ("labels", i)));
    }
}

/// A number in a square with its leader.
fn key(candidate: &Candidate, number: usize) -> Vec<Item> {
    let square = candidate.bounds();
    let stroke = pen::solid(LineWidth::W25, Colour::BLACK);
    let base = square.centre.moved(0.0, NOTE / 2.0);
    let words = number.to_string();
    let mut items = vec![pen::polyline(&candidate.leader, pen::FINE)];
    items.extend(candidate.leader.first().map(|at| symbol::leader_end(*at)));
    items.push(knock_out(square.grown(KEPT)));
    items.push(pen::polygon(
        &square.corners(),
        Some(stroke),
        Some(Colour::WHITE),
    ));
    items.push(pen::lettered(
        base,
        0.0,
        NOTE,
        Face::SemiBold,
        Anchor::Middle,
        &words,
    ));
    items
}

/// The white ground of a box.
pub fn knock_out(bounds: Box2) -> Item {
    pen::polygon(&bounds.corners(), None, Some(Colour::WHITE))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::paper::Rect;
    use crate::sheet::labels::Label;

    /// What lies off the view is a row of the table, without a number and a leader that would run
    /// over the rest of the sheet.
    #[test]
    fn what_is_off_the_view_is_only_listed() {
        let mut taken = Taken::new(Rect::between(Pt::new(0.0, 0.0), Pt::new(100.0, 60.0)));
        let off = |x: f64| Ask {
            request: Request::new(100.0, Vec::new()),
            layer: "labels",
            drawn: Box::new(|_| Vec::new()),
            otherwise: Otherwise::Key {
                at: Pt::new(x, 30.0),
                words: "99.40′".into(),
                place: "x 40′-0″, y 3′-0″".into(),
            },
        };
        let settled = settle(&mut taken, vec![off(180.0), off(50.0)]);
        let numbers: Vec<usize> = settled.keyed.iter().map(|row| row.number).collect();
        assert_eq!(numbers, [0, 2]);
        let leaders = settled.items.iter().filter_map(|(_, item)| match item {
            Item::Path(path) => {
                let parts = crate::draw::build::flattened(&path.outline, crate::draw::Mm(0.1));
                Rect::around(parts.into_iter().flatten())
            }
            _ => None,
        });
        for bounds in leaders {
            assert!(taken.room().holds(bounds), "{bounds:?}");
        }
    }

    #[test]
    fn what_finds_no_place_is_keyed() {
        let mut taken = Taken::new(Rect::between(Pt::new(0.0, 0.0), Pt::new(100.0, 60.0)));
        let ask = |words: &str| {
            let label = Label::note(words);
            let bounds = label.box_at(Pt::new(50.0, 30.0));
            Ask {
                request: Request::new(100.0, vec![Candidate::bare(bounds, 0.0)]),
                layer: "labels",
                drawn: Box::new(move |c| label.drawn(c.bounds().centre)),
                otherwise: Otherwise::Key {
                    at: Pt::new(50.0, 34.0),
                    words: words.into(),
                    place: Phrase::default(),
                },
            }
        };
        let settled = settle(&mut taken, vec![ask("one"), ask("two")]);
        let words: Vec<String> = settled
            .items
            .iter()
            .filter_map(|(_, item)| match item {
                Item::Text(text) => Some(text.text.clone()),
                _ => None,
            })
            .collect();
        assert_eq!(words, ["one", "1"]);
        let row = Keyed {
            number: 1,
            words: "two".into(),
            place: Phrase::default(),
        };
        assert_eq!(settled.keyed, [row]);
    }
}
