//! Two build-ups side by side, to one scale and hung from one finish line: the layers of a base
//! on panels and those of a conventional base, so that a client sees what is dug out for each.
//!
//! In: the layers of both from the finish down (site millimetres) and their words. Out: a drawn
//! entry of a block. Left out: joints between the units, the sides of the dig.

use super::column::Entry;
use super::dimension::Chain;
use super::labels::{Box2, Taken};
use super::lettering::{self, NOTE, PITCH, wrap};
use super::section::{GEOTEXTILE, PANEL_FILL, sand};
use super::{hatch, pen, symbol};
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::draw::{Anchor, Colour, Face, Item, LineWidth, Pt};
use crate::units::System;

/// What a layer is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the material itself")]
pub enum Matter {
    Paver,
    Panel,
    Sand,
    Aggregate,
}

/// A layer from the finish down.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// What it is made of.
    pub matter: Matter,
    /// Its thickness, in site millimetres.
    pub thick: f64,
    /// Its words.
    pub words: String,
}

/// A build-up: what it is called, its layers and the words of its depth.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// What it is called.
    pub title: String,
    /// Layers, the uppermost first.
    pub layers: Vec<Layer>,
    /// Words of the depth from finish to formation.
    pub depth: String,
}

impl Stack {
    fn depth_mm(&self) -> f64 {
        self.layers.iter().map(|layer| layer.thick).sum()
    }
}

/// Breadth of a drawn stack.
const BROAD: f64 = 12.0;
/// Room left of a stack for its depth.
const LEFT: f64 = 11.0;
/// Height of the titles above the finish line.
const HEAD: f64 = 7.0;
/// Height kept below the deeper formation for the ground.
const FOOT: f64 = 5.0;
/// Greatest height of the deeper stack.
const TALL: f64 = 46.0;
/// Least height of an entry, so that the words of thin layers have room.
const WORDS: f64 = 26.0;

/// Clear height below the words.
const UNDER: f64 = 1.0;

/// Draws both in a block of that width; also says at which scale.
pub fn side_by_side(stacks: &[Stack; 2], system: System, width: f64) -> (Entry, Scale) {
    let deepest = stacks.iter().map(Stack::depth_mm).fold(1.0, f64::max);
    let scale = Scale::standard(system)
        .into_iter()
        .find(|scale| deepest / scale.ratio <= TALL)
        .unwrap_or_else(|| Scale::one_to(100.0));
    let half = width / 2.0;
    let mut items = Vec::new();
    let mut height = HEAD + (deepest / scale.ratio).max(WORDS) + FOOT;
    for (i, stack) in stacks.iter().enumerate() {
        let (drawn, foot) = draw(stack, &scale, half * i as f64, half);
        items.extend(drawn);
        height = height.max(foot);
    }
    (Entry::Drawing { height, items }, scale)
}

/// One stack with its finish line at [`HEAD`] below the top, from `left` on; also the foot of its
/// words, which in two units or a long language reach below the ground.
fn draw(stack: &Stack, scale: &Scale, left: f64, width: f64) -> (Vec<Item>, f64) {
    let x = [left + LEFT, left + LEFT + BROAD];
    let mut items = vec![pen::bold(
        Pt::new(x[0], NOTE + 0.4),
        NOTE,
        Anchor::Start,
        &stack.title,
    )];
    let mut y = HEAD;
    let mut free = HEAD;
    let words_at = x[1] + 5.0;
    for layer in &stack.layers {
        let foot = y + layer.thick / scale.ratio;
        let ring = hatch::rectangle(Pt::new(x[0], y), Pt::new(x[1], foot));
        items.extend(filled(layer.matter, &ring));
        let room = left + width - words_at - 0.5;
        let lines = wrap(&layer.words, NOTE, Face::Regular, room);
        let middle = (y + foot) / 2.0;
        let high = lines.len() as f64 * NOTE * PITCH;
        let top = (middle - high / 2.0).max(free);
        let at = top + NOTE * 0.8;
        let bend = Pt::new(words_at - 3.0, at);
        items.push(pen::polyline(
            &[
                Pt::new(x[1] - 2.5, middle),
                bend,
                Pt::new(words_at - 1.0, at),
            ],
            pen::FINE,
        ));
        items.push(symbol::leader_end(Pt::new(x[1] - 2.5, middle)));
        for (k, line) in lines.iter().enumerate() {
            let base = Pt::new(words_at, top + NOTE * 1.3 + NOTE * PITCH * k as f64);
            items.push(pen::text(base, NOTE, Anchor::Start, line));
        }
        free = top + high + 0.6;
        y = foot;
    }
    items.extend(ground(&x, y));
    let chain = Chain {
        features: vec![Pt::new(x[0], HEAD), Pt::new(x[0], y)],
        words: vec![stack.depth.clone()],
        on: Pt::new(x[0] - 4.5, HEAD),
        along: (0.0, 1.0),
        places: Vec::new(),
        origin: None,
        clear_of: Vec::new(),
    };
    let long = lettering::width(&stack.depth, NOTE, Face::Regular);
    let foot = (y + FOOT).max(HEAD + long);
    let room = Rect::between(Pt::new(left, 0.0), Pt::new(left + width, foot));
    // The room left of the stack always takes the words beside the line.
    let mut taken = Taken::new(room);
    let title = lettering::width(&stack.title, NOTE, Face::SemiBold);
    let title = Rect::between(Pt::new(x[0], 0.0), Pt::new(x[0] + title, HEAD - 1.0));
    taken.add_box(Box2::upright(title));
    items.extend(chain.draw(&mut taken).0);
    (items, free + UNDER)
}

/// The formation with the geotextile on it and natural ground below.
fn ground(x: &[f64; 2], y: f64) -> Vec<Item> {
    let run = [Pt::new(x[0] - 1.0, y), Pt::new(x[1] + 1.0, y)];
    let mut items: Vec<Item> = pen::lines(
        &hatch::earth_band(&run, 2.6, 7.0),
        pen::solid(LineWidth::W18, pen::BROWN),
    )
    .into_iter()
    .collect();
    items.push(pen::polyline(&run, pen::solid(LineWidth::W50, pen::BROWN)));
    items.push(pen::polyline(&run.map(|p| p.moved(0.0, -0.25)), GEOTEXTILE));
    items
}

/// A layer's pattern and outline.
fn filled(matter: Matter, ring: &[Pt]) -> Vec<Item> {
    let outline = Some(pen::solid(LineWidth::W25, Colour::BLACK));
    let rings = [ring.to_vec()];
    let mut items = Vec::new();
    match matter {
        Matter::Paver => {
            items.push(pen::polygon(ring, None, Some(Colour::WHITE)));
            items.extend(pen::lines(
                &hatch::parallel(&rings, 45.0, 1.8, 0.0),
                pen::FINE,
            ));
        }
        Matter::Panel => items.push(pen::polygon(ring, None, Some(PANEL_FILL))),
        Matter::Sand => items.extend(sand(ring)),
        Matter::Aggregate => items.extend(stones(ring)),
    }
    items.push(pen::polygon(ring, outline, None));
    items
}

/// Crushed stone: open four-cornered shapes of two sizes on a staggered grid, kept inside.
pub fn stones(ring: &[Pt]) -> Vec<Item> {
    let Some(room) = Rect::around(ring.iter().copied()) else {
        return Vec::new();
    };
    let fits = |p: Pt, reach: f64| {
        p.x - reach > room.left
            && p.x + reach < room.right
            && p.y - reach > room.top
            && p.y + reach < room.bottom
    };
    hatch::dots(&[ring.to_vec()], 4.0)
        .into_iter()
        .enumerate()
        .filter_map(|(i, at)| {
            let size = if i % 3 == 0 { 1.1 } else { 0.75 };
            fits(at, size + 0.3).then(|| {
                pen::polygon(
                    &[
                        at.moved(-size, 0.25 * size),
                        at.moved(-0.3 * size, -size * 0.8),
                        at.moved(size, -0.3 * size),
                        at.moved(0.4 * size, size * 0.8),
                    ],
                    Some(pen::FINE),
                    None,
                )
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stack(title: &str, layers: &[(Matter, f64)]) -> Stack {
        Stack {
            title: title.to_string(),
            layers: layers
                .iter()
                .map(|(matter, thick)| Layer {
                    matter: *matter,
                    thick: *thick,
                    words: format!("{thick} mm"),
                })
                .collect(),
            depth: "total".to_string(),
        }
    }

    /// Words of many lines end above the foot of the drawing, where the table begins.
    #[test]
    fn words_end_above_the_foot() {
        let mut long = stack(
            "Sur panneaux de base",
            &[
                (Matter::Paver, 60.0),
                (Matter::Panel, 19.0),
                (Matter::Sand, 13.0),
            ],
        );
        for layer in &mut long.layers {
            layer.words = "Lit de pose compacté et réglé ½″ [13 mm] d'épaisseur".to_string();
        }
        long.depth = "3⅝″ [92 mm]".to_string();
        let (entry, _) = side_by_side(&[long.clone(), long], System::Dual, 90.0);
        let Entry::Drawing { height, items } = entry else {
            panic!("a drawing");
        };
        // Two depths longer than what they measure stand beside it, clear of the titles.
        let is_depth = |item: &&Item| matches!(item, Item::Text(t) if t.text == "3⅝″ [92 mm]");
        assert_eq!(items.iter().filter(is_depth).count(), 2);
        let moved = items
            .iter()
            .map(|item| crate::sheet::shift::shifted(item, 20.0, 20.0));
        let sheet = crate::draw::Sheet {
            width: crate::draw::Mm(150.0),
            height: crate::draw::Mm(150.0),
            title: String::new(),
            language: String::new(),
            layers: Vec::new(),
            items: moved.collect(),
        };
        assert_eq!(crate::draw::conflicts(&sheet), []);
        let lowest = items.iter().filter_map(|item| match item {
            Item::Text(text) => Some(text.at.y),
            _ => None,
        });
        let lowest = lowest.fold(0.0, f64::max);
        assert!(
            lowest > HEAD + WORDS + FOOT,
            "long enough to reach below: {lowest}"
        );
        assert!(lowest + 1.0 < height, "{lowest} {height}");
    }

    /// Both stacks hang from one line, and each is as deep on paper as its layers at the scale.
    #[test]
    fn both_are_drawn_to_one_scale() {
        let stacks = [
            stack(
                "On panels",
                &[
                    (Matter::Paver, 60.0),
                    (Matter::Panel, 20.0),
                    (Matter::Sand, 13.0),
                ],
            ),
            stack(
                "Conventional",
                &[
                    (Matter::Paver, 60.0),
                    (Matter::Sand, 25.0),
                    (Matter::Aggregate, 125.0),
                ],
            ),
        ];
        let (entry, scale) = side_by_side(&stacks, System::Metric, 112.0);
        let Entry::Drawing { items, .. } = entry else {
            panic!("a drawing");
        };
        let rings: Vec<Rect> = items
            .iter()
            .filter_map(|item| match item {
                Item::Path(path) if path.outline.len() == 5 && path.stroke.is_some() => {
                    let points = path.outline.iter().filter_map(|step| match step {
                        crate::draw::Step::Move(p) | crate::draw::Step::Line(p) => Some(*p),
                        _ => None,
                    });
                    Rect::around(points).filter(|r| (r.width() - BROAD).abs() < 1e-9)
                }
                _ => None,
            })
            .collect();
        let depths = items
            .iter()
            .filter(|item| matches!(item, Item::Text(t) if t.text == "total"));
        assert_eq!(depths.count(), 2);
        assert_eq!(rings.len(), 6);
        for (stack, drawn) in stacks.iter().zip(rings.chunks(3)) {
            let high: f64 = drawn.iter().map(|r| r.height()).sum();
            assert!((high - stack.depth_mm() / scale.ratio).abs() < 1e-9);
            assert!((drawn[0].top - HEAD).abs() < 1e-9);
        }
    }
}
