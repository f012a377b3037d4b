//! The frame of a sheet: frame line, centring marks, and the number of the sheet's fields.
//!
//! In: the paper and how it is turned. Out: the frame's items and the room inside it, in paper
//! millimetres. Method: ISO 5457 (frame line 0.7 mm, four centring marks that run 10 mm inward
//! from 5 mm inside the trimmed edge at most to the frame). Left out: grid reference fields.

use super::pen::{line, rect, solid};
use crate::draw::paper::{Orientation, Paper, Rect};
use crate::draw::{Colour, Item, LineWidth, Pt};

/// Frame line and centring marks.
pub fn frame(paper: Paper, turned: Orientation) -> Vec<Item> {
    let room = paper.frame(turned);
    let (width, height) = paper.size(turned);
    let heavy = solid(LineWidth::W70, Colour::BLACK);
    let (mid_x, mid_y) = (width.0 / 2.0, height.0 / 2.0);
    let mark = 5.0_f64;
    vec![
        rect(
            Pt::new(room.left, room.top),
            room.width(),
            room.height(),
            Some(heavy),
            None,
        ),
        line(
            Pt::new(mid_x, room.top - mark.min(room.top)),
            Pt::new(mid_x, room.top + 2.0),
            heavy,
        ),
        line(
            Pt::new(mid_x, height.0.min(room.bottom + mark)),
            Pt::new(mid_x, room.bottom - 2.0),
            heavy,
        ),
        line(
            Pt::new((room.left - mark).max(0.0), mid_y),
            Pt::new(room.left + 2.0, mid_y),
            heavy,
        ),
        line(
            Pt::new(width.0.min(room.right + mark), mid_y),
            Pt::new(room.right - 2.0, mid_y),
            heavy,
        ),
    ]
}

/// The room inside the frame, with the breadth that content keeps from the frame line.
pub fn room(paper: Paper, turned: Orientation) -> Rect {
    paper.frame(turned).grown(-3.0)
}
