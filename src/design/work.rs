//! Runs the computations in order: extents, levels, base, dig, what is laid on and around it.

use super::base::{BasePart, Totals};
use super::base_line::base_line;
use super::circles::quarters;
use super::dig::Dig;
use super::parts::{base, divided, extents_of};
use super::setout::setout;
use super::water::{drains, grates, standing, water};
use super::{AreaDesign, Design, earth, field, section, services};
use crate::diag::Diagnostic;
use crate::edging::{self, EdgeRun};
use crate::geom::{Frame, Point, Shape, Vector, clip};
use crate::job::Job;
use crate::jointing::{self, JointRun};
use crate::language::{Phrase, phrase};
use crate::levels::{self, BuildUp, DigPart, FallDirection, Ground, Plane, earthwork};
use crate::panels;
use crate::paving::{self, Segment};
use crate::screed::{self, RailGround, Rails};
use crate::site::{self, Extents};
use crate::textile;

/// Runs every computation for a job.
///
/// # Errors
/// What only the geometry shows to be impossible, such as a bond that does not suit its paver, at
/// its place in the job file.
pub fn run(job: Job) -> Result<Design, Vec<Diagnostic>> {
    let extents = site::extents(&job.site, job.base_extension, job.dig_extension);
    let grates = grates(&job);
    let areas = areas(&job, &grates)?;
    let Some(first) = areas.first() else {
        return Err(vec![Diagnostic::error(
            "no-area",
            phrase!("the job has no area"),
        )]);
    };
    let ground = Ground::through(&job.levels.ground);
    let (meets, water, banks) = water(&job, &areas, &grates, ground.as_ref());
    let downhill = first.plane.downhill().unwrap_or(first.frame.v);
    let base = base(&job, &areas, &extents, &meets, &grates);
    let drains = drains(&job, &areas, &base, &grates, &water);
    let layouts: Vec<_> = base.iter().map(|part| part.layout.clone()).collect();
    let purchase = panels::purchase(&layouts, &job.panels.panel);
    let cross_joints = panels::cross_joints(&layouts, &job.panels);
    let dig = dig(&job, &areas, &extents, ground.as_ref())?;
    let dug = extents.dig.area_mm2;
    let earth = earth::earth_plan(&job, &dig.parts, dug, &first.frame, ground.as_ref());
    let base_line = base_line(&job);
    let quarters = quarters(&job, base_line[1].1 - base_line[0].1);
    let setout = setout(&job, &areas, &base_line, &quarters, ground.as_ref());
    let rails = rails(&job, &areas, &base);
    let field = field::field(
        &job,
        &areas,
        &extents,
        &base_line,
        &setout,
        &rails,
        ground.as_ref(),
    );
    let runs = open_runs(&extents);
    let mut edging = edging::lay(&job.edging, &runs);
    let dig_shape = &extents.dig.shape;
    let laid = (&runs[..], &mut edging);
    let services = services::services(&job, &areas, &dig.parts, dig_shape, ground.as_ref(), laid);
    let (base_shape, paved) = (&extents.base.shape, &extents.paved.shape);
    let backfill = levels::backfill(&dig.parts, base_shape, paved, &job.backfill);
    let bedding = screed::bedding(&job.bedding, extents.base.area_mm2);
    let textile = textile::lay(&job.textile, &extents.dig.shape, first.frame.u);
    let jointing = jointing::jointing(&joint_runs(&job, &areas), &job.jointing, job.waste.jointing);
    let seams: Vec<Segment> = base
        .iter()
        .flat_map(|part| panels::seams(&part.layout, &job.panels.panel))
        .map(|[from, to]| Segment { from, to })
        .collect();
    let pavings = areas.iter().map(|area| &area.paving);
    let joints_over_joints = paving::joints_over_joints(&seams, pavings);
    let sections = section::lines(&job, &extents, first, downhill, &seams);
    Ok(Design {
        panels: Totals::of(&base, &purchase),
        purchase,
        cross_joints,
        extents,
        base,
        meets,
        water,
        drains,
        banks,
        dig,
        earth,
        services,
        backfill,
        edging,
        rails,
        bedding,
        textile,
        jointing,
        joints_over_joints,
        setout,
        quarters,
        field,
        base_line,
        downhill,
        sections,
        areas,
        job,
    })
}

/// Each area with its plane, its layers and its pavers.
fn areas(job: &Job, grates: &[Option<[Point; 4]>]) -> Result<Vec<AreaDesign>, Vec<Diagnostic>> {
    let mut errors = Vec::new();
    let mut areas = Vec::new();
    for (index, area) in job.site.areas.iter().enumerate() {
        let spec = &job.paving[index];
        let key = |name: &str| {
            let keys = [
                format!("paving[{index}].{name}"),
                format!("paving[{index}]"),
            ];
            keys.iter().find_map(|key| job.places.get(key).copied())
        };
        let mut refuse = |name: &str, found: Phrase| {
            let error = Diagnostic::error("cannot-lay", found);
            errors.push(match key(name) {
                Some(place) => error.at(place),
                None => error,
            });
        };
        let frame = match &job.paving_starts[index] {
            Some(start) => job.site.frame(start, index),
            None => lower_left(&area.shape()),
        };
        let Some(frame) = frame else {
            refuse(
                "start",
                phrase!(
                    "{area}: the start corner is not an end of the start edge",
                    area = area.name
                ),
            );
            continue;
        };
        let shape = area.shape();
        let rings: Vec<_> = area.rings.iter().map(|ring| ring.ring()).collect();
        let standing = standing(grates);
        let ground = paving::Ground {
            rings: &rings,
            shape: &shape,
        };
        match paving::lay_round(spec, &job.pavers, ground, &standing, &frame) {
            Ok(paving) => areas.push(AreaDesign {
                name: area.name.clone(),
                area_m2: area.area_mm2() / 1e6,
                perimeter_m: area.perimeter_mm() / 1e3,
                plane: plane(job, index),
                build_up: BuildUp {
                    paver: job.pavers[spec.paver].thickness,
                    panel: job.panels.panel.thickness,
                    bedding_loose: job.bedding.loose,
                    bedding_compacted: job.bedding.compacted,
                },
                shape,
                frame,
                paving,
            }),
            Err(error) => refuse(
                "bond",
                phrase!(
                    "{area}: {fault}",
                    area = area.name,
                    fault = error.phrase(job.sheet.units)
                ),
            ),
        }
    }
    if errors.is_empty() {
        Ok(areas)
    } else {
        Err(errors)
    }
}

/// The finish plane of an area.
fn plane(job: &Job, area: usize) -> Plane {
    let spec = &job.finishes[area];
    let away = match &spec.direction {
        FallDirection::AwayFrom(edge) => job
            .site
            .edge_of(area, edge)
            .or_else(|| job.site.edge(edge).map(|(_, edge)| edge))
            .and_then(|edge| levels::away_from([edge.edge.from, edge.edge.to])),
        FallDirection::Towards(_) => None,
    };
    Plane::finish(spec, away.unwrap_or_default())
}

/// The frame at the lower left of a shape's bounding box, along x.
fn lower_left(shape: &Shape) -> Option<Frame> {
    Some(Frame {
        origin: clip::bounds(shape)?.min,
        u: Vector::new(1.0, 0.0),
        v: Vector::new(0.0, 1.0),
    })
}

/// The screed rails of each part of the base, down the fall of its first area; one that falls
/// nowhere has them square to its start edge. A channel stands before the bedding is spread: no
/// rail runs through it.
fn rails(job: &Job, areas: &[AreaDesign], base: &[BasePart]) -> Rails {
    let parts = base.iter().filter_map(|part| {
        let first = &areas[*part.areas.first()?];
        Some(RailGround {
            shape: &part.shape,
            downhill: first.plane.downhill().unwrap_or(first.frame.v),
        })
    });
    screed::rails(&job.bedding.rails, &parts.collect::<Vec<_>>())
}

/// The dig: each area's formation under it and beyond the edges it extends.
fn dig(
    job: &Job,
    areas: &[AreaDesign],
    extents: &Extents,
    ground: Option<&Ground>,
) -> Result<Dig, Vec<Diagnostic>> {
    let own = |index: usize| extents_of(job, &[index]).dig.shape;
    let shapes = divided(&extents.dig.shape, areas.len(), own);
    let parts = areas.iter().zip(shapes).map(|(area, shape)| DigPart {
        shape,
        finish: area.plane,
        build_up: area.build_up,
    });
    let parts: Vec<DigPart> = parts.collect();
    let by_area = parts.iter();
    let by_area = by_area.map(|part| earthwork(std::slice::from_ref(part), ground));
    let by_area = by_area.collect();
    let Some(earthwork) = earthwork(&parts, ground) else {
        return Err(vec![Diagnostic::error(
            "no-dig",
            phrase!("the dig outline has no area"),
        )]);
    };
    Ok(Dig {
        spoil_loose_m3: earthwork.spoil_m3(job.swell),
        loads: earthwork.loads(job.swell, job.load),
        parts,
        by_area,
        earthwork,
    })
}

/// The open stretches, each a run of its own, in the order of the edges.
fn open_runs(extents: &Extents) -> Vec<EdgeRun> {
    let runs = extents.open_runs.iter();
    runs.map(|run| EdgeRun {
        name: run.name.clone(),
        edges: vec![run.edge],
    })
    .collect()
}

/// Joints to fill, by kind of paver.
fn joint_runs(job: &Job, areas: &[AreaDesign]) -> Vec<JointRun> {
    let laid = areas.iter().flat_map(|area| &area.paving.courses);
    laid.map(|laid| JointRun {
        length: laid.joint_length,
        width: match laid.joint_length > 0.0 {
            true => laid.joint_area / laid.joint_length,
            false => job.pavers[laid.paver].joint,
        },
        thickness: job.pavers[laid.paver].thickness,
    })
    .collect()
}
