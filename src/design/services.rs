//! Buried services as the design meets them: where they come near the dig, which edges run through
//! their zones, and which nails are kept out of them.
//!
//! A nail is barred where it stands in a service's tolerance zone and its tip comes nearer to the
//! service's top than the zone is wide, or the depth of the service is not known. Millimetres.

use super::AreaDesign;
use crate::edging::{self, EdgeRun, Edging, Spared};
use crate::geom::{Point, SAGITTA, Shape, clip};
use crate::job::Job;
use crate::levels::{self, Buried, DigPart, Ground, buried::top};
use crate::site::ServiceSpec;

/// One service, with what the design comes to near it; in the job's order.
#[derive(Clone, Debug, PartialEq)]
pub struct ServiceDesign {
    /// As stated.
    pub spec: ServiceSpec,
    /// Its zone, the band to dig by hand, and its least cover.
    pub buried: Buried,
    /// Paved edges in the zone: name, and from where to where along the edge.
    pub edges: Vec<(String, [f64; 2])>,
    /// Nails moved or left out for it, by stretch.
    pub nails: Vec<Spared>,
}

/// Compares every service with the dig, and keeps the nails out of the zones.
pub fn services(
    job: &Job,
    areas: &[AreaDesign],
    parts: &[DigPart],
    dig: &Shape,
    ground: Option<&Ground>,
    laid: (&[EdgeRun], &mut Edging),
) -> Vec<ServiceDesign> {
    let (runs, edging) = laid;
    let mut all: Vec<ServiceDesign> = job
        .services
        .iter()
        .map(|spec| {
            let buried = levels::buried(spec, parts, dig, ground);
            ServiceDesign {
                spec: spec.clone(),
                edges: edges_in(job, &buried.zone),
                buried,
                nails: Vec::new(),
            }
        })
        .collect();
    if all.is_empty() {
        return all;
    }
    let barred = |at: Point| {
        let (index, area) = nearest(areas, at)?;
        let tip = area.plane.level_at(at) - area.build_up.paver - job.edging.nail;
        all.iter().position(|service| {
            let near = clip::contains(&service.buried.zone, at);
            near && parts
                .get(index)
                .and_then(|part| top(&service.spec, at, part, ground))
                .is_none_or(|top| tip < top + service.spec.zone)
        })
    };
    let spared = edging::keep_clear(&job.edging, runs, edging, barred);
    for one in spared {
        let by = one.by;
        all[by].nails.push(one);
    }
    all
}

/// The area nearest a point, with its index.
fn nearest(areas: &[AreaDesign], at: Point) -> Option<(usize, &AreaDesign)> {
    let far = |area: &AreaDesign| clip::distance(&area.shape, at);
    let areas = areas.iter().enumerate();
    areas.min_by(|(_, a), (_, b)| far(a).total_cmp(&far(b)))
}

/// The stretches of paved edges in a zone, an arc along its chords.
fn edges_in(job: &Job, zone: &Shape) -> Vec<(String, [f64; 2])> {
    let mut found = Vec::new();
    for edge in job.site.areas.iter().flat_map(|area| area.edges()) {
        let points = edge.edge.flatten(SAGITTA);
        let mut station = 0.0;
        let mut stretch: Option<[f64; 2]> = None;
        for pair in points.windows(2) {
            for (from, to) in clip::clip_lines(&[(pair[0], pair[1])], zone) {
                let ends = [from, to].map(|at| station + pair[0].distance(at));
                stretch = Some(
                    stretch.map_or(ends, |s: [f64; 2]| [s[0].min(ends[0]), s[1].max(ends[1])]),
                );
            }
            station += pair[0].distance(pair[1]);
        }
        found.extend(stretch.map(|stretch| (edge.name.clone(), stretch)));
    }
    found
}
