//! Everything that the set of sheets shows, before it is laid out on paper.

use super::column::Block;
use super::detail::DetailModel;
use super::model::PlanModel;
use super::section::SectionModel;
use super::title_block::TitleBlock;
use crate::draw::paper::{Orientation, Paper};
use crate::draw::scale::Scale;
use crate::units::System;

/// What the set of sheets shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Content {
    /// Units of what is printed.
    pub system: System,
    /// Paper, when stated.
    pub paper: Option<Paper>,
    /// Which way it is turned, when stated.
    pub turned: Option<Orientation>,
    /// Scale of the plan, when stated.
    pub scale: Option<Scale>,
    /// True north, clockwise from up the plan in degrees, when stated.
    pub north: Option<f64>,
    /// The plan.
    pub plan: PlanModel,
    /// The section.
    pub section: SectionModel,
    /// The edge detail; none where no edge is open.
    pub detail: Option<DetailModel>,
    /// Blocks that must stand on the first sheet when the paper is chosen.
    pub essential: Vec<Block>,
    /// Blocks that stand on the first sheet where there is room.
    pub general: Vec<Block>,
    /// Blocks of the further sheets.
    pub further: Vec<Block>,
    /// The title block; sheet numbers are filled in.
    pub title: TitleBlock,
}
