//! The arrangement of a sheet with views: paper, turn, scale and zones.
//!
//! In: the views and blocks wanted. Out: the best arrangement. Method: every form of [`zones`] is
//! tried, in this order of worth: the views that must stand on the sheet do, the essential blocks
//! find room, the plan is as large as a standard scale allows; then text left over, empty paper and
//! small sections cost. Papers are tried from the smallest, until the plan is at least at
//! [`SMALLEST_US`] or [`SMALLEST_METRIC`] and everything essential fits. Enumeration in a fixed
//! order: the same content gives the same sheet.
//!
//! Paper millimetres, y down.

use super::super::column::Block;
use super::super::content::Content;
use super::super::detail::DetailModel;
use super::super::frame;
use super::super::key_plan;
use super::super::model::PlanModel;
use super::super::section::SectionModel;
use super::super::title_block::Standing;
use super::measured::Measured;
use super::zones::{self, Strip, Text, Zones};
use super::{strip, views};
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
    /// How many of the blocks must find room: the first ones.
    pub essential: usize,
    /// The blocks, in order.
    pub blocks: &'a [Block],
}

/// One way of laying out a sheet with views.
#[derive(Clone, Debug)]
pub struct Arrangement {
    /// The paper.
    pub paper: Paper,
    /// How it is turned.
    pub turned: Orientation,
    /// The room inside the frame, over a title block along the foot.
    pub room: Rect,
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
    /// Sections and details that do not fit their zones.
    missing: usize,
    /// Whether the essential blocks find room.
    essential: bool,
    /// Whether the edge detail is large enough to tell its layers apart.
    clear: bool,
    /// What else is to be said against it.
    cost: f64,
}

impl Arrangement {
    /// Takes the zones of sections and detail, and what is to be said against them.
    fn take(&mut self, parts: strip::Parts) {
        (self.sections, self.detail) = (parts.sections, parts.detail);
        self.missing += parts.missing;
        self.cost += parts.cost;
        self.clear = parts.clear;
    }

    /// Whether the views stand alike in both.
    pub fn same_views(&self, other: &Self) -> bool {
        self.plan == other.plan
            && self.sections == other.sections
            && self.detail == other.detail
            && self.scale == other.scale
    }

    /// Whether every view that is to stand on the sheet does, the detail large enough to be read.
    pub fn is_complete(&self) -> bool {
        self.missing == 0 && self.clear
    }

    /// Whether it is better than another one of the same paper.
    pub fn is_before(&self, other: &Self) -> bool {
        rank(self) < rank(other)
    }

    /// Whether everything that must stand on the sheet does, and can be read.
    pub fn is_good(&self, content: &Content) -> bool {
        let legible = self.scale.ratio <= smallest(content.system) + 1e-9;
        self.is_complete() && self.essential && (legible || content.scale.is_some())
    }
}

/// The smallest scale that the program chooses for a plan by itself.
pub fn smallest(system: System) -> f64 {
    match system {
        System::Metric => SMALLEST_METRIC,
        System::FeetInches | System::Dual => SMALLEST_US,
    }
}

/// The papers that the program chooses from, smallest first.
pub fn papers(system: System) -> [Paper; 5] {
    match system {
        System::Metric => [Paper::A4, Paper::A3, Paper::A2, Paper::A1, Paper::A0],
        System::FeetInches | System::Dual => [
            Paper::Letter,
            Paper::Tabloid,
            Paper::ArchC,
            Paper::ArchD,
            Paper::ArchE,
        ],
    }
}

/// The next larger paper that the program chooses from; none after the largest, and after a paper
/// that it does not choose.
pub fn next(paper: Paper, system: System) -> Option<Paper> {
    let papers = papers(system);
    let at = papers.iter().position(|each| *each == paper)?;
    papers.get(at + 1).copied()
}

/// The arrangement of the first sheet, with the paper that the whole set is drawn on.
pub fn first(content: &Content, wanted: Wanted) -> Arrangement {
    let papers: Vec<Paper> = match content.paper {
        Some(paper) => vec![paper],
        None => papers(content.system).to_vec(),
    };
    let limit = smallest(content.system);
    let measured = Measured::of(wanted);
    let mut last: Option<Arrangement> = None;
    for paper in papers {
        let Some(best) = best(content, wanted, &measured, paper, &turns(content)) else {
            continue;
        };
        let legible = best.scale.ratio <= limit + 1e-9 || content.scale.is_some();
        if best.missing == 0 && best.essential && legible {
            return best;
        }
        let better = last.as_ref().is_none_or(|l| rank(&best) < rank(l));
        if better {
            last = Some(best);
        }
    }
    last.unwrap_or_else(|| {
        let paper = content.paper.unwrap_or(papers_last(content.system));
        let turned = content.turned.unwrap_or(Orientation::Landscape);
        at_any_scale(content, wanted, paper, turned)
    })
}

fn papers_last(system: System) -> Paper {
    papers(system)[4]
}

fn turns(content: &Content) -> Vec<Orientation> {
    match content.turned {
        Some(turned) => vec![turned],
        None => vec![Orientation::Landscape, Orientation::Portrait],
    }
}

/// The arrangement of a further sheet on the set's paper.
pub fn further(content: &Content, wanted: Wanted, set: &Arrangement) -> Arrangement {
    let measured = Measured::of(wanted);
    best(content, wanted, &measured, set.paper, &[set.turned])
        .unwrap_or_else(|| at_any_scale(content, wanted, set.paper, set.turned))
}

/// Breadths and heights on paper that a part of a plan can take on a sheet of its own: with its
/// key plan and notes beside it, and below it.
pub fn part_rooms(content: &Content, paper: Paper, turned: Orientation) -> [(f64, f64); 2] {
    let title = content.title.standing(paper, turned);
    let high = match title {
        Standing::Corner(high) => high,
        Standing::Foot(_) => 0.0,
    };
    let below = high.max(key_plan::KEY.1 + PART_NOTES);
    let size = views::Size::of(&PlanModel::default());
    [Text::Beside(1, zones::NARROW), Text::Below(below)].map(|text| {
        let zones = zones::zones(paper, turned, title, (text, Strip::None));
        let room = size.room(zones.plan);
        // Course labels and dimensions stand beside the window, dimensions below or above it.
        let (wide, high) = (room.width() - 20.0, room.height() - 7.0);
        (wide.max(20.0), high.max(20.0))
    })
}

/// Height that the heading and the notes of a part take with its key plan.
const PART_NOTES: f64 = 36.0;

/// The best arrangement on a paper.
fn best(
    content: &Content,
    wanted: Wanted,
    measured: &Measured,
    paper: Paper,
    turns: &[Orientation],
) -> Option<Arrangement> {
    let strip = !wanted.sections.is_empty() || wanted.detail.is_some();
    let mut tried: Vec<Arrangement> = turns
        .iter()
        .flat_map(|turned| {
            zones::forms(paper, *turned, strip && wanted.plan.is_some())
                .into_iter()
                .filter_map(|form| {
                    place(
                        content,
                        wanted,
                        measured.plan.as_ref(),
                        (paper, *turned),
                        form,
                    )
                })
        })
        .collect();
    // Text is measured only where it can matter: at the largest scale that takes it.
    tried.sort_by(|a, b| {
        let key = |t: &Arrangement| (t.missing, t.scale.ratio);
        key(a)
            .partial_cmp(&key(b))
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    let mut best: Option<Arrangement> = None;
    for mut next in tried {
        if let Some(found) = &best
            && found.essential
            && (next.missing, next.scale.ratio) > (found.missing, found.scale.ratio)
        {
            break;
        }
        let (used, left, essential) = measured.filled(&next.columns, wanted.essential);
        next.essential = essential;
        next.cost += left + (1.0 - used);
        if best.as_ref().is_none_or(|b| rank(&next) < rank(b)) {
            best = Some(next);
        }
    }
    best
}

/// Lower is better.
fn rank(a: &Arrangement) -> (usize, bool, f64, f64) {
    (a.missing, !a.essential, a.scale.ratio, a.cost)
}

/// The scale stated when the plan fits its zone at it, or the largest standard one at which it does.
fn plan_scale(content: &Content, size: &views::Size, zone: Rect) -> Option<Scale> {
    let room = size.room(zone);
    if room.width() <= 10.0 || room.height() <= 10.0 {
        return None;
    }
    let (width, height) = size.extent;
    let Some(scale) = &content.scale else {
        return Scale::largest_that_fits(
            content.system,
            (width, height),
            (Mm(room.width()), Mm(room.height())),
        );
    };
    let fits =
        width / scale.ratio <= room.width() + 1e-6 && height / scale.ratio <= room.height() + 1e-6;
    fits.then(|| scale.clone())
}

/// Zones for what fits at no standard scale or not at the one stated, at whatever round one it
/// takes.
fn at_any_scale(
    content: &Content,
    wanted: Wanted,
    paper: Paper,
    turned: Orientation,
) -> Arrangement {
    let form = match (wanted.sections, wanted.detail) {
        ([], None) => Strip::None,
        _ => Strip::Under(58.0),
    };
    let text = Text::Beside(1, zones::NARROW);
    let title = content.title.standing(paper, turned);
    let zones = zones::zones(paper, turned, title, (text, form));
    let need = wanted.plan.map_or(1.0, |plan| {
        let (width, height) = views::Size::of(plan).extent;
        (width / zones.plan.width().max(10.0)).max(height / zones.plan.height().max(10.0))
    });
    let scale = Scale::one_to((need * 2.0 / 100.0).ceil() * 100.0);
    let parts = strip::parts(wanted, zones.strip, form, content.system, &scale);
    let mut found = unrated(paper, turned, zones);
    found.scale = scale;
    found.take(parts);
    found
}

/// Zones before their scale is chosen and their cost is known.
fn unrated(paper: Paper, turned: Orientation, zones: Zones) -> Arrangement {
    let nowhere = Rect {
        left: zones.strip.right,
        ..zones.strip
    };
    Arrangement {
        paper,
        turned,
        room: zones.room,
        plan: zones.plan,
        sections: Vec::new(),
        detail: nowhere,
        columns: zones.columns,
        title: zones.title,
        scale: Scale::one_to(1.0),
        missing: 0,
        essential: false,
        clear: true,
        cost: 0.0,
    }
}

/// One form on a paper, when it leaves room for the plan: scale, zones, and the cost of its views.
fn place(
    content: &Content,
    wanted: Wanted,
    size: Option<&views::Size>,
    (paper, turned): (Paper, Orientation),
    (text, form): (Text, Strip),
) -> Option<Arrangement> {
    let title = content.title.standing(paper, turned);
    let zones = zones::zones(paper, turned, title, (text, form));
    if let (Text::Below(high), Standing::Corner(least)) = (text, title)
        && high < least
    {
        return None;
    }
    let strip_zone = if wanted.plan.is_some() {
        zones.strip
    } else {
        zones.plan
    };
    let mut found = unrated(paper, turned, zones);
    if let Some(size) = size {
        if found.plan.width() < 90.0 || found.plan.height() < 70.0 {
            return None;
        }
        found.scale = plan_scale(content, size, found.plan)?;
        let room = frame::room(paper, turned);
        let (wide, high) = size.needed(&found.scale);
        let empty = found.plan.width() * found.plan.height() - wide * high;
        found.cost += 1.5 * (empty / (room.width() * room.height())).max(0.0);
    }
    let parts = strip::parts(wanted, strip_zone, form, content.system, &found.scale);
    found.take(parts);
    if turned == Orientation::Portrait {
        found.cost += 0.15;
    }
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::sample;

    /// Sections that find no room are missing at any scale too, and a detail too small to be read
    /// leaves a sheet incomplete.
    #[test]
    fn what_is_missing_or_faint_leaves_a_sheet_incomplete() {
        let content = sample::content();
        let sections = vec![content.sections[0].clone(); 9];
        let wanted = Wanted {
            plan: Some(&content.plan),
            sections: &sections,
            detail: content.detail.as_ref(),
            essential: 0,
            blocks: &[],
        };
        let one = Wanted {
            sections: &sections[..1],
            detail: None,
            ..wanted
        };
        let on = |wanted| at_any_scale(&content, wanted, Paper::A2, Orientation::Landscape);
        assert!(on(one).is_complete());
        assert!(!on(wanted).is_complete());
        let faint = Arrangement {
            clear: false,
            ..on(one)
        };
        assert!(!faint.is_complete());
    }
}
