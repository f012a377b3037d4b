//! The sheet of the ground and the dig, and the buried services on plan, from the computed design.
//!
//! In: the design and its general plan. Out: plan models with finished words, a further sheet with
//! contours, spot levels and depths, and the table of cut and fill.

use std::sync::Arc;

use super::column::{Block, Entry};
use super::content::FurtherSheet;
use super::from_plan::shape_rings;
use super::model::{Earth, PlanModel, Service};
use super::table::{Align, Table};
use super::theme;
use super::words::{level, long, sentence};
use crate::design::{Design, EarthPlan};
use crate::language::say;
use crate::levels::Earthwork;
use crate::units::{Volume, print};

/// The buried services on plan.
pub fn services(design: &Design) -> Vec<Service> {
    let languages = design.job.sheet.languages;
    design
        .services
        .iter()
        .map(|service| {
            let name = sentence(&service.spec.called().say(languages.first));
            Service {
                words: if service.buried.band.0.is_empty() {
                    name
                } else {
                    say!(languages, "{name}: dig by hand", name)
                },
                line: service.spec.line.clone(),
                bands: shape_rings(&service.buried.band),
            }
        })
        .collect()
}

/// The sheet of ground and dig; `None` without spot levels.
pub fn sheet(design: &Design, general: &PlanModel) -> Option<FurtherSheet> {
    let languages = design.job.sheet.languages;
    let plan = design.earth.as_ref()?;
    let model = PlanModel {
        services: general.services.clone(),
        earth: Some(earth(design, plan)),
        ..theme::common(general)
    };
    Some(FurtherSheet {
        name: say!(languages, "Ground and dig"),
        plan: Some(Arc::new(model)),
        blocks: vec![volumes(design), signs(design, plan)],
        ..FurtherSheet::default()
    })
}

fn earth(design: &Design, plan: &EarthPlan) -> Earth {
    let languages = design.job.sheet.languages;
    let depth = |mm: f64| depth_words(design, mm);
    let [least, most] = design.dig.earthwork.depth;
    let spots = plan.ground.spots().iter();
    Earth {
        contours: plan
            .contours
            .iter()
            .map(|c| (level(design, c.level), c.runs.clone()))
            .collect(),
        spots: spots
            .map(|spot| (spot.at, level(design, spot.level)))
            .collect(),
        depths: plan
            .depths
            .iter()
            .map(|figure| (figure.at, depth(figure.depth)))
            .collect(),
        extremes: vec![
            (
                least.at,
                say!(languages, "least {value}", value = depth(least.value)),
            ),
            (
                most.at,
                say!(languages, "most {value}", value = depth(most.value)),
            ),
        ],
        no_depth: plan.no_depth.clone(),
    }
}

/// A depth of dig, or of fill where the formation lies above the ground.
fn depth_words(design: &Design, mm: f64) -> String {
    let languages = design.job.sheet.languages;
    let words = long(design, mm.abs());
    if mm < -0.5 {
        say!(languages, "fill {words}", words)
    } else {
        words
    }
}

/// Cut and fill by area and in total.
fn volumes(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let system = design.job.sheet.units;
    let mut table = Table::new(&[
        (say!(languages, "Area"), Align::Left),
        (say!(languages, "Cut"), Align::Right),
        (say!(languages, "Fill"), Align::Right),
        (say!(languages, "Depth\nleast"), Align::Right),
        (say!(languages, "Depth\nmean"), Align::Right),
        (say!(languages, "Depth\nmost"), Align::Right),
    ]);
    let volume = |m3: f64| print::volume(Volume::from_m3(m3), system);
    let row = |name: &str, work: &Earthwork| {
        vec![
            name.to_string(),
            volume(work.cut_m3),
            work.fill_m3.map(volume).unwrap_or_default(),
            depth_words(design, work.depth[0].value),
            depth_words(design, work.depth_mean),
            depth_words(design, work.depth[1].value),
        ]
    };
    for (area, work) in design.areas.iter().zip(&design.dig.by_area) {
        if let Some(work) = work {
            table.row(row(&area.name, work));
        }
    }
    if design.areas.len() > 1 {
        table.row(row(&say!(languages, "All"), &design.dig.earthwork));
    }
    Block::table(say!(languages, "Cut and fill, in place"), table)
}

/// What the marks of the plan mean.
fn signs(design: &Design, plan: &EarthPlan) -> Block {
    let languages = design.job.sheet.languages;
    let mut words = vec![say!(
        languages,
        "Dots with figures, every {spacing}: depth of dig from the ground to the formation. Large dots: least and most.",
        spacing = long(design, plan.spacing)
    )];
    if let Some(interval) = plan.interval {
        words.push(say!(
            languages,
            "Thin lines: existing ground, every {interval}, straight between the spots measured.",
            interval = level(design, interval)
        ));
    }
    words.push(say!(languages, "Crosses: spot levels as measured."));
    if !plan.no_depth.is_empty() {
        words.push(
            say!(languages, "Heavy dash-dot line: the formation meets the ground; beyond it the formation is filled and compacted.")
                .to_string(),
        );
    }
    if design
        .dig
        .earthwork
        .extrapolated_share
        .is_some_and(|s| s > 1e-6)
    {
        words.push(say!(languages, "Outside the spots the ground is taken at the nearest level between them; measure there before digging."));
    }
    let entries = words.iter().map(|w| Entry::marked("–", w)).collect();
    Block::paragraphs(say!(languages, "Signs on this plan"), entries)
}
