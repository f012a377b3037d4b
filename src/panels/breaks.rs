//! Cross joints that run to a break between parts of the base, from either side.
//!
//! In: the parts' layouts with their cross joints. Out: the pairs that come too close. Millimetres.
//! A joint's end lies on the break when it lies on a piece of another part. Joints along the
//! courses that run to a break are no cross joints.

use super::joints::{Cross, Seam, TOLERANCE, fault};
use super::{Layout, PanelsSpec};
use crate::geom::{Point, clip};

/// An end of a cross joint that lies on another part.
struct End {
    part: usize,
    course: usize,
    at: Point,
}

/// The pairs under the limit, by their place from left to right.
pub(super) fn across_breaks(
    layouts: &[Layout],
    seams: &[Vec<Vec<Seam>>],
    spec: &PanelsSpec,
) -> Vec<Cross> {
    let mut ends: Vec<End> = Vec::new();
    for (part, (layout, seams)) in layouts.iter().zip(seams).enumerate() {
        for (course, seams) in layout.courses.iter().zip(seams) {
            for seam in seams {
                for v in seam.across {
                    let at = layout.frame.to_site(seam.u, v);
                    let mut others = layouts
                        .iter()
                        .enumerate()
                        .filter(|(other, _)| *other != part);
                    if others.any(|(_, other)| lies_on(other, at, spec)) {
                        ends.push(End {
                            part,
                            course: course.number,
                            at,
                        });
                    }
                }
            }
        }
    }
    ends.sort_by(|a, b| a.at.x.total_cmp(&b.at.x).then(a.at.y.total_cmp(&b.at.y)));
    let reach = spec.min_stagger.max(TOLERANCE) + TOLERANCE;
    let mut found = Vec::new();
    for (index, one) in ends.iter().enumerate() {
        let near = ends[index + 1..]
            .iter()
            .take_while(|other| other.at.x - one.at.x <= reach);
        for other in near.filter(|other| other.part != one.part) {
            let offset = one.at.distance(other.at);
            if let Some(four_corner) = fault(offset, spec) {
                let courses = [one.course, other.course];
                found.push(Cross {
                    courses: [courses[0].min(courses[1]), courses[0].max(courses[1])],
                    at: one.at.midpoint(other.at),
                    offset_mm: offset,
                    four_corner,
                    remedy: None,
                });
            }
        }
    }
    found
}

/// Whether a place lies on a piece of a layout, but for the joint.
fn lies_on(layout: &Layout, at: Point, spec: &PanelsSpec) -> bool {
    let (u, v) = layout.frame.to_local(at);
    let slack = 2.0 * (spec.panel.joint + TOLERANCE);
    let first = layout
        .courses
        .partition_point(|course| course.v0 + spec.panel.width < v - slack);
    let courses = layout.courses[first..]
        .iter()
        .take_while(|course| course.v0 <= v + slack);
    courses.into_iter().any(|course| {
        let pieces = &layout.pieces[course.pieces.clone()];
        let first = pieces.partition_point(|piece| piece.cell[0] + spec.panel.length < u - slack);
        pieces[first..]
            .iter()
            .take_while(|piece| piece.cell[0] <= u + slack)
            .any(|piece| clip::distance(&piece.shape, at) <= slack)
    })
}
