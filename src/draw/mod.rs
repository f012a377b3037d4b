//! The display list: a sheet of paper as an ordered list of groups, paths and texts, in paper
//! millimetres, and what is needed to make one (fonts and text measure, styles, paper sizes,
//! scales). Knows nothing of paving; the exporters walk it.
//!
//! Axes: x to the right and y **down**, origin at the top left corner of the sheet.

pub mod adapted;
pub mod build;
pub mod conflict;
pub mod font;
pub mod item;
pub mod paper;
pub mod scale;
pub mod style;
pub mod truetype;

pub use conflict::{Conflict, Defect, conflicts, defects};
pub use item::{Anchor, Cell, FillRule, Group, Item, Layer, Outline, Path, Sheet, Step, Text};
pub use paper::{Mm, Orientation, Paper, Pt, Rect};
pub use scale::{Bar, Placing, Scale};
pub use style::{Colour, Dash, Face, LineWidth, Stroke};
