//! The arrangement of a sheet with views: paper, turn, scale and zones.
//!
//! In: the views and blocks wanted. Out: the best arrangement. Method: text columns beside or
//! under the views are tried in every number; the plan takes what they and the strip of sections
//! and detail leave, at the largest standard scale that fits with its dimension lines. Papers are
//! tried from the smallest, until the plan is at least at [`SMALLEST_US`] or [`SMALLEST_METRIC`]
//! and the essential blocks fit.

use super::super::column::{self, Block};
use super::super::content::Content;
use super::super::detail::DetailModel;
use super::super::frame;
use super::super::model::PlanModel;
use super::super::section::SectionModel;
use super::views;
use super::zones::{self, GUTTER, Text};
use crate::draw::Mm;
use crate::draw::paper::{Orientation, Paper, Rect};
use crate::draw::scale::Scale;
use crate::units::System;

/// Smallest scale that the program chooses by itself: 1/4″ to the foot.
pub const SMALLEST_US: f64 = 48.0;
/// Smallest scale that the program chooses by itself, metric.
pub const SMALLEST_METRIC: f64 = 50.0;

/// What a sheet with views is to show.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// The plan.
    pub plan: Option<&'a PlanModel>,
    /// The sections.
    pub sections: &'a [SectionModel],
    /// The edge detail.
    pub detail: Option<&'a DetailModel>,
    /// Blocks that must find room.
    pub essential: &'a [Block],
    /// Blocks that should, after those.
    pub blocks: &'a [Block],
}

/// One way of laying out a sheet with views.
#[derive(Clone, Debug)]
pub struct Arrangement {
    /// The paper.
    pub paper: Paper,
    /// How it is turned.
    pub turned: Orientation,
    /// The plan's zone, its title included.
    pub plan: Rect,
    /// The sections' zones, in order.
    pub sections: Vec<Rect>,
    /// The edge detail's zone.
    pub detail: Rect,
    /// Text columns.
    pub columns: Vec<Rect>,
    /// The title block.
    pub title: Rect,
    /// Scale of the plan; 1:1 where there is none.
    pub scale: Scale,
    /// How many blocks find no room.
    left: usize,
    /// Whether the essential ones do.
    essential: bool,
}

/// The arrangement of the first sheet, with the paper that the whole set is drawn on.
pub fn first(content: &Content, wanted: Wanted) -> Arrangement {
    let metric = content.system == System::Metric;
    let papers: Vec<Paper> = match content.paper {
        Some(paper) => vec![paper],
        None if metric => vec![Paper::A4, Paper::A3, Paper::A2, Paper::A1, Paper::A0],
        None => vec![
            Paper::Letter,
            Paper::Tabloid,
            Paper::ArchC,
            Paper::ArchD,
            Paper::ArchE,
        ],
    };
    let limit = if metric { SMALLEST_METRIC } else { SMALLEST_US };
    let mut last: Option<Arrangement> = None;
    for paper in papers {
        let turns = match content.turned {
            Some(turned) => vec![turned],
            None => vec![Orientation::Landscape, Orientation::Portrait],
        };
        let Some(best) = best(content, wanted, paper, &turns) else {
            continue;
        };
        let legible = best.scale.ratio <= limit + 1e-9 || content.scale.is_some();
        if best.essential && legible {
            return best;
        }
        let better = last
            .as_ref()
            .is_none_or(|l| (!best.essential, best.scale.ratio) < (!l.essential, l.scale.ratio));
        if better {
            last = Some(best);
        }
    }
    last.unwrap_or_else(|| {
        let paper = content.paper.unwrap_or(Paper::ArchE);
        let turned = content.turned.unwrap_or(Orientation::Landscape);
        at_any_scale(content, wanted, paper, turned)
    })
}

/// The arrangement of a further sheet on the set's paper.
pub fn further(content: &Content, wanted: Wanted, set: &Arrangement) -> Arrangement {
    best(content, wanted, set.paper, &[set.turned])
        .unwrap_or_else(|| at_any_scale(content, wanted, set.paper, set.turned))
}

/// The best arrangement on a paper.
fn best(
    content: &Content,
    wanted: Wanted,
    paper: Paper,
    turns: &[Orientation],
) -> Option<Arrangement> {
    turns
        .iter()
        .flat_map(|turned| candidates(content, wanted, paper, *turned))
        .min_by(|a, b| {
            rank(a)
                .partial_cmp(&rank(b))
                .unwrap_or(std::cmp::Ordering::Equal)
        })
}

/// Lower is better: essential blocks missing, scale, upright paper, blocks left over.
fn rank(a: &Arrangement) -> (bool, f64, bool, usize) {
    let upright = a.turned == Orientation::Portrait;
    (!a.essential, a.scale.ratio, upright, a.left)
}

fn candidates(
    content: &Content,
    wanted: Wanted,
    paper: Paper,
    turned: Orientation,
) -> Vec<Arrangement> {
    let blocks: Vec<Block> = wanted
        .essential
        .iter()
        .chain(wanted.blocks)
        .cloned()
        .collect();
    let texts = match turned {
        Orientation::Landscape => [1, 2, 3].map(Text::Beside),
        Orientation::Portrait => [4, 5, 6].map(Text::Below),
    };
    texts
        .into_iter()
        .filter_map(|text| {
            let mut found = place(content, wanted, paper, turned, text);
            let zone = found.plan;
            let many = matches!(text, Text::Beside(count) if count > 1);
            if zone.width() < 90.0 || zone.height() < 70.0 || (many && zone.width() < 215.0) {
                return None;
            }
            if let Some(plan) = wanted.plan {
                found.scale = plan_scale(content, plan, zone)?;
            }
            let (_, left) = column::flow(&blocks, &found.columns);
            let (_, missing) = column::flow(wanted.essential, &found.columns);
            found.left = left.len();
            found.essential = missing.is_empty();
            Some(found)
        })
        .collect()
}

/// The scale stated, or the largest standard one at which the plan fits its zone.
fn plan_scale(content: &Content, plan: &PlanModel, zone: Rect) -> Option<Scale> {
    let room = views::plan_room(plan, zone);
    if room.width() <= 10.0 || room.height() <= 10.0 {
        return None;
    }
    let (width, height) = views::extent(plan);
    let Some(scale) = &content.scale else {
        return Scale::largest_that_fits(
            content.system,
            (width, height),
            (Mm(room.width()), Mm(room.height())),
        );
    };
    let fits =
        width / scale.ratio <= room.width() + 1e-6 && height / scale.ratio <= room.height() + 1e-6;
    (fits || content.paper.is_some()).then(|| scale.clone())
}

/// Zones for what fits at no standard scale, at whatever round one it takes.
fn at_any_scale(
    content: &Content,
    wanted: Wanted,
    paper: Paper,
    turned: Orientation,
) -> Arrangement {
    let zones = place(content, wanted, paper, turned, Text::Beside(1));
    let need = wanted.plan.map_or(1.0, |plan| {
        let (width, height) = views::extent(plan);
        (width / zones.plan.width().max(10.0)).max(height / zones.plan.height().max(10.0))
    });
    let scale = content
        .scale
        .clone()
        .unwrap_or_else(|| Scale::one_to((need * 2.0 / 100.0).ceil() * 100.0));
    Arrangement { scale, ..zones }
}

/// Zones with the text there: the plan on top, sections and detail in a strip under it. Without a
/// plan, sections stand one under the other.
fn place(
    content: &Content,
    wanted: Wanted,
    paper: Paper,
    turned: Orientation,
    text: Text,
) -> Arrangement {
    let zones = zones::zones(paper, turned, content.title.height(), text);
    let views = zones.views;
    let strip_high = match (wanted.plan, wanted.sections, wanted.detail) {
        (Some(_), [], None) => 0.0,
        (Some(_), ..) => (frame::room(paper, turned).height() * 0.27).clamp(58.0, 112.0),
        (None, ..) => views.height(),
    };
    let strip = Rect {
        top: views.bottom - strip_high,
        ..views
    };
    let detail_wide = match wanted.detail {
        Some(_) => (strip.width() * 0.46).clamp(80.0, 175.0),
        None => 0.0,
    };
    let gap = if strip_high > 0.0 { GUTTER } else { 0.0 };
    let beside = if detail_wide > 0.0 { GUTTER } else { 0.0 };
    let rows = Rect {
        right: strip.right - detail_wide - beside,
        ..strip
    };
    Arrangement {
        paper,
        turned,
        plan: Rect {
            bottom: strip.top - gap,
            ..views
        },
        sections: match wanted.plan {
            Some(_) => zones::columns(rows, wanted.sections.len(), zones.title),
            None => stacked(rows, wanted.sections.len()),
        },
        detail: Rect {
            left: strip.right - detail_wide,
            ..strip
        },
        columns: zones.columns,
        title: zones.title,
        scale: Scale::one_to(1.0),
        left: usize::MAX,
        essential: false,
    }
}

/// That many rows of a zone, one under the other, none higher than a section needs.
fn stacked(zone: Rect, count: usize) -> Vec<Rect> {
    let each = (zone.height() / count.max(1) as f64 - GUTTER).min(120.0);
    (0..count)
        .map(|i| {
            let top = zone.top + (each + GUTTER) * i as f64;
            Rect {
                top,
                bottom: top + each,
                ..zone
            }
        })
        .collect()
}
