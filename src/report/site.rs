//! The job and its site in the report: who and where, points, areas, the paved union.

use serde_json::{Value, json};

use super::{figure, levels, mm, object};
use crate::design::Design;
use crate::job::{Assumed, Info, Job};
use crate::paving::{Search, Tally};
use crate::site::EdgeKind;
use crate::survey::Residual;

/// Who, where, when.
pub fn info(info: &Info) -> Value {
    let revisions: Vec<Value> = info
        .revisions
        .iter()
        .map(|revision| {
            object([
                ("mark", json!(revision.mark)),
                ("date", json!(revision.date)),
                ("note", json!(revision.note)),
            ])
        })
        .collect();
    object([
        ("title", json!(info.title)),
        ("number", json!(info.number)),
        ("client", json!(info.client)),
        ("site", json!(info.site)),
        ("prepared_by", json!(info.prepared_by)),
        ("checked_by", json!(info.checked_by)),
        ("date", json!(info.date)),
        ("revisions", json!(revisions)),
    ])
}

/// What was assumed or found.
pub fn assumed(entries: &[Assumed]) -> Value {
    entries
        .iter()
        .map(|entry| json!({"key": entry.key, "value": entry.value}))
        .collect()
}

/// The measured points.
pub fn points(job: &Job) -> Value {
    job.survey
        .points
        .iter()
        .map(|point| {
            object([
                ("name", json!(point.name)),
                ("x_mm", mm(point.at.x)),
                ("y_mm", mm(point.at.y)),
                ("how", json!(point.how.word())),
                (
                    "crossing_deg",
                    point.crossing_deg.map_or(Value::Null, figure),
                ),
                ("residuals", residuals(&point.residuals)),
            ])
        })
        .collect()
}

/// Further tapes to a point.
fn residuals(residuals: &[Residual]) -> Value {
    if residuals.is_empty() {
        return Value::Null;
    }
    residuals
        .iter()
        .map(|residual| {
            json!({
                "from": residual.from,
                "measured_mm": mm(residual.measured_mm),
                "residual_mm": mm(residual.residual_mm()),
            })
        })
        .collect()
}

/// The traverse and its legs.
pub fn traverse(job: &Job) -> Value {
    let Some(traverse) = &job.survey.traverse else {
        return Value::Null;
    };
    let legs: Vec<Value> = traverse
        .legs
        .iter()
        .map(|leg| {
            json!({
                "to": leg.to,
                "bearing_deg": figure(leg.adjusted_bearing_deg()),
                "distance_mm": mm(leg.adjusted_distance_mm()),
            })
        })
        .collect();
    object([
        (
            "misclosure_mm",
            traverse.misclosure_mm.map_or(Value::Null, mm),
        ),
        ("ratio", traverse.ratio.map_or(Value::Null, figure)),
        ("legs", json!(legs)),
    ])
}

/// The areas.
pub fn areas(design: &Design) -> Value {
    design
        .areas
        .iter()
        .zip(&design.job.paving)
        .map(|(area, paving)| {
            let bond = paving.bond.name();
            object([
                ("name", json!(area.name)),
                ("area_m2", figure(area.area_m2)),
                ("perimeter_m", figure(area.perimeter_m)),
                (
                    "fall",
                    object([
                        ("percent", figure(area.plane.fall() * 100.0)),
                        (
                            "towards_deg",
                            area.plane.towards_deg().map_or(Value::Null, figure),
                        ),
                    ]),
                ),
                ("buildup", levels::layers(area.build_up)),
                ("bond", json!(bond)),
                ("search", area.paving.search.map_or(Value::Null, search)),
            ])
        })
        .collect()
}

/// What the search for the place of a bond found.
fn search(search: Search) -> Value {
    let tally = |tally: Tally| json!({"slivers": tally.slivers, "cuts": tally.cuts});
    json!({
        "shift_mm": search.shift.map(mm),
        "tried": search.tried,
        "fixed": tally(search.fixed),
        "best": tally(search.best),
    })
}

/// The paved union.
pub fn paved(design: &Design) -> Value {
    let edges = &design.extents.edges_mm;
    let metres = |kind: EdgeKind| edges.get(&kind).map_or(Value::Null, |mm| figure(mm / 1e3));
    json!({
        "area_m2": figure(design.extents.paved.area_mm2 / 1e6),
        "perimeter_m": figure(design.extents.paved.perimeter_mm / 1e3),
        "edges_m": object([
            ("open", metres(EdgeKind::Open)),
            ("wall", metres(EdgeKind::Wall)),
            ("flush", metres(EdgeKind::Flush)),
            ("joined", metres(EdgeKind::Joined)),
        ]),
    })
}
