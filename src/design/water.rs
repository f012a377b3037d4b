//! The way of the water: where areas meet, where water leaves, and what ground it meets outside.

use super::AreaDesign;
use crate::geom::{Point, clip};
use crate::job::Job;
use crate::levels::water::bank::{Bank, banks};
use crate::levels::water::trace;
use crate::levels::{Ground, Meet, Plane, Water, meets};

/// Where areas meet and where their water leaves.
pub fn water(job: &Job, areas: &[AreaDesign]) -> (Vec<Meet>, Water, Vec<Bank>) {
    let planes: Vec<Plane> = areas.iter().map(|area| area.plane).collect();
    let water = trace(&job.site, &planes, &[], &[]);
    let ground = Ground::through(&job.levels.ground);
    let banks = ground.map_or_else(Vec::new, |ground| {
        // The lip of the dig, but never nearer than the ground can be told from the edge.
        let out = job.dig_extension.max(job.base_extension).max(1.0);
        banks(&water, &ground, &planes, out, |at| is_ground(job, at))
    });
    (meets(&job.site, &planes), water, banks)
}

/// Whether a place is neither paving nor a structure.
fn is_ground(job: &Job, at: Point) -> bool {
    let paved = job.site.areas.iter().map(|area| area.shape());
    let built = job.site.structures.iter().map(|s| clip::shape_of(&s.ring));
    !paved.chain(built).any(|shape| clip::contains(&shape, at))
}
