//! An area cut into strips along its fall.
//!
//! In: the sides of an area and the unit vector downhill. Out: strips, each between an upper and a
//! lower side, that make up the area exactly. Across the fall a place has `s`, down the fall `w`,
//! both in millimetres. Method: a sweep across the fall over the sides' ends (trapezoidal
//! decomposition).

use std::collections::BTreeMap;

use super::side::Side;
use crate::geom::{Point, Vector};

/// Narrower strips are rounding, in millimetres.
const NARROW: f64 = 1e-6;

/// The axes of an area: across the fall and down it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Axes {
    /// Unit vector across the fall.
    pub across: Vector,
    /// Unit vector downhill.
    pub downhill: Vector,
}

impl Axes {
    /// The axes of a fall.
    pub fn of(downhill: Vector) -> Self {
        Self {
            across: downhill.left(),
            downhill,
        }
    }

    /// Across the fall.
    pub fn s(&self, at: Point) -> f64 {
        self.across.dot(at - Point::default())
    }

    /// Down the fall.
    pub fn w(&self, at: Point) -> f64 {
        self.downhill.dot(at - Point::default())
    }

    /// The place on a side at `s`; the side's nearer end beyond it.
    pub fn on(&self, side: &Side, s: f64) -> Point {
        let (a, b) = (self.s(side.from), self.s(side.to));
        if a == b {
            return side.from;
        }
        let share = ((s - a) / (b - a)).clamp(0.0, 1.0);
        side.from + (side.to - side.from) * share
    }
}

/// A strip along the fall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// From `s` to `s`.
    pub s: [f64; 2],
    /// The side it starts at, by index.
    pub upper: usize,
    /// The side it ends at, by index.
    pub lower: usize,
}

/// The strips of an area.
pub fn strips(sides: &[Side], axes: &Axes) -> Vec<Strip> {
    let spans: Vec<[f64; 2]> = sides
        .iter()
        .map(|side| {
            let (a, b) = (axes.s(side.from), axes.s(side.to));
            [a.min(b), a.max(b)]
        })
        .collect();
    let mut cuts: Vec<f64> = spans.iter().flatten().copied().collect();
    cuts.sort_by(f64::total_cmp);
    let mut order: Vec<usize> = (0..sides.len())
        .filter(|&i| spans[i][1] - spans[i][0] > NARROW)
        .collect();
    order.sort_by(|&a, &b| spans[a][0].total_cmp(&spans[b][0]).then(a.cmp(&b)));
    let mut waiting = order.into_iter().peekable();
    let mut active: Vec<usize> = Vec::new();
    let mut strips: Vec<Strip> = Vec::new();
    let mut open: BTreeMap<(usize, usize), usize> = BTreeMap::new();
    for pair in cuts.windows(2) {
        let [start, end] = [pair[0], pair[1]];
        if end - start <= NARROW {
            continue;
        }
        let middle = (start + end) / 2.0;
        while let Some(next) = waiting.next_if(|&i| spans[i][0] <= middle) {
            active.push(next);
        }
        active.retain(|&i| spans[i][1] >= middle);
        let mut crossed: Vec<(f64, usize)> = active
            .iter()
            .map(|&i| (axes.w(axes.on(&sides[i], middle)), i))
            .collect();
        crossed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut still = BTreeMap::new();
        for two in crossed.chunks_exact(2) {
            let key = (two[0].1, two[1].1);
            let at = match open.get(&key) {
                Some(&at) => {
                    strips[at].s[1] = end;
                    at
                }
                None => {
                    strips.push(Strip {
                        s: [start, end],
                        upper: key.0,
                        lower: key.1,
                    });
                    strips.len() - 1
                }
            };
            still.insert(key, at);
        }
        open = still;
    }
    strips
}
