//! Where areas meet and where the water leaves, in the report.

use serde_json::{Map, Value, json};

use super::{figure, mm, object, place};
use crate::design::Design;
use crate::design::parts::half_panel;
use crate::levels::Outlet;
use crate::levels::water::OUTLETS;

/// The shared edges: step, kind, change of slope and by how much a panel rocks on it.
pub fn joined_edges(design: &Design) -> Value {
    if design.meets.is_empty() {
        return Value::Null;
    }
    let half = half_panel(&design.job);
    design
        .meets
        .iter()
        .map(|meet| {
            let ends = [meet.run.first(), meet.run.last()];
            let ends: Vec<Value> = ends.iter().flatten().map(|at| place(**at)).collect();
            let level_at: Vec<Value> = meet.level_at().into_iter().map(place).collect();
            object([
                ("edge", json!(meet.edge)),
                (
                    "areas",
                    json!(meet.areas.map(|area| &design.areas[area].name)),
                ),
                ("kind", json!(meet.kind.word())),
                ("length_m", figure(meet.length() / 1e3)),
                ("ends_mm", json!(ends)),
                ("step_mm", json!(meet.ends().map(mm))),
                ("greatest_step_mm", mm(meet.greatest().0)),
                (
                    "level_at_mm",
                    if level_at.is_empty() {
                        Value::Null
                    } else {
                        json!(level_at)
                    },
                ),
                ("slope_change_percent", figure(meet.slope_change * 100.0)),
                ("rocking_mm", mm(meet.rocking(half))),
            ])
        })
        .collect()
}

/// Where the water of the paving leaves.
pub fn water(design: &Design) -> Value {
    let water = &design.water;
    let shares: Map<String, Value> = OUTLETS
        .iter()
        .map(|word| ((*word).to_string(), figure(water.share(word))))
        .collect();
    let outlets: Vec<Value> = water
        .outlets
        .iter()
        .map(|drained| {
            let (area, edge, structure) = match &drained.outlet {
                Outlet::Open { area, edge }
                | Outlet::Flush { area, edge }
                | Outlet::Wall { area, edge } => (Some(*area), Some(edge), None),
                Outlet::Hole {
                    area,
                    edge,
                    structure,
                } => (Some(*area), Some(edge), *structure),
                Outlet::Held { area, .. } => (Some(*area), None, None),
                Outlet::Drain(_) => (None, None, None),
            };
            let drain = match drained.outlet {
                Outlet::Drain(index) => Some(&design.job.drains[index].name),
                _ => None,
            };
            let into = structure.map(|index| &design.job.structures[index].name);
            object([
                ("to", json!(drained.outlet.word())),
                ("area", json!(area.map(|index| &design.areas[index].name))),
                ("edge", json!(edge)),
                ("structure", json!(into)),
                ("drain", json!(drain)),
                ("area_m2", figure(drained.area_mm2 / 1e6)),
                ("share", figure(drained.share)),
                ("at_mm", place(drained.at)),
            ])
        })
        .collect();
    json!({
        "area_m2": figure(water.area_mm2 / 1e6),
        "shares": shares,
        "outlets": outlets,
    })
}

/// The rain that drains are to take.
pub fn rainfall(design: &Design) -> Value {
    let Some(rain) = design.job.rainfall else {
        return Value::Null;
    };
    json!({"mm_per_h": figure(rain.mm_per_h), "runoff": figure(rain.runoff)})
}

/// The drains.
pub fn drains(design: &Design) -> Value {
    if design.drains.is_empty() {
        return Value::Null;
    }
    let drains = design.job.drains.iter().zip(&design.drains);
    drains
        .map(|(spec, drain)| {
            let places: Vec<Value> = spec.kind.places().into_iter().map(place).collect();
            let levels = |levels: &[f64]| -> Value {
                if levels.is_empty() {
                    return Value::Null;
                }
                levels.iter().map(|level| mm(*level)).collect()
            };
            let grate = drain.grate.is_some();
            let count = |count: usize| if grate { json!(count) } else { Value::Null };
            let leaves = drain
                .leaves
                .map(|outlet| design.water.outlets[outlet].outlet.word());
            object([
                ("name", json!(spec.name)),
                ("kind", json!(spec.kind.word())),
                ("at_mm", json!(places)),
                ("finish_mm", levels(&drain.finish)),
                ("rim_mm", levels(&drain.rim)),
                ("set_down_mm", spec.kind.set_down().map_or(Value::Null, mm)),
                (
                    "catchment_m2",
                    if grate {
                        figure(drain.catchment_m2)
                    } else {
                        Value::Null
                    },
                ),
                ("roof_m2", figure(drain.roof_m2)),
                ("flow_l_per_s", drain.flow.map_or(Value::Null, figure)),
                ("pavers_cut", count(drain.pavers_cut)),
                ("panels_cut", count(drain.panels_cut)),
                ("leaves", json!(leaves)),
            ])
        })
        .collect()
}
