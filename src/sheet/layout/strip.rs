//! Sections and edge detail in their strip: beside one another under the plan, one under the other
//! beside it.
//!
//! In: what is wanted and the strip's zone. Out: a zone for each, and what is to be said against
//! them. Method: under a plan the detail is given the breadth of each of the largest standard
//! scales in turn, as far as the sections are left what they need, and the best is kept; a layer of
//! the build-up is about an inch, and is only seen at a scale of that order.
//!
//! Paper millimetres, y down.

use super::arrange::Wanted;
use super::views;
use super::zones::{self, GUTTER, Strip};
use crate::draw::paper::Rect;
use crate::draw::scale::Scale;
use crate::sheet::section::TOLD_APART;
use crate::units::System;

/// Least breadth of a section's zone: its title and the words of its marks take that.
const SECTION: f64 = 60.0;
/// Largest and smallest scale at which the layers of a detail are looked for, as ratios.
const DETAIL: [f64; 2] = [5.0, 12.5];
/// Smallest scale of a detail that still tells its layers apart, as a ratio: 20 mm are 0.8 mm on
/// paper.
const FAINT: f64 = 25.0;
/// The scale of a detail that costs nothing, as a ratio.
const CLEAR: f64 = 8.0;
/// Breadth that a detail takes of its strip, where no other is better, and its bounds.
const SHARE: (f64, f64, f64) = (0.46, 80.0, 175.0);

/// Heights of a detail that stands under the sections, as shares of theirs.
const HEIGHTS: [f64; 4] = [1.0, 1.08, 1.15, 1.3];

/// Zones of the sections and of the detail.
#[derive(Clone, Debug)]
pub struct Parts {
    /// The sections' zones, in order.
    pub sections: Vec<Rect>,
    /// The edge detail's zone.
    pub detail: Rect,
    /// Sections and details that do not fit their zones.
    pub missing: usize,
    /// Whether the detail is large enough to tell its layers apart.
    pub clear: bool,
    /// What else is to be said against them.
    pub cost: f64,
}

/// The best zones in a strip, beside a plan at a scale.
pub fn parts(wanted: Wanted, zone: Rect, strip: Strip, system: System, plan: &Scale) -> Parts {
    let key = |parts: &Parts| (parts.missing, parts.cost);
    let better = |best: Parts, next: Parts| if key(&next) < key(&best) { next } else { best };
    let best = |tried: Vec<(Vec<Rect>, Rect)>| {
        let rated = tried
            .into_iter()
            .map(|zones| rated(wanted, zones, system, plan));
        rated.reduce(better).expect("something is tried")
    };
    let beside = matches!(strip, Strip::Under(_)) && wanted.plan.is_some();
    if !beside {
        return best(HEIGHTS.map(|share| stacked(wanted, zone, share)).to_vec());
    }
    let usual = (zone.width() * SHARE.0).clamp(SHARE.1, SHARE.2);
    let mut breadths = match (wanted.detail, wanted.sections) {
        (Some(_), []) => vec![zone.width()],
        (Some(_), _) => vec![usual],
        (None, _) => vec![0.0],
    };
    if let (Some(detail), [_, ..]) = (wanted.detail, wanted.sections) {
        let sections = (SECTION + GUTTER) * wanted.sections.len() as f64;
        let scales = Scale::standard(system).into_iter();
        let scales = scales.filter(|scale| (DETAIL[0]..=DETAIL[1]).contains(&scale.ratio));
        let wide = scales.map(|scale| detail.breadth(&scale));
        breadths.extend(wide.filter(|wide| *wide <= zone.width() - sections));
    }
    let zones = breadths
        .into_iter()
        .map(|wide| side_by_side(wanted, zone, wide));
    best(zones.collect())
}

/// Zones side by side, the detail of that breadth at the right.
fn side_by_side(wanted: Wanted, zone: Rect, wide: f64) -> (Vec<Rect>, Rect) {
    let gap = if wide > 0.0 { GUTTER } else { 0.0 };
    let rest = Rect {
        right: zone.right - wide - gap,
        ..zone
    };
    let detail = Rect {
        left: zone.right - wide,
        ..zone
    };
    let nowhere = nowhere(zone).grown(-1e6);
    (zones::columns(rest, wanted.sections.len(), nowhere), detail)
}

/// Zones one under the other, the detail that many times as high as a section.
fn stacked(wanted: Wanted, zone: Rect, share: f64) -> (Vec<Rect>, Rect) {
    let views = wanted.sections.len() + usize::from(wanted.detail.is_some());
    let high = match wanted.plan {
        Some(_) => zone,
        None => Rect {
            bottom: zone.bottom.min(zone.top + 130.0 * views as f64),
            ..zone
        },
    };
    let mut shares = vec![1.0; wanted.sections.len()];
    if wanted.detail.is_some() {
        shares.push(share);
    }
    let mut rows = zones::rows(high, &shares);
    let detail = match wanted.detail {
        Some(_) => rows.pop().unwrap_or(nowhere(zone)),
        None => nowhere(zone),
    };
    (rows, detail)
}

fn nowhere(zone: Rect) -> Rect {
    Rect {
        left: zone.right,
        ..zone
    }
}

/// Zones with what is to be said against them.
fn rated(
    wanted: Wanted,
    (sections, detail): (Vec<Rect>, Rect),
    system: System,
    plan: &Scale,
) -> Parts {
    let (mut missing, mut cost, mut clear) = (0, 0.0, true);
    for (model, zone) in wanted.sections.iter().zip(&sections) {
        let wide = zone.width() >= SECTION;
        match views::section_fit(model, *zone, system).filter(|_| wide) {
            Some(fit) => {
                let small = (fit.scale.ratio / plan.ratio.max(1.0)).max(1e-3);
                let thin = (TOLD_APART / fit.layers.max(1e-3)).log2();
                cost += 0.2 * small.log2().clamp(-1.0, 3.0) + 0.15 * thin.clamp(0.0, 3.0);
            }
            None => missing += 1,
        }
    }
    if let Some(model) = wanted.detail {
        match views::detail_fit(model, detail, system) {
            Some(scale) => {
                let small = (scale.ratio / CLEAR).max(1e-3).log2().max(-1.0);
                let unclear = if scale.ratio > DETAIL[1] { 0.5 } else { 0.0 };
                let room = views::over_title(detail);
                let unnamed = if model.is_worded(&scale, room) {
                    0.0
                } else {
                    0.5
                };
                cost += 0.35 * small + unclear + unnamed;
                clear = scale.ratio <= FAINT + 1e-9;
            }
            None => missing += 1,
        }
    }
    Parts {
        sections,
        detail,
        missing,
        clear,
        cost,
    }
}
