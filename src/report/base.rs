//! What is laid, in the report: panels, pavers, bedding, geotextile, rails, edge restraint.

use serde_json::{Value, json};

use super::{figure, mm, object, place};
use crate::design::{BasePart, Design};
use crate::edging::LaidPiece;
use crate::panels::{Cut, CutPanel, Run, Score};

/// The base panels.
pub fn base(design: &Design) -> Value {
    let totals = &design.panels;
    let joints = &design.cross_joints;
    let crosses: Vec<Value> = joints
        .crosses
        .iter()
        .enumerate()
        .map(|(at, cross)| {
            let remedy = cross.remedy.map(|remedy| {
                json!({
                    "course": remedy.course,
                    "back_mm": mm(remedy.back_mm),
                    "first_mm": mm(remedy.first_mm),
                })
            });
            object([
                ("number", json!(at + 1)),
                ("courses", json!(cross.courses)),
                ("offset_mm", mm(cross.offset_mm)),
                ("four_corner", json!(cross.four_corner)),
                ("at", place(cross.at)),
                ("remedy", json!(remedy)),
            ])
        })
        .collect();
    object([
        ("area_m2", figure(design.extents.base.area_mm2 / 1e6)),
        (
            "perimeter_m",
            figure(design.extents.base.perimeter_mm / 1e3),
        ),
        ("courses", json!(totals.courses)),
        ("pieces", json!(totals.pieces)),
        ("whole", json!(totals.whole)),
        ("trimmed", json!(totals.trimmed)),
        ("buy", json!(totals.buy)),
        ("buy_unshared", json!(totals.buy_unshared)),
        ("buy_installer", json!(totals.buy_installer)),
        ("lower_bound", json!(totals.lower_bound)),
        ("sharing_bound", json!(totals.sharing_bound)),
        ("proved", json!(totals.proved)),
        ("narrowest_mm", totals.narrowest_mm.map_or(Value::Null, mm)),
        (
            "joints",
            object([
                (
                    "min_offset_mm",
                    joints.min_offset_mm.map_or(Value::Null, mm),
                ),
                ("under_limit", json!(joints.under_limit)),
                ("four_corner", json!(joints.four_corner)),
                ("crosses", json!(crosses)),
            ]),
        ),
        ("layout", layout(design)),
        ("list", design.base.iter().flat_map(pieces).collect()),
        ("cutting", cutting(design)),
    ])
}

/// How the courses run: along which edge, turned how, shifted by how much, staggered by what, and
/// what a search gained.
fn layout(design: &Design) -> Value {
    let start = &design.job.panels_start;
    let best = design.base.first().and_then(|part| part.best);
    let shift = best.map_or([0.0; 2], |best| best.laying.shift);
    let square = best.is_some_and(|best| best.laying.run == Run::Square);
    let stagger = best.map_or(design.job.panels.stagger, |best| best.laying.stagger);
    let searched: Vec<Value> = design
        .base
        .iter()
        .filter_map(|part| part.best)
        .map(|best| {
            let comes_to = |score: Score| {
                json!({
                    "buy": score.buy,
                    "trimmed": score.trimmed,
                    "narrowest_mm": mm(score.narrowest_mm),
                    "under_limit": score.faults,
                })
            };
            json!({
                "turn_deg": if best.laying.run == Run::Square { 90 } else { 0 },
                "shift_mm": best.laying.shift.map(mm),
                "stagger_mm": mm(best.laying.stagger),
                "tried": best.tried,
                "fixed": comes_to(best.fixed),
                "best": comes_to(best.score),
            })
        })
        .collect();
    object([
        (
            "along",
            json!(start.as_ref().map(|start| start.along.clone())),
        ),
        ("turn_deg", json!(if square { 90 } else { 0 })),
        ("shift_mm", json!(shift.map(mm))),
        ("stagger", mm(stagger)),
        (
            "searched",
            if searched.is_empty() {
                Value::Null
            } else {
                json!(searched)
            },
        ),
    ])
}

fn pieces(part: &BasePart) -> impl Iterator<Item = Value> {
    // the frame is the start corner's also where a search moved the first panel off it
    let [u, v] = part.best.map_or([0.0; 2], |best| best.laying.shift);
    part.layout.pieces.iter().map(move |piece| {
        json!({
            "mark": piece.mark(),
            "x_mm": mm(piece.x_mm + u),
            "y_mm": mm(piece.y_mm + v),
            "length_mm": mm(piece.length_mm),
            "width_mm": mm(piece.width_mm),
            "area_m2": figure(piece.area_mm2 / 1e6),
            "whole": piece.whole,
        })
    })
}

/// The panels that are cut, in order of laying: the pieces that each gives, the lines to mark from
/// the panel's corner nearest the start, along it and across it, and where the offcut goes next.
fn cutting(design: &Design) -> Value {
    let every = design.marks_every();
    let points = |cut: &Cut| -> Vec<[Value; 2]> {
        let marks = cut.marks(every);
        marks.iter().map(|at| [mm(at[0]), mm(at[1])]).collect()
    };
    let panel = |panel: &CutPanel| {
        let pieces: Vec<Value> = panel
            .pieces
            .iter()
            .enumerate()
            .map(|(place, piece)| {
                let cuts: Vec<Value> = piece
                    .cuts
                    .iter()
                    .map(|cut| {
                        json!({
                            "curved": cut.is_curved(),
                            "length_mm": mm(cut.length_mm),
                            "points_mm": points(cut),
                        })
                    })
                    .collect();
                json!({
                    "mark": piece.mark,
                    "turn_deg": 90 * piece.quarters,
                    "cuts": cuts,
                    "offcut_to": panel.offcut_to(place),
                })
            })
            .collect();
        json!({
            "panel": panel.number,
            "pieces": pieces,
            "waste_m2": figure(panel.waste_mm2 / 1e6),
        })
    };
    design.purchase.cut_panels.iter().map(panel).collect()
}

/// The pavers, by area, kind and place.
pub fn pavers(design: &Design) -> Value {
    design
        .areas
        .iter()
        .flat_map(|area| {
            area.paving.courses.iter().map(|laid| {
                json!({
                    "area": area.name,
                    "name": design.job.pavers[laid.paver].name,
                    "form": design.job.pavers[laid.paver].form().word(),
                    "where": laid.place.to_string(),
                    "whole": laid.whole.len(),
                    "cut": laid.cut_count(),
                    "slivers": laid.sliver_count(),
                    "buy": laid.buy,
                    "cut_length_m": figure(laid.cut_length / 1e3),
                    "joint_length_m": figure(laid.joint_length / 1e3),
                })
            })
        })
        .collect()
}

/// Panel joints under straight runs of paver joint.
pub fn joints_over_joints(design: &Design) -> Value {
    let under = &design.joints_over_joints;
    json!({
        "length_m": figure(under.length / 1e3),
        "share": figure(under.share().unwrap_or(0.0)),
        "worst_line_m": figure(under.worst / 1e3),
    })
}

/// Jointing material.
pub fn jointing(design: &Design) -> Value {
    let jointing = &design.jointing;
    json!({
        "volume_m3": figure(jointing.volume),
        "mass_kg": figure(jointing.mass),
        "bags": jointing.bags,
    })
}

/// Bedding.
pub fn bedding(design: &Design) -> Value {
    let bedding = &design.bedding;
    json!({
        "area_m2": figure(bedding.area_m2),
        "loose_m3": figure(bedding.loose_m3),
        "mass_kg": figure(bedding.mass_kg),
    })
}

/// Geotextile.
pub fn geotextile(design: &Design) -> Value {
    let textile = &design.textile;
    json!({
        "area_m2": figure(textile.area_mm2 / 1e6),
        "roll_m": figure(textile.roll_mm / 1e3),
        "strips": textile.strips.len(),
    })
}

/// Screed rails; `spacing_mm` is the widest of any part.
pub fn rails(design: &Design) -> Value {
    let rails = &design.rails;
    object([
        ("count", json!(rails.all().count())),
        ("spacing_mm", rails.widest_mm().map_or(Value::Null, mm)),
        ("length_m", figure(rails.length_mm / 1e3)),
        ("pieces", json!(rails.pieces)),
        ("by_part", rails_by_part(design)),
    ])
}

/// The rails of each part of the base, `spacing_mm` the widest in it; absent where it has one part.
fn rails_by_part(design: &Design) -> Value {
    let parts = &design.rails.parts;
    if parts.len() < 2 {
        return Value::Null;
    }
    let parts = design.base.iter().zip(parts).map(|(part, rails)| {
        let names = part.areas.iter().map(|&area| &design.areas[area].name);
        object([
            ("areas", json!(names.collect::<Vec<_>>())),
            ("count", json!(rails.rails.len())),
            ("spacing_mm", rails.spacing_mm.map_or(Value::Null, mm)),
            ("length_m", figure(rails.length_mm() / 1e3)),
        ])
    });
    parts.collect()
}

/// A piece of edge restraint as laid.
fn piece(piece: &LaidPiece) -> Value {
    object([
        ("station_mm", mm(piece.station_mm)),
        ("length_mm", mm(piece.length_mm)),
        ("bend_mm", piece.bend_mm.map_or(Value::Null, mm)),
        ("nails", json!(piece.nails.len())),
    ])
}

/// Edge restraint.
pub fn edging(design: &Design) -> Value {
    let edging = &design.edging;
    let by_edge: Vec<Value> = edging
        .by_edge
        .iter()
        .map(|edge| {
            object([
                ("edge", json!(edge.edge)),
                ("length_m", figure(edge.length_mm / 1e3)),
                ("whole", json!(edge.whole)),
                ("remainder_mm", mm(edge.remainder_mm)),
                ("nails", json!(edge.nails)),
                ("bend_mm", edge.bend_mm().map_or(Value::Null, mm)),
                ("pieces", edge.laid.iter().map(piece).collect()),
            ])
        })
        .collect();
    json!({
        "length_m": figure(edging.length_mm / 1e3),
        "pieces": edging.pieces,
        "nails": edging.nails,
        "by_edge": by_edge,
    })
}
