//! What every plan of the set shows.
//!
//! In: the whole plan of a job. Out: the same plan without the marks that are one sheet's matter.
//! What stands on site, the outlines, the corner letters and the names stay, so that one sheet can
//! be held against another; a further sheet adds what it is about.

use super::model::{Area, Corner, Drain, PlanModel};

/// The plan cut down to what every sheet shows.
pub fn common(plan: &PlanModel) -> PlanModel {
    let named = |drain: &Drain| Drain {
        words: drain.words.iter().take(1).cloned().collect(),
        ..drain.clone()
    };
    let lettered = |corner: &Corner| Corner {
        levels: Vec::new(),
        ..corner.clone()
    };
    let outlined = |area: &Area| Area {
        name: area.name.clone(),
        rings: area.rings.clone(),
        fall: area.fall.clone(),
        // Tables speak of several areas by name.
        named: plan.areas.len() > 1,
        ..Area::default()
    };
    PlanModel {
        units: plan.units,
        languages: plan.languages,
        structures: plan.structures.clone(),
        walls: plan.walls.clone(),
        areas: plan.areas.iter().map(outlined).collect(),
        corners: plan.corners.iter().map(lettered).collect(),
        dig: plan.dig.clone(),
        drains: plan.drains.iter().map(named).collect(),
        surfaces: plan.surfaces.clone(),
        clouds: plan.clouds.clone(),
        ..PlanModel::default()
    }
}
