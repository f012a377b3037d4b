//! The installer's rule: each course starts with what the last course left over.
//!
//! In: the layouts and what may share a panel. Out: the pieces by panel as a crew cuts them that
//! keeps only the last offcut. It is what sharing must never fall behind.

use super::bits::Bits;
use crate::panels::Layout;

/// The trimmed pieces panel by panel: the first piece of a course is cut from the offcut of the
/// last panel that the course before it cut, where it fits; every other takes a new panel.
///
/// `place` gives each piece's number in `share`, for those that are trimmed and keep their place
/// in the panel.
pub(in crate::panels) fn panels(
    layouts: &[Layout],
    place: impl Fn(usize, usize) -> Option<usize>,
    share: &Bits,
) -> Vec<Vec<usize>> {
    let mut panels: Vec<Vec<usize>> = Vec::new();
    for (part, layout) in layouts.iter().enumerate() {
        let mut offcut: Option<usize> = None;
        for course in &layout.courses {
            let before = offcut.take();
            for index in course.pieces.clone() {
                let Some(piece) = place(part, index) else {
                    continue;
                };
                let first = index == course.pieces.start;
                let fits = before.filter(|&panel| {
                    first
                        && panels[panel]
                            .iter()
                            .all(|&other| share.joined(other, piece))
                });
                offcut = Some(match fits {
                    Some(panel) => {
                        panels[panel].push(piece);
                        panel
                    }
                    None => {
                        panels.push(vec![piece]);
                        panels.len() - 1
                    }
                });
            }
        }
    }
    panels
}
