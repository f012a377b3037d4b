//! Whether the plan of a set is drawn in parts, at what scale and on what paper.
//!
//! In: the content. Out: the content with an overview and a sheet for each part, where the scale
//! stated, or else the smallest that is legible, does not fit the paper.

use std::sync::Arc;

use super::super::content::Content;
use super::super::split;
use super::{arrange, parts, views, wanted};
use crate::draw::scale::Scale;

/// How far the windows of a plan in parts lap over their match lines, in millimetres on paper.
const LAP: f64 = 8.0;
/// Most parts that a plan is split into before a larger paper is taken.
const PARTS: usize = 6;
/// Most parts that a plan is split into at a scale that the job states: beyond them it is drawn at
/// the scale that fits.
pub const MOST_PARTS: usize = 48;

/// Most parts along one side at a scale that the program chooses.
const MOST_ALONG: usize = 40;

/// A stated scale that would take more than [`MOST_PARTS`] parts of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftScale {
    /// The scale.
    pub stated: Scale,
    /// Parts that the plan would have at it.
    pub parts: usize,
    /// What the plan is drawn at.
    pub drawn: Scale,
}

/// Content set otherwise than it was given.
pub(super) struct SplitUp {
    /// The content.
    pub(super) content: Content,
    /// What its parts are drawn at; none where the plan has none.
    pub(super) scale: Option<Scale>,
    /// Parts that the scale stated would take, where these are too many.
    pub(super) too_many: Option<usize>,
}

/// The content with its plan in parts, where the scale stated, or else the smallest at which
/// lettering is legible, does not fit the paper; none where it does.
pub(super) fn split_up(content: &Content) -> Option<SplitUp> {
    let plain = parts(content);
    let whole = arrange::first(content, wanted(&plain, 0, 0, &[]));
    let scale = content.scale.clone().or_else(|| {
        let limit = arrange::smallest(content.system);
        let mut standard = Scale::standard(content.system).into_iter();
        standard.find(|scale| (scale.ratio - limit).abs() < 1e-9)
    })?;
    let alone = arrange::Wanted {
        sections: &[],
        detail: None,
        ..wanted(&plain, 0, 0, &[])
    };
    let fits = |found: &arrange::Arrangement| found.scale.ratio <= scale.ratio + 1e-9;
    if fits(&whole) || fits(&arrange::first(content, alone)) {
        return None;
    }
    let papers = match content.paper {
        Some(paper) => vec![paper],
        None => arrange::papers(content.system)[1..].to_vec(),
    };
    let turned = content.turned.unwrap_or(whole.turned);
    let lap = scale.to_site(crate::draw::Mm(LAP));
    let bounds = views::site_box(&content.plan);
    let grids: Vec<_> = papers
        .into_iter()
        .map(|paper| {
            let grids = arrange::part_rooms(content, paper, turned).map(|(wide, high)| {
                let held = [wide, high].map(|mm| scale.to_site(crate::draw::Mm(mm)));
                split::grid(bounds, (held[0], held[1]), lap)
            });
            let [beside, below] = grids;
            let fewer = if below.parts() < beside.parts() {
                below
            } else {
                beside
            };
            (paper, fewer)
        })
        .collect();
    let few = |grid: &split::Grid| grid.parts() <= PARTS;
    let (paper, grid) = grids.iter().find(|(_, g)| few(g)).or(grids.last())?;
    if grid.parts() > MOST_PARTS && content.scale.is_some() {
        let fitting = Content {
            scale: None,
            ..content.clone()
        };
        // What fits whole may still be too small to read.
        let again = split_up(&fitting);
        return Some(SplitUp {
            scale: again.as_ref().and_then(|split| split.scale.clone()),
            content: again.map_or(fitting, |split| split.content),
            too_many: Some(grid.parts()),
        });
    }
    // At no stated scale the parts of a very long plan are drawn smaller instead.
    let most = |count: usize| count.min(MOST_ALONG);
    let grid = &match content.scale {
        Some(_) => grid.clone(),
        None => split::Grid {
            count: (most(grid.count.0), most(grid.count.1)),
            ..grid.clone()
        },
    };
    let mut further = split::parts(&content.plan, grid, content.system);
    further.extend(content.further.iter().cloned());
    let in_parts = Content {
        plan: Arc::new(split::overview(&content.plan, grid)),
        scale: None,
        paper: Some(*paper),
        turned: Some(turned),
        further,
        ..content.clone()
    };
    Some(SplitUp {
        content: in_parts,
        scale: Some(scale),
        too_many: None,
    })
}
