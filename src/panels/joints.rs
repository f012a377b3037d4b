//! Cross joints that come too close, found by a sweep over the pieces as drawn.
//!
//! In: the layouts of all parts of the base, the panel and the least stagger. Out: the least
//! distance along the course between cross joints of courses that lie against each other, every
//! pair under the limit, and every place where four panels meet. Millimetres.
//!
//! A cross joint is where two pieces of a course lie end to end, whatever rule put them there. It
//! counts against the next course when it runs to the line between the two; one that a cut or an
//! obstacle ends short of the line does not. Where parts of a base meet at a break, joints that
//! run to the break from either side count against each other by the distance between their ends.

use super::breaks::across_breaks;
use super::contact::{Sides, shared, sides};
use super::remedy::{Remedy, remedy};
use super::{Layout, PanelsSpec};
use crate::geom::Point;

/// Lengths within this count as equal.
pub(super) const TOLERANCE: f64 = 0.5;

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
    /// The pairs under the limit, aligned ones included, by part, course and along it, those at
    /// breaks last.
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
    /// What puts it right; none where no trim of the later course does, or at a break.
    pub remedy: Option<Remedy>,
}

impl CrossJoints {
    fn pair(&mut self, offset: f64) {
        let least = self.min_offset_mm.unwrap_or(f64::INFINITY);
        self.min_offset_mm = Some(least.min(offset));
    }

    fn fault(&mut self, cross: Cross) {
        self.under_limit += 1;
        self.four_corner += usize::from(cross.four_corner);
        self.crosses.push(cross);
    }
}

/// The cross joints of all parts of a base. A pair is under the limit when it is closer than
/// `spec.min_stagger` by more than 0.5 mm, or aligned.
pub fn cross_joints(layouts: &[Layout], spec: &PanelsSpec) -> CrossJoints {
    let mut found = CrossJoints::default();
    let seams: Vec<Vec<Vec<Seam>>> = layouts.iter().map(|layout| seams(layout, spec)).collect();
    for (layout, seams) in layouts.iter().zip(&seams) {
        within(layout, seams, spec, &mut found);
    }
    for pair in across_breaks(layouts, &seams, spec) {
        found.pair(pair.offset_mm);
        found.fault(pair);
    }
    found
}

/// Whether joints `offset` apart are a fault, and whether four panels meet there.
pub(super) fn fault(offset: f64, spec: &PanelsSpec) -> Option<bool> {
    let aligned = offset <= TOLERANCE;
    (aligned || offset < spec.min_stagger - TOLERANCE).then_some(aligned)
}

/// The pairs within one part.
fn within(layout: &Layout, seams: &[Vec<Seam>], spec: &PanelsSpec, found: &mut CrossJoints) {
    for at in 1..layout.courses.len() {
        let (course, next) = (&layout.courses[at - 1], &layout.courses[at]);
        if next.index != course.index + 1 {
            continue;
        }
        let line = next.v0 - spec.panel.joint / 2.0;
        let runs = |seams: &[Seam], to: fn(&Seam) -> bool| -> Vec<f64> {
            seams
                .iter()
                .filter(|seam| to(seam))
                .map(|seam| seam.u)
                .collect()
        };
        let far = runs(&seams[at - 1], |seam| seam.far);
        let near = runs(&seams[at], |seam| seam.near);
        let reach = spec.min_stagger.max(TOLERANCE);
        for u in far {
            let from = near.partition_point(|&other| other < u);
            for index in [from.checked_sub(1), Some(from)].into_iter().flatten() {
                if let Some(other) = near.get(index) {
                    found.pair((other - u).abs());
                }
            }
            let first = near.partition_point(|&other| other < u - reach - TOLERANCE);
            for &other in near[first..]
                .iter()
                .take_while(|&&other| other <= u + reach + TOLERANCE)
            {
                let offset = (other - u).abs();
                if let Some(four_corner) = fault(offset, spec) {
                    found.fault(Cross {
                        courses: [course.number, next.number],
                        at: layout.frame.to_site((u + other) / 2.0, line),
                        offset_mm: offset,
                        four_corner,
                        remedy: remedy(layout, at, [u, other], spec),
                    });
                }
            }
        }
    }
}

/// One cross joint, or one of the stretches that an obstacle leaves of it.
pub(super) struct Seam {
    /// Middle of the joint along the course.
    pub(super) u: f64,
    /// From where to where across the course.
    pub(super) across: [f64; 2],
    /// Whether it runs to the course's near side.
    near: bool,
    /// Whether it runs to the course's far side.
    far: bool,
}

/// The cross joints of each course, in order along it: where the end of a piece as drawn lies
/// against the start of another.
fn seams(layout: &Layout, spec: &PanelsSpec) -> Vec<Vec<Seam>> {
    let joint = spec.panel.joint;
    let of_course = |course: &super::Course| {
        let all: Vec<Sides> = layout.pieces[course.pieces.clone()]
            .iter()
            .map(|piece| sides(piece, &layout.frame))
            .collect();
        let listed = |pick: fn(&Sides) -> &Vec<[f64; 3]>| {
            let mut list: Vec<[f64; 3]> = all.iter().flat_map(pick).copied().collect();
            list.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
            list
        };
        let (ends, starts) = (listed(|sides| &sides.ends), listed(|sides| &sides.starts));
        let mut found: Vec<(f64, [f64; 2])> = Vec::new();
        for [u, low, high] in ends {
            let least = u + joint - TOLERANCE;
            let first = starts.partition_point(|start| start[0] < least);
            for start in starts[first..]
                .iter()
                .take_while(|start| start[0] <= least + 2.0 * TOLERANCE)
            {
                for stretch in shared(&[[low, high]], &[[start[1], start[2]]]) {
                    found.push(((u + start[0]) / 2.0, stretch));
                }
            }
        }
        let (near_side, far_side) = (course.v0, course.v0 + spec.panel.width);
        joined(found)
            .into_iter()
            .map(|(u, [low, high])| Seam {
                u,
                across: [low, high],
                near: low - near_side <= TOLERANCE,
                far: far_side - high <= TOLERANCE,
            })
            .collect()
    };
    layout.courses.iter().map(of_course).collect()
}

/// Stretches of one joint that follow each other, as one.
fn joined(mut found: Vec<(f64, [f64; 2])>) -> Vec<(f64, [f64; 2])> {
    found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1[0].total_cmp(&b.1[0])));
    let mut joined: Vec<(f64, [f64; 2])> = Vec::new();
    for (u, [low, high]) in found {
        match joined.last_mut() {
            Some((at, [_, top])) if (u - *at).abs() <= TOLERANCE && low - *top <= TOLERANCE => {
                *top = top.max(high);
            }
            _ => joined.push((u, [low, high])),
        }
    }
    joined
}
