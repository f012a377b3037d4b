//! `base.extension`, `edging.room`, `edging.nails`, `bedding.rail`, `bedding.board`: the base beyond
//! the paving, what holds its edge, and what it is struck off on.

use super::{Finding, LENGTH, Status, place_of};
use crate::design::{BasePart, Design};
use crate::geom::{Edge, Point};
use crate::language::{Phrase, phrase};
use crate::site::{EdgeKind, StructureKind, StructureSpec, edge_named, edge_told};
use crate::units::{Length, System, print};

/// Base past an open edge should be at least this, feet-inches and metric. Association notes ask
/// for the thickness of an aggregate base, 6 in for 6 in (ICPI Tech Spec 3).
const LEAST_EXTENSION: [f64; 2] = [152.4, 150.0];

/// Furthest that nails of the edge restraint may stand apart, in millimetres: 24 in.
const WIDEST_NAILS: f64 = 609.6;

/// Furthest that arcs stray from the chords along which distances are taken, in millimetres.
const SAGITTA: f64 = 0.25;

/// A structure this near to an edge is against it, in millimetres.
const FACE: f64 = 10.0;

/// An open stretch of edge: its name, how far the base goes past it at the least, and its middle.
struct OpenEdge {
    name: String,
    extension: f64,
    middle: Point,
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
            phrase!(
                "Base goes {past} past edge {edge} (at least {limit})",
                past = printed(edge.extension),
                edge = edge_named(&edge.name),
                limit = printed(limit)
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
            phrase!(
                "Base goes {past} past edge {edge}; the restraint's foot takes {limit}",
                past = printed(edge.extension),
                edge = edge_named(&edge.name),
                limit = printed(limit)
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
    title: impl Fn(&OpenEdge, &dyn Fn(f64) -> String) -> Phrase,
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
        where_: Some(edge_told(&edge.name)),
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
        title: phrase!(
            "Rails of {diameter} outside diameter for {loose} of loose bedding",
            diameter = printed(diameter),
            loose = printed(loose)
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

/// Nails stand close enough to hold the edge, over the joints of pieces too.
pub fn nails(design: &Design) -> Vec<Finding> {
    let edges = design.edging.by_edge.iter();
    let gaps = edges.flat_map(|edge| {
        let nails: Vec<Point> = edge
            .laid
            .iter()
            .flat_map(|piece| &piece.nails)
            .copied()
            .collect();
        let pairs: Vec<(f64, Point)> = nails
            .windows(2)
            .map(|pair| (pair[0].distance(pair[1]), pair[0].midpoint(pair[1])))
            .collect();
        pairs.into_iter().map(move |(gap, at)| (gap, at, edge))
    });
    let Some((gap, at, edge)) = gaps.max_by(|a, b| a.0.total_cmp(&b.0)) else {
        return Vec::new();
    };
    let printed = |mm: f64| {
        let system = design.job.sheet.units;
        print::length(Length::from_mm(mm), system, print::Precision::Drawing)
    };
    let wide = gap > WIDEST_NAILS + LENGTH;
    vec![Finding {
        id: "edging.nails",
        status: if wide { Status::Warn } else { Status::Pass },
        title: phrase!(
            "Nails along edge {edge} stand {gap} apart at most (no more than {limit})",
            edge = edge_named(&edge.edge),
            gap = printed(gap),
            limit = printed(WIDEST_NAILS)
        ),
        value: Some(gap),
        limit: Some(WIDEST_NAILS),
        unit: "mm",
        at: place_of(design, "edging.nail_every"),
        where_: Some(edge_told(&edge.edge)),
        point: Some(at),
        source: "association practice for foot traffic, 24 in (from memory); the Brick Industry \
                 Association's homeowner guide gives 2 to 3 ft",
    }]
}

/// The board that strikes the bedding off reaches from rail to rail, in each part of the base.
pub fn board(design: &Design) -> Vec<Finding> {
    let parts = design.base.iter().zip(&design.rails.parts);
    let bays = parts.filter_map(|(part, rails)| Some((part, rails.spacing_mm?)));
    let bays: Vec<(&BasePart, f64)> = bays.collect();
    let one = bays.len() == 1;
    bays.into_iter()
        .map(|(part, bay)| {
            let names = (!one).then(|| design.area_names(&part.areas));
            board_over(design, bay, names)
        })
        .collect()
}

/// The board over one bay, of the part of the base that is named.
fn board_over(design: &Design, bay: f64, part: Option<String>) -> Finding {
    let rails = &design.job.bedding.rails;
    // It rests on the whole of both rails.
    let needs = bay + rails.diameter;
    let printed = |mm: f64| {
        let system = design.job.sheet.units;
        print::length(Length::from_mm(mm), system, print::Precision::Drawing)
    };
    let short = rails.board < needs - LENGTH;
    let title = match short {
        true => phrase!(
            "A screed board of {board} does not reach over rails {bay} apart",
            board = printed(rails.board),
            bay = printed(bay)
        ),
        false => phrase!(
            "A screed board of {board} reaches over rails {bay} apart",
            board = printed(rails.board),
            bay = printed(bay)
        ),
    };
    Finding {
        id: "bedding.board",
        status: if short { Status::Warn } else { Status::Pass },
        title: match &part {
            Some(part) => Phrase::row([Phrase::own(part), title], phrase!(": ")),
            None => title,
        },
        value: Some(rails.board),
        limit: Some(needs),
        unit: "mm",
        at: place_of(design, "bedding.rails.board"),
        where_: part.map(Phrase::own),
        point: None,
        source: "common practice, no source",
    }
}
