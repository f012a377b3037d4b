//! Runs the computations in order: extents, levels, base, dig, what is laid on and around it.

use super::base::{BasePart, Totals};
use super::base_line::base_line;
use super::circles::quarters;
use super::dig::Dig;
use super::setout::setout;
use super::water::{drains, grates, less_grates, standing, water};
use super::{AreaDesign, Design, earth, field, section, services};
use crate::diag::Diagnostic;
use crate::edging::{self, EdgeRun};
use crate::geom::{Frame, Point, Shape, Vector, clip};
use crate::job::Job;
use crate::jointing::{self, JointRun};
use crate::language::{Phrase, phrase};
use crate::levels::{self, BuildUp, DigPart, FallDirection, Ground, Meet, Plane, earthwork};
use crate::panels::{self, PanelsSpec};
use crate::paving::{self, Segment};
use crate::screed::{self, RailGround, Rails};
use crate::site::{self, Against, EdgeKind, Extents};
use crate::textile;

/// Panel tops that differ by more than this at a joined edge break the base there, and so does a
/// fold on which a panel rocks by more, in millimetres.
pub const BREAK: f64 = 3.0;

/// How far a panel laid across an edge reaches to each side of it at most, in millimetres.
pub fn half_panel(job: &Job) -> f64 {
    let panel = &job.panels.panel;
    panel.length.max(panel.width) / 2.0
}

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
    let field = field::field(&job, &areas, &extents, &base_line, &setout, &rails);
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

/// The base, broken where panel tops of neighbouring areas differ.
fn base(
    job: &Job,
    areas: &[AreaDesign],
    extents: &Extents,
    meets: &[Meet],
    grates: &[Option<[Point; 4]>],
) -> Vec<BasePart> {
    let groups = groups(job, areas, meets);
    let home = job
        .panels_start
        .as_ref()
        .and_then(|start| (0..areas.len()).find(|&area| job.site.frame(start, area).is_some()));
    let mut left = less_grates(&extents.base.shape, grates);
    let mut parts = Vec::new();
    let mut courses = 0;
    for (number, group) in groups.iter().enumerate() {
        let own = match groups.len() {
            1 => extents.clone(),
            _ => extents_of(job, group),
        };
        let shape = if groups.len() == 1 {
            left.clone()
        } else {
            let mut shape = clip::intersection(&left, &own.base.shape);
            if number + 1 == groups.len() {
                shape = left.clone();
            }
            left = clip::difference(&left, &shape);
            shape
        };
        // the stated start is that of the part its area is in, else a part has its first area's
        let (start, area) = match home {
            Some(area) if group.contains(&area) => (job.panels_start.as_ref(), area),
            _ => (job.paving_starts[group[0]].as_ref(), group[0]),
        };
        let frame = match start {
            Some(start) => job.site.base_frame(&own, start, area),
            None => own.box_frame(),
        };
        let Some(frame) = frame else { continue };
        // what is laid is stated for the part with the start, or by an area of another
        let stated = group.iter().find_map(|area| job.course_starts_of.get(area));
        let at_home =
            home.is_none_or(|area| group.contains(&area)) && (home.is_some() || number == 0);
        let starts = match stated {
            Some(starts) => starts.clone(),
            None if at_home => job.panels.course_starts.clone(),
            None => panels::CourseStarts::new(),
        };
        let spec = PanelsSpec {
            course_starts: starts,
            ..job.panels.clone()
        };
        let (mut layout, best) = panels::lay_by_rule(&spec, &shape, &frame);
        // numbers run on from part to part, so that no two pieces bear one mark
        layout.number_from(courses);
        courses += layout
            .courses
            .last()
            .map_or(0, |course| course.number - courses);
        parts.push(BasePart {
            areas: group.clone(),
            shape,
            start: start.cloned(),
            layout,
            best,
        });
    }
    parts
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

/// The extents of some of the areas alone: an edge that joins another area is not moved, and
/// what neighbours it meets that edge's line produced.
fn extents_of(job: &Job, group: &[usize]) -> Extents {
    let mut site = job.site.clone();
    for (index, area) in site.areas.iter_mut().enumerate() {
        if !group.contains(&index) {
            area.rings.clear();
        }
        let rings = area.rings.iter_mut();
        let edges = rings.flat_map(|ring| &mut ring.edges);
        for stretch in edges.flat_map(|edge| &mut edge.stretches) {
            let out =
                matches!(stretch.against, Some(Against::Area(other)) if !group.contains(&other));
            if stretch.kind == EdgeKind::Joined && out {
                stretch.kind = EdgeKind::Flush;
            }
        }
    }
    site::extents(&site, job.base_extension, job.dig_extension)
}

/// Areas whose panels run on where they join, each group in order: the panel tops agree, and a
/// panel across the edge does not rock on a fold.
fn groups(job: &Job, areas: &[AreaDesign], meets: &[Meet]) -> Vec<Vec<usize>> {
    let mut group: Vec<usize> = (0..areas.len()).collect();
    for meet in meets {
        let [a, b] = meet.areas;
        let pavers = areas[a].build_up.paver - areas[b].build_up.paver;
        let differs = meet.ends().iter().any(|step| (step - pavers).abs() > BREAK);
        if !differs && meet.rocking(half_panel(job)) <= BREAK {
            let (a, b) = (group[a], group[b]);
            let (low, high) = (a.min(b), a.max(b));
            for member in &mut group {
                if *member == high {
                    *member = low;
                }
            }
        }
    }
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut of: Vec<usize> = Vec::new();
    for (area, &leader) in group.iter().enumerate() {
        match of.iter().position(|&known| known == leader) {
            Some(at) => groups[at].push(area),
            None => {
                of.push(leader);
                groups.push(vec![area]);
            }
        }
    }
    groups
}

/// The dig: each area's formation under it and beyond the edges it extends.
fn dig(
    job: &Job,
    areas: &[AreaDesign],
    extents: &Extents,
    ground: Option<&Ground>,
) -> Result<Dig, Vec<Diagnostic>> {
    let mut left = extents.dig.shape.clone();
    let mut parts = Vec::new();
    for (index, area) in areas.iter().enumerate() {
        let shape = if index + 1 == areas.len() {
            left.clone()
        } else {
            let own = extents_of(job, &[index]);
            let shape = clip::intersection(&left, &own.dig.shape);
            left = clip::difference(&left, &shape);
            shape
        };
        parts.push(DigPart {
            shape,
            finish: area.plane,
            build_up: area.build_up,
        });
    }
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
