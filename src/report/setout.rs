//! Set-out and levelling in the report: corners, features, proofs, arcs, stakes, the field book,
//! existing surfaces.

use serde_json::{Value, json};

use super::{figure, mm, object};
use crate::design::{Design, StepLevels, What};
use crate::geom::Point;
use crate::levels::{CornerTies, Held, Readings, best_plane};

/// The set-out table.
pub fn corners(design: &Design) -> Value {
    design
        .setout
        .iter()
        .map(|row| {
            object([
                ("corner", json!(row.corner)),
                ("x_mm", mm(row.at.x)),
                ("y_mm", mm(row.at.y)),
                ("along_mm", mm(row.ties.station)),
                ("out_mm", mm(row.ties.offset)),
                ("crossing_deg", figure(row.ties.crossing_deg)),
                ("ties", tapes(design, &row.ties)),
                ("finish_mm", mm(row.levels.finish)),
                ("formation_mm", mm(row.levels.formation)),
                ("ground_mm", row.ground.map_or(Value::Null, mm)),
                (
                    "readings",
                    row.readings.as_ref().map_or(Value::Null, readings),
                ),
                (
                    "from_datum",
                    row.from_datum.as_ref().map_or(Value::Null, readings),
                ),
                ("steps", steps(design, &row.steps)),
            ])
        })
        .collect()
}

/// The levels of each area at a corner where they meet at a step, highest first.
fn steps(design: &Design, steps: &[StepLevels]) -> Value {
    if steps.is_empty() {
        return Value::Null;
    }
    let steps = steps.iter().map(|step| {
        let of = |found: &Option<Readings>| found.as_ref().map_or(Value::Null, readings);
        let names = step.areas.iter().map(|&area| &design.areas[area].name);
        object([
            ("areas", json!(names.collect::<Vec<_>>())),
            ("finish_mm", mm(step.levels.finish)),
            ("formation_mm", mm(step.levels.formation)),
            ("readings", of(&step.readings)),
            ("from_datum", of(&step.from_datum)),
        ])
    });
    steps.collect()
}

fn tapes(design: &Design, ties: &CornerTies) -> Value {
    design
        .base_line
        .iter()
        .zip(ties.distance)
        .map(|((from, _), distance)| json!({"from": from, "distance_mm": mm(distance)}))
        .collect()
}

fn readings(readings: &Readings) -> Value {
    json!({
        "finish_mm": mm(readings.finish),
        "panel_top_mm": mm(readings.panel_top),
        "bedding_mm": mm(readings.bedding),
        "rail_top_mm": mm(readings.rail_top),
        "formation_mm": mm(readings.formation),
    })
}

/// The base line, what else is taped from it, proofs, square corners, arcs and stakes.
pub fn field(design: &Design) -> Value {
    let field = &design.field;
    let features: Vec<Value> = field
        .features
        .iter()
        .map(|feature| {
            let (what, name) = match &feature.what {
                What::Sill(name) => ("sill", name.clone()),
                What::ChannelEnd { drain, end, .. } => ("channel_end", format!("{drain} {end}")),
                What::Gully(name, _) => ("gully", name.clone()),
                What::Downspout(name) => ("downspout", name.clone()),
                What::Middle(name, _) => ("middle", name.clone()),
                What::Centre(edge, _) => ("centre", edge.clone()),
                What::OnArc(edge, number) => ("on_arc", format!("{edge} {number}")),
            };
            json!({
                "what": what,
                "name": name,
                "x_mm": mm(feature.at.x),
                "y_mm": mm(feature.at.y),
                "along_mm": mm(feature.ties.station),
                "out_mm": mm(feature.ties.offset),
                "ties": tapes(design, &feature.ties),
            })
        })
        .collect();
    let proofs: Vec<Value> = field
        .proofs
        .iter()
        .map(|proof| json!({"corners": proof.corners, "length_mm": mm(proof.length)}))
        .collect();
    let squares: Vec<Value> = field
        .right_angles
        .iter()
        .map(|square| {
            json!({
                "corner": square.corners[1],
                "towards": [square.corners[0], square.corners[2]],
                "multiple": square.proof.multiple,
                "marks_mm": square.proof.marks.map(mm),
                "between_mm": mm(square.proof.across),
            })
        })
        .collect();
    let angles: Value = field
        .angles
        .iter()
        .map(|angle| json!({"corner": angle.corner, "degrees": figure(angle.degrees)}))
        .collect();
    let arcs: Vec<Value> = field
        .arcs
        .iter()
        .map(|arc| {
            let offsets: Vec<Value> = arc
                .marks
                .points
                .iter()
                .filter_map(|point| point.chord)
                .map(|[station, out]| json!([mm(station), mm(out)]))
                .collect();
            json!({
                "edge": arc.edge,
                "radius_mm": mm(arc.marks.radius),
                "chord_mm": arc.marks.chord.map_or(Value::Null, |[chord, _]| mm(chord)),
                "rise_mm": arc.marks.chord.map_or(Value::Null, |[_, rise]| mm(rise)),
                "centre_mm": super::place(arc.marks.centre),
                "centre_in_reach": arc.centre_free,
                "chord_offsets_mm": offsets,
            })
        })
        .collect();
    let stakes = field.stakes.as_ref().map_or(Value::Null, |set| {
        let list: Vec<Value> = set
            .stakes
            .iter()
            .zip(&set.names)
            .map(|((beyond, stake), name)| {
                json!({
                    "name": name,
                    "edge": stake.edge,
                    "beyond": beyond,
                    "x_mm": mm(stake.at.x),
                    "y_mm": mm(stake.at.y),
                    "from_corner_mm": mm(stake.from_corner),
                    "string_mm": mm(set.string(stake)),
                    "above_mark_mm": mm(set.above_mark(stake)),
                    "held": match stake.held {
                        Held::Stake => "stake",
                        Held::Face => "face",
                    },
                })
            })
            .collect();
        json!({
            "mark_mm": set.heights.mark.map_or(Value::Null, mm),
            "strings_above_finish_mm": mm(set.heights.above_finish),
            "list": list,
        })
    });
    let [from, to] = design.base_line.each_ref().map(|(name, _)| name);
    object([
        ("base_line", json!([from, to])),
        ("features", json!(features)),
        ("proofs", json!(proofs)),
        ("right_angles", json!(squares)),
        ("angles", angles),
        ("arcs", json!(arcs)),
        ("stakes", stakes),
        ("rails", rails(design)),
    ])
}

/// The runs of the rails that no chain of dimensions gives.
fn rails(design: &Design) -> Value {
    let runs = &design.field.rails;
    if runs.is_empty() {
        return Value::Null;
    }
    let end = |at: Point, ties: &CornerTies| {
        json!({
            "x_mm": mm(at.x),
            "y_mm": mm(at.y),
            "along_mm": mm(ties.station),
            "out_mm": mm(ties.offset),
        })
    };
    runs.iter()
        .map(|run| {
            json!({
                "name": run.name,
                "from": end(run.ends[0], &run.ties[0]),
                "to": end(run.ends[1], &run.ties[1]),
                "length_mm": mm(run.ends[0].distance(run.ends[1])),
            })
        })
        .collect()
}

/// The run of levelling, reduced.
pub fn levelling(design: &Design) -> Value {
    let Some((_, result)) = &design.job.levelling else {
        return Value::Null;
    };
    let maybe = |value: Option<f64>| value.map_or(Value::Null, mm);
    let lines: Vec<Value> = result
        .lines
        .iter()
        .map(|line| {
            object([
                ("at", json!(line.sight.at)),
                ("back_mm", maybe(line.sight.back)),
                ("intermediate_mm", maybe(line.sight.intermediate)),
                ("fore_mm", maybe(line.sight.fore)),
                ("instrument_mm", maybe(line.instrument)),
                ("rise_mm", maybe(line.rise)),
                ("reduced_mm", mm(line.reduced)),
                ("level_mm", mm(line.level)),
            ])
        })
        .collect();
    object([
        ("sum_back_mm", mm(result.sum_back)),
        ("sum_fore_mm", mm(result.sum_fore)),
        ("setups", json!(result.setups)),
        ("misclosure_mm", maybe(result.misclosure)),
        ("lines", json!(lines)),
    ])
}

/// Existing surfaces with the lip at each measured level, and the best plane through each where
/// its levels fix one.
pub fn surfaces(design: &Design) -> Value {
    let fixed = &design.job.levels.fixed;
    if fixed.is_empty() {
        return Value::Null;
    }
    fixed
        .iter()
        .map(|fixed| {
            let area = design
                .job
                .site
                .edge(&fixed.edge)
                .map_or(0, |(area, _)| area);
            let plane = &design.areas[area].plane;
            let levels: Vec<Value> = fixed
                .levels
                .iter()
                .map(|spot| {
                    let finish = plane.level_at(spot.at);
                    json!({
                        "x_mm": mm(spot.at.x),
                        "y_mm": mm(spot.at.y),
                        "level_mm": mm(spot.level),
                        "finish_mm": mm(finish),
                        "lip_mm": mm(finish - spot.level),
                    })
                })
                .collect();
            let best = best_plane(&fixed.levels).map_or(Value::Null, |best| {
                object([
                    ("percent", figure(best.fall() * 100.0)),
                    (
                        "towards_deg",
                        best.towards_deg().map_or(Value::Null, figure),
                    ),
                ])
            });
            object([
                ("edge", json!(fixed.edge)),
                ("surface", json!(fixed.surface)),
                ("levels", json!(levels)),
                ("best_plane", best),
            ])
        })
        .collect()
}
