//! Where the base breaks, and what each of its parts is.
//!
//! In: the job, its areas and extents, where the areas meet. Out: the parts of the base, each with
//! its areas, its outline and its panels; and how an outline is divided among areas. Millimetres.

use super::AreaDesign;
use super::base::BasePart;
use super::water::less_grates;
use crate::geom::{Point, Shape, clip};
use crate::job::Job;
use crate::levels::Meet;
use crate::levels::meet::breaks;
use crate::panels::{self, PanelsSpec};
use crate::site::{self, Against, EdgeKind, Extents};

/// What is narrower than this, in millimetres, is none of the base: no piece of panel is cut to it.
const SLIVER: f64 = 0.5;
/// Joints that differ by less than this, in millimetres, differ alike.
const ALIKE: f64 = 0.1;

/// How far a panel laid across an edge reaches to each side of it at most, in millimetres.
pub fn half_panel(job: &Job) -> f64 {
    let panel = &job.panels.panel;
    panel.length.max(panel.width) / 2.0
}

/// The base, broken where panel tops of neighbouring areas differ.
pub(super) fn base(
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
    let all = less_grates(&extents.base.shape, grates);
    let own: Vec<Extents> = match groups.len() {
        1 => vec![extents.clone()],
        _ => groups.iter().map(|group| extents_of(job, group)).collect(),
    };
    let shapes = divided(&all, groups.len(), |part| own[part].base.shape.clone());
    let mut parts = Vec::new();
    let mut courses = 0;
    for (number, ((group, own), shape)) in groups.iter().zip(&own).zip(shapes).enumerate() {
        // the stated start is that of the part its area is in, else a part has its first area's
        let (start, area) = match home {
            Some(area) if group.contains(&area) => (job.panels_start.as_ref(), area),
            _ => (job.paving_starts[group[0]].as_ref(), group[0]),
        };
        let frame = match start {
            Some(start) => job.site.base_frame(own, start, area),
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

/// The extents of some of the areas alone: an edge that joins another area is not moved, and
/// what neighbours it meets that edge's line produced.
pub(super) fn extents_of(job: &Job, group: &[usize]) -> Extents {
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
/// panel across the edge does not rock on a fold. Areas that meet at a break are in one group on no
/// account, whatever else lies between them; those that differ least are joined first.
fn groups(job: &Job, areas: &[AreaDesign], meets: &[Meet]) -> Vec<Vec<usize>> {
    let mut group: Vec<usize> = (0..areas.len()).collect();
    let by = |meet: &Meet| {
        let [a, b] = meet.areas;
        let pavers = areas[a].build_up.paver - areas[b].build_up.paver;
        let steps = meet.ends().map(|step| (step - pavers).abs());
        let rocking = meet.rocking(half_panel(job));
        steps.into_iter().fold(rocking, f64::max)
    };
    let (broken, mut joined): (Vec<_>, Vec<_>) = meets
        .iter()
        .map(|meet| (meet.areas, by(meet)))
        .partition(|(_, by)| breaks(*by));
    joined.sort_by_key(|(_, by)| (by / ALIKE).round() as i64);
    for ([a, b], _) in joined {
        let (low, high) = (group[a].min(group[b]), group[a].max(group[b]));
        let parts = |areas: [usize; 2]| {
            let [a, b] = areas.map(|area| group[area]);
            [a.min(b), a.max(b)] == [low, high]
        };
        if broken.iter().any(|(areas, _)| parts(*areas)) {
            continue;
        }
        for member in &mut group {
            if *member == high {
                *member = low;
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

/// An outline divided among so many owners: to each, in order, what `own` says is its and no earlier
/// one has, and what lies between them to the one that it borders on most. Cuts along an arc leave
/// slivers between its chords: those narrower than [`SLIVER`] go.
pub(super) fn divided(whole: &Shape, owners: usize, own: impl Fn(usize) -> Shape) -> Vec<Shape> {
    if owners == 1 {
        return vec![whole.clone()];
    }
    let mut left = whole.clone();
    let mut parts = Vec::with_capacity(owners);
    for owner in 0..owners {
        let part = clip::intersection(&left, &own(owner));
        left = clip::difference(&left, &part);
        parts.push(less_slivers(part));
    }
    for loose in less_slivers(left) {
        let loose = Shape::new(vec![loose]);
        let border = |part: &Shape| {
            let together = clip::union([part, &loose]);
            let border = perimeter(part) + perimeter(&loose) - perimeter(&together);
            (border, together)
        };
        let bordering = parts.iter().map(border).enumerate();
        // the last of those that border on it alike
        let most = bordering.max_by(|(_, (a, _)), (_, (b, _))| a.total_cmp(b));
        if let Some((owner, (_, together))) = most {
            parts[owner] = together;
        }
    }
    parts
}

/// A shape without its slivers.
fn less_slivers(shape: Shape) -> Shape {
    let parts = shape.into_iter();
    parts
        .filter(|part| {
            let part = Shape::new(vec![part.clone()]);
            2.0 * clip::area(&part) > SLIVER * perimeter(&part)
        })
        .collect()
}

/// The length of all rings of a shape.
fn perimeter(shape: &Shape) -> f64 {
    let lines = clip::rings(shape).flat_map(|ring| ring.lines());
    let ends = lines.map(|line| [line.start, line.end].map(|at| Point::new(at.x, at.y)));
    ends.map(|[from, to]| from.distance(to)).sum()
}
