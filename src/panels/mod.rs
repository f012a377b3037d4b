//! Base panels: courses, pieces, cross joints, panels to buy.
//!
//! In: the base outline, the frame of the start corner, the panel and the rules. Out: every piece
//! with its mark and cut lengths, the cross joints found from the pieces as laid, the purchase.

mod best;
mod breaks;
mod contact;
mod cuts;
mod cutting;
mod joints;
mod lay;
mod layout;
mod purchase;
mod region;
mod remedy;
mod seams;
mod sharing;
mod shifts;
mod sides;
mod slabs;
pub mod spec;
mod strip;

pub use best::{Best, Laying, Run, Score, best, laid, lay_by_rule, score};
pub use contact::Lock;
pub use cutting::{CutPanel, CutPiece};
pub use joints::{Cross, CrossJoints, cross_joints};
pub use lay::lay;
pub use layout::{Course, Cut, Layout, Piece};
pub use purchase::{Purchase, purchase};
pub use remedy::Remedy;
pub use seams::seams;
pub use spec::{CourseStarts, LayoutRule, PanelSpec, PanelsSpec};
