//! Everything that the set of sheets shows, before it is laid out on paper.
//!
//! The general sheet shows plan, sections and edge detail with the blocks that explain them.
//! Every other sheet is a [`FurtherSheet`]: a name, and whatever it has to show. Sheets that only
//! hold blocks share paper where they fit; one with a plan or a section has paper of its own.

use std::sync::Arc;

use super::column::Block;
use super::detail::DetailModel;
use super::model::PlanModel;
use super::section::SectionModel;
use super::title_block::TitleBlock;
use crate::draw::paper::{Orientation, Paper};
use crate::draw::scale::Scale;
use crate::language::Languages;
use crate::units::System;

/// What the set of sheets shows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Content {
    /// Languages of what is printed.
    pub languages: Languages,
    /// Units of what is printed.
    pub system: System,
    /// Paper, when stated.
    pub paper: Option<Paper>,
    /// How many sheets more than on the next larger paper are worth a smaller one, where none is
    /// stated.
    pub more: usize,
    /// Which way it is turned, when stated.
    pub turned: Option<Orientation>,
    /// Scale of the plan, when stated.
    pub scale: Option<Scale>,
    /// True north, clockwise from up the plan in degrees, when stated.
    pub north: Option<f64>,
    /// What the general sheet shows, as the title block and the index say it.
    pub name: String,
    /// The same where section and edge detail have a sheet of their own.
    pub name_alone: String,
    /// Whether section and edge detail have a sheet of their own. Only the keys to the general plan
    /// and the index must then stand on its sheet; what else is essential may flow on.
    pub apart: bool,
    /// The plan of the general sheet.
    pub plan: Arc<PlanModel>,
    /// The sections, the one for the general sheet first; the others get a sheet of their own.
    pub sections: Vec<SectionModel>,
    /// The edge detail; none where no edge is open.
    pub detail: Option<DetailModel>,
    /// Blocks that must stand on the first sheet when the paper is chosen.
    pub essential: Vec<Block>,
    /// Blocks that stand on the first sheet where there is room.
    pub general: Vec<Block>,
    /// The further sheets, in the order of the set.
    pub further: Vec<FurtherSheet>,
    /// The title block; sheet numbers are filled in.
    pub title: TitleBlock,
}

/// A sheet of the set after the general one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FurtherSheet {
    /// What it shows, as the title block and the index say it.
    pub name: String,
    /// Its own plan: what every sheet shows (see [`super::theme::common`]) with the marks that it is
    /// about.
    pub plan: Option<Arc<PlanModel>>,
    /// Sections that it shows.
    pub sections: Vec<SectionModel>,
    /// The edge detail, where it shows that.
    pub detail: Option<DetailModel>,
    /// Its blocks: tables, notes, rows of figures.
    pub blocks: Vec<Block>,
    /// Whether its blocks go on the general sheet before the notes where they fit whole.
    pub early: bool,
}

impl FurtherSheet {
    /// A sheet that holds blocks alone.
    pub fn of_blocks(name: impl AsRef<str>, blocks: Vec<Block>) -> Self {
        Self {
            name: name.as_ref().to_string(),
            blocks,
            ..Self::default()
        }
    }

    /// Whether it shows something drawn to scale, and so has paper of its own.
    pub fn has_views(&self) -> bool {
        self.plan.is_some() || !self.sections.is_empty() || self.detail.is_some()
    }
}
