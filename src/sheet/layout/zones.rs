//! Zones of a sheet: where views, text columns and the title block stand.
//!
//! In: paper, how it is turned, height of the title block, and where the text goes. Out:
//! rectangles in paper millimetres, clear of one another by [`GUTTER`].

use super::super::frame;
use crate::draw::paper::{Orientation, Paper, Rect};

/// Clear breadth between zones.
pub const GUTTER: f64 = 6.0;
/// Breadth of a text column: 60 to 75 letters to a line.
pub const COLUMN: f64 = 112.0;
/// Least breadth of a text column that stands under the views.
const NARROW: f64 = 90.0;

/// Where the text of a sheet with views stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Text {
    /// To the right of the views, in that many columns.
    Beside(usize),
    /// Under the views, in that many twelfths of the sheet's height.
    Below(usize),
}

/// The zones of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Zones {
    /// Plan, sections and detail.
    pub views: Rect,
    /// Text columns, from left to right.
    pub columns: Vec<Rect>,
    /// The title block.
    pub title: Rect,
}

/// The zones of a sheet with its text there.
pub fn zones(paper: Paper, turned: Orientation, title_high: f64, text: Text) -> Zones {
    let room = frame::room(paper, turned);
    let (views, zone, count) = match text {
        Text::Beside(count) => {
            let breadth = COLUMN.min(room.width() * 0.42);
            let gutters = GUTTER * count.saturating_sub(1) as f64;
            let left = room.right - breadth * count as f64 - gutters;
            let views = Rect {
                right: left - GUTTER,
                ..room
            };
            let top = room.top + 1.0;
            (views, Rect { left, top, ..room }, count)
        }
        Text::Below(twelfths) => {
            let top = room.bottom - room.height() * twelfths as f64 / 12.0;
            let views = Rect {
                bottom: top - GUTTER,
                ..room
            };
            (views, Rect { top, ..room }, across(room.width(), NARROW))
        }
    };
    let breadth = breadth(zone, count);
    let line = paper.frame(turned);
    let title = Rect {
        left: line.right - breadth - 3.0,
        top: line.bottom - title_high,
        right: line.right,
        bottom: line.bottom,
    };
    Zones {
        views,
        columns: columns(zone, count, title),
        title,
    }
}

/// How many columns of at least that breadth a zone of that width holds; at least one.
pub fn across(width: f64, least: f64) -> usize {
    ((width + GUTTER) / (least + GUTTER)).floor().max(1.0) as usize
}

/// Breadth of each of so many columns.
pub fn breadth(zone: Rect, count: usize) -> f64 {
    (zone.width() - GUTTER * count.saturating_sub(1) as f64) / count.max(1) as f64
}

/// That many equal columns of a zone, clear of the title block.
pub fn columns(zone: Rect, count: usize, title: Rect) -> Vec<Rect> {
    let breadth = breadth(zone, count);
    (0..count)
        .map(|i| {
            let left = zone.left + (breadth + GUTTER) * i as f64;
            clear_of(
                title,
                Rect {
                    left,
                    right: left + breadth,
                    ..zone
                },
            )
        })
        .collect()
}

/// The zone, ended above the title block where it reaches over it.
pub fn clear_of(title: Rect, zone: Rect) -> Rect {
    if zone.right > title.left - 2.0 {
        Rect {
            bottom: zone.bottom.min(title.top - 4.0),
            ..zone
        }
    } else {
        zone
    }
}
