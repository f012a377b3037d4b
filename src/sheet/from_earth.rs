//! The sheet of the ground and the dig, and the buried services on plan, from the computed design.
//!
//! In: the design and its general plan. Out: plan models with finished words, a further sheet with
//! contours, spot levels and depths, and the table of cut and fill.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::column::{Block, Entry, Parting};
use super::content::FurtherSheet;
use super::from_plan::shape_rings;
use super::legend::common_signs;
use super::model::{Earth, PlanModel, Service};
use super::plan_marks::earth;
use super::table::{Align, SYMBOL_HEIGHT, SYMBOL_WIDTH, Table};
use super::words::{self, level, long, sentence};
use super::{pen, plan, symbol, theme};
use crate::design::{Design, EarthPlan};
use crate::draw::{Pt, Stroke};
use crate::geom::Point;
use crate::language::say;
use crate::levels::water::bank::Bank;
use crate::levels::{Earthwork, Spot};
use crate::site::Corner;
use crate::units::{Volume, print};

/// A place nearer to a corner than this is at it, in millimetres.
const AT_CORNER: f64 = 5.0;
/// So many edges are listed in one place, with what is to be done there.
const WHOLE: usize = 12;

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
        spots: {
            let ground = spots.map(|spot| (spot.at, spot_words(design, spot)));
            ground.chain(on_surfaces(design)).collect()
        },
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
            let banks = design.holding_banks();
            let above = |bank: &Bank| {
                let above = long(design, bank.above);
                say!(languages, "ground {above} above finish", above)
            };
            banks.map(|bank| (bank.at, above(bank))).collect()
        },
    }
}

/// A spot level, after the name of the measured point there; a corner bears its name already.
fn spot_words(design: &Design, spot: &Spot) -> String {
    let level = level(design, spot.level);
    match point_name(design, spot.at) {
        Some(name) => format!("{name} {level}"),
        None => level,
    }
}

/// The name of the measured point at a place where no corner is lettered.
fn point_name(design: &Design, at: Point) -> Option<&str> {
    let mut corners = design.setout.iter();
    let lettered = corners.any(|row| row.at.distance(at) < AT_CORNER);
    design.job.survey.name_at(at).filter(|_| !lettered)
}

/// The levels measured on existing surfaces that the paving meets: they are not of the soil.
fn on_surfaces(design: &Design) -> Vec<(Point, String)> {
    let languages = design.job.sheet.languages;
    let fixed = design.job.levels.fixed.iter();
    let spots = fixed.flat_map(|fixed| fixed.levels.iter().map(|spot| (&fixed.surface, spot)));
    spots
        .map(|(surface, spot)| {
            let level = level(design, spot.level);
            let words = match point_name(design, spot.at) {
                Some(name) => say!(languages, "{name}: {surface} {level}", name, surface, level),
                None => format!("{surface} {level}"),
            };
            (spot.at, words)
        })
        .collect()
}

/// How soil is taken down in holes in which trees stand.
fn roots(design: &Design) -> Option<String> {
    let languages = design.job.sheet.languages;
    let trees = design.holding_banks().flat_map(|bank| &bank.trees);
    let trees: BTreeSet<usize> = trees.copied().collect();
    let structures = &design.job.structures;
    let names = trees.iter().map(|tree| structures[*tree].name.as_str());
    let tree = names.collect::<Vec<_>>().join(", ");
    (!tree.is_empty()).then(|| {
        say!(
            languages,
            "Round {tree} take the soil down by hand and cut no root; ask someone who knows trees.",
            tree
        )
    })
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
    for bank in design.holding_banks() {
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
        let edge = words::edge(design, &bank.edge);
        table.row(vec![edge, long(design, bank.above), from]);
    }
    let mut words = vec![
        say!(
            languages,
            "Outside these edges the ground stands above the finish and would hold the water. Grade it below the finish and away from the paving."
        ),
        say!(
            languages,
            "The job states no slope for it: how far back to grade is found on site, and its soil is in none of the quantities."
        ),
    ];
    words.extend(roots(design));
    if table.rows.is_empty() {
        return None;
    }
    let parting = match table.rows.len() <= WHOLE {
        true => Parting::Whole,
        false => Parting::Allowed,
    };
    let mut entries: Vec<Entry> = words.iter().map(Entry::plain).collect();
    entries.push(Entry::Table(table));
    let title = say!(languages, "Ground to grade away");
    Some(Block {
        parting,
        ..Block::paragraphs(title, entries)
    })
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

/// The key to the marks of this sheet.
fn signs(design: &Design, plan: &EarthPlan) -> Block {
    let languages = design.job.sheet.languages;
    let middle = Pt::new(SYMBOL_WIDTH / 2.0, SYMBOL_HEIGHT / 2.0);
    let across = |stroke: Stroke| {
        let [from, to] = [0.6, SYMBOL_WIDTH - 1.0].map(|x| Pt::new(x, middle.y));
        vec![pen::line(from, to, stroke)]
    };
    let mut rows = vec![
        (
            vec![earth::depth_sign(middle)],
            say!(
                languages,
                "Depth of dig from the ground to the formation, every {spacing}",
                spacing = long(design, plan.spacing)
            ),
        ),
        (
            vec![earth::extreme_sign(middle)],
            say!(languages, "Least and greatest depth"),
        ),
    ];
    if let Some(interval) = plan.interval {
        rows.push((
            across(earth::CONTOUR),
            say!(
                languages,
                "Existing ground, every {interval}, straight between the spots measured",
                interval = level(design, interval)
            ),
        ));
    }
    rows.push((
        vec![symbol::level_cross(middle)],
        say!(languages, "Spot level as measured; corner"),
    ));
    if design.holding_banks().next().is_some() {
        rows.push((
            vec![earth::bank_sign(middle)],
            say!(languages, "Ground highest above the finish of an edge"),
        ));
    }
    rows.push((across(plan::DIG), say!(languages, "Dig, edge")));
    if !plan.no_depth.is_empty() {
        rows.push((
            across(earth::NO_DEPTH),
            say!(
                languages,
                "The formation meets the ground; beyond it the formation is filled and compacted"
            ),
        ));
    }
    rows.extend(common_signs(languages));
    let mut block = Block::signs(say!(languages, "Signs on this plan"), rows);
    let outside = design.dig.earthwork.extrapolated_share;
    if outside.is_some_and(|share| share > 1e-6) {
        block.entries.insert(0, Entry::plain(say!(languages, "Outside the spots the ground is taken at the nearest level between them; measure there before digging.")));
    }
    block
}
