//! Label placement: where words may stand so that no text crosses text and no line strikes one
//! through.
//!
//! In: what is taken already (boxes of text, lines that were drawn) and a label with candidate
//! places. Out: the place that costs least, with a white knock-out where lines must pass behind
//! it. Method: greedy choice over ranked candidates (Imhof's positions, then rings further out),
//! cost = text overlaps ≫ heavy lines ≫ fine lines ≫ distance. Boxes may be turned. Paper
//! millimetres, y down.

use std::collections::{BTreeMap, BTreeSet};

use super::lettering::width;
use super::pen;
use crate::draw::paper::Rect;
use crate::draw::{Anchor, Colour, Face, Item, Pt};

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

    /// Whether a segment passes through the box (Liang–Barsky in the box's frame).
    pub fn struck(self, segment: [Pt; 2]) -> bool {
        let (sin, cos) = direction(self.angle);
        let local = segment.map(|p| {
            let (dx, dy) = (p.x - self.centre.x, p.y - self.centre.y);
            (dx * cos - dy * sin, dx * sin + dy * cos)
        });
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        let d = (local[1].0 - local[0].0, local[1].1 - local[0].1);
        for (p, q) in [
            (-d.0, local[0].0 + self.half),
            (d.0, self.half - local[0].0),
            (-d.1, local[0].1 + self.rise),
            (d.1, self.rise - local[0].1),
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

    /// The upright rectangle round it.
    pub fn bounds(self) -> Rect {
        Rect::around(self.corners()).expect("a box has four corners")
    }
}

fn direction(angle: f64) -> (f64, f64) {
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

/// Side of a cell of the index, in millimetres.
const CELL: f64 = 8.0;

/// What is taken: text boxes that nothing may touch, and lines that text should not lie on.
#[derive(Clone, Debug)]
pub struct Taken {
    room: Rect,
    boxes: Vec<Box2>,
    box_cells: BTreeMap<(i32, i32), Vec<usize>>,
    lines: Vec<([Pt; 2], f64)>,
    line_cells: BTreeMap<(i32, i32), Vec<usize>>,
}

impl Taken {
    /// Nothing is taken yet; labels must stay inside `room`.
    pub fn new(room: Rect) -> Self {
        Self {
            room,
            boxes: Vec::new(),
            box_cells: BTreeMap::new(),
            lines: Vec::new(),
            line_cells: BTreeMap::new(),
        }
    }

    /// Takes a box: no label will touch it.
    pub fn add_box(&mut self, taken: Box2) {
        for cell in cells(taken.bounds()) {
            self.box_cells
                .entry(cell)
                .or_default()
                .push(self.boxes.len());
        }
        self.boxes.push(taken);
    }

    /// Takes a line; `weight` says how bad it is to lay text on it (fine lines under 1).
    pub fn add_line(&mut self, segment: [Pt; 2], weight: f64) {
        let steps = (segment[0].distance(segment[1]) / CELL).ceil().max(1.0);
        let mut seen = BTreeSet::new();
        for k in 0..=(steps as usize) {
            let t = k as f64 / steps;
            let p = Pt::new(
                segment[0].x + t * (segment[1].x - segment[0].x),
                segment[0].y + t * (segment[1].y - segment[0].y),
            );
            seen.extend(cells(Rect::between(p, p).grown(CELL / 2.0)));
        }
        for cell in seen {
            self.line_cells
                .entry(cell)
                .or_default()
                .push(self.lines.len());
        }
        self.lines.push((segment, weight));
    }

    /// Takes every side of a run of points.
    pub fn add_run(&mut self, points: &[Pt], weight: f64) {
        for pair in points.windows(2) {
            self.add_line([pair[0], pair[1]], weight);
        }
    }

    /// Takes every side of a closed ring.
    pub fn add_ring(&mut self, points: &[Pt], weight: f64) {
        self.add_run(points, weight);
        if let (Some(first), Some(last)) = (points.first(), points.last()) {
            self.add_line([*last, *first], weight);
        }
    }

    /// Whether a box touches text that stands already.
    pub fn touches_text(&self, candidate: Box2) -> bool {
        cells(candidate.bounds())
            .filter_map(|cell| self.box_cells.get(&cell))
            .flatten()
            .any(|i| self.boxes[*i].overlaps(candidate))
    }

    /// Whether a segment passes through text that stands already.
    pub fn strikes_text(&self, segment: [Pt; 2]) -> bool {
        let bounds = Rect::between(segment[0], segment[1]);
        cells(bounds)
            .filter_map(|cell| self.box_cells.get(&cell))
            .flatten()
            .any(|i| self.boxes[*i].struck(segment))
    }

    /// Sum of the weights of the lines that pass through a box.
    pub fn line_weight(&self, candidate: Box2) -> f64 {
        let mut near: Vec<usize> = cells(candidate.bounds())
            .filter_map(|cell| self.line_cells.get(&cell))
            .flatten()
            .copied()
            .collect();
        near.sort_unstable();
        near.dedup();
        near.into_iter()
            .filter(|i| candidate.struck(self.lines[*i].0))
            .map(|i| self.lines[i].1)
            .sum()
    }

    /// Whether a box lies in the room.
    pub fn inside(&self, candidate: Box2) -> bool {
        self.room.holds(candidate.bounds())
    }
}

fn cells(bounds: Rect) -> impl Iterator<Item = (i32, i32)> {
    let low = |v: f64| (v / CELL).floor() as i32;
    let (x0, x1) = (low(bounds.left), low(bounds.right));
    let (y0, y1) = (low(bounds.top), low(bounds.bottom));
    (x0..=x1).flat_map(move |x| (y0..=y1).map(move |y| (x, y)))
}

/// A block of words: lines of one height, set one below the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The lines.
    pub lines: Vec<String>,
    /// Capital height.
    pub height: f64,
    /// The face.
    pub face: Face,
    /// A rule between the first line and the second, as between finish and formation.
    pub ruled: bool,
}

impl Label {
    /// One line of regular notes.
    pub fn note(words: &str) -> Self {
        Self {
            lines: vec![words.to_string()],
            height: super::lettering::NOTE,
            face: Face::Regular,
            ruled: false,
        }
    }

    /// Width and height of the block.
    pub fn size(&self) -> (f64, f64) {
        let wide = self
            .lines
            .iter()
            .map(|line| width(line, self.height, self.face))
            .fold(0.0, f64::max);
        let pitch = self.pitch();
        (
            wide,
            self.height * 1.44 + pitch * (self.lines.len().max(1) - 1) as f64,
        )
    }

    fn pitch(&self) -> f64 {
        self.height * if self.ruled { 1.9 } else { 1.6 }
    }

    /// The box of the block centred at a point.
    pub fn box_at(&self, centre: Pt) -> Box2 {
        let (wide, high) = self.size();
        Box2 {
            centre,
            half: wide / 2.0,
            rise: high / 2.0,
            angle: 0.0,
        }
    }

    /// The marks of the block centred at a point.
    pub fn drawn(&self, centre: Pt) -> Vec<Item> {
        let (wide, high) = self.size();
        let mut items = Vec::new();
        for (i, line) in self.lines.iter().enumerate() {
            let base = centre.y - high / 2.0 + self.height * 1.12 + self.pitch() * i as f64;
            items.push(pen::lettered(
                Pt::new(centre.x, base),
                0.0,
                self.height,
                self.face,
                Anchor::Middle,
                line,
            ));
        }
        if self.ruled && self.lines.len() > 1 {
            let y = centre.y - high / 2.0 + self.height * 1.12 + self.pitch() * 0.24;
            items.push(pen::line(
                Pt::new(centre.x - wide / 2.0, y),
                Pt::new(centre.x + wide / 2.0, y),
                pen::FINE,
            ));
        }
        items
    }
}

/// Where a label went.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Middle of the block.
    pub centre: Pt,
    /// Its box.
    pub bounds: Box2,
    /// Whether lines pass behind it and it needs a white ground.
    pub knocked_out: bool,
}

/// Chooses the best of the candidate centres for a block of words; see [`place_box`].
pub fn place(
    taken: &mut Taken,
    label: &Label,
    candidates: &[Pt],
    from: Option<Pt>,
) -> Option<Placed> {
    let boxes: Vec<Box2> = candidates.iter().map(|c| label.box_at(*c)).collect();
    place_box(taken, &boxes, from)
}

/// Chooses the best of the candidate boxes, the first where all else is equal, and takes the
/// place. `from` is what a leader would come from, when the label takes one.
///
/// `None` when every candidate would touch other text or leave the room.
pub fn place_box(taken: &mut Taken, candidates: &[Box2], from: Option<Pt>) -> Option<Placed> {
    let mut best: Option<(f64, Box2)> = None;
    for (rank, candidate) in candidates.iter().enumerate() {
        let bounds = candidate.grown(0.7);
        if !taken.inside(bounds) || taken.touches_text(bounds) {
            continue;
        }
        let mut cost = taken.line_weight(candidate.grown(1.2)) * 10.0 + rank as f64 * 0.05;
        if let Some(from) = from {
            if taken.strikes_text([from, touching(bounds, from)]) {
                continue;
            }
            cost += from.distance(candidate.centre);
            cost += taken.line_weight(along(from, touching(bounds, from)));
        }
        if best.is_none_or(|(least, _)| cost < least - 1e-9) {
            best = Some((cost, *candidate));
        }
    }
    let (_, chosen) = best?;
    let bounds = chosen.grown(0.5);
    let knocked_out = taken.line_weight(chosen.grown(0.7)) > 0.0;
    taken.add_box(bounds);
    if let Some(from) = from {
        taken.add_line([from, touching(bounds, from)], 1.0);
    }
    Some(Placed {
        centre: chosen.centre,
        bounds,
        knocked_out,
    })
}

/// The narrow box along a leader, short of both its ends.
fn along(from: Pt, to: Pt) -> Box2 {
    let angle = -libm::atan2(to.y - from.y, to.x - from.x).to_degrees();
    Box2 {
        centre: Pt::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0),
        half: (from.distance(to) / 2.0 - 1.0).max(0.1),
        rise: 0.3,
        angle,
    }
}

/// The white ground of a box.
pub fn knock_out(bounds: Box2) -> Item {
    pen::polygon(&bounds.corners(), None, Some(Colour::WHITE))
}

/// Where a leader from a point meets a box: the middle of the nearer short side for level boxes.
pub fn touching(bounds: Box2, from: Pt) -> Pt {
    let x = bounds.centre.x + bounds.half.copysign(from.x - bounds.centre.x);
    if (from.x - bounds.centre.x).abs() < bounds.half {
        let y = bounds.centre.y + bounds.rise.copysign(from.y - bounds.centre.y);
        return Pt::new(from.x, y);
    }
    Pt::new(x, bounds.centre.y)
}

/// Candidate centres round a point: rings of sixteen directions, nearest ring first, starting at
/// the preferred direction (degrees, anticlockwise as seen) and going both ways from it.
pub fn rings(at: Pt, label: &Label, prefer: f64, radii: &[f64]) -> Vec<Pt> {
    let (wide, high) = label.size();
    let mut centres = Vec::new();
    for radius in radii {
        for step in 0..16 {
            let turn = f64::from((step + 1) / 2) * 22.5 * if step % 2 == 0 { 1.0 } else { -1.0 };
            let (sin, cos) = direction(prefer + turn);
            centres.push(Pt::new(
                at.x + cos * (radius + wide / 2.0),
                at.y - sin * (radius + high / 2.0),
            ));
        }
    }
    centres
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room() -> Rect {
        Rect::between(Pt::new(0.0, 0.0), Pt::new(100.0, 100.0))
    }

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

    #[test]
    fn labels_avoid_text_and_lines() {
        let mut taken = Taken::new(room());
        let label = Label::note("4'-0\"");
        taken.add_line([Pt::new(0.0, 50.0), Pt::new(100.0, 50.0)], 1.0);
        let candidates = [
            Pt::new(50.0, 50.0),
            Pt::new(50.0, 40.0),
            Pt::new(50.0, 60.0),
        ];
        let first = place(&mut taken, &label, &candidates, None).expect("there is room");
        assert_eq!(first.centre, Pt::new(50.0, 40.0));
        assert!(!first.knocked_out);
        let second = place(&mut taken, &label, &candidates, None).expect("there is room");
        assert_eq!(second.centre, Pt::new(50.0, 60.0));
        let third = place(&mut taken, &label, &candidates, None).expect("on the line");
        assert!(third.knocked_out);
        assert_eq!(place(&mut taken, &label, &candidates, None), None);
    }
}
