//! Where the sections are cut.
//!
//! In: the job, its extents, the first area, the fall and the joints between panels. Out: section
//! lines, each from beyond the dig to beyond it. Millimetres.

use super::AreaDesign;
use crate::geom::{Point, Shape, Vector, clip};
use crate::job::{Job, SectionLine};
use crate::paving::{Place, Segment};
use crate::site::{EdgeKind, Extents};

/// A section line runs this far beyond the dig, in millimetres.
const MARGIN: f64 = 600.0;

/// The section lines in order: those the job states, else A–A alone.
pub fn lines(
    job: &Job,
    extents: &Extents,
    area: &AreaDesign,
    downhill: Vector,
    seams: &[Segment],
) -> Vec<SectionLine> {
    let mut sections = job.sheet.sections.clone();
    for section in &mut sections {
        section.line = past_dig(section.line, &extents.dig.shape);
    }
    if sections.is_empty() {
        let edges = job.site.stretches();
        let edges = edges.map(|stretch| Segment {
            from: stretch.edge.point_at(0.0),
            to: stretch.edge.point_at(1.0),
        });
        let kept_off = KeptOff {
            wide: seams.iter().copied().chain(edges).collect(),
            narrow: paver_joints(area),
        };
        sections.push(SectionLine {
            name: "A".to_owned(),
            line: section_line(job, extents, area, downhill, &kept_off),
        });
    }
    sections
}

/// Section A–A where the job states none: along the fall through the middle of a wall edge, else
/// through the middle of the paving, from just behind to just beyond the dig.
fn section_line(
    job: &Job,
    extents: &Extents,
    area: &AreaDesign,
    downhill: Vector,
    kept_off: &KeptOff,
) -> [Point; 2] {
    let mut stretches = job.site.stretches();
    let wall = stretches.find(|stretch| {
        stretch.kind == EdgeKind::Wall && area.shape_touches(stretch.edge.point_at(0.5))
    });
    let bounds = clip::bounds(&extents.dig.shape);
    let middle = bounds.map_or(area.frame.origin, |b| b.min.midpoint(b.max));
    let through = wall.map_or(middle, |stretch| stretch.edge.point_at(0.5));
    let through = beside(through, downhill, kept_off);
    let reach = bounds.map_or(0.0, |b| b.min.distance(b.max));
    let far = [through + downhill * -reach, through + downhill * reach];
    let inside = clip::clip_lines(&[(far[0], far[1])], &extents.dig.shape);
    let along = |at: Point| (at - through).dot(downhill);
    let ends = inside.iter().flat_map(|(a, b)| [along(*a), along(*b)]);
    let low = ends.clone().fold(f64::INFINITY, f64::min);
    let high = ends.fold(f64::NEG_INFINITY, f64::max);
    if low >= high {
        return far;
    }
    [
        through + downhill * (low - MARGIN),
        through + downhill * (high + MARGIN),
    ]
}

/// A stated section line with each end that lies in the dig moved out along the line to just
/// beyond the dig, so that the dig's side and the ground by it are cut too.
fn past_dig([a, b]: [Point; 2], dig: &Shape) -> [Point; 2] {
    let (Some(along), Some(bounds)) = ((b - a).unit(), clip::bounds(dig)) else {
        return [a, b];
    };
    let reach = bounds.min.distance(bounds.max) + a.distance(bounds.min);
    let far = [a + along * -reach, b + along * reach];
    let station = |at: Point| (at - a).dot(along);
    let inside = clip::clip_lines(&[(far[0], far[1])], dig);
    let beyond = |end: f64, way: f64| {
        inside
            .iter()
            .map(|(p, q)| [station(*p), station(*q)])
            .find(|span| (span[0].min(span[1]) - 1.0..=span[0].max(span[1]) + 1.0).contains(&end))
            .map_or(end, |span| {
                way * (way * span[0]).max(way * span[1]) + way * MARGIN
            })
    };
    [
        a + along * beyond(0.0, -1.0),
        a + along * beyond(a.distance(b), 1.0),
    ]
}

/// What a section line does not run in.
struct KeptOff {
    /// Panel joints and edges of the paving: it keeps well clear of them.
    wide: Vec<Segment>,
    /// Joints between pavers, and their sides: it only keeps out of them.
    narrow: Vec<Segment>,
}

/// Joints that run straight through the field of an area, and the sides of its border pavers.
fn paver_joints(area: &AreaDesign) -> Vec<Segment> {
    let courses = area.paving.courses.iter();
    let borders = courses.filter(|laid| matches!(laid.place, Place::Border(_)));
    let sides = borders
        .flat_map(|laid| laid.whole.iter())
        .flat_map(|corners| {
            [0, 1, 2, 3].map(|side| Segment {
                from: corners[side],
                to: corners[(side + 1) % 4],
            })
        });
    area.paving.runs.iter().copied().chain(sides).collect()
}

/// A place near `through` whose line along `along` runs neither in a joint nor in an edge of the
/// paving, so that the section cuts panels and pavers and not the gap between them.
fn beside(through: Point, along: Vector, kept_off: &KeptOff) -> Point {
    const WIDE: f64 = 40.0;
    const NARROW: f64 = 10.0;
    const STEP: f64 = 30.0;
    let across = along.left();
    let in_one = |at: Point, joints: &[Segment], clear: f64| {
        joints.iter().any(|joint| {
            let near = |end: Point| (end - at).dot(across).abs() < clear;
            near(joint.from) && near(joint.to)
        })
    };
    let places = (0..20).map(|step| through + across * (f64::from(step) * STEP));
    // Where no place clears both, panel joints and edges count for more.
    let mut places = places
        .filter(|at| !in_one(*at, &kept_off.wide, WIDE))
        .peekable();
    let first = places.peek().copied();
    places
        .find(|at| !in_one(*at, &kept_off.narrow, NARROW))
        .or(first)
        .unwrap_or(through)
}

#[cfg(test)]
mod tests {
    /// A section that the job does not state cuts the paving beside an edge that two areas share,
    /// not the edge: along the edge it would show neither.
    #[test]
    fn the_section_keeps_off_edges_along_it() {
        let job = crate::job::read(
            b"job: {title: Two}
sheet: {units: metric}
paving:
  - {name: West, outline: [[0, 0], [1800 mm, 0], [1800 mm, 2400 mm], [0, 2400 mm]]}
  - {name: East, outline: [[1800 mm, 0], [3600 mm, 0], [3600 mm, 2400 mm], [1800 mm, 2400 mm]]}
pavers: {field: {size: [200 mm, 100 mm], thickness: 60 mm}}
levels: {finish: {at: A, level: 10 m, fall: 2%, away_from: A-B}}
",
        )
        .expect("a job");
        let design = crate::design::run(job).expect("a design");
        let [from, to] = design.sections[0].line;
        assert!((from.x - to.x).abs() < 1e-6);
        assert!((from.x - 1800.0).abs() >= 40.0, "{}", from.x);
    }

    /// Border pavers 98 mm wide with joints of 2 mm have a joint at the middle of a wall of 3 m; the
    /// section cuts the pavers beside it.
    #[test]
    fn the_section_keeps_out_of_the_joints_of_a_border() {
        let job = crate::job::read(
            b"job: {title: Border}
sheet: {units: metric}
site:
  structures:
    - {name: House, kind: building, outline: [[0, -3 m], [3 m, -3 m], [3 m, 0], [0, 0]]}
paving:
  - name: Patio
    outline: [[0, 0], [3 m, 0], [3 m, 2.4 m], [0, 2.4 m]]
    paver: field
    border: [{paver: field, lay: soldier}]
pavers: {field: {size: [198 mm, 98 mm], thickness: 60 mm, joint: 2 mm}}
levels: {finish: {at: A, level: 10 m, fall: 2%, away_from: A-B}}
",
        )
        .expect("a job");
        let design = crate::design::run(job).expect("a design");
        let [from, to] = design.sections[0].line;
        let cut = design.areas[0].paving.courses.iter().any(|laid| {
            laid.place != crate::paving::Place::Field
                && laid.whole.iter().any(|corners| {
                    let xs = corners.map(|p| p.x);
                    let [low, high] = [
                        xs.iter().copied().fold(f64::MAX, f64::min),
                        xs.iter().copied().fold(f64::MIN, f64::max),
                    ];
                    low + 9.0 < from.x && from.x < high - 9.0 && corners[0].y < 300.0
                })
        });
        assert!((from.x - to.x).abs() < 1e-6);
        assert!(cut, "{}", from.x);
    }
}
