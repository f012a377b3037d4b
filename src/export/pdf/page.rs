//! The operations that paint one page.
//!
//! In: a sheet in millimetres, y down. Out: PDF operations in points, y up from the bottom left
//! corner. Path operators are written one to one (ISO 32000-1, 8.5), so that several rings and
//! curves in one path keep their meaning.

use std::collections::BTreeMap;

use printpdf::{DictItem, LayerInternalId, Op, PdfFontHandle, Pt as Points, TextItem, TextMatrix};

use super::super::is_path;
use super::super::number::push;
use super::tags::{self, Tagged};
use super::{em, font_id};
use crate::draw::{
    Anchor, Colour, FillRule, Group, Item, Mm, Outline, Path, Pt, Sheet, Step, Stroke, Text, font,
};

/// Points in a millimetre.
const PT: f64 = 72.0 / 25.4;

/// Decimals of a point in paths.
const PLACES: usize = 3;

/// What colours and line the reader has set at this place of the page.
#[derive(Clone, Default)]
struct State {
    stroke: Option<Stroke>,
    fill: Option<Colour>,
}

struct Painter<'a> {
    layers: &'a BTreeMap<&'a str, LayerInternalId>,
    height: f64,
    state: State,
    ops: Vec<Op>,
    tagged: Tagged,
    /// How deep in groups this is: the outermost are sections of the text.
    depth: usize,
    /// Whether marks without words are being painted.
    artifact: bool,
}

/// The operations that paint a sheet, and its text as tagged; `layers` gives the resource name of
/// each layer id.
pub(super) fn operations(
    sheet: &Sheet,
    layers: &BTreeMap<&str, LayerInternalId>,
) -> (Vec<Op>, Tagged) {
    let mut painter = Painter {
        layers,
        height: sheet.height.0,
        state: State::default(),
        ops: vec![
            raw("J", vec![DictItem::Int(0)]),
            raw("j", vec![DictItem::Int(1)]),
        ],
        tagged: Tagged::default(),
        depth: 0,
        artifact: false,
    };
    painter.paint(&sheet.items);
    painter.end_artifact();
    (painter.ops, painter.tagged)
}

/// A paper length in points, rounded to 0.0001 pt.
pub(super) fn points(length: Mm) -> Points {
    Points(rounded(length.0 * PT, 1e4))
}

impl Painter<'_> {
    fn paint(&mut self, items: &[Item]) {
        for item in items {
            match item {
                Item::Group(group) => self.group(group),
                Item::Path(path) => self.path(path),
                Item::Text(text) => self.text(text),
            }
        }
    }

    fn group(&mut self, group: &Group) {
        self.end_artifact();
        if self.depth == 0 {
            self.tagged.section(&group.title);
        }
        let outside = group.clip.as_ref().map(|clip| {
            self.ops.push(Op::SaveGraphicsState);
            let area = match is_path(clip) {
                true => self.outline(clip),
                false => "0 0 0 0 re ".to_string(),
            };
            self.ops.push(raw(&(area + "W n"), Vec::new()));
            self.state.clone()
        });
        let layer = group.layer.as_deref().and_then(|id| self.layers.get(id));
        if let Some(layer) = layer {
            self.ops.push(Op::BeginLayer {
                layer_id: layer.clone(),
            });
        }
        self.depth += 1;
        self.paint(&group.items);
        self.depth -= 1;
        self.end_artifact();
        if layer.is_some() {
            self.ops.push(Op::EndLayer);
        }
        if let Some(state) = outside {
            self.ops.push(Op::RestoreGraphicsState);
            self.state = state;
        }
    }

    /// Closes the run of marks without words, so that what follows is not inside it.
    fn end_artifact(&mut self) {
        if std::mem::take(&mut self.artifact) {
            self.ops.push(raw("EMC", Vec::new()));
        }
    }

    fn path(&mut self, path: &Path) {
        let operator = match (path.fill, path.stroke, path.rule) {
            (None, None, _) => return,
            (None, Some(_), _) => "S",
            (Some(_), None, FillRule::NonZero) => "f",
            (Some(_), None, FillRule::EvenOdd) => "f*",
            (Some(_), Some(_), FillRule::NonZero) => "B",
            (Some(_), Some(_), FillRule::EvenOdd) => "B*",
        };
        if !is_path(&path.outline) {
            return;
        }
        if !std::mem::replace(&mut self.artifact, true) {
            self.ops.push(raw("/Artifact BMC", Vec::new()));
        }
        if let Some(colour) = path.fill {
            self.fill(colour);
        }
        if let Some(stroke) = path.stroke {
            self.stroke(stroke);
        }
        let outline = self.outline(&path.outline);
        self.ops.push(raw(&(outline + operator), Vec::new()));
    }

    fn text(&mut self, text: &Text) {
        if text.text.is_empty() {
            return;
        }
        let turn = text.angle.to_radians();
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let before = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => 0.5,
            Anchor::End => 1.0,
        };
        let words = font::drawable(&text.text);
        let back = before * font::width(text.face, text.height, &words).0;
        let start = text.at.moved(-back * cos, back * sin);
        let [x, y] = self.place(start);
        let [sin, cos] = [sin, cos].map(|part| rounded(part, 1e6));
        self.end_artifact();
        self.fill(text.colour);
        let number = self.tagged.add(text);
        let kind = tags::kind(text.cell);
        self.ops.extend([
            raw(&format!("/{kind} <</MCID {number}>> BDC"), Vec::new()),
            Op::StartTextSection,
            Op::SetFont {
                font: PdfFontHandle::External(font_id(text.face)),
                size: em(text.face, text.height),
            },
            Op::SetTextMatrix {
                matrix: TextMatrix::Raw([cos, sin, -sin, cos, x, y]),
            },
            Op::ShowText {
                items: vec![TextItem::Text(words)],
            },
            Op::EndTextSection,
            raw("EMC", Vec::new()),
        ]);
    }

    /// The operators that build a path, as one text: a sheet may have millions of steps, and an
    /// operation each would take many times the room of what is written.
    fn outline(&self, outline: &Outline) -> String {
        let mut text = String::with_capacity(outline.len() * 18);
        let put = |text: &mut String, p: Pt| {
            push(text, p.x * PT, PLACES);
            text.push(' ');
            push(text, (self.height - p.y) * PT, PLACES);
            text.push(' ');
        };
        for step in outline {
            let operator = match *step {
                Step::Move(p) => {
                    put(&mut text, p);
                    "m"
                }
                Step::Line(p) => {
                    put(&mut text, p);
                    "l"
                }
                Step::Cubic(a, b, p) => {
                    put(&mut text, a);
                    put(&mut text, b);
                    put(&mut text, p);
                    "c"
                }
                Step::Close => "h",
            };
            text.push_str(operator);
            text.push('\n');
        }
        text
    }

    fn fill(&mut self, colour: Colour) {
        if self.state.fill != Some(colour) {
            self.ops.push(raw("rg", channels(colour)));
            self.state.fill = Some(colour);
        }
    }

    fn stroke(&mut self, stroke: Stroke) {
        let known = self.state.stroke.replace(stroke);
        if known.map(|s| s.colour) != Some(stroke.colour) {
            self.ops.push(raw("RG", channels(stroke.colour)));
        }
        let width = stroke.width.mm() * PT;
        if known.map(|s| s.width) != Some(stroke.width) {
            self.ops.push(raw("w", numbers(&[rounded(width, 1e4)])));
        }
        if known.map(|s| (s.width, s.dash)) != Some((stroke.width, stroke.dash)) {
            let lengths: Vec<f32> = stroke
                .dash
                .pattern()
                .iter()
                .map(|part| rounded(part * width, 1e4))
                .collect();
            let dash = vec![DictItem::Array(numbers(&lengths)), DictItem::Int(0)];
            self.ops.push(raw("d", dash));
        }
    }

    /// A paper point in points from the bottom left corner, rounded to 0.001 pt.
    fn place(&self, p: Pt) -> [f32; 2] {
        [p.x * PT, (self.height - p.y) * PT].map(|part| rounded(part, 1e3))
    }
}

fn raw(key: &str, value: Vec<DictItem>) -> Op {
    Op::Unknown {
        key: key.to_string(),
        value,
    }
}

fn numbers(values: &[f32]) -> Vec<DictItem> {
    values.iter().map(|&value| DictItem::Real(value)).collect()
}

fn channels(Colour(red, green, blue): Colour) -> Vec<DictItem> {
    let parts = [red, green, blue].map(|part| rounded(f64::from(part) / 255.0, 1e4));
    numbers(&parts)
}

/// Rounded to one part in `parts`; 0 when not finite, as the other exporters write it.
fn rounded(value: f64, parts: f64) -> f32 {
    if !value.is_finite() {
        return 0.0;
    }
    // Adding zero turns −0 into 0.
    ((value * parts).round() / parts + 0.0) as f32
}
