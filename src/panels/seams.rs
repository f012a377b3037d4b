//! The joints between laid panels, as straight stretches.
//!
//! In: a layout. Out: where two pieces lie against each other, along the middle of the joint, in
//! site millimetres. The base's outline and trimmed sides are no joints.

use super::contact::{kept, shared};
use super::{Layout, PanelSpec};
use crate::geom::Point;

/// Every joint between two pieces, from course to course and along the courses.
pub fn seams(layout: &Layout, panel: &PanelSpec) -> Vec<[Point; 2]> {
    let half = panel.joint / 2.0;
    let kept = kept(layout, [panel.length, panel.width]);
    let site = |a: [f64; 2], b: [f64; 2]| {
        [
            layout.frame.to_site(a[0], a[1]),
            layout.frame.to_site(b[0], b[1]),
        ]
    };
    let mut seams = Vec::new();
    for (at, course) in layout.courses.iter().enumerate() {
        for index in course.pieces.clone() {
            let u = layout.pieces[index].cell[0] + panel.length + half;
            for other in index + 1..course.pieces.end {
                let apart = layout.pieces[other].cell[0] - layout.pieces[index].cell[0];
                if apart > 1.5 * panel.length {
                    break;
                }
                if apart > 0.5 * panel.length {
                    let along = shared(&kept[index].end, &kept[other].start);
                    seams.extend(along.iter().map(|[v0, v1]| site([u, *v0], [u, *v1])));
                }
            }
        }
        let next = layout.courses.get(at + 1);
        let Some(next) = next.filter(|next| next.index == course.index + 1) else {
            continue;
        };
        let v = course.v0 + panel.width + half;
        for index in course.pieces.clone() {
            let piece = &layout.pieces[index];
            for other in next.pieces.clone() {
                let above = &layout.pieces[other];
                if above.cell[0] + panel.length < piece.x_mm {
                    continue;
                }
                if above.cell[0] > piece.x_mm + piece.length_mm {
                    break;
                }
                let along = shared(&kept[index].far, &kept[other].near);
                seams.extend(along.iter().map(|[u0, u1]| site([*u0, v], [*u1, v])));
            }
        }
    }
    seams
}
