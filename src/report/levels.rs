//! Levels in the report: build-up and dig.

use serde_json::{Value, json};

use super::{figure, mm, object, place};
use crate::design::Design;
use crate::levels::{BuildUp, Earthwork};

/// The layers under the finish. Where areas differ each area has its own, and the first area's
/// stands here.
pub fn build_up(design: &Design) -> Value {
    design
        .areas
        .first()
        .map_or(Value::Null, |area| layers(area.build_up))
}

/// One build-up.
pub fn layers(build_up: BuildUp) -> Value {
    json!({
        "paver_mm": mm(build_up.paver),
        "panel_mm": mm(build_up.panel),
        "bedding_loose_mm": mm(build_up.bedding_loose),
        "bedding_compacted_mm": mm(build_up.bedding_compacted),
        "total_mm": mm(build_up.total()),
    })
}

/// The dig.
pub fn dig(design: &Design) -> Value {
    let dig = &design.dig;
    let work = &dig.earthwork;
    let own = [
        ("area_m2", figure(design.extents.dig.area_mm2 / 1e6)),
        ("perimeter_m", figure(design.extents.dig.perimeter_mm / 1e3)),
        (
            "formation_level_mm",
            json!({"min": mm(work.formation[0].value), "max": mm(work.formation[1].value)}),
        ),
        ("spoil_loose_m3", figure(dig.spoil_loose_m3)),
        ("loads", json!(dig.loads)),
        (
            "extrapolated_share",
            work.extrapolated_share.map_or(Value::Null, figure),
        ),
        ("by_area", by_area(design)),
    ];
    object(own.into_iter().chain(earthwork(work)))
}

/// The dig area by area; one whose dig lies wholly in that of the areas before it is left out.
fn by_area(design: &Design) -> Value {
    let areas = design.areas.iter().zip(&design.dig.by_area);
    areas
        .filter_map(|(area, work)| {
            let work = work.as_ref()?;
            let own = [
                ("area", json!(area.name)),
                ("area_m2", figure(work.area_mm2 / 1e6)),
            ];
            Some(object(own.into_iter().chain(earthwork(work))))
        })
        .collect()
}

/// Depths and volumes of a dig or of a part of one.
fn earthwork(work: &Earthwork) -> [(&'static str, Value); 5] {
    [
        (
            "depth_mm",
            json!({
                "min": mm(work.depth[0].value),
                "mean": mm(work.depth_mean),
                "max": mm(work.depth[1].value),
            }),
        ),
        (
            "depth_at_mm",
            json!({"min": place(work.depth[0].at), "max": place(work.depth[1].at)}),
        ),
        ("cut_m3", figure(work.cut_m3)),
        ("fill_m3", work.fill_m3.map_or(Value::Null, figure)),
        (
            "fill_area_m2",
            work.fill_area_mm2
                .map_or(Value::Null, |mm2| figure(mm2 / 1e6)),
        ),
    ]
}

/// What fills the dig beside the paving.
pub fn backfill(design: &Design) -> Value {
    let fill = &design.backfill;
    if fill.volume_m3 <= 0.0 {
        return Value::Null;
    }
    json!({
        "area_m2": figure((fill.on_base_mm2 + fill.beyond_mm2) / 1e6),
        "drop_mm": mm(design.job.backfill.drop),
        "volume_m3": figure(fill.volume_m3),
        "topsoil_m3": figure(fill.topsoil_m3),
    })
}

/// Buried services against the dig.
pub fn services(design: &Design) -> Value {
    if design.services.is_empty() {
        return Value::Null;
    }
    let services = design.services.iter();
    services
        .map(|service| {
            let edges: Vec<Value> = service
                .edges
                .iter()
                .map(|(edge, [from, to])| {
                    json!({"edge": edge, "from_mm": mm(*from), "to_mm": mm(*to)})
                })
                .collect();
            let moved: usize = service.nails.iter().map(|s| s.moved).sum();
            let left_out: usize = service.nails.iter().map(|s| s.left_out).sum();
            let cover = service.buried.cover;
            object([
                ("name", json!(service.spec.name)),
                ("kind", json!(service.spec.kind.word())),
                ("zone_mm", mm(service.spec.zone)),
                ("in_dig_m", figure(service.buried.in_dig / 1e3)),
                (
                    "by_hand_m2",
                    figure(crate::geom::clip::area(&service.buried.band) / 1e6),
                ),
                ("cover_mm", cover.map_or(Value::Null, |c| mm(c.value))),
                ("cover_at_mm", cover.map_or(Value::Null, |c| place(c.at))),
                ("edges", json!(edges)),
                ("nails_moved", json!(moved)),
                ("nails_left_out", json!(left_out)),
            ])
        })
        .collect()
}
