//! The way of the water from the computed design: words along shared edges, drains on the plan, and
//! the tables of both and of where the water leaves.
//!
//! In: design. Out: marks of the plan's model; blocks of the set-out sheet.

use super::column::Block;
use super::model::{Drain, SharedEdge};
use super::table::{Align, Table};
use super::words::{level, long, sentence};
use crate::design::Design;
use crate::geom::SAGITTA;
use crate::language::say;
use crate::levels::{Meet, MeetKind, Outlet};
use crate::site::edge_named;
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

/// The existing surfaces that edges meet, with their names along them.
pub fn surfaces(design: &Design) -> Vec<SharedEdge> {
    let fixed = design.job.levels.fixed.iter();
    let surfaces = fixed.filter_map(|fixed| {
        let (_, side) = design.job.site.edge(&fixed.edge)?;
        Some(SharedEdge {
            name: fixed.edge.clone(),
            run: side.edge.flatten(SAGITTA),
            middle: side.edge.point_at(0.5),
            words: sentence(&fixed.surface),
        })
    });
    surfaces.collect()
}

fn is_shown(meet: &Meet) -> bool {
    meet.kind != MeetKind::Even || meet.greatest().0.abs() > NO_STEP
}

/// What is lettered along a shared edge.
fn words(design: &Design, meet: &Meet) -> String {
    let languages = design.job.sheet.languages;
    let step = step(design, meet).map(|step| match meet.is_built_step() {
        true => say!(languages, "{step}, held by others", step),
        false => step,
    });
    match (step, meet.kind) {
        (None, kind) => kind.phrase().say(languages),
        (Some(step), MeetKind::Even | MeetKind::Change) => say!(languages, "step {step}", step),
        (Some(step), kind) => say!(languages, "{word}, step {step}", word = kind.phrase(), step),
    }
}

/// The step in words: its height, or from least to most; none without a step.
fn step(design: &Design, meet: &Meet) -> Option<String> {
    let languages = design.job.sheet.languages;
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
    Some(say!(
        languages,
        "{least} to {most}",
        least = long(design, least),
        most = long(design, most)
    ))
}

/// The drains with their names and rims.
pub fn drains(design: &Design) -> Vec<Drain> {
    let languages = design.job.sheet.languages;
    let drains = design.job.drains.iter().zip(&design.drains);
    drains
        .map(|(spec, drain)| {
            let places = spec.kind.places();
            let last = places.last().copied().unwrap_or_default();
            let mut words = vec![spec.name.clone()];
            words.extend(rim(design, &drain.rim).map(|rim| say!(languages, "rim {rim}", rim)));
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
    let languages = design.job.sheet.languages;
    match rim {
        [] => None,
        [from, to] if (from - to).abs() > NO_STEP => Some(say!(
            languages,
            "{from} to {to}",
            from = level(design, *from),
            to = level(design, *to)
        )),
        [first, ..] => Some(level(design, *first)),
    }
}

/// Where areas meet, the drains, and where the water leaves, which whoever checks the work asks for
/// even where it is one edge; empty where there is none to trace.
pub fn blocks(design: &Design) -> Vec<Block> {
    let mut blocks = Vec::new();
    blocks.extend(meets_block(design));
    blocks.extend(drains_block(design));
    if !design.water.outlets.is_empty() {
        blocks.push(leaves_block(design));
    }
    blocks
}

fn meets_block(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    let shown: Vec<&Meet> = design.meets.iter().filter(|meet| is_shown(meet)).collect();
    if shown.is_empty() {
        return None;
    }
    let mut table = Table::new(&[
        (say!(languages, "Edge"), Align::Left),
        (say!(languages, "Between"), Align::Stretch),
        (say!(languages, "It is a"), Align::Left),
        (say!(languages, "Step"), Align::Left),
        (say!(languages, "Higher"), Align::Left),
        (say!(languages, "Change\nof fall"), Align::Right),
    ]);
    for meet in shown {
        let [a, b] = meet.areas.map(|area| design.areas[area].name.as_str());
        let higher = match meet.greatest().0 {
            most if most.abs() <= NO_STEP => String::new(),
            _ if !meet.level_at().is_empty() => say!(languages, "changes over"),
            most if most > 0.0 => a.to_string(),
            _ => b.to_string(),
        };
        table.row(vec![
            meet.edge.clone(),
            say!(languages, "{a} and {b}", a, b),
            meet.kind.phrase().say(languages),
            step(design, meet).unwrap_or_else(|| say!(languages, "none")),
            higher,
            print::percent(Fall::from_ratio(meet.slope_change.abs())),
        ]);
    }
    Some(Block::table(say!(languages, "Where areas meet"), table))
}

fn drains_block(design: &Design) -> Option<Block> {
    let languages = design.job.sheet.languages;
    if design.drains.is_empty() {
        return None;
    }
    let system = design.job.sheet.units;
    let mut heads = vec![
        (say!(languages, "Drain"), Align::Stretch),
        (say!(languages, "Kind"), Align::Left),
        (say!(languages, "Finish\nlevel"), Align::Right),
        (say!(languages, "Rim\nlevel"), Align::Right),
        (say!(languages, "Paving\nto it"), Align::Right),
        (say!(languages, "Roof\nto it"), Align::Right),
    ];
    if design.job.rainfall.is_some() {
        heads.push((say!(languages, "Flow"), Align::Right));
    }
    heads.extend([
        (say!(languages, "Pavers\ncut"), Align::Right),
        (say!(languages, "Panels\ncut"), Align::Right),
    ]);
    let mut table = Table::new(&heads);
    let area = |m2: f64| print::area(Area::from_m2(m2), system);
    for (spec, drain) in design.job.drains.iter().zip(&design.drains) {
        let grate = drain.grate.is_some();
        let only = |words: String| if grate { words } else { String::new() };
        let mut cells = vec![
            spec.name.clone(),
            spec.kind.phrase().say(languages),
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
        Some(rain) => say!(
            languages,
            "Drains; flow by the rational method at {mm_per_h}, runoff {runoff}",
            mm_per_h = print::rain(Rain::from_mm_per_h(rain.mm_per_h), system),
            runoff = print::number(rain.runoff, 2)
        ),
        None => say!(languages, "Drains"),
    };
    Some(Block::table(&title, table))
}

fn leaves_block(design: &Design) -> Block {
    let languages = design.job.sheet.languages;
    let mut table = Table::new(&[
        (say!(languages, "Water leaves"), Align::Stretch),
        (say!(languages, "Paving"), Align::Right),
        (say!(languages, "Share"), Align::Right),
    ]);
    let name = |area: usize| &design.areas[area].name;
    for drained in &design.water.outlets {
        if drained.area_mm2 <= 0.0 {
            continue;
        }
        let to = match &drained.outlet {
            Outlet::Open { area, edge } => say!(
                languages,
                "over the open edge {edge} of {area}",
                edge = edge_named(edge),
                area = name(*area)
            ),
            Outlet::Flush { area, edge } => {
                say!(
                    languages,
                    "over the flush edge {edge} of {area}",
                    edge = edge_named(edge),
                    area = name(*area)
                )
            }
            Outlet::Wall { area, edge } => say!(
                languages,
                "to the wall at {edge} of {area}",
                edge = edge_named(edge),
                area = name(*area)
            ),
            Outlet::Hole {
                edge,
                structure: Some(index),
                ..
            } => {
                say!(
                    languages,
                    "into {name} at {edge}",
                    name = design.job.structures[*index].name,
                    edge = edge_named(edge)
                )
            }
            Outlet::Hole { area, edge, .. } => {
                say!(
                    languages,
                    "into the hole at {edge} of {area}",
                    edge = edge_named(edge),
                    area = name(*area)
                )
            }
            Outlet::Drain(index) => say!(
                languages,
                "into {name}",
                name = design.job.drains[*index].name
            ),
            Outlet::Held { area, .. } => say!(
                languages,
                "nowhere: held at a low point of {area}",
                area = name(*area)
            ),
        };
        table.row(vec![
            to,
            print::area(
                Area::from_m2(drained.area_mm2 / 1e6),
                design.job.sheet.units,
            ),
            // One place throughout, so that the column can be added up.
            format!("{:.1}%", drained.share * 100.0),
        ]);
    }
    Block::table(say!(languages, "Where the water leaves"), table)
}
