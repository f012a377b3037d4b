//! The items of a display list. Later items paint over earlier ones.

use super::paper::{Mm, Pt, Rect};
use super::style::{Colour, Face, Stroke};

/// One sheet of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Width of the paper.
    pub width: Mm,
    /// Height of the paper.
    pub height: Mm,
    /// Title, for metadata and the outline.
    pub title: String,
    /// Language of its words by ISO 639-1; empty where it is not known.
    pub language: String,
    /// The layers, in order; groups name them by id.
    pub layers: Vec<Layer>,
    /// What is on it, in painting order.
    pub items: Vec<Item>,
}

/// A layer that a reader can switch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layer {
    /// Stable id, such as `panels`.
    pub id: String,
    /// Title for people.
    pub title: String,
}

/// One item.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Items that belong together.
    Group(Group),
    /// A stroked or filled outline.
    Path(Path),
    /// One run of text.
    Text(Text),
}

/// Items that belong together: on a layer, under a clip.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// Stable id, unique on the sheet, such as `plan-panels`.
    pub id: String,
    /// Title for people.
    pub title: String,
    /// Id of the layer it is on; none: that of the group around it.
    pub layer: Option<String>,
    /// What its items are clipped to.
    pub clip: Option<Outline>,
    /// Its items, in painting order.
    pub items: Vec<Item>,
}

/// A path: an outline with stroke or fill or both.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Where it goes.
    pub outline: Outline,
    /// How it is stroked.
    pub stroke: Option<Stroke>,
    /// What it is filled with.
    pub fill: Option<Colour>,
    /// What is inside.
    pub rule: FillRule,
}

/// What of a path with several rings is inside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the usual word itself")]
pub enum FillRule {
    #[default]
    NonZero,
    EvenOdd,
}

impl Path {
    /// The box of its points, those that curves are drawn to included; none where it has no steps.
    pub fn reach(&self) -> Option<Rect> {
        Rect::around(self.outline.iter().flat_map(|step| match *step {
            Step::Move(p) | Step::Line(p) => vec![p],
            Step::Cubic(a, b, p) => vec![a, b, p],
            Step::Close => Vec::new(),
        }))
    }
}

/// Steps of a path.
pub type Outline = Vec<Step>;

/// One step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Start a new part here.
    Move(Pt),
    /// A straight line to here.
    Line(Pt),
    /// A cubic Bézier curve: two control points and the end.
    Cubic(Pt, Pt, Pt),
    /// Back to where the part started.
    Close,
}

/// One run of text on one baseline.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// The anchor point on the baseline.
    pub at: Pt,
    /// Where along the run the anchor lies.
    pub anchor: Anchor,
    /// Direction of the baseline in degrees, anticlockwise as seen on paper.
    pub angle: f64,
    /// Capital height.
    pub height: Mm,
    /// The face.
    pub face: Face,
    /// The colour.
    pub colour: Colour,
    /// What it says; no line breaks.
    pub text: String,
    /// Where it stands in a table; none outside tables.
    pub cell: Option<Cell>,
}

/// A cell of a table. The cells of one table follow one another, row by row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cell {
    /// Row from the top, that of the headings being 0.
    pub row: usize,
    /// Column from the left.
    pub column: usize,
    /// Columns of the table.
    pub columns: usize,
    /// Whether it is a heading.
    pub head: bool,
}

/// Where along a run its anchor lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(missing_docs, reason = "each is the word itself")]
pub enum Anchor {
    #[default]
    Start,
    Middle,
    End,
}
