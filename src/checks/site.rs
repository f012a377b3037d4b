//! `edges.open_at_wall`, `drop.designed_by_others`: what the job shows that the sheet must not
//! pass over.

use super::{Finding, Status, place_of};
use crate::design::Design;
use crate::language::{Phrase, phrase};
use crate::site::{NoteKind, OutlineItem, SiteEdge, SitePlace, StructureKind, edge_told};

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

/// A step or a wall that the sheet must not size.
pub fn drop(design: &Design) -> Vec<Finding> {
    design
        .job
        .structures
        .iter()
        .enumerate()
        .filter(|(_, s)| matches!(s.kind, StructureKind::Step | StructureKind::Wall))
        .map(|(index, structure)| Finding {
            id: "drop.designed_by_others",
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
        })
        .collect()
}
