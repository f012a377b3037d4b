//! Cross joints of neighbouring courses, found from the pieces as laid.
//!
//! In: a layout, the panel and the least stagger. Out: the least distance along the course between
//! cross joints of courses that lie against each other, every pair under the limit, and every
//! place where four panels meet. Millimetres.
//!
//! A cross joint is where two pieces of a course lie end to end. It counts against the next course
//! when it runs to the line between the two; one that a cut or an obstacle ends short of the
//! line does not.

use super::contact::{kept, shared};
use super::{Layout, PanelsSpec};
use crate::geom::Point;

/// Lengths within this count as equal.
const TOLERANCE: f64 = 0.5;

/// The cross joints of a base.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CrossJoints {
    /// Least distance along the course between cross joints of neighbouring courses; `None` when
    /// no two neighbouring courses have one each.
    pub min_offset_mm: Option<f64>,
    /// How many pairs are under the limit, aligned ones included.
    pub under_limit: usize,
    /// At how many places four panels meet.
    pub four_corner: usize,
    /// The pairs under the limit, aligned ones included, by course and along it.
    pub crosses: Vec<Cross>,
}

/// Two cross joints of neighbouring courses that come too close.
#[derive(Clone, Debug, PartialEq)]
pub struct Cross {
    /// Numbers of the two courses.
    pub courses: [usize; 2],
    /// Half way between the ends of the two joints, in the site frame.
    pub at: Point,
    /// Distance between them along the course.
    pub offset_mm: f64,
    /// Whether four panels meet there (ends within 0.5 mm).
    pub four_corner: bool,
}

impl CrossJoints {
    /// Those of several parts of a base together.
    pub fn merged(parts: impl IntoIterator<Item = CrossJoints>) -> Self {
        parts.into_iter().fold(Self::default(), |mut all, part| {
            let both = all.min_offset_mm.into_iter().chain(part.min_offset_mm);
            all.min_offset_mm = both.min_by(f64::total_cmp);
            all.under_limit += part.under_limit;
            all.four_corner += part.four_corner;
            all.crosses.extend(part.crosses);
            all
        })
    }
}

/// The cross joints of one layout. A pair is under the limit when it is closer than
/// `spec.min_stagger` by more than 0.5 mm, or aligned.
pub fn cross_joints(layout: &Layout, spec: &PanelsSpec) -> CrossJoints {
    let seams = seams(layout, spec);
    let pitch = spec.panel.width + spec.panel.joint;
    let mut found = CrossJoints::default();
    for at in 1..layout.courses.len() {
        let (course, next) = (&layout.courses[at - 1], &layout.courses[at]);
        if next.number != course.number + 1 {
            continue;
        }
        let line = next.v0 - spec.panel.joint / 2.0;
        debug_assert!((next.v0 - course.v0 - pitch).abs() < TOLERANCE);
        let far: Vec<f64> = seams[at - 1]
            .iter()
            .filter(|s| s.far)
            .map(|s| s.u)
            .collect();
        let near: Vec<f64> = seams[at].iter().filter(|s| s.near).map(|s| s.u).collect();
        let limit = (spec.min_stagger - TOLERANCE).max(0.0);
        for u in far {
            let from = near.partition_point(|&other| other < u);
            let nearest = [from.checked_sub(1), Some(from)].into_iter().flatten();
            for &other in nearest.filter_map(|index| near.get(index)) {
                let offset = (other - u).abs();
                let least = found.min_offset_mm.unwrap_or(f64::INFINITY);
                found.min_offset_mm = Some(least.min(offset));
            }
            let reach = limit.max(TOLERANCE);
            let first = near.partition_point(|&other| other < u - reach - TOLERANCE);
            for &other in &near[first..] {
                if other > u + reach + TOLERANCE {
                    break;
                }
                let offset = (other - u).abs();
                let four_corner = offset <= TOLERANCE;
                if !four_corner && offset >= limit {
                    continue;
                }
                found.under_limit += 1;
                found.four_corner += usize::from(four_corner);
                found.crosses.push(Cross {
                    courses: [course.number, next.number],
                    at: layout.frame.to_site((u + other) / 2.0, line),
                    offset_mm: offset,
                    four_corner,
                });
            }
        }
    }
    found
}

/// One cross joint, or one of the stretches that an obstacle leaves of it.
struct Seam {
    /// Middle of the joint along the course.
    u: f64,
    /// Whether it runs to the course's near side.
    near: bool,
    /// Whether it runs to the course's far side.
    far: bool,
}

/// The cross joints of each course, in order along it.
fn seams(layout: &Layout, spec: &PanelsSpec) -> Vec<Vec<Seam>> {
    let panel = &spec.panel;
    let cell = panel.length + panel.joint;
    let kept = kept(layout, [panel.length, panel.width]);
    let of_course = |course: &super::Course| {
        let mut seams = Vec::new();
        let groups: Vec<Vec<usize>> = panels_of(layout, course);
        for pair in groups.windows(2) {
            let (here, next) = (&pair[0], &pair[1]);
            let (u0, u1) = (
                layout.pieces[here[0]].cell[0],
                layout.pieces[next[0]].cell[0],
            );
            if (u1 - u0 - cell).abs() > TOLERANCE {
                continue;
            }
            let ends: Vec<_> = here.iter().flat_map(|&i| kept[i].end.clone()).collect();
            let starts: Vec<_> = next.iter().flat_map(|&i| kept[i].start.clone()).collect();
            let far_side = course.v0 + panel.width;
            for [low, high] in shared(&ends, &starts) {
                seams.push(Seam {
                    u: u1 - panel.joint / 2.0,
                    near: low - course.v0 <= TOLERANCE,
                    far: far_side - high <= TOLERANCE,
                });
            }
        }
        seams
    };
    layout.courses.iter().map(of_course).collect()
}

/// The course's pieces by the panel's place they are at.
fn panels_of(layout: &Layout, course: &super::Course) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for index in course.pieces.clone() {
        let same = groups.last().is_some_and(|group| {
            let before = &layout.pieces[group[0]];
            (before.cell[0] - layout.pieces[index].cell[0]).abs() < TOLERANCE
        });
        match groups.last_mut() {
            Some(group) if same => group.push(index),
            _ => groups.push(vec![index]),
        }
    }
    groups
}
