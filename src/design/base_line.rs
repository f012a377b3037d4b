//! The base line that everything is taped from.
//!
//! In: the job. Out: the names and places of its two ends, in site millimetres.

use super::circles::circle_line;
use super::field::{SAME, is_strong};
use super::runs::straight_runs;
use crate::geom::Point;
use crate::job::Job;
use crate::levels::ties;
use crate::site::{Against, EdgeKind, SiteEdge, StructureKind};

/// A corner nearer than this to the base line is on it, in millimetres.
const ON_LINE: f64 = 0.5;
/// A face reaches when no more than one corner in so many has tapes from it that cross badly; those
/// are set out along and square from it.
const MOST_WEAK: usize = 4;

/// The ends of a line with their names.
type Line = [(String, Point); 2];

/// The base line: the job's; else a straight wall edge, the wall being there before the paving is;
/// else a straight edge along a pool or a building that stands, if it reaches; else any straight
/// edge. Edges of one line are taken together. Of several the one from which the fewest corners
/// have tapes that cross badly, the first of those; it runs the way that has most corners on its
/// left. A corner on the line itself is set along it. The line ends at named corners of the paving,
/// which a crew finds on the face; the bare ends of a face have no name on the sheet, and the
/// rounded ends of a pool no line, so that of such a pool the straight sides alone are asked. Where
/// there is no straight edge, a circle's radius along x, or a side of its box.
pub fn base_line(job: &Job) -> Line {
    if let Some(stated) = &job.base_line {
        return stated.clone();
    }
    let corners = job.site.corners.len();
    let wall = best(job, &|edge| edge.has(EdgeKind::Wall)).map(|(line, _)| line);
    let face = || {
        let (line, weak) = best(job, &|edge| stands_along(job, edge))?;
        (weak * MOST_WEAK <= corners).then_some(line)
    };
    let any = || best(job, &|_| true).map(|(line, _)| line);
    if let Some(line) = wall.or_else(face).or_else(any) {
        return line;
    }
    if let Some(line) = circle_line(job) {
        return line;
    }
    let ends = job.site.areas.iter().flat_map(|area| area.edges()).next();
    let [from, to] = ends.map_or_else(Default::default, |edge| [edge.edge.from, edge.edge.to]);
    [("A".into(), from), ("B".into(), to)]
}

/// Whether an edge runs along a pool or a building from end to end.
fn stands_along(job: &Job, edge: &SiteEdge) -> bool {
    let stands = |against: Option<Against>| match against {
        Some(Against::Structure(index)) => matches!(
            job.site.structures[index].kind,
            StructureKind::Pool | StructureKind::Building
        ),
        _ => false,
    };
    edge.stretches.iter().all(|stretch| stands(stretch.against))
}

/// The best straight line of the edges that are wanted, and how many corners it ties badly.
fn best(job: &Job, wanted: &dyn Fn(&SiteEdge) -> bool) -> Option<(Line, usize)> {
    let edges = job.site.areas.iter().flat_map(|area| area.edges());
    let straight = edges.filter(|edge| edge.edge.arc.is_none() && wanted(edge));
    let lines = straight.map(|edge| ([edge.edge.from, edge.edge.to], ()));
    let runs = straight_runs(lines.collect(), |(), (), _| true);
    let named = runs.into_iter().filter_map(|run| {
        let [from, to] = run.ends.map(|at| {
            let mut corners = job.site.corners.iter();
            corners.find(|corner| corner.at.distance(at) < SAME)
        });
        Some([from?, to?].map(|corner| (corner.name.clone(), corner.at)))
    });
    let counted = named.map(|line| {
        let weak = weak(job, [line[0].1, line[1].1]);
        (line, weak)
    });
    let (line, weak) = counted.min_by_key(|(_, weak)| *weak)?;
    let [from, to] = &line;
    let offsets = job.site.corners.iter();
    let offsets = offsets.map(|corner| ties([from.1, to.1], corner.at).offset);
    let sides = offsets.filter(|out| out.abs() > ON_LINE);
    let left: i64 = sides.map(|out| if out > 0.0 { 1 } else { -1 }).sum();
    let [from, to] = line;
    let line = if left < 0 { [to, from] } else { [from, to] };
    Some((line, weak))
}

/// How many corners have tapes from a line's ends that cross badly.
fn weak(job: &Job, ends: [Point; 2]) -> usize {
    let ties = job.site.corners.iter().map(|corner| ties(ends, corner.at));
    ties.filter(|ties| !is_strong(ties) && ties.offset.abs() > ON_LINE)
        .count()
}
