//! Turned rectangles: what a run of text takes up on paper.
//!
//! In: places, sizes and directions in paper millimetres, y down. Out: whether two of them share
//! room, and whether a line passes through one. Methods: separating axes; Liang–Barsky clipping in
//! the box's own frame. Pieces of text are taken as boxes of their line, not glyph by glyph.

use crate::draw::paper::Rect;
use crate::draw::{Anchor, Face, Pt};
use crate::sheet::lettering::width;

/// Closest that different words stand on one line: an em of the notes, so that nobody reads them as
/// one.
pub const APART: f64 = 3.7;
/// How far two baselines part that still look like one line.
const LEVEL: f64 = 0.6;

/// A turned rectangle: what a run of text takes up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Box2 {
    /// Middle.
    pub centre: Pt,
    /// Half the length along the baseline.
    pub half: f64,
    /// Half the height.
    pub rise: f64,
    /// Direction of the baseline in degrees, anticlockwise as seen.
    pub angle: f64,
}

impl Box2 {
    /// The box of a run on a baseline, with room for descenders.
    pub fn of_text(
        at: Pt,
        anchor: Anchor,
        angle: f64,
        height: f64,
        face: Face,
        words: &str,
    ) -> Self {
        let length = width(words, height, face);
        let along = match anchor {
            Anchor::Start => length / 2.0,
            Anchor::Middle => 0.0,
            Anchor::End => -length / 2.0,
        };
        // Ink of capitals, figures and primes reaches from a descender to just above the capitals.
        let (top, bottom) = (height * 1.12, height * 0.32);
        let up = (top - bottom) / 2.0;
        let (sin, cos) = direction(angle);
        Self {
            centre: Pt::new(at.x + along * cos - up * sin, at.y - along * sin - up * cos),
            half: length / 2.0,
            rise: (top + bottom) / 2.0,
            angle,
        }
    }

    /// An upright box.
    pub fn upright(rect: Rect) -> Self {
        Self {
            centre: rect.centre(),
            half: rect.width() / 2.0,
            rise: rect.height() / 2.0,
            angle: 0.0,
        }
    }

    /// The box grown on every side.
    pub fn grown(self, by: f64) -> Self {
        Self {
            half: self.half + by,
            rise: self.rise + by,
            ..self
        }
    }

    /// The box made longer at both ends.
    pub fn longer(self, by: f64) -> Self {
        Self {
            half: self.half + by,
            ..self
        }
    }

    /// Its corners, in order.
    pub fn corners(self) -> [Pt; 4] {
        let (sin, cos) = direction(self.angle);
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(a, b)| {
            let (u, v) = (a * self.half, b * self.rise);
            Pt::new(
                self.centre.x + u * cos + v * sin,
                self.centre.y - u * sin + v * cos,
            )
        })
    }

    /// Whether two boxes share some area (separating axes).
    pub fn overlaps(self, other: Self) -> bool {
        let reach = self.half + self.rise + other.half + other.rise;
        let (dx, dy) = (
            self.centre.x - other.centre.x,
            self.centre.y - other.centre.y,
        );
        if dx.abs() > reach || dy.abs() > reach {
            return false;
        }
        let (mine, theirs) = (self.corners(), other.corners());
        [
            self.angle,
            self.angle + 90.0,
            other.angle,
            other.angle + 90.0,
        ]
        .into_iter()
        .all(|angle| {
            let (sin, cos) = direction(angle);
            let span = |corners: &[Pt; 4]| {
                corners
                    .iter()
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
                        let t = p.x * cos - p.y * sin;
                        (low.min(t), high.max(t))
                    })
            };
            let (a, b) = (span(&mine), span(&theirs));
            a.0 < b.1 && b.0 < a.1
        })
    }

    /// Whether the words of the two boxes would be read as one run: they lie on one line, closer
    /// than `APART`.
    pub fn runs_on(self, other: Self) -> bool {
        let turn = (self.angle - other.angle).abs() % 360.0;
        if turn.min(360.0 - turn) > 1.0 {
            return false;
        }
        let (sin, cos) = direction(self.angle);
        let (dx, dy) = (
            other.centre.x - self.centre.x,
            other.centre.y - self.centre.y,
        );
        let (along, across) = (dx * cos - dy * sin, dx * sin + dy * cos);
        across.abs() < LEVEL && along.abs() - self.half - other.half < APART
    }

    /// Whether a segment passes through the box.
    pub fn struck(self, segment: [Pt; 2]) -> bool {
        self.framed().struck(segment)
    }

    /// The box with its direction worked out, for asking of many segments.
    pub(super) fn framed(self) -> Framed {
        let (sin, cos) = direction(self.angle);
        Framed {
            bounds: self,
            sin,
            cos,
        }
    }

    /// The upright rectangle round it.
    pub fn bounds(self) -> Rect {
        Rect::around(self.corners()).expect("a box has four corners")
    }
}

/// A box with the sine and cosine of its direction.
#[derive(Clone, Copy, Debug)]
pub(super) struct Framed {
    bounds: Box2,
    sin: f64,
    cos: f64,
}

impl Framed {
    /// Whether a segment passes through the box (Liang–Barsky in the box's frame).
    pub(super) fn struck(&self, segment: [Pt; 2]) -> bool {
        let Box2 {
            centre, half, rise, ..
        } = self.bounds;
        let [a, b] = segment.map(|p| {
            let (dx, dy) = (p.x - centre.x, p.y - centre.y);
            (dx * self.cos - dy * self.sin, dx * self.sin + dy * self.cos)
        });
        // Beyond one side with both ends: the commonest answer first.
        if a.0.min(b.0) > half
            || a.0.max(b.0) < -half
            || a.1.min(b.1) > rise
            || a.1.max(b.1) < -rise
        {
            return false;
        }
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        let d = (b.0 - a.0, b.1 - a.1);
        for (p, q) in [
            (-d.0, a.0 + half),
            (d.0, half - a.0),
            (-d.1, a.1 + rise),
            (d.1, rise - a.1),
        ] {
            if p.abs() < 1e-12 {
                if q < 0.0 {
                    return false;
                }
            } else if p < 0.0 {
                from = from.max(q / p);
            } else {
                to = to.min(q / p);
            }
        }
        from < to
    }
}

/// Sine and cosine of an angle in degrees; exact for quarter turns.
pub(super) fn direction(angle: f64) -> (f64, f64) {
    let quarter = angle.rem_euclid(360.0) / 90.0;
    if quarter.fract() == 0.0 {
        return match quarter as u8 {
            0 => (0.0, 1.0),
            1 => (1.0, 0.0),
            2 => (0.0, -1.0),
            _ => (-1.0, 0.0),
        };
    }
    let radians = angle.to_radians();
    (libm::sin(radians), libm::cos(radians))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turned_boxes_meet_only_where_they_meet() {
        let a = Box2 {
            centre: Pt::new(0.0, 0.0),
            half: 10.0,
            rise: 1.0,
            angle: 45.0,
        };
        let b = Box2 {
            centre: Pt::new(8.0, 8.0),
            half: 2.0,
            rise: 2.0,
            angle: 0.0,
        };
        // The first rises to the right as seen (y down), so the second lies off it.
        assert!(!a.overlaps(b));
        assert!(a.overlaps(Box2 {
            centre: Pt::new(6.0, -6.0),
            ..b
        }));
        assert!(a.struck([Pt::new(-5.0, -5.0), Pt::new(5.0, 5.0)]));
        assert!(!a.struck([Pt::new(5.0, 2.0), Pt::new(9.0, 2.0)]));
    }

    /// Two marks on one line need an em between them; beside or askew they do not.
    #[test]
    fn words_on_one_line_stand_an_em_apart() {
        let at = |x: f64, y: f64, angle: f64| Box2 {
            centre: Pt::new(x, y),
            half: 2.0,
            rise: 1.8,
            angle,
        };
        let first = at(0.0, 0.0, 0.0);
        assert!(first.runs_on(at(7.0, 0.2, 0.0)));
        assert!(!first.runs_on(at(8.0, 0.2, 0.0)));
        assert!(!first.runs_on(at(7.0, 1.0, 0.0)));
        assert!(!first.runs_on(at(7.0, 0.0, 90.0)));
        let upright = at(0.0, 0.0, 90.0);
        assert!(upright.runs_on(at(0.2, 7.0, 90.0)));
        assert!(!upright.runs_on(at(7.0, 0.2, 90.0)));
    }
}
