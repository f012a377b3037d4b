//! The way of the water from the computed design: words along shared edges, drains on the plan, and
//! the tables of both and of where the water leaves.
//!
//! In: design. Out: marks of the plan's model; blocks of the set-out sheet.

use super::column::Block;
use super::model::{Drain, SharedEdge};
use super::table::{Align, Table};
use super::words::{level, long};
use crate::design::Design;
use crate::levels::{Meet, MeetKind, Outlet};
use crate::units::{Area, Fall, Flow, Rain, print};

/// Steps within this are none, in millimetres.
const NO_STEP: f64 = 0.5;

/// The shared edges with their words; none along an edge that one plane runs over without a step.
pub fn shared_edges(design: &Design) -> Vec<SharedEdge> {
    let shown = design.meets.iter().filter(|meet| is_shown(meet));
    shown
        .map(|meet| SharedEdge {
            name: meet.edge.clone(),
            run: meet.run.clone(),
            middle: meet.middle(),
            words: words(design, meet),
        })
        .collect()
}

fn is_shown(meet: &Meet) -> bool {
    meet.kind != MeetKind::Even || meet.greatest().0.abs() > NO_STEP
}

/// What is lettered along a shared edge.
fn words(design: &Design, meet: &Meet) -> String {
    match (step(design, meet), meet.kind) {
        (None, kind) => kind.word().to_string(),
        (Some(step), MeetKind::Even | MeetKind::Change) => format!("step {step}"),
        (Some(step), kind) => format!("{}, step {step}", kind.word()),
    }
}

/// The step in words: its height, or from least to most; none without a step.
fn step(design: &Design, meet: &Meet) -> Option<String> {
    let most = meet.greatest().0.abs();
    if most <= NO_STEP {
        return None;
    }
    let heights = meet.steps.iter().map(|step| step.abs());
    let least = match meet.level_at().is_empty() {
        true => heights.fold(f64::INFINITY, f64::min),
        false => 0.0,
    };
    if most - least <= NO_STEP {
        return Some(long(design, most));
    }
    Some(format!("{} to {}", long(design, least), long(design, most)))
}

/// The drains with their names and rims.
pub fn drains(design: &Design) -> Vec<Drain> {
    let drains = design.job.drains.iter().zip(&design.drains);
    drains
        .map(|(spec, drain)| {
            let places = spec.kind.places();
            let last = places.last().copied().unwrap_or_default();
            let mut words = vec![spec.name.clone()];
            words.extend(rim(design, &drain.rim).map(|rim| format!("rim {rim}")));
            Drain {
                grate: drain.grate.map(Vec::from).unwrap_or_default(),
                at: places.first().map_or(last, |first| first.midpoint(last)),
                words,
            }
        })
        .collect()
}

/// A rim in words: its level, or from end to end.
fn rim(design: &Design, rim: &[f64]) -> Option<String> {
    match rim {
        [] => None,
        [from, to] if (from - to).abs() > NO_STEP => Some(format!(
            "{} to {}",
            level(design, *from),
            level(design, *to)
        )),
        [first, ..] => Some(level(design, *first)),
    }
}

/// Where areas meet, the drains, and where the water leaves; empty where the whole paving is one
/// plane without a drain whose water leaves over one edge.
pub fn blocks(design: &Design) -> Vec<Block> {
    let mut blocks = Vec::new();
    blocks.extend(meets_block(design));
    blocks.extend(drains_block(design));
    if !blocks.is_empty() || design.water.outlets.len() > 1 {
        blocks.push(leaves_block(design));
    }
    blocks
}

fn meets_block(design: &Design) -> Option<Block> {
    let shown: Vec<&Meet> = design.meets.iter().filter(|meet| is_shown(meet)).collect();
    if shown.is_empty() {
        return None;
    }
    let mut table = Table::new(&[
        ("Edge", Align::Left),
        ("Between", Align::Stretch),
        ("It is a", Align::Left),
        ("Step", Align::Left),
        ("Higher", Align::Left),
        ("Change\nof fall", Align::Right),
    ]);
    for meet in shown {
        let [a, b] = meet.areas.map(|area| design.areas[area].name.as_str());
        let higher = match meet.greatest().0 {
            most if most.abs() <= NO_STEP => "",
            _ if !meet.level_at().is_empty() => "changes over",
            most if most > 0.0 => a,
            _ => b,
        };
        table.row(vec![
            meet.edge.clone(),
            format!("{a} and {b}"),
            meet.kind.word().to_string(),
            step(design, meet).unwrap_or_else(|| "none".to_string()),
            higher.to_string(),
            print::percent(Fall::from_ratio(meet.slope_change.abs())),
        ]);
    }
    Some(Block::table("Where areas meet", table))
}

fn drains_block(design: &Design) -> Option<Block> {
    if design.drains.is_empty() {
        return None;
    }
    let system = design.job.sheet.units;
    let mut heads = vec![
        ("Drain", Align::Stretch),
        ("Kind", Align::Left),
        ("Finish\nlevel", Align::Right),
        ("Rim\nlevel", Align::Right),
        ("Paving\nto it", Align::Right),
        ("Roof\nto it", Align::Right),
    ];
    if design.job.rainfall.is_some() {
        heads.push(("Flow", Align::Right));
    }
    heads.extend([("Pavers\ncut", Align::Right), ("Panels\ncut", Align::Right)]);
    let mut table = Table::new(&heads);
    let area = |m2: f64| print::area(Area::from_m2(m2), system);
    for (spec, drain) in design.job.drains.iter().zip(&design.drains) {
        let grate = drain.grate.is_some();
        let only = |words: String| if grate { words } else { String::new() };
        let mut cells = vec![
            spec.name.clone(),
            spec.kind.word().to_string(),
            rim(design, &drain.finish).unwrap_or_default(),
            rim(design, &drain.rim).unwrap_or_default(),
            only(area(drain.catchment_m2)),
            if drain.roof_m2 > 0.0 {
                area(drain.roof_m2)
            } else {
                String::new()
            },
        ];
        if design.job.rainfall.is_some() {
            let flow = drain
                .flow
                .map(|flow| print::flow(Flow::from_l_per_s(flow), system));
            cells.push(flow.unwrap_or_default());
        }
        cells.push(only(drain.pavers_cut.to_string()));
        cells.push(only(drain.panels_cut.to_string()));
        table.row(cells);
    }
    let title = match design.job.rainfall {
        Some(rain) => format!(
            "Drains; flow by the rational method at {}, runoff {}",
            print::rain(Rain::from_mm_per_h(rain.mm_per_h), system),
            print::number(rain.runoff, 2)
        ),
        None => "Drains".to_string(),
    };
    Some(Block::table(&title, table))
}

fn leaves_block(design: &Design) -> Block {
    let mut table = Table::new(&[
        ("Water leaves", Align::Stretch),
        ("Paving", Align::Right),
        ("Share", Align::Right),
    ]);
    let name = |area: usize| &design.areas[area].name;
    for drained in &design.water.outlets {
        if drained.area_mm2 <= 0.0 {
            continue;
        }
        let to = match &drained.outlet {
            Outlet::Open { area, edge } => format!("over the open edge {edge} of {}", name(*area)),
            Outlet::Flush { area, edge } => {
                format!("over the flush edge {edge} of {}", name(*area))
            }
            Outlet::Wall { area, edge } => format!("to the wall at {edge} of {}", name(*area)),
            Outlet::Hole {
                edge,
                structure: Some(index),
                ..
            } => {
                format!("into {} at {edge}", design.job.structures[*index].name)
            }
            Outlet::Hole { area, edge, .. } => {
                format!("into the hole at {edge} of {}", name(*area))
            }
            Outlet::Drain(index) => format!("into {}", design.job.drains[*index].name),
            Outlet::Held { area, .. } => format!("nowhere: held at a low point of {}", name(*area)),
        };
        table.row(vec![
            to,
            print::area(
                Area::from_m2(drained.area_mm2 / 1e6),
                design.job.sheet.units,
            ),
            print::percent(Fall::from_ratio(drained.share)),
        ]);
    }
    Block::table("Where the water leaves", table)
}
