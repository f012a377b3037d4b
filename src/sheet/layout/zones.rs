//! Zones of a sheet: where the views, the text columns and the title block stand.
//!
//! In: paper, how it is turned, where the title block stands, and a form: where the text goes and
//! where sections and detail go. Out: rectangles in paper millimetres, clear of one another by
//! [`GUTTER`].

use super::super::frame;
use super::super::title_block::Standing;
use crate::draw::paper::{Orientation, Paper, Rect};

/// Clear breadth between zones.
pub const GUTTER: f64 = 6.0;
/// Breadth of a text column: 60 to 75 letters to a line.
pub const COLUMN: f64 = 112.0;
/// Least breadth of a text column.
pub const NARROW: f64 = 88.0;

/// Where the text of a sheet with views stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Text {
    /// To the right of the views, in that many columns of that breadth.
    Beside(usize, f64),
    /// Under the views, of that height, in as many columns as fit.
    Below(f64),
}

/// Where sections and edge detail stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Strip {
    /// Under the plan, of that height.
    Under(f64),
    /// To the right of the plan, one under the other, of that breadth.
    Aside(f64),
    /// There are none.
    None,
}

/// The zones of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Zones {
    /// What they lie in: the room inside the frame, over a title block along the foot.
    pub room: Rect,
    /// The plan.
    pub plan: Rect,
    /// Sections and detail.
    pub strip: Rect,
    /// Text columns, from left to right.
    pub columns: Vec<Rect>,
    /// The title block.
    pub title: Rect,
}

/// The forms that are tried on a paper.
pub fn forms(paper: Paper, turned: Orientation, strip: bool) -> Vec<(Text, Strip)> {
    let room = frame::room(paper, turned);
    let mut texts = Vec::new();
    for count in 1..=4 {
        for breadth in [NARROW, 96.0, 104.0, COLUMN] {
            if (breadth + GUTTER) * count as f64 <= room.width() - 90.0 {
                texts.push(Text::Beside(count, breadth));
            }
        }
    }
    texts.extend((4..=10).map(|k| Text::Below(room.height() * f64::from(k) / 16.0)));
    let strips = if strip {
        let mut strips: Vec<Strip> = [58.0, 66.0, 76.0, 90.0, 112.0].map(Strip::Under).to_vec();
        strips.extend([92.0, 110.0, 130.0, 160.0].map(Strip::Aside));
        strips
    } else {
        vec![Strip::None]
    };
    texts
        .into_iter()
        .flat_map(|text| strips.iter().map(move |strip| (text, *strip)))
        .collect()
}

/// The zones of a sheet in a form.
pub fn zones(
    paper: Paper,
    turned: Orientation,
    title: Standing,
    (text, strip): (Text, Strip),
) -> Zones {
    let room = over_foot(frame::room(paper, turned), title);
    let (views, zone, count) = match text {
        Text::Beside(count, breadth) => {
            let gutters = GUTTER * count.saturating_sub(1) as f64;
            let left = room.right - breadth * count as f64 - gutters;
            let views = Rect {
                right: left - GUTTER,
                ..room
            };
            let top = room.top + 1.0;
            (views, Rect { left, top, ..room }, count)
        }
        Text::Below(high) => {
            let top = room.bottom - high;
            let views = Rect {
                bottom: top - GUTTER,
                ..room
            };
            (views, Rect { top, ..room }, across(room.width(), NARROW))
        }
    };
    let line = paper.frame(turned);
    let title = match title {
        Standing::Corner(high) => Rect {
            left: line.right - breadth(zone, count) - 3.0,
            top: line.bottom - high,
            ..line
        },
        // As broad as what stands over it.
        Standing::Foot(high) => Rect {
            top: line.bottom - high,
            bottom: line.bottom,
            ..room
        },
    };
    let (plan, strip) = parted(views, strip);
    Zones {
        room,
        plan,
        strip,
        columns: columns(zone, count, title),
        title,
    }
}

/// What a title block along the foot leaves of the room inside the frame.
fn over_foot(room: Rect, title: Standing) -> Rect {
    match title {
        Standing::Corner(_) => room,
        // The room keeps clear of the frame line already.
        Standing::Foot(high) => Rect {
            bottom: room.bottom - high,
            ..room
        },
    }
}

/// The views' zone parted into plan and strip.
fn parted(views: Rect, strip: Strip) -> (Rect, Rect) {
    match strip {
        Strip::Under(high) => {
            let top = views.bottom - high;
            let plan = Rect {
                bottom: top - GUTTER,
                ..views
            };
            (plan, Rect { top, ..views })
        }
        Strip::Aside(wide) => {
            let left = views.right - wide;
            let plan = Rect {
                right: left - GUTTER,
                ..views
            };
            (plan, Rect { left, ..views })
        }
        Strip::None => {
            let left = views.right;
            (views, Rect { left, ..views })
        }
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
            let column = Rect {
                left,
                right: left + breadth,
                ..zone
            };
            if column.right > title.left - 2.0 {
                Rect {
                    bottom: zone.bottom.min(title.top - 4.0),
                    ..column
                }
            } else {
                column
            }
        })
        .collect()
}

/// Rows of a zone with those shares of its height, clear of one another.
pub fn rows(zone: Rect, shares: &[f64]) -> Vec<Rect> {
    let sum: f64 = shares.iter().sum();
    let high = zone.height() - GUTTER * shares.len().saturating_sub(1) as f64;
    let mut top = zone.top;
    shares
        .iter()
        .map(|share| {
            let bottom = top + high * share / sum.max(1e-9);
            let row = Rect {
                top,
                bottom,
                ..zone
            };
            top = bottom + GUTTER;
            row
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whatever the form, zones lie inside the frame and clear of one another.
    #[test]
    fn zones_lie_clear_of_one_another() {
        for paper in Paper::all() {
            for turned in [Orientation::Landscape, Orientation::Portrait] {
                for form in forms(paper, turned, true) {
                    if matches!(form.0, Text::Below(high) if high < 64.0) {
                        continue;
                    }
                    let title = match paper.is_small() {
                        true => Standing::Foot(28.0),
                        false => Standing::Corner(64.0),
                    };
                    let found = zones(paper, turned, title, form);
                    // A form that leaves the plan no room is refused.
                    if found.plan.width() < 90.0 || found.plan.height() < 70.0 {
                        continue;
                    }
                    let mut all = vec![found.plan, found.strip, found.title];
                    all.extend(&found.columns);
                    all.retain(|zone| zone.width() > 0.0 && zone.height() > 0.0);
                    if let Standing::Foot(_) = title {
                        let (block, line) = (found.title, paper.frame(turned));
                        let gaps = [block.left - line.left, line.right - block.right];
                        assert!((gaps[0] - gaps[1]).abs() < 1e-9, "{gaps:?}");
                    }
                    let line = paper.frame(turned).grown(1e-6);
                    for (i, one) in all.iter().enumerate() {
                        assert!(line.holds(*one), "{paper:?} {form:?}");
                        for other in &all[i + 1..] {
                            assert!(!one.overlaps(*other), "{paper:?} {form:?}");
                        }
                    }
                }
            }
        }
    }
}
