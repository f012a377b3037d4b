//! `edges.open_at_wall`, `drop.designed_by_others`: what the job shows that the sheet must not
//! pass over.

use super::levels::{fall_place, length};
use super::{Finding, Status, place_of};
use crate::design::Design;
use crate::language::{Phrase, phrase};
use crate::levels::Meet;
use crate::levels::meet::BUILT_STEP;
use crate::site::{
    NoteKind, OutlineItem, SiteEdge, SitePlace, StructureKind, edge_named, edge_told,
};

/// What the sheet leaves to others.
const DROP: &str = "drop.designed_by_others";

/// An edge named open runs along a building.
pub fn open_at_wall(design: &Design) -> Vec<Finding> {
    let notes = design.job.site.notes.iter();
    notes
        .filter(|note| matches!(note.kind, NoteKind::OpenAtWall { .. }))
        .map(|note| {
            let edge = edge_at(design, note.place);
            let name = edge.map_or("?", |edge| edge.name.as_str());
            let area = match note.place {
                SitePlace::Area(area) | SitePlace::Outline { area, .. } => area,
                SitePlace::Structure(_) => 0,
            };
            Finding {
                id: "edges.open_at_wall",
                status: Status::Warn,
                title: note.kind.phrase(design.job.sheet.units),
                value: None,
                limit: None,
                unit: "",
                at: place_of(design, &format!("paving[{area}].edges.{name}")),
                where_: Some(edge_told(name)),
                point: edge.map(|edge| edge.edge.point_at(0.5)),
                source: "water must run away from a structure's face",
            }
        })
        .collect()
}

/// The edge at a place of the site.
fn edge_at(design: &Design, place: SitePlace) -> Option<&SiteEdge> {
    let SitePlace::Outline {
        area,
        ring,
        item: OutlineItem::Edge(written),
    } = place
    else {
        return None;
    };
    let ring = design.job.site.areas.get(area)?.rings.get(ring)?;
    ring.edges.iter().find(|edge| edge.written == written)
}

/// A step, a wall or a drop between areas that the sheet must not size.
pub fn drop(design: &Design) -> Vec<Finding> {
    let structures = design.job.structures.iter().enumerate();
    let structures = structures
        .filter(|(_, s)| matches!(s.kind, StructureKind::Step | StructureKind::Wall))
        .map(|(index, structure)| Finding {
            id: DROP,
            status: Status::Warn,
            title: phrase!(
                "{structure}: to be designed by others",
                structure = structure.name
            ),
            value: None,
            limit: None,
            unit: "",
            at: place_of(design, &format!("site.structures[{index}]")),
            where_: Some(Phrase::own(&structure.name)),
            point: structure.ring.edges.first().map(|edge| edge.from),
            source: "this sheet sizes no wall, footing, guard or stair",
        });
    let steps = design.meets.iter().filter(|meet| meet.is_built_step());
    let steps = steps.map(|meet| built_step(design, meet));
    structures.chain(steps).collect()
}

/// Areas that meet at a step: nothing holds the upper one's pavers, panels and bedding but what
/// others design.
fn built_step(design: &Design, meet: &Meet) -> Finding {
    let (most, at) = meet.greatest();
    let [first, second] = meet.areas.map(|area| design.areas[area].name.as_str());
    let (upper, lower) = match most > 0.0 {
        true => (first, second),
        false => (second, first),
    };
    Finding {
        id: DROP,
        status: Status::Warn,
        title: phrase!(
            "{upper} stands up to {step} above {lower} at {edge}: the step, and what holds the edge of {upper} on it, to be designed by others",
            upper,
            step = length(design, most.abs()),
            lower,
            edge = edge_named(&meet.edge)
        ),
        value: Some(most.abs()),
        limit: Some(BUILT_STEP),
        unit: "mm",
        at: fall_place(design, meet.areas[1]),
        where_: Some(edge_told(&meet.edge)),
        point: Some(at),
        source: "ADA 2010 §303.4: more than 1/2 in is a step or a ramp; this sheet sizes no wall, \
                 footing, guard or stair",
    }
}
