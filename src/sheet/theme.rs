//! Themes of the plan: which of its marks a further sheet shows.
//!
//! In: the whole plan of a job. Out: the same plan without the marks that are not the sheet's
//! matter. What stands on site, the outlines, the corner letters and the names stay on every
//! sheet, so that one can be held against another.

use super::model::PlanModel;

/// What a plan is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Theme {
    /// Corners, levels, falls, dimensions: what is pegged out and dug to.
    SetOut,
    /// Panels with their marks, courses and rails.
    Panels,
    /// Pavers, their start and their cuts.
    Pavers,
    /// The ground as it is and how deep it is dug.
    Dig,
}

/// The plan cut down to a theme.
pub fn of(plan: &PlanModel, theme: Theme) -> PlanModel {
    let mut shown = plan.clone();
    if theme != Theme::SetOut {
        shown.corners.iter_mut().for_each(|c| c.levels.clear());
        shown.sections.clear();
        shown.sills.clear();
        shown.shared_edges.clear();
        shown
            .drains
            .iter_mut()
            .for_each(|drain| drain.words.truncate(1));
        shown.radii.clear();
    }
    if theme != Theme::Panels {
        shown.pieces.clear();
        shown.courses.clear();
        shown.rails.clear();
        shown.rail_words = None;
    }
    if theme != Theme::Pavers {
        for area in &mut shown.areas {
            area.pavers.clear();
            area.patch.clear();
        }
    }
    if theme == Theme::Dig {
        shown.chains.clear();
    }
    if matches!(theme, Theme::Panels | Theme::Pavers) {
        shown.services.clear();
    }
    if matches!(theme, Theme::Pavers | Theme::Dig) {
        shown.base.clear();
    }
    if theme != Theme::Pavers {
        shown.edging.clear();
        shown.nails.clear();
    }
    shown
}
