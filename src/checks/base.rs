//! `base.extension`, `edging.room`, `bedding.rail`: the base beyond the paving and what it is
//! struck off on.

use super::{Finding, LENGTH, Status, place_of};
use crate::design::Design;
use crate::geom::Edge;
use crate::site::{EdgeKind, StructureKind, StructureSpec};
use crate::units::{Length, System, print};

/// Base past an open edge should be at least this, feet-inches and metric. Association notes ask
/// for the thickness of an aggregate base, 6 in for 6 in (ICPI Tech Spec 3).
const LEAST_EXTENSION: [f64; 2] = [152.4, 150.0];

/// Furthest that arcs stray from the chords along which distances are taken, in millimetres.
const SAGITTA: f64 = 0.25;

/// A structure this near to an edge is against it, in millimetres.
const FACE: f64 = 10.0;

/// An open stretch of edge: its name, how far the base goes past it at the least, and its middle.
struct OpenEdge {
    name: String,
    extension: f64,
    middle: crate::geom::Point,
    area: usize,
}

fn open_edges(design: &Design) -> Vec<OpenEdge> {
    let mut open = Vec::new();
    for (index, area) in design.job.site.areas.iter().enumerate() {
        for edge in area.edges() {
            for stretch in &edge.stretches {
                if stretch.kind == EdgeKind::Open {
                    let stated = stretch.extension.unwrap_or(design.job.base_extension);
                    open.push(OpenEdge {
                        name: edge.name.clone(),
                        extension: stated.min(clear(&design.job.site.structures, &stretch.edge)),
                        middle: stretch.edge.point_at(0.5),
                        area: index,
                    });
                }
            }
        }
    }
    open
}

/// How far the nearest structure that the base must leave out stands from an open stretch, in
/// millimetres. One whose face a neighbouring stretch runs along meets the stretch's end and takes
/// nothing from it.
fn clear(structures: &[StructureSpec], stretch: &Edge) -> f64 {
    let beside = structures.iter().filter(|s| !s.on_paving);
    let gaps = beside.filter_map(|structure| {
        let places = structure.ring.flat_points(SAGITTA).into_iter();
        let to_stretch = places.map(|at| stretch.distance(at));
        let places = stretch.flatten(SAGITTA).into_iter();
        let to_ring = places.map(|at| structure.ring.distance(at));
        let gap = to_stretch.chain(to_ring).fold(f64::INFINITY, f64::min);
        let has_faces = matches!(
            structure.kind,
            StructureKind::Building
                | StructureKind::Wall
                | StructureKind::Pool
                | StructureKind::Step
        );
        (!has_faces || gap > FACE).then_some(gap)
    });
    gaps.fold(f64::INFINITY, f64::min)
}

/// The base goes far enough past every open edge.
pub fn extension(design: &Design) -> Vec<Finding> {
    let limit = match design.job.sheet.units {
        System::Metric => LEAST_EXTENSION[1],
        System::FeetInches | System::Dual => LEAST_EXTENSION[0],
    };
    least(
        design,
        "base.extension",
        Status::Warn,
        limit,
        |edge, printed| {
            format!(
                "Base goes {} past edge {} (at least {})",
                printed(edge.extension),
                edge.name,
                printed(limit)
            )
        },
    )
}

/// There is room for the restraint and its nails on the base.
pub fn edging_room(design: &Design) -> Vec<Finding> {
    let limit = design.job.edging.width;
    least(
        design,
        "edging.room",
        Status::Fail,
        limit,
        |edge, printed| {
            format!(
                "Base goes {} past edge {}; the restraint's foot takes {}",
                printed(edge.extension),
                edge.name,
                printed(limit)
            )
        },
    )
}

/// The open edge with the least base past it, against a limit.
fn least(
    design: &Design,
    id: &'static str,
    if_under: Status,
    limit: f64,
    title: impl Fn(&OpenEdge, &dyn Fn(f64) -> String) -> String,
) -> Vec<Finding> {
    let edges = open_edges(design);
    let Some(edge) = edges
        .iter()
        .min_by(|a, b| a.extension.total_cmp(&b.extension))
    else {
        return Vec::new();
    };
    let printed = |mm: f64| {
        print::length(
            Length::from_mm(mm),
            design.job.sheet.units,
            print::Precision::Drawing,
        )
    };
    let under = edge.extension < limit - LENGTH;
    let own = format!("paving[{}].edges.{}", edge.area, edge.name);
    let key = if design.job.places.contains_key(&own) {
        own
    } else {
        "base.extension".to_string()
    };
    vec![Finding {
        id,
        status: if under { if_under } else { Status::Pass },
        title: title(edge, &printed),
        value: Some(edge.extension),
        limit: Some(limit),
        unit: "mm",
        at: place_of(design, &key),
        where_: Some(format!("edge {}", edge.name)),
        point: Some(edge.middle),
        source: "ICPI Tech Spec 3: base past the restraint at least the base's thickness",
    }]
}

/// The rails give the loose thickness.
pub fn rail(design: &Design) -> Vec<Finding> {
    let bedding = &design.job.bedding;
    let (diameter, loose) = (bedding.rails.diameter, bedding.loose);
    let off = (diameter - loose).abs() > LENGTH;
    let printed = |mm: f64| {
        print::length(
            Length::from_mm(mm),
            design.job.sheet.units,
            print::Precision::Thickness,
        )
    };
    vec![Finding {
        id: "bedding.rail",
        status: if off { Status::Warn } else { Status::Pass },
        title: format!(
            "Rails of {} outside diameter for {} of loose bedding",
            printed(diameter),
            printed(loose)
        ),
        value: Some(diameter),
        limit: Some(loose),
        unit: "mm",
        at: place_of(design, "bedding.rails.diameter"),
        where_: None,
        point: None,
        source: "common practice, no source",
    }]
}
