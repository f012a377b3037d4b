//! Upright rectangles in a bond's frame: the places of pavers, and windows to clip to.
//!
//! Millimetres. In: corners. Out: what of a segment lies in the rectangle, and distances round it.

use geo::Coord;

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Left.
    pub x0: f64,
    /// Bottom.
    pub y0: f64,
    /// Right.
    pub x1: f64,
    /// Top.
    pub y1: f64,
}

impl Window {
    /// The rectangle made smaller by `by` on every side.
    pub fn shrunk(&self, by: f64) -> Window {
        Window {
            x0: self.x0 + by,
            y0: self.y0 + by,
            x1: self.x1 - by,
            y1: self.y1 - by,
        }
    }

    /// Along x.
    pub fn width(&self) -> f64 {
        self.x1 - self.x0
    }

    /// Along y.
    pub fn height(&self) -> f64 {
        self.y1 - self.y0
    }

    /// Distance round the border, anticlockwise from the lower left, of the border point nearest
    /// to a point on it.
    pub fn station(&self, at: Coord<f64>) -> f64 {
        let (w, h) = (self.width(), self.height());
        let gaps = [
            (at.y - self.y0).abs(),
            (self.x1 - at.x).abs(),
            (self.y1 - at.y).abs(),
            (at.x - self.x0).abs(),
        ];
        let nearest = (1..4).fold(0, |best, i| if gaps[i] < gaps[best] { i } else { best });
        match nearest {
            0 => at.x - self.x0,
            1 => w + (at.y - self.y0),
            2 => w + h + (self.x1 - at.x),
            _ => 2.0 * w + h + (self.y1 - at.y),
        }
    }

    /// Its corners, anticlockwise from the lower left.
    pub fn corners(&self) -> [Coord<f64>; 4] {
        [
            Coord {
                x: self.x0,
                y: self.y0,
            },
            Coord {
                x: self.x1,
                y: self.y0,
            },
            Coord {
                x: self.x1,
                y: self.y1,
            },
            Coord {
                x: self.x0,
                y: self.y1,
            },
        ]
    }

    /// The part of a segment in the closed window, as parameters from 0 to 1 (after Liang and
    /// Barsky, 1984).
    pub fn part(&self, from: Coord<f64>, to: Coord<f64>) -> Option<(f64, f64)> {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let (mut start, mut end) = (0.0_f64, 1.0_f64);
        for (step, room) in [
            (-dx, from.x - self.x0),
            (dx, self.x1 - from.x),
            (-dy, from.y - self.y0),
            (dy, self.y1 - from.y),
        ] {
            if step == 0.0 {
                if room < 0.0 {
                    return None;
                }
                continue;
            }
            let at = room / step;
            if step < 0.0 {
                start = start.max(at);
            } else {
                end = end.min(at);
            }
        }
        (start < end).then_some((start, end))
    }
}
