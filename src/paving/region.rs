//! The region a bond is clipped to, in the bond's own frame, indexed so that only pavers that the
//! outline crosses are clipped.
//!
//! In: polygons in millimetres. Out: whether an upright rectangle lies inside, outside or across
//! the outline; the part of it that lies inside; the stretches of an upright line that lie inside.
//! Method: a uniform grid of edges and even-odd scan lines; what crosses a window is clipped by
//! walking (see `walk`), and where that cannot decide by the general overlay of `geo`.

mod walk;

use super::window::Window;
use crate::geom::clip;
use geo::{BooleanOps, Coord, CoordsIter, MultiPolygon, Orient, Rect};

/// How a rectangle lies to the region.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Wholly in the region.
    Inside,
    /// Wholly outside.
    Outside,
    /// The outline passes through it.
    Across,
}

/// Polygons with an index of their edges.
pub struct Region {
    shape: MultiPolygon<f64>,
    edges: Vec<Edge>,
    origin: Coord<f64>,
    step: f64,
    columns: usize,
    rows: usize,
    cells: Vec<Vec<u32>>,
    by_row: Vec<Vec<u32>>,
    by_column: Vec<Vec<u32>>,
    inside: Vec<bool>,
}

#[derive(Clone, Copy)]
struct Edge {
    from: Coord<f64>,
    to: Coord<f64>,
    /// The edge that starts where this one ends.
    next: u32,
}

const MOST_CELLS: f64 = 400_000.0;

impl Region {
    /// Indexes polygons; `step` is about the size of what will be asked for.
    pub fn new(shape: &MultiPolygon<f64>, step: f64) -> Region {
        let shape = shape.orient(geo::orient::Direction::Default);
        let mut edges = Vec::new();
        for ring in clip::rings(&shape) {
            let first = edges.len() as u32;
            for line in ring.lines().filter(|line| line.start != line.end) {
                let next = edges.len() as u32 + 1;
                edges.push(Edge {
                    from: line.start,
                    to: line.end,
                    next,
                });
            }
            if let Some(last) = edges.last_mut().filter(|edge| edge.next > first) {
                last.next = first;
            }
        }
        let mut low = Coord {
            x: f64::MAX,
            y: f64::MAX,
        };
        let mut high = Coord {
            x: f64::MIN,
            y: f64::MIN,
        };
        for at in shape.coords_iter() {
            low = Coord {
                x: low.x.min(at.x),
                y: low.y.min(at.y),
            };
            high = Coord {
                x: high.x.max(at.x),
                y: high.y.max(at.y),
            };
        }
        if edges.is_empty() {
            (low, high) = (Coord::zero(), Coord::zero());
        }
        let (wide, tall) = (high.x - low.x + 2.0, high.y - low.y + 2.0);
        let step = step
            .max((wide * tall / MOST_CELLS).sqrt())
            .max(wide / MOST_CELLS)
            .max(tall / MOST_CELLS);
        let mut region = Region {
            shape,
            edges,
            origin: Coord {
                x: low.x - 1.0,
                y: low.y - 1.0,
            },
            step,
            columns: (wide / step) as usize + 1,
            rows: (tall / step) as usize + 1,
            cells: Vec::new(),
            by_row: Vec::new(),
            by_column: Vec::new(),
            inside: Vec::new(),
        };
        region.index();
        region
    }

    /// The polygons.
    pub fn shape(&self) -> &MultiPolygon<f64> {
        &self.shape
    }

    /// Bottom and top of the region.
    pub fn heights(&self) -> (f64, f64) {
        let ys = || self.edges.iter().map(|edge| edge.from.y);
        (ys().fold(f64::MAX, f64::min), ys().fold(f64::MIN, f64::max))
    }

    /// Left and right ends of the outline within a band; `None` where it has none.
    pub fn extent(&self, y0: f64, y1: f64) -> Option<(f64, f64)> {
        let band = Window {
            x0: f64::MIN,
            y0,
            x1: f64::MAX,
            y1,
        };
        let mut ends: Option<(f64, f64)> = None;
        for edge in (self.row(y0)..=self.row(y1)).flat_map(|row| self.by_row[row].iter()) {
            let edge = &self.edges[*edge as usize];
            let Some((start, end)) = band.part(edge.from, edge.to) else {
                continue;
            };
            let at = |t: f64| edge.from.x + (edge.to.x - edge.from.x) * t;
            let (low, high) = (at(start).min(at(end)), at(start).max(at(end)));
            ends = Some(ends.map_or((low, high), |(a, b)| (a.min(low), b.max(high))));
        }
        ends
    }

    /// How a window lies to the region. A window that only touches the outline is not across it.
    pub fn side(&self, window: &Window) -> Side {
        let (left, right) = (self.column(window.x0), self.column(window.x1));
        let (bottom, top) = (self.row(window.y0), self.row(window.y1));
        for row in bottom..=top {
            for column in left..=right {
                let crossed = self.cells[row * self.columns + column].iter().any(|edge| {
                    let edge = &self.edges[*edge as usize];
                    window.part(edge.from, edge.to).is_some()
                });
                if crossed {
                    return Side::Across;
                }
            }
        }
        let (x, y) = ((window.x0 + window.x1) / 2.0, (window.y0 + window.y1) / 2.0);
        if self.contains(x, y) {
            Side::Inside
        } else {
            Side::Outside
        }
    }

    /// How equal windows in a row lie, from the first to the last column: `window` gives the one of a
    /// column, each `pitch` to the right of the one before. Visits the first column, the count and the
    /// side of each stretch of columns that lie alike; a column across the outline stands alone.
    pub fn along_row(
        &self,
        window: impl Fn(i64) -> Window,
        pitch: f64,
        [first, last]: [i64; 2],
        mut visit: impl FnMut(i64, usize, Side),
    ) {
        let origin = window(0);
        let band = Window {
            x0: f64::MIN,
            x1: f64::MAX,
            ..origin
        };
        let mut near: Vec<(i64, i64)> = Vec::new();
        for edge in (self.row(band.y0)..=self.row(band.y1)).flat_map(|row| &self.by_row[row]) {
            let edge = &self.edges[*edge as usize];
            let Some((start, end)) = band.part(edge.from, edge.to) else {
                continue;
            };
            let at = |t: f64| edge.from.x + (edge.to.x - edge.from.x) * t;
            let (low, high) = (at(start).min(at(end)), at(start).max(at(end)));
            // A rounding error more, so that what only just touches a window is near it.
            let from = ((low - origin.x1) / pitch - 1e-6).floor() as i64;
            let to = ((high - origin.x0) / pitch + 1e-6).ceil() as i64;
            if from <= last && to >= first {
                near.push((from.max(first), to.min(last)));
            }
        }
        near.sort_unstable();
        // What lies between two columns that the outline comes near lies alike.
        let mut alike = |from: i64, to: i64| {
            if from < to {
                visit(from, (to - from) as usize, self.side(&window(from)));
            }
        };
        let mut next = first;
        for (from, to) in near {
            alike(next, from);
            for column in next.max(from)..=to {
                alike(column, column + 1);
            }
            next = next.max(to + 1);
        }
        alike(next, last + 1);
    }

    /// The stretches of the line at height `y` that lie inside, from left to right.
    pub fn across(&self, y: f64) -> Vec<(f64, f64)> {
        if y <= self.origin.y || y >= self.origin.y + self.rows as f64 * self.step {
            return Vec::new();
        }
        let edges = self.by_row[self.row(y)]
            .iter()
            .map(|edge| &self.edges[*edge as usize]);
        pairs(edges.filter_map(|edge| cross(edge.from.y, edge.from.x, edge.to.y, edge.to.x, y)))
    }

    /// The stretches of the line at `x` that lie inside, from bottom to top.
    pub fn up(&self, x: f64) -> Vec<(f64, f64)> {
        if x <= self.origin.x || x >= self.origin.x + self.columns as f64 * self.step {
            return Vec::new();
        }
        let edges = self.by_column[self.column(x)]
            .iter()
            .map(|edge| &self.edges[*edge as usize]);
        pairs(edges.filter_map(|edge| cross(edge.from.x, edge.from.y, edge.to.x, edge.to.y, x)))
    }

    /// The part of a window that lies in the region; exteriors anticlockwise.
    pub fn clip(&self, window: &Window) -> MultiPolygon<f64> {
        self.walk(window).unwrap_or_else(|| {
            let rect = Rect::new(
                Coord {
                    x: window.x0,
                    y: window.y0,
                },
                Coord {
                    x: window.x1,
                    y: window.y1,
                },
            );
            self.shape
                .intersection(&MultiPolygon::new(vec![rect.to_polygon()]))
        })
    }

    fn row(&self, y: f64) -> usize {
        (((y - self.origin.y) / self.step).max(0.0) as usize).min(self.rows - 1)
    }

    fn column(&self, x: f64) -> usize {
        (((x - self.origin.x) / self.step).max(0.0) as usize).min(self.columns - 1)
    }

    fn contains(&self, x: f64, y: f64) -> bool {
        let (row, column) = (self.row(y), self.column(x));
        if self.cells[row * self.columns + column].is_empty() {
            let end = self.origin.x + self.columns as f64 * self.step;
            let top = self.origin.y + self.rows as f64 * self.step;
            let beyond = x < self.origin.x || y < self.origin.y || x > end || y > top;
            return !beyond && self.inside[row * self.columns + column];
        }
        let crossings = self.by_row[row].iter().filter(|edge| {
            let edge = &self.edges[**edge as usize];
            cross(edge.from.y, edge.from.x, edge.to.y, edge.to.x, y).is_some_and(|at| at < x)
        });
        crossings.count() % 2 == 1
    }

    fn index(&mut self) {
        self.cells = vec![Vec::new(); self.columns * self.rows];
        self.by_row = vec![Vec::new(); self.rows];
        self.by_column = vec![Vec::new(); self.columns];
        // Wider than a rounding error, so that an edge on a grid line is in the cells on both sides.
        let pad = 1e-6 * self.step;
        for (number, edge) in self.edges.clone().iter().enumerate() {
            let number = number as u32;
            let (left, right) = (edge.from.x.min(edge.to.x), edge.from.x.max(edge.to.x));
            let (low, high) = (edge.from.y.min(edge.to.y), edge.from.y.max(edge.to.y));
            for column in self.column(left - pad)..=self.column(right + pad) {
                self.by_column[column].push(number);
            }
            for row in self.row(low - pad)..=self.row(high + pad) {
                self.by_row[row].push(number);
                let band = Window {
                    x0: left - pad,
                    x1: right + pad,
                    y0: self.origin.y + row as f64 * self.step - pad,
                    y1: self.origin.y + (row + 1) as f64 * self.step + pad,
                };
                let Some((start, end)) = band.part(edge.from, edge.to) else {
                    continue;
                };
                let at = |t: f64| edge.from.x + (edge.to.x - edge.from.x) * t;
                let (a, b) = (at(start).min(at(end)), at(start).max(at(end)));
                for column in self.column(a - pad)..=self.column(b + pad) {
                    self.cells[row * self.columns + column].push(number);
                }
            }
        }
        self.inside = vec![false; self.columns * self.rows];
        for row in 0..self.rows {
            let y = self.origin.y + (row as f64 + 0.5) * self.step;
            for (from, to) in self.across(y) {
                let first = ((from - self.origin.x) / self.step - 0.5).ceil().max(0.0) as usize;
                for column in first..self.columns {
                    if self.origin.x + (column as f64 + 0.5) * self.step > to {
                        break;
                    }
                    self.inside[row * self.columns + column] = true;
                }
            }
        }
    }
}

/// The stretches that two sorted lists of stretches have in common.
pub fn common(a: &[(f64, f64)], b: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    let (mut i, mut j) = (0, 0);
    while i < a.len() && j < b.len() {
        let (from, to) = (a[i].0.max(b[j].0), a[i].1.min(b[j].1));
        if from < to {
            found.push((from, to));
        }
        if a[i].1 < b[j].1 {
            i += 1;
        } else {
            j += 1;
        }
    }
    found
}

/// Where an edge crosses a line, by the half-open rule that counts a shared corner once.
fn cross(along0: f64, at0: f64, along1: f64, at1: f64, level: f64) -> Option<f64> {
    if (along0 <= level) == (along1 <= level) {
        return None;
    }
    Some(at0 + (at1 - at0) * (level - along0) / (along1 - along0))
}

fn pairs(crossings: impl Iterator<Item = f64>) -> Vec<(f64, f64)> {
    let mut sorted: Vec<f64> = crossings.collect();
    sorted.sort_by(f64::total_cmp);
    sorted
        .chunks_exact(2)
        .map(|pair| (pair[0], pair[1]))
        .collect()
}
