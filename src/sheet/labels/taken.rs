//! What is taken of a view: text that nothing may touch, leaders that nothing may cross, and lines
//! that text should not lie on.
//!
//! In: boxes and segments in paper millimetres, y down. Out: answers for a candidate place.
//! Method: a uniform grid of cells over the room; what lies outside the room is not asked for and
//! not kept.

use super::turned::{APART, Box2, direction};
use crate::draw::Pt;
use crate::draw::paper::Rect;
use crate::sheet::window;

/// Side of a cell of the index, in millimetres.
const CELL: f64 = 6.0;

/// What is taken: text boxes that nothing may touch, and lines that text should not lie on.
#[derive(Clone, Debug)]
pub struct Taken {
    room: Rect,
    grid: Grid,
    boxes: Vec<Box2>,
    box_cells: Vec<Vec<u32>>,
    lines: Vec<([Pt; 2], f64)>,
    line_cells: Vec<Vec<u32>>,
    leaders: Vec<[Pt; 2]>,
    leader_cells: Vec<Vec<u32>>,
    strips: Vec<Box2>,
    strip_cells: Vec<Vec<u32>>,
}

/// Cells over the room.
#[derive(Clone, Copy, Debug)]
struct Grid {
    left: f64,
    top: f64,
    across: usize,
    down: usize,
}

impl Taken {
    /// Nothing is taken yet; labels must stay inside `room`.
    pub fn new(room: Rect) -> Self {
        let count = |long: f64| ((long / CELL).ceil().max(1.0) as usize).min(2000);
        let (across, down) = (count(room.width()), count(room.height()));
        Self {
            room,
            grid: Grid {
                left: room.left,
                top: room.top,
                across,
                down,
            },
            boxes: Vec::new(),
            box_cells: vec![Vec::new(); across * down],
            lines: Vec::new(),
            line_cells: vec![Vec::new(); across * down],
            leaders: Vec::new(),
            leader_cells: vec![Vec::new(); across * down],
            strips: Vec::new(),
            strip_cells: vec![Vec::new(); across * down],
        }
    }

    /// The room that labels must stay inside.
    pub fn room(&self) -> Rect {
        self.room
    }

    /// Takes a box: no label will touch it.
    pub fn add_box(&mut self, taken: Box2) {
        let index = self.boxes.len() as u32;
        for cell in self.grid.cells(taken.bounds()) {
            self.box_cells[cell].push(index);
        }
        self.boxes.push(taken);
    }

    /// Takes a line; `weight` says how bad it is to lay text on it (fine lines under 1).
    pub fn add_line(&mut self, segment: [Pt; 2], weight: f64) {
        let Some([a, b]) = window::segment(self.room, segment) else {
            return;
        };
        let index = self.lines.len() as u32;
        for cell in self.grid.cells_along([a, b], 0.0) {
            self.line_cells[cell].push(index);
        }
        self.lines.push(([a, b], weight));
    }

    /// Takes a leader: no text may lie on it and no other leader may cross it.
    pub fn add_leader(&mut self, points: &[Pt]) {
        for pair in points.windows(2) {
            let segment = [pair[0], pair[1]];
            let index = self.leaders.len() as u32;
            for cell in self.grid.cells_along(segment, TOGETHER) {
                self.leader_cells[cell].push(index);
            }
            self.leaders.push(segment);
            let Some(strip) = strip(pair[0], pair[1]) else {
                continue;
            };
            let index = self.strips.len() as u32;
            for cell in self.grid.cells_along(segment, strip.rise) {
                self.strip_cells[cell].push(index);
            }
            self.strips.push(strip);
        }
    }

    /// Takes a mark that is painted over: no text may touch it, though leaders may end on it.
    pub fn add_mark(&mut self, mark: Box2) {
        let index = self.strips.len() as u32;
        for cell in self.grid.cells(mark.bounds()) {
            self.strip_cells[cell].push(index);
        }
        self.strips.push(mark);
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

    /// Whether a box touches text or a leader that stands already.
    pub fn touches_text(&self, candidate: Box2) -> bool {
        self.grid.cells(candidate.bounds()).any(|cell| {
            let mut strips = self.strip_cells[cell].iter();
            let mut boxes = self.box_cells[cell].iter();
            strips.any(|i| self.strips[*i as usize].overlaps(candidate))
                || boxes.any(|i| self.boxes[*i as usize].overlaps(candidate))
        })
    }

    /// Whether the words of a box would be read as one run with text that stands already.
    pub fn runs_on(&self, candidate: Box2) -> bool {
        self.grid
            .cells(candidate.longer(APART).bounds())
            .flat_map(|cell| &self.box_cells[cell])
            .any(|i| self.boxes[*i as usize].runs_on(candidate))
    }

    /// Whether a segment passes through text that stands already.
    pub fn strikes_text(&self, segment: [Pt; 2]) -> bool {
        self.grid
            .cells_along(segment, 0.0)
            .flat_map(|cell| &self.box_cells[cell])
            .any(|i| self.boxes[*i as usize].struck(segment))
    }

    /// Whether a segment crosses a leader that stands already.
    pub fn crosses_leader(&self, segment: [Pt; 2]) -> bool {
        self.grid
            .cells_along(segment, TOGETHER)
            .flat_map(|cell| &self.leader_cells[cell])
            .any(|i| cross(self.leaders[*i as usize], segment))
    }

    /// Sum of the weights of the lines that pass through a box.
    pub fn line_weight(&self, candidate: Box2) -> f64 {
        let cells = self.grid.cells(candidate.bounds());
        self.weight_in(candidate, cells, f64::INFINITY)
    }

    /// Sum of the weights of the lines that a leader's strip crosses; no more than that it is over
    /// `most`, where it is.
    pub(super) fn strip_weight(&self, strip: Box2, most: f64) -> f64 {
        let (sin, cos) = direction(strip.angle);
        let (dx, dy) = (strip.half * cos, -strip.half * sin);
        let ends = [strip.centre.moved(-dx, -dy), strip.centre.moved(dx, dy)];
        self.weight_in(strip, self.grid.cells_along(ends, strip.rise), most)
    }

    /// Sum of the weights of the lines of these cells that pass through a box, each line once and
    /// in the order they were taken; infinite once it is over `most`.
    fn weight_in(&self, candidate: Box2, cells: impl Iterator<Item = usize>, most: f64) -> f64 {
        let framed = candidate.framed();
        let mut struck: Vec<u32> = Vec::new();
        let once = |struck: &mut Vec<u32>| -> f64 {
            struck.sort_unstable();
            struck.dedup();
            struck.iter().map(|i| self.lines[*i as usize].1).sum()
        };
        // A line is met in each of its cells: what is met is counted off when it may be too much.
        let (mut met, mut enough) = (0.0, most);
        for i in cells.flat_map(|cell| &self.line_cells[cell]) {
            let (segment, weight) = self.lines[*i as usize];
            if !framed.struck(segment) {
                continue;
            }
            struck.push(*i);
            met += weight;
            if met > enough {
                met = once(&mut struck);
                if met > most {
                    return f64::INFINITY;
                }
                enough = most.max(met * 1.5);
            }
        }
        let sum = once(&mut struck);
        match sum > most {
            true => f64::INFINITY,
            false => sum,
        }
    }

    /// Whether a box lies in the room.
    pub fn inside(&self, candidate: Box2) -> bool {
        self.room.holds(candidate.bounds())
    }
}

impl Grid {
    /// Row by row, the cells between where a segment with `pad` millimetres round it enters the row
    /// and where it leaves it; what lies outside the room counts to the cells along its sides.
    fn cells_along(&self, [a, b]: [Pt; 2], pad: f64) -> impl Iterator<Item = usize> + use<> {
        let (top, foot) = (a.y.min(b.y), a.y.max(b.y));
        let grid = *self;
        let rows = grid.row(top - pad)..=grid.row(foot + pad);
        // Farther out on a slanting segment than its own breadth says.
        let reach = if foot - top > 0.0 {
            pad * (1.0 + (b.x - a.x).abs() / (foot - top))
        } else {
            pad
        };
        rows.flat_map(move |row| {
            let at = |y: f64| {
                let t = (y.clamp(top, foot) - a.y) / (b.y - a.y);
                a.x + (b.x - a.x) * t
            };
            let (from, to) = if foot - top < 1e-9 {
                (a.x, b.x)
            } else {
                let y = grid.top + row as f64 * CELL;
                // The first and the last row also take what lies above and below the room.
                let high = if row == 0 { top } else { y };
                let low = if row == grid.down - 1 { foot } else { y + CELL };
                (at(high), at(low))
            };
            let (low, high) = (a.x.min(b.x), a.x.max(b.x));
            let from_x = (from.min(to) - reach).max(low - pad);
            let to_x = (from.max(to) + reach).min(high + pad);
            (grid.column(from_x)..=grid.column(to_x)).map(move |column| row * grid.across + column)
        })
    }

    fn column(&self, x: f64) -> usize {
        (((x - self.left) / CELL).floor().max(0.0) as usize).min(self.across - 1)
    }

    fn row(&self, y: f64) -> usize {
        (((y - self.top) / CELL).floor().max(0.0) as usize).min(self.down - 1)
    }

    fn cells(&self, bounds: Rect) -> impl Iterator<Item = usize> + use<> {
        let (x0, x1) = (self.column(bounds.left), self.column(bounds.right));
        let (y0, y1) = (self.row(bounds.top), self.row(bounds.bottom));
        let across = self.across;
        (y0..=y1).flat_map(move |y| (x0..=x1).map(move |x| y * across + x))
    }
}

/// Leaders nearer than this read as one.
const TOGETHER: f64 = 0.4;

/// The narrow box along a leader, short of both its ends; none for a very short one.
pub(super) fn strip(from: Pt, to: Pt) -> Option<Box2> {
    let half = from.distance(to) / 2.0 - 0.3;
    (half > 0.0).then(|| Box2 {
        centre: Pt::new((from.x + to.x) / 2.0, (from.y + to.y) / 2.0),
        half,
        rise: 0.3,
        angle: -libm::atan2(to.y - from.y, to.x - from.x).to_degrees(),
    })
}

/// Whether two leaders cross or come so near that they read as one; leaders that come from one
/// place may part there.
pub(super) fn cross(one: [Pt; 2], other: [Pt; 2]) -> bool {
    const SAME: f64 = TOGETHER;
    let [a, b] = one;
    let [c, d] = other;
    if a.x.max(b.x) + SAME < c.x.min(d.x)
        || c.x.max(d.x) + SAME < a.x.min(b.x)
        || a.y.max(b.y) + SAME < c.y.min(d.y)
        || c.y.max(d.y) + SAME < a.y.min(b.y)
    {
        return false;
    }
    let turn = |p: Pt, q: Pt, r: Pt| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    let from_one_place = [(a, c), (a, d), (b, c), (b, d)]
        .into_iter()
        .any(|(p, q)| p.distance(q) < SAME);
    if from_one_place {
        // They part unless they run the same way.
        let dot = (b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y);
        let size = a.distance(b) * c.distance(d);
        return size > 0.0 && dot.abs() > 0.97 * size;
    }
    let apart = turn(a, b, c) * turn(a, b, d) > 0.0 || turn(c, d, a) * turn(c, d, b) > 0.0;
    !apart
        || [(a, other), (b, other), (c, one), (d, one)]
            .into_iter()
            .any(|(p, line)| p.off(line) < SAME)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slanting_line_is_found_all_along_and_nowhere_else() {
        let mut taken = Taken::new(Rect::between(Pt::new(0.0, 0.0), Pt::new(100.0, 80.0)));
        taken.add_line([Pt::new(-10.0, 70.0), Pt::new(110.0, 10.0)], 2.0);
        for k in 1..100 {
            let x = f64::from(k);
            let y = 70.0 - (x + 10.0) / 2.0;
            let on = Box2 {
                centre: Pt::new(x, y),
                half: 0.1,
                rise: 0.1,
                angle: 0.0,
            };
            assert_eq!(taken.line_weight(on), 2.0, "at {x}");
            let off = Box2 {
                centre: Pt::new(x, y + 1.0),
                ..on
            };
            assert_eq!(taken.line_weight(off), 0.0, "beside {x}");
        }
    }

    /// Long lines that lie in many cells: each weighs once, and what is over a limit is said to be.
    #[test]
    fn a_line_weighs_once_however_many_cells_it_lies_in() {
        let mut taken = Taken::new(Rect::between(Pt::new(0.0, 0.0), Pt::new(100.0, 80.0)));
        for k in 0..20 {
            let y = 30.0 + 0.01 * f64::from(k);
            taken.add_line([Pt::new(0.0, y), Pt::new(100.0, y + 0.5)], 0.6);
        }
        let leader = strip(Pt::new(5.0, 29.0), Pt::new(95.0, 32.0)).expect("a strip");
        let all = taken.strip_weight(leader, f64::INFINITY);
        assert!((all - 12.0).abs() < 1e-9, "{all}");
        assert_eq!(taken.strip_weight(leader, 12.0 + 1e-6), all);
        for most in [0.0, 0.5, 3.0, 11.9] {
            assert_eq!(taken.strip_weight(leader, most), f64::INFINITY, "{most}");
        }
        // A long line is met again and again, then a short one makes it too much.
        let mut taken = Taken::new(Rect::between(Pt::new(0.0, 0.0), Pt::new(100.0, 80.0)));
        taken.add_line([Pt::new(0.0, 28.9), Pt::new(18.0, 28.9)], 5.0);
        taken.add_line([Pt::new(38.0, 25.0), Pt::new(38.0, 29.5)], 2.0);
        let leader = strip(Pt::new(5.0, 29.0), Pt::new(40.0, 29.0)).expect("a strip");
        assert_eq!(taken.strip_weight(leader, 7.0), 7.0);
        assert_eq!(taken.strip_weight(leader, 6.0), f64::INFINITY);
    }

    #[test]
    fn leaders_cross_only_where_they_cross() {
        let p = |x: f64, y: f64| Pt::new(x, y);
        assert!(cross(
            [p(0.0, 0.0), p(10.0, 10.0)],
            [p(0.0, 10.0), p(10.0, 0.0)]
        ));
        assert!(!cross(
            [p(0.0, 0.0), p(10.0, 0.0)],
            [p(0.0, 5.0), p(10.0, 5.0)]
        ));
        // From one corner they may part, but not run along each other.
        assert!(!cross(
            [p(0.0, 0.0), p(10.0, 0.0)],
            [p(0.0, 0.0), p(0.0, 10.0)]
        ));
        assert!(cross(
            [p(0.0, 0.0), p(10.0, 0.0)],
            [p(0.0, 0.0), p(6.0, 0.2)]
        ));
        // Ending on another one is as good as crossing it.
        assert!(cross(
            [p(0.0, 0.0), p(10.0, 0.0)],
            [p(5.0, 6.0), p(5.0, 0.1)]
        ));
    }
}
