//! Base panels: courses, pieces, cross joints, panels to buy.
//!
//! In: the base outline, the frame of the start corner, the panel and the rules. Out: every piece
//! with its mark and cut lengths, the cross joints found from the pieces as laid, the purchase.

mod layout;
pub mod spec;

pub use layout::{Course, Cut, Layout, Piece};
pub use spec::{LayoutRule, PanelSpec, PanelsSpec};
