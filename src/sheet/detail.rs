//! Edge detail: the build-up at an open edge, enlarged and to scale, every layer named with its
//! thickness.
//!
//! In: the layers (site millimetres) and their words. Out: items in a room on paper. The profile
//! of the restraint is shown in principle: foot and nail are to scale, the upstand is drawn to
//! three fifths of the paver. Joints, chamfers and the sides of the dig are drawn plain.

use super::dimension::Chain;
use super::labels::{Box2, Keyed, Taken};
use super::lettering::{NOTE, wrap};
use super::section::{GEOTEXTILE, PANEL_FILL, sand};
use super::{hatch, pen, symbol};
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Anchor, Colour, Face, Item, LineWidth, Pt};
use crate::language::{Languages, Phrase};
use crate::units::System;

/// The build-up at an open edge, in site millimetres with the words of each layer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DetailModel {
    /// Languages of what is printed.
    pub languages: Languages,
    /// Paver along the cut, and its joint.
    pub paver: [f64; 2],
    /// Thickness of paver, panel and compacted bedding.
    pub layers: [f64; 3],
    /// Base and dig past the paving's edge.
    pub extension: [f64; 2],
    /// Width of the restraint's foot and length of its nail.
    pub edging: [f64; 2],
    /// How far the backfill stays below the paving's edge.
    pub drop: f64,
    /// Words: paver, restraint, nail, backfill, panel, bedding, geotextile, formation.
    pub words: [String; 8],
    /// Words of the dimensions: total depth, base extension.
    pub total: String,
    /// Words of the base extension.
    pub past: String,
}

/// Width kept for the words beside the drawing.
const WORDS: f64 = 52.0;
/// Ground shown outside the dig, in site millimetres.
const OUTSIDE: f64 = 45.0;
/// From the drawing's right to its words.
const LEAD: f64 = 6.0;
/// Least breadth of the words.
const LEAST_WORDS: f64 = 8.0;
/// Pitch of the lines of words.
const LINE: f64 = 3.9;
/// Clear height between the words of two layers.
const BETWEEN: f64 = 1.1;
/// Room left of the drawing for the depth.
const LEFT: f64 = 12.0;

impl DetailModel {
    /// Paved stretch shown.
    fn paved(&self) -> f64 {
        (self.paver[0] * 1.3).clamp(150.0, 300.0)
    }

    /// Width and height drawn, on site.
    fn extent(&self) -> (f64, f64) {
        let past = self.extension[0].max(self.extension[1]) + OUTSIDE;
        (
            self.paved() + past,
            self.depth().max(self.layers[0] + self.edging[1]) + 12.0,
        )
    }

    fn depth(&self) -> f64 {
        self.layers.iter().sum()
    }

    /// Breadth on paper at a scale, with the words beside the drawing.
    pub fn breadth(&self, scale: &Scale) -> f64 {
        self.extent().0 / scale.ratio + WORDS + LEFT
    }

    /// Whether the words beside the drawing fit a room at a scale; else numbers stand for them.
    pub fn is_worded(&self, scale: &Scale, room: Rect) -> bool {
        let limit = room.width() - self.breadth(scale) + WORDS - 2.0 - LEAD;
        let limit = limit.max(LEAST_WORDS);
        let wrapped = self.words.iter();
        let blocks: Vec<Vec<String>> = wrapped.map(|words| lines(words, limit)).collect();
        column_height(&blocks) <= room.height()
    }

    /// The largest standard scale that fits, its words too where they can.
    pub fn fit(&self, system: System, room: Rect) -> Option<Scale> {
        let (_, high) = self.extent();
        let mut scales = Scale::standard(system).into_iter().filter(|scale| {
            let wide = self.breadth(scale) <= room.width() + 1e-9;
            wide && high / scale.ratio <= room.height() - 12.0
        });
        let largest = scales.next()?;
        if self.is_worded(&largest, room) {
            return Some(largest);
        }
        let worded = scales.find(|scale| self.is_worded(scale, room));
        Some(worded.unwrap_or(largest))
    }
}

/// Draws the detail in its room; gives what found no place in it too.
pub fn draw(model: &DetailModel, scale: &Scale, room: Rect) -> (Vec<Item>, Vec<Keyed>) {
    let k = 1.0 / scale.ratio;
    let (wide, _) = model.extent();
    let edge = room.left + LEFT + model.paved() * k;
    let finish = room.top + 11.0;
    // x from the paving's edge outward, depth below finish.
    let at = |x: f64, depth: f64| Pt::new(edge + x * k, finish + depth * k);
    let [paver, panel, bedding] = model.layers;
    let depth = model.depth();
    let left = -model.paved();
    let right = wide - model.paved();
    let [base, dig] = model.extension;
    let dig = dig.max(base);
    let cut = pen::solid(LineWidth::W35, Colour::BLACK);
    let unit = pen::solid(LineWidth::W25, Colour::BLACK);
    let mut items = Vec::new();
    let rect = |x0: f64, x1: f64, top: f64, low: f64| hatch::rectangle(at(x0, top), at(x1, low));

    let surface = [
        at(left, depth),
        at(dig, depth),
        at(dig, model.drop),
        at(right, model.drop),
    ];
    let earth = pen::solid(LineWidth::W18, pen::BROWN);
    for run in [&surface[..2], &surface[2..]] {
        items.extend(pen::lines(&hatch::earth_band(run, 2.6, 11.0), earth));
    }
    items.push(pen::polyline(
        &surface,
        pen::solid(LineWidth::W50, pen::BROWN),
    ));
    let sand_ring = rect(left, base, paver + panel, depth);
    items.extend(sand(&sand_ring));
    items.push(pen::polygon(&sand_ring, Some(pen::FINE), None));
    items.push(pen::polygon(
        &rect(left, base, paver, paver + panel),
        Some(unit),
        Some(PANEL_FILL),
    ));
    let mut x = 0.0;
    while x > left {
        let from = (x - model.paver[0]).max(left);
        let ring = rect(from, x, 0.0, paver);
        items.push(pen::polygon(&ring, None, Some(Colour::WHITE)));
        items.extend(pen::lines(
            &hatch::parallel(std::slice::from_ref(&ring), 45.0, 1.8, 0.0),
            pen::FINE,
        ));
        items.push(pen::polygon(&ring, Some(cut), None));
        x = from - model.paver[1].max(1.0);
    }
    items.push(pen::polyline(
        &[at(left, depth), at(dig, depth)].map(|p| p.moved(0.0, -0.25)),
        GEOTEXTILE,
    ));
    // Restraint: foot on the panel, upstand against the paver, nail through both into the ground.
    let [foot, nail] = model.edging;
    let (upstand, thick) = (paver * 0.6, foot / 8.0);
    let profile = [
        at(0.0, paver),
        at(foot, paver),
        at(foot, paver - thick),
        at(thick, paver - thick),
        at(thick, paver - upstand),
        at(0.0, paver - upstand),
    ];
    items.push(pen::polygon(
        &profile,
        Some(pen::solid(LineWidth::W18, pen::RED)),
        Some(pen::RED),
    ));
    let head = at(foot / 2.0, paver - thick);
    let point = at(foot / 2.0, paver - thick + nail);
    items.push(pen::line(head.moved(-0.9, 0.0), head.moved(0.9, 0.0), cut));
    items.push(pen::line(head, point, cut));
    // Backfill beside the restraint, its top below the paving's edge.
    items.push(pen::line(
        at(0.0, model.drop),
        at(dig, model.drop),
        pen::solid(LineWidth::W25, pen::BROWN),
    ));
    let back = vec![
        at(thick, model.drop),
        at(dig, model.drop),
        at(dig, depth),
        at(base, depth),
        at(base, paver),
        at(foot, paver),
    ];
    items.extend(pen::lines(
        &hatch::parallel(&[back], 135.0, 2.6, 0.0),
        earth,
    ));

    let mut taken = Taken::new(room);
    // No words on the build-up itself.
    let drawn = Rect::between(at(left, 0.0), at(right, depth));
    taken.add_mark(Box2::upright(drawn.grown(0.3)));
    let depth_chain = Chain {
        features: vec![at(left, 0.0), at(left, depth)],
        words: vec![model.total.clone()],
        on: Pt::new(at(left, 0.0).x - 6.0, 0.0),
        along: (0.0, 1.0),
        places: Vec::new(),
        origin: None,
        clear_of: Vec::new(),
    };
    let (drawn, mut keyed) = depth_chain.draw(&mut taken);
    items.extend(drawn);

    let [
        w_paver,
        w_edging,
        w_nail,
        w_back,
        w_panel,
        w_bedding,
        w_textile,
        w_formation,
    ] = &model.words;
    let between = |a: f64, b: f64| (a + b) / 2.0;
    // From the top down and from right to left, so that no leader crosses another.
    let past = |share: f64| foot + (base - foot) * share;
    let notes = [
        (at(-model.paver[0] * 0.15, paver * 0.4), w_paver),
        (at(between(foot, dig), paver * 0.45), w_back),
        (at(foot * 0.6, paver - thick * 0.5), w_edging),
        (at(past(0.95), paver + panel * 0.5), w_panel),
        (at(past(0.7), paver + panel + bedding * 0.5), w_bedding),
        (at(past(0.4), depth), w_textile),
        (at(past(0.1), depth + 12.0), w_formation),
        (at(foot / 2.0, paver + nail * 0.8), w_nail),
    ];
    let (drawn, more) = callouts(&notes, at(right, 0.0).x + 2.0, &mut taken, keyed.len() + 1);
    items.extend(drawn);
    keyed.extend(more);
    let past = Chain {
        features: vec![at(0.0, 0.0), at(base, 0.0)],
        words: vec![model.past.clone()],
        on: Pt::new(0.0, finish - 6.5),
        along: (1.0, 0.0),
        places: Vec::new(),
        origin: None,
        clear_of: Vec::new(),
    };
    let (drawn, more) = past.draw(&mut taken);
    items.extend(drawn);
    keyed.extend(more);
    (items, keyed)
}

/// The lines of a layer's words.
fn lines(words: &str, limit: f64) -> Vec<String> {
    wrap(words, NOTE, Face::Regular, limit)
}

/// Height of the words of all layers, one under the other.
fn column_height(blocks: &[Vec<String>]) -> f64 {
    let high = |block: &Vec<String>| block.len() as f64 * LINE + BETWEEN;
    blocks.iter().map(high).sum()
}

/// Words in a column at the right, each with a leader from its layer; the order of the words is
/// the order of the layers, so leaders do not cross.
fn callouts(
    notes: &[(Pt, &String)],
    x: f64,
    taken: &mut Taken,
    first: usize,
) -> (Vec<Item>, Vec<Keyed>) {
    let room = taken.room();
    let column = x + LEAD;
    let limit = (room.right - column).max(LEAST_WORDS);
    let words: Vec<String> = notes.iter().map(|(_, words)| (*words).clone()).collect();
    let mut blocks: Vec<Vec<String>> = words.iter().map(|words| lines(words, limit)).collect();
    let mut keyed = Vec::new();
    // Words that are too many for the room go to the keyed table, and numbers stand for them.
    if column_height(&blocks) > room.height() {
        keyed = words
            .into_iter()
            .enumerate()
            .map(|(i, words)| Keyed {
                number: first + i,
                words: words.into(),
                place: Phrase::default(),
            })
            .collect();
        blocks = keyed
            .iter()
            .map(|row| vec![row.number.to_string()])
            .collect();
    }
    // Rows close up where even the numbers are many for the room.
    let needed = column_height(&blocks);
    let between = if needed > room.height() {
        BETWEEN - (needed - room.height()) / blocks.len().max(1) as f64
    } else {
        BETWEEN
    };
    let mut y = room.top + ((room.height() - needed) / 2.0).clamp(0.0, 6.0);
    let mut items = Vec::new();
    for ((from, _), lines) in notes.iter().zip(&blocks) {
        let middle = y + NOTE * 0.55;
        let leader = [
            *from,
            Pt::new(x + 2.0, middle),
            Pt::new(column - 1.0, middle),
        ];
        items.push(pen::polyline(&leader, pen::FINE));
        taken.add_leader(&leader);
        items.push(symbol::leader_end(*from));
        for (i, line) in lines.iter().enumerate() {
            let base = Pt::new(column, y + NOTE + LINE * i as f64);
            items.push(pen::text(base, NOTE, Anchor::Start, line));
            let face = Face::Regular;
            taken.add_box(Box2::of_text(base, Anchor::Start, 0.0, NOTE, face, line));
        }
        y += lines.len() as f64 * LINE + between;
    }
    (items, keyed)
}
