//! What is drawn on a sheet, flattened: texts as boxes of their glyphs, lines, fills and clips, in
//! painting order.

use std::collections::{BTreeMap, BTreeSet};

use super::super::build::{flattened, placed};
use super::super::font::{self, Ink};
use super::super::item::{Item, Outline, Path, Text};
use super::super::paper::{Mm, Pt, Rect};
use super::super::style::LineWidth;
use super::geometry::{Quad, inside};

/// Flattening of curves, in millimetres.
const FLAT: Mm = Mm(0.02);
/// Relative luminance from which on a fill counts as paper.
const WHITE: f64 = 0.92;

/// A text as drawn.
pub struct Label<'a> {
    /// Its place in painting order.
    pub order: usize,
    /// The text itself.
    pub text: &'a Text,
    /// Ink boxes of its glyphs.
    pub glyphs: Vec<Quad>,
    /// The same, widened to the advances, with blanks as high as a capital.
    pub cells: Vec<Quad>,
    /// The rectangle round it.
    pub bounds: Rect,
    /// Clips that it lies under.
    pub clips: Vec<usize>,
}

/// An outline as drawn, flattened.
pub struct Shape<'a> {
    /// Its place in painting order.
    pub order: usize,
    /// Id of the innermost group with one.
    pub group: &'a str,
    /// Its parts, as runs of points.
    pub parts: Vec<Vec<Pt>>,
    /// The rectangle round it.
    pub bounds: Rect,
    /// Half the line's width in millimetres, for strokes.
    pub half: f64,
    /// Clips that it lies under.
    pub clips: Vec<usize>,
}

/// Everything on a sheet.
#[derive(Default)]
pub struct Marks<'a> {
    /// Texts with ink.
    pub labels: Vec<Label<'a>>,
    /// Stroked outlines.
    pub strokes: Vec<Shape<'a>>,
    /// Filled outlines.
    pub fills: Vec<Shape<'a>>,
    /// Fills that show against paper, whose edges strike text through.
    pub edges: Vec<Shape<'a>>,
    /// Line widths by view: the first word of a group's id.
    pub widths: BTreeMap<&'a str, BTreeSet<LineWidth>>,
    /// Clips that shapes and labels name by index.
    pub clips: Vec<Vec<Vec<Pt>>>,
    order: usize,
}

impl<'a> Marks<'a> {
    /// Takes in items inside a group and under clips.
    pub fn collect(&mut self, items: &'a [Item], group: &'a str, clips: &[usize]) {
        for item in items {
            self.order += 1;
            match item {
                Item::Text(text) => self.label(text, clips),
                Item::Path(path) => self.shapes(path, group, clips),
                Item::Group(inner) => {
                    let mut clips = clips.to_vec();
                    if let Some(clip) = &inner.clip {
                        clips.push(self.clips.len());
                        self.clips.push(flattened(clip, FLAT));
                    }
                    let id = if inner.id.is_empty() {
                        group
                    } else {
                        &inner.id
                    };
                    self.collect(&inner.items, id, &clips);
                }
            }
        }
    }

    fn label(&mut self, text: &'a Text, clips: &[usize]) {
        let (glyphs, cells) = boxes(text);
        let corners = cells.iter().chain(&glyphs).flatten().copied();
        let Some(bounds) = Rect::around(corners) else {
            return;
        };
        self.labels.push(Label {
            order: self.order,
            text,
            glyphs,
            cells,
            bounds,
            clips: clips.to_vec(),
        });
    }

    fn shapes(&mut self, path: &'a Path, group: &'a str, clips: &[usize]) {
        let Some((parts, bounds)) = measured(&path.outline) else {
            return;
        };
        let shape = |half: f64| Shape {
            order: self.order,
            group,
            parts: parts.clone(),
            bounds: bounds.grown(half),
            half,
            clips: clips.to_vec(),
        };
        if let Some(fill) = path.fill {
            self.fills.push(shape(0.0));
            if fill.luminance() < WHITE {
                self.edges.push(shape(0.0));
            }
        }
        if let Some(stroke) = path.stroke {
            self.strokes.push(shape(stroke.width.mm() / 2.0));
            let view = group.split('-').next().unwrap_or(group);
            self.widths.entry(view).or_default().insert(stroke.width);
        }
    }

    /// Whether a place lies inside all of some clips.
    pub fn shown(&self, at: Pt, clips: &[usize]) -> bool {
        clips.iter().all(|&clip| inside(at, &self.clips[clip]))
    }
}

/// The ink boxes of a text's glyphs, and their cells.
fn boxes(text: &Text) -> (Vec<Quad>, Vec<Quad>) {
    let (mut glyphs, mut cells) = (Vec::new(), Vec::new());
    let mut pen = 0.0;
    for c in text.text.chars() {
        let one = c.to_string();
        let advance = font::width(text.face, text.height, &one).0;
        let ink = font::ink(text.face, text.height, &one);
        if let Some(ink) = ink {
            let moved = Ink {
                left: ink.left + pen,
                right: ink.right + pen,
                ..ink
            };
            glyphs.push(placed(text, moved));
        }
        let (top, bottom) = ink.map_or((-text.height.0, 0.0), |ink| (ink.top, ink.bottom));
        let cell = Ink {
            left: pen,
            top,
            right: pen + advance,
            bottom,
        };
        cells.push(placed(text, cell));
        pen += advance;
    }
    (glyphs, cells)
}

/// An outline flattened, with its bounds; none when it has no points or one is not finite.
fn measured(outline: &Outline) -> Option<(Vec<Vec<Pt>>, Rect)> {
    let parts = flattened(outline, FLAT);
    let points = || parts.iter().flatten().copied();
    if points().any(|p| !(p.x.is_finite() && p.y.is_finite())) {
        return None;
    }
    let bounds = Rect::around(points())?;
    Some((parts, bounds))
}
