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
use crate::levels::water::bank::Bank;
use crate::site::{Corner, ROUND};
use crate::units::{Volume, print};

/// A place nearer to a corner than this is at it, in millimetres.
const AT_CORNER: f64 = 5.0;

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
        blocks: [
            Some(volumes(design)),
            banks(design),
            Some(signs(design, plan)),
        ]
        .into_iter()
        .flatten()
        .collect(),
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
        banks: {
            let banks = design.banks.iter().filter(|bank| bank.holds());
            let above = |bank: &Bank| {
                let above = long(design, bank.above);
                say!(languages, "ground {above} above finish", above)
            };
            banks.map(|bank| (bank.at, above(bank))).collect()
        },
    }
}

/// The ground that is to be graded away outside the edges, edge by edge; none where it lies low
/// enough. How far back it is graded follows from a slope, and a job states none: the crew finds it.
fn banks(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let mut table = Table::new(&[
        (say!(languages, "Edge"), Align::Left),
        (say!(languages, "Most above\nthe finish"), Align::Right),
        (say!(languages, "There"), Align::Right),
    ]);
    let site = &design.job.site;
    for bank in design.banks.iter().filter(|bank| bank.holds()) {
        let ends = site.edge(&bank.edge).and_then(|(_, edge)| edge.corners);
        let from = match ends {
            Some(ends) => {
                let [first, last] = ends.map(|end| &site.corners[end]);
                let far = |corner: &Corner| corner.at.distance(bank.at);
                let corner = if far(last) < far(first) { last } else { first };
                let away = far(corner);
                match away < AT_CORNER {
                    true => say!(languages, "at {corner}", corner = corner.name),
                    false => say!(
                        languages,
                        "{away} from {corner}",
                        away = long(design, away),
                        corner = corner.name
                    ),
                }
            }
            None => String::new(),
        };
        let edge = match bank.edge.as_str() {
            ROUND => say!(languages, "circle"),
            edge => edge.to_owned(),
        };
        table.row(vec![edge, long(design, bank.above), from]);
    }
    let words = [
        say!(
            languages,
            "Outside these edges the ground stands above the finish and would hold the water. Grade it below the finish and away from the paving."
        ),
        say!(
            languages,
            "The job states no slope for it: how far back to grade is found on site."
        ),
    ];
    if table.rows.is_empty() {
        return None;
    }
    let mut entries: Vec<Entry> = words.iter().map(Entry::plain).collect();
    entries.push(Entry::Table(table));
    Some(Block::paragraphs(
        say!(languages, "Ground to grade away"),
        entries,
    ))
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
    if design.banks.iter().any(Bank::holds) {
        words.push(say!(
            languages,
            "Rings: where the ground stands highest above the finish of an edge."
        ));
    }
    words.push(say!(languages, "Dashed line: edge of the dig."));
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
