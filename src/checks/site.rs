//! `edges.open_at_wall`, `drop.designed_by_others`: what the job shows that the sheet must not
//! pass over.

use super::{Finding, Status, place_of};
use crate::design::Design;
use crate::site::StructureKind;

/// An edge named open runs along a building.
pub fn open_at_wall(design: &Design) -> Vec<Finding> {
    design
        .job
        .site
        .open_at_buildings()
        .map(|(area, edge)| Finding {
            id: "edges.open_at_wall",
            status: Status::Warn,
            title: format!("Edge {} is named open but runs along a building", edge.name),
            value: None,
            limit: None,
            unit: "",
            at: place_of(design, &format!("paving[{area}].edges.{}", edge.name)),
            where_: Some(format!("edge {}", edge.name)),
            point: Some(edge.edge.point_at(0.5)),
            source: "water must run away from a structure's face",
        })
        .collect()
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
            title: format!("{}: to be designed by others", structure.name),
            value: None,
            limit: None,
            unit: "",
            at: place_of(design, &format!("site.structures[{index}]")),
            where_: Some(structure.name.clone()),
            point: structure.ring.edges.first().map(|edge| edge.from),
            source: "this sheet sizes no wall, footing, guard or stair",
        })
        .collect()
}
