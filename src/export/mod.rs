//! The exporters: a display list in, the bytes of an SVG, PDF or PNG file out. They know nothing
//! of paving.
//!
//! All of them walk the same items, set text glyph after glyph by its advance (no kerning, no
//! ligatures), stroke with butt ends and round joins, and write the same bytes for the same list
//! every time. Lengths in the list are paper millimetres, x right and y down.

mod face;
mod number;
pub mod png;
pub mod svg;

pub use png::png;
pub use svg::svg;
