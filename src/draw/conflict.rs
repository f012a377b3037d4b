//! A check of a display list for text that cannot be read.
//!
//! In: a sheet. Out: every place where text meets other text, is struck through by a visible
//! line, is covered by a later fill, or leaves the sheet or the clip of its group. The boxes are
//! those of the glyphs from the font files, turned with the text. A line counts as visible where
//! no clip hides it and no opaque fill is painted over it later on.
//!
//! Left out: the edges of fills under text, contrast, and the gaps of dashed lines (a dashed line
//! counts as continuous). Meant for tests; it works on what is drawn, not on what was meant.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use super::build::{flattened, placed};
use super::font::{self, Ink};
use super::item::{Item, Outline, Path, Sheet, Text};
use super::paper::{Mm, Pt, Rect};

/// How far boxes may interpenetrate before they conflict, in millimetres.
const SLACK: f64 = 0.1;
/// Flattening of curves, in millimetres.
const FLAT: Mm = Mm(0.02);
/// Distance of the places at which a line in a box is looked at, in millimetres.
const SAMPLE: f64 = 0.1;
/// Cell of the grid that finds boxes, in millimetres.
const CELL: f64 = 10.0;

/// A text that cannot be read; `at` is where on paper.
#[derive(Clone, Debug, PartialEq)]
pub enum Conflict {
    /// It leaves the sheet.
    OffSheet {
        /// What it says.
        text: String,
        /// The corner that is off.
        at: Pt,
    },
    /// It leaves the clip of a group around it.
    Clipped {
        /// What it says.
        text: String,
        /// The corner that is cut off.
        at: Pt,
    },
    /// It meets another text.
    Overlap {
        /// What the one says.
        text: String,
        /// What the other says.
        other: String,
        /// The anchor of the one.
        at: Pt,
    },
    /// A visible line crosses it.
    Struck {
        /// What it says.
        text: String,
        /// Id of the innermost group of the line.
        by: String,
        /// Where it is crossed.
        at: Pt,
    },
    /// A fill painted later covers it.
    Covered {
        /// What it says.
        text: String,
        /// Id of the innermost group of the fill.
        by: String,
        /// Where it is covered.
        at: Pt,
    },
}

impl fmt::Display for Conflict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (at, what) = match self {
            Conflict::OffSheet { text, at } => (at, format!("`{text}` leaves the sheet")),
            Conflict::Clipped { text, at } => (at, format!("`{text}` leaves its view")),
            Conflict::Overlap { text, other, at } => (at, format!("`{text}` meets `{other}`")),
            Conflict::Struck { text, by, at } => (at, format!("a line of `{by}` crosses `{text}`")),
            Conflict::Covered { text, by, at } => (at, format!("a fill of `{by}` covers `{text}`")),
        };
        write!(f, "{what} at ({:.1}, {:.1})", at.x, at.y)
    }
}

/// Every conflict on a sheet: by text in painting order, at most one of each kind per text and
/// group or other text.
pub fn conflicts(sheet: &Sheet) -> Vec<Conflict> {
    let mut marks = Marks::default();
    marks.collect(&sheet.items, "", &[]);
    let paper = Rect::between(Pt::default(), Pt::new(sheet.width.0, sheet.height.0));

    let mut found = Vec::new();
    for label in &marks.labels {
        found.extend(marks.outside(label, paper));
    }
    for (i, one) in marks.labels.iter().enumerate() {
        for other in &marks.labels[i + 1..] {
            found.extend(overlap(one, other));
        }
    }
    found.extend(marks.struck(paper));
    found.extend(marks.covered());
    found
}

type Quad = [Pt; 4];

/// A text as drawn.
struct Label<'a> {
    order: usize,
    text: &'a Text,
    /// Ink boxes of its glyphs.
    glyphs: Vec<Quad>,
    /// The same, widened to the advances, with blanks as high as a capital.
    cells: Vec<Quad>,
    bounds: Rect,
    clips: Vec<usize>,
}

/// An outline as drawn, flattened.
struct Shape<'a> {
    order: usize,
    group: &'a str,
    parts: Vec<Vec<Pt>>,
    bounds: Rect,
    /// Half the line's width in millimetres, for strokes.
    half: f64,
    clips: Vec<usize>,
}

#[derive(Default)]
struct Marks<'a> {
    labels: Vec<Label<'a>>,
    strokes: Vec<Shape<'a>>,
    fills: Vec<Shape<'a>>,
    clips: Vec<Vec<Vec<Pt>>>,
    order: usize,
}

impl<'a> Marks<'a> {
    fn collect(&mut self, items: &'a [Item], group: &'a str, clips: &[usize]) {
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
        if path.fill.is_some() {
            self.fills.push(shape(0.0));
        }
        if let Some(stroke) = path.stroke {
            self.strokes.push(shape(stroke.width.mm() / 2.0));
        }
    }

    /// Where a label leaves the sheet or its clips.
    fn outside(&self, label: &Label, paper: Rect) -> Option<Conflict> {
        let text = label.text.text.clone();
        let corners = || label.glyphs.iter().flatten().copied();
        let on = paper.grown(1e-9);
        if let Some(at) = corners().find(|&p| !on.holds(Rect::between(p, p))) {
            return Some(Conflict::OffSheet { text, at });
        }
        let at = corners().find(|&p| !self.shown(p, &label.clips))?;
        Some(Conflict::Clipped { text, at })
    }

    /// Every label that a visible line crosses.
    fn struck(&self, paper: Rect) -> Vec<Conflict> {
        let grid = self.grid(paper);
        let mut found = Vec::new();
        let mut seen = BTreeSet::new();
        for stroke in &self.strokes {
            for piece in stroke.parts.iter().flat_map(|part| part.windows(2)) {
                let bounds = Rect::between(piece[0], piece[1]).grown(stroke.half);
                let mut near = BTreeSet::new();
                for cell in cells_of(bounds, paper) {
                    near.extend(grid.get(&cell).into_iter().flatten().copied());
                }
                for index in near {
                    let label = &self.labels[index];
                    if seen.contains(&(index, stroke.group)) || !label.bounds.overlaps(bounds) {
                        continue;
                    }
                    if let Some(at) = self.crossing(stroke, piece[0], piece[1], label) {
                        seen.insert((index, stroke.group));
                        let conflict = Conflict::Struck {
                            text: label.text.text.clone(),
                            by: stroke.group.to_string(),
                            at,
                        };
                        found.push((index, conflict));
                    }
                }
            }
        }
        found.sort_by_key(|(index, _)| *index);
        found.into_iter().map(|(_, conflict)| conflict).collect()
    }

    /// A visible place of the line from `a` to `b` in the cells of a label.
    fn crossing(&self, stroke: &Shape, a: Pt, b: Pt, label: &Label) -> Option<Pt> {
        let over: Vec<&Shape> = self
            .fills
            .iter()
            .filter(|fill| fill.order > stroke.order && fill.bounds.overlaps(label.bounds))
            .collect();
        label.cells.iter().find_map(|cell| {
            let (start, end) = clipped(a, b, cell, stroke.half - SLACK / 2.0)?;
            let length = a.distance(b) * (end - start);
            let count = (length / SAMPLE).ceil().clamp(1.0, 10_000.0) as u32;
            (0..=count).find_map(|i| {
                let t = start + (end - start) * f64::from(i) / f64::from(count);
                let at = Pt::new(a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t);
                let hidden = over
                    .iter()
                    .any(|fill| inside(at, &fill.parts) && self.shown(at, &fill.clips));
                (self.shown(at, &stroke.clips) && !hidden).then_some(at)
            })
        })
    }

    /// Every label with a glyph whose middle lies under a later fill.
    fn covered(&self) -> Vec<Conflict> {
        let mut found = Vec::new();
        for label in &self.labels {
            let later = self
                .fills
                .iter()
                .filter(|fill| fill.order > label.order && fill.bounds.overlaps(label.bounds));
            for fill in later {
                let under = label
                    .glyphs
                    .iter()
                    .flat_map(inner_points)
                    .find(|&at| inside(at, &fill.parts) && self.shown(at, &fill.clips));
                if let Some(at) = under {
                    found.push(Conflict::Covered {
                        text: label.text.text.clone(),
                        by: fill.group.to_string(),
                        at,
                    });
                }
            }
        }
        found
    }

    fn shown(&self, at: Pt, clips: &[usize]) -> bool {
        clips.iter().all(|&clip| inside(at, &self.clips[clip]))
    }

    fn grid(&self, paper: Rect) -> BTreeMap<(i32, i32), Vec<usize>> {
        let mut grid: BTreeMap<_, Vec<usize>> = BTreeMap::new();
        for (index, label) in self.labels.iter().enumerate() {
            for cell in cells_of(label.bounds, paper) {
                grid.entry(cell).or_default().push(index);
            }
        }
        grid
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

fn overlap(one: &Label, other: &Label) -> Option<Conflict> {
    if !one.bounds.overlaps(other.bounds) {
        return None;
    }
    let meets = one
        .glyphs
        .iter()
        .any(|a| other.glyphs.iter().any(|b| depth(a, b) > SLACK));
    meets.then(|| Conflict::Overlap {
        text: one.text.text.clone(),
        other: other.text.text.clone(),
        at: one.text.at,
    })
}

/// How far two rectangles (turned or not) interpenetrate: least overlap over the directions of
/// their sides (separating axis theorem); not above zero when they are apart.
fn depth(a: &Quad, b: &Quad) -> f64 {
    let mut least = f64::MAX;
    for quad in [a, b] {
        for (from, to) in [(quad[0], quad[1]), (quad[1], quad[2])] {
            let length = from.distance(to);
            if length <= 0.0 {
                continue;
            }
            let (x, y) = ((to.x - from.x) / length, (to.y - from.y) / length);
            let span = |quad: &Quad| {
                let along = quad.map(|p| p.x * x + p.y * y);
                let low = along.into_iter().fold(f64::MAX, f64::min);
                (low, along.into_iter().fold(f64::MIN, f64::max))
            };
            let ((low_a, high_a), (low_b, high_b)) = (span(a), span(b));
            least = least.min(high_a.min(high_b) - low_a.max(low_b));
        }
    }
    least
}

/// The part of a line, as parameters, that lies in a rectangle (turned or not) grown by `by`.
fn clipped(a: Pt, b: Pt, quad: &Quad, by: f64) -> Option<(f64, f64)> {
    let (mut start, mut end) = (0.0_f64, 1.0_f64);
    for (from, to) in [(quad[0], quad[1]), (quad[1], quad[2])] {
        let length = from.distance(to);
        if length <= 0.0 {
            return None;
        }
        let (x, y) = ((to.x - from.x) / length, (to.y - from.y) / length);
        let along = |p: Pt| (p.x - from.x) * x + (p.y - from.y) * y;
        let (low, high) = (-by, length + by);
        let (first, last) = (along(a), along(b));
        if first == last {
            if first < low || first > high {
                return None;
            }
            continue;
        }
        let (t, u) = (
            (low - first) / (last - first),
            (high - first) / (last - first),
        );
        start = start.max(t.min(u));
        end = end.min(t.max(u));
    }
    (start < end).then_some((start, end))
}

/// Whether a point lies in closed parts, by the even-odd rule.
fn inside(at: Pt, parts: &[Vec<Pt>]) -> bool {
    let mut within = false;
    for part in parts {
        for (i, &p) in part.iter().enumerate() {
            let q = part[(i + 1) % part.len()];
            if (p.y > at.y) != (q.y > at.y) && at.x < p.x + (at.y - p.y) / (q.y - p.y) * (q.x - p.x)
            {
                within = !within;
            }
        }
    }
    within
}

/// The middle of a box and the middles between it and the corners.
fn inner_points(quad: &Quad) -> [Pt; 5] {
    let middle = |p: Pt, q: Pt| Pt::new((p.x + q.x) / 2.0, (p.y + q.y) / 2.0);
    let centre = middle(quad[0], quad[2]);
    let [a, b, c, d] = quad.map(|corner| middle(corner, centre));
    [centre, a, b, c, d]
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

/// The cells of the grid that a rectangle touches, on the paper only.
fn cells_of(bounds: Rect, paper: Rect) -> impl Iterator<Item = (i32, i32)> {
    let cell = |value: f64| (value / CELL).floor() as i32;
    let across = cell(bounds.left.max(paper.left))..=cell(bounds.right.min(paper.right));
    let down = cell(bounds.top.max(paper.top))..=cell(bounds.bottom.min(paper.bottom));
    across.flat_map(move |x| down.clone().map(move |y| (x, y)))
}

#[cfg(test)]
mod tests {
    use super::super::build;
    use super::super::item::{Anchor, Group};
    use super::super::style::{Colour, Dash, LineWidth};
    use super::*;

    fn words(x: f64, y: f64, text: &str) -> Text {
        build::text(Pt::new(x, y), Anchor::Start, Mm(2.5), text)
    }

    fn rule(y: f64) -> Item {
        let line = build::line(Pt::new(0.0, y), Pt::new(100.0, y));
        build::stroked(line, LineWidth::W25, Dash::Continuous)
    }

    fn found(items: Vec<Item>) -> Vec<Conflict> {
        conflicts(&Sheet {
            width: Mm(100.0),
            height: Mm(60.0),
            title: String::new(),
            layers: Vec::new(),
            items,
        })
    }

    #[test]
    fn texts_apart_or_just_touching_are_fine() {
        let width = font::width(super::super::Face::Regular, Mm(2.5), "HH").0;
        let items = [words(10.0, 30.0, "HH"), words(10.0 + width, 30.0, "HH")];
        assert_eq!(found(items.map(Item::Text).to_vec()), []);
        let items = [
            words(10.0, 30.0, "HH"),
            words(10.0 + width - 1.5, 30.0, "HH"),
        ];
        let found = found(items.map(Item::Text).to_vec());
        assert!(matches!(found[..], [Conflict::Overlap { .. }]), "{found:?}");
    }

    #[test]
    fn a_turned_text_beside_a_slanting_one_is_fine() {
        let mut one = words(10.0, 50.0, "slanting text");
        let mut other = words(13.0, 50.0, "slanting text");
        (one.angle, other.angle) = (45.0, 45.0);
        assert_eq!(
            found(vec![Item::Text(one.clone()), Item::Text(other.clone())]).len(),
            1
        );
        other.at.x += 4.0;
        assert_eq!(found(vec![Item::Text(one), Item::Text(other)]), []);
    }

    #[test]
    fn a_line_through_text_counts_unless_knocked_out() {
        let text = words(20.0, 30.0, "HHH");
        let struck = found(vec![rule(29.0), Item::Text(text.clone())]);
        assert!(
            matches!(struck[..], [Conflict::Struck { .. }]),
            "{struck:?}"
        );
        assert_eq!(found(vec![rule(30.3), Item::Text(text.clone())]), []);
        let knockout = build::knockout(&text, Mm(0.5)).expect("there is ink");
        let knocked = vec![rule(29.0), knockout.clone(), Item::Text(text.clone())];
        assert_eq!(found(knocked), []);
        let late = vec![knockout, rule(29.0), Item::Text(text)];
        assert_eq!(found(late).len(), 1);
    }

    #[test]
    fn a_line_through_a_blank_between_words_counts() {
        let text = words(20.0, 30.0, "II II");
        let before = font::width(text.face, text.height, "II").0;
        let x = 20.0 + before + font::width(text.face, text.height, " ").0 / 2.0;
        let line = build::line(Pt::new(x, 0.0), Pt::new(x, 60.0));
        let upright = build::stroked(line, LineWidth::W13, Dash::Continuous);
        assert_eq!(found(vec![upright, Item::Text(text)]).len(), 1);
    }

    #[test]
    fn a_line_outside_its_clip_does_not_count() {
        let clip = Rect::between(Pt::new(0.0, 0.0), Pt::new(15.0, 60.0));
        let group = |text: Option<Text>| {
            let mut items = vec![rule(29.0)];
            items.extend(text.map(Item::Text));
            Item::Group(Group {
                id: "view".to_string(),
                clip: Some(clip.outline()),
                items,
                ..Group::default()
            })
        };
        let text = words(20.0, 30.0, "HHH");
        assert_eq!(found(vec![group(None), Item::Text(text.clone())]), []);
        let cut = found(vec![group(Some(text))]);
        assert!(matches!(cut[..], [Conflict::Clipped { .. }]), "{cut:?}");
    }

    #[test]
    fn text_off_the_sheet_or_under_a_fill() {
        let off = found(vec![Item::Text(words(98.0, 30.0, "HHH"))]);
        assert!(matches!(off[..], [Conflict::OffSheet { .. }]), "{off:?}");
        let patch = Rect::between(Pt::new(21.0, 20.0), Pt::new(30.0, 40.0)).outline();
        let fill = build::filled(patch, Colour::WHITE);
        let text = Item::Text(words(20.0, 30.0, "HHH"));
        assert_eq!(found(vec![fill.clone(), text.clone()]), []);
        let covered = found(vec![text, fill]);
        assert!(
            matches!(covered[..], [Conflict::Covered { .. }]),
            "{covered:?}"
        );
    }

    #[test]
    fn odd_numbers_do_no_harm() {
        let nan = words(f64::NAN, 30.0, "HHH");
        let far = build::line(Pt::new(-1e12, 29.0), Pt::new(f64::INFINITY, 29.0));
        let long = build::line(Pt::new(-1e9, 29.0), Pt::new(1e9, 29.0));
        let stroke = |line| build::stroked(line, LineWidth::W25, Dash::Continuous);
        let items = vec![
            stroke(far),
            stroke(long),
            Item::Text(nan),
            Item::Text(words(20.0, 30.0, "HHH")),
        ];
        let found = found(items);
        assert!(
            found.iter().any(|c| matches!(c, Conflict::Struck { .. })),
            "{found:?}"
        );
    }
}
