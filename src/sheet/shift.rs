//! Moving display-list items on paper.

use crate::draw::{Item, Outline, Pt, Step};

/// The item moved by millimetres to the right and down.
pub fn shifted(item: &Item, right: f64, down: f64) -> Item {
    let p = |at: &Pt| at.moved(right, down);
    let outline = |steps: &Outline| -> Outline {
        steps
            .iter()
            .map(|step| match step {
                Step::Move(a) => Step::Move(p(a)),
                Step::Line(a) => Step::Line(p(a)),
                Step::Cubic(a, b, c) => Step::Cubic(p(a), p(b), p(c)),
                Step::Close => Step::Close,
            })
            .collect()
    };
    let mut moved = item.clone();
    match &mut moved {
        Item::Group(group) => {
            group.items = group
                .items
                .iter()
                .map(|i| shifted(i, right, down))
                .collect();
            group.clip = group.clip.as_ref().map(outline);
        }
        Item::Path(path) => path.outline = outline(&path.outline),
        Item::Text(text) => text.at = p(&text.at),
    }
    moved
}
