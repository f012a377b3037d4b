//! Cutting a region in two along upright and level lines, again and again.
//!
//! In: the rings of a [`Shape`], on whole micrometres as [`clip`] has them, and the lines. Out: what
//! lies to either side of them. Method: the stretches of outline on one side of a line are joined
//! along the line from each leaving place to the entering place beside it; places are told apart
//! by where, and at one place by how, the outline crosses. A corner on the line is taken to lie
//! just beyond it, so that sides along the line need no rule of their own. Where the places do not
//! pair up, as where rings cross each other, the general clipping decides.
//!
//! Halving a region over and over costs its corners times the logarithm of the number of cells,
//! whatever the number of cells that lie inside.

use geo::{LineString, MultiPolygon, Polygon};
use geo_clipper::ClipperInt;

use super::Shape;
use super::clip::{self, FACTOR};

/// A corner, in micrometres.
type Corner = [i64; 2];

/// Corners of a ring in order; the region lies to the left.
type Loop = Vec<Corner>;

/// The rings of a region, in micrometres.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rings(Vec<Loop>);

/// What to keep of a region at a line.
#[derive(Clone, Copy)]
struct Half {
    /// 0 for an upright line, 1 for a level one.
    axis: usize,
    /// Where the line lies.
    at: i64,
    /// Whether what lies beyond the line is kept, and not what lies before it.
    beyond: bool,
}

/// A stretch of outline on the kept side.
struct Stretch {
    corners: Vec<Corner>,
    enters: Place,
    leaves: Place,
}

/// Where the outline crosses the line: along it, and how it goes on from there on the kept side.
#[derive(Clone, Copy)]
struct Place {
    along: f64,
    slope: f64,
}

impl Rings {
    /// The rings of a shape.
    pub fn new(shape: &Shape) -> Self {
        let grid = clip::grid(shape);
        let rings = clip::rings(&grid);
        let loops = rings.filter_map(|ring| {
            let mut corners: Loop = ring.0.iter().map(|at| [at.x, at.y]).collect();
            corners.pop();
            corners.dedup();
            (corners.len() > 2).then_some(corners)
        });
        Self(loops.collect())
    }

    /// The sides, in millimetres.
    pub fn sides(&self) -> impl Iterator<Item = [[f64; 2]; 2]> {
        self.0.iter().flat_map(|ring| {
            let next = ring.iter().cycle().skip(1);
            ring.iter()
                .zip(next)
                .map(|(a, b)| [millimetres(*a), millimetres(*b)])
        })
    }

    /// What lies before `low` and what lies beyond `high` along an axis (0 across upright lines, 1
    /// across level ones), in millimetres. What lies between the two goes to neither.
    pub fn parted(self, axis: usize, [low, high]: [f64; 2]) -> [Self; 2] {
        let (before, after) = (Half::before(axis, low), Half::beyond(axis, high));
        let mut parts = [Vec::new(), Vec::new()];
        let mut crossing = [Vec::new(), Vec::new()];
        for ring in self.0 {
            let places = || ring.iter().map(|corner| corner[axis]);
            let least = places().min().unwrap_or(0);
            let most = places().max().unwrap_or(0);
            if most < before.at {
                parts[0].push(ring);
            } else if least > after.at {
                parts[1].push(ring);
            } else {
                if most > after.at {
                    crossing[1].push(ring.clone());
                }
                if least < before.at {
                    crossing[0].push(ring);
                }
            }
        }
        for (side, half) in [before, after].into_iter().enumerate() {
            half.cut(&mut parts[side], &crossing[side]);
        }
        parts.map(Self)
    }

    /// What lies between two lines along an axis, in millimetres.
    pub fn between(&self, axis: usize, [low, high]: [f64; 2]) -> Self {
        Half::before(axis, high).of(&Half::beyond(axis, low).of(self))
    }

    /// Visits what lies in each of several cells along an axis, each from where to where, apart
    /// and in order, in millimetres; cells that hold nothing are left out.
    pub fn each_cell(self, axis: usize, cells: &[[f64; 2]], visit: &mut impl FnMut(usize, Self)) {
        if let ([first, ..], [.., last]) = (cells, cells) {
            let within = self.between(axis, [first[0], last[1]]);
            within.halved(axis, cells, 0, visit);
        }
    }

    /// The same for what lies between the ends of the first cell and the last.
    fn halved(
        self,
        axis: usize,
        cells: &[[f64; 2]],
        number: usize,
        visit: &mut impl FnMut(usize, Self),
    ) {
        if self.0.is_empty() {
            return;
        }
        if cells.len() == 1 {
            visit(number, self);
            return;
        }
        let (low, high) = cells.split_at(cells.len() / 2);
        let [before, beyond] = self.parted(axis, [low[low.len() - 1][1], high[0][0]]);
        before.halved(axis, low, number, visit);
        beyond.halved(axis, high, number + low.len(), visit);
    }

    /// Area, in square millimetres.
    pub fn area(&self) -> f64 {
        let twice: i128 = self.0.iter().map(|ring| twice_area(ring)).sum();
        twice as f64 / (2.0 * FACTOR * FACTOR)
    }

    /// The region as a shape, in millimetres; corners that do not turn are left out.
    pub fn shape(self) -> Shape {
        let loops: Vec<Loop> = self.0.into_iter().filter_map(plain).collect();
        let (outer, holes): (Vec<Loop>, Vec<Loop>) =
            loops.into_iter().partition(|ring| twice_area(ring) > 0);
        if holes.is_empty() {
            let parts = outer
                .iter()
                .map(|ring| Polygon::new(line(ring), Vec::new()));
            return MultiPolygon(parts.collect());
        }
        if let [outer] = &outer[..] {
            let holes = holes.iter().map(|ring| line(ring)).collect();
            return MultiPolygon(vec![Polygon::new(line(outer), holes)]);
        }
        let all: Vec<Loop> = outer.into_iter().chain(holes).collect();
        clip::from_grid(&ClipperInt::union(
            &as_they_run(&all),
            &MultiPolygon(Vec::new()),
        ))
    }
}

impl Half {
    /// What lies before a place along an axis, in millimetres.
    fn before(axis: usize, at: f64) -> Self {
        let (at, beyond) = (micrometres(at), false);
        Self { axis, at, beyond }
    }

    /// What lies beyond a place along an axis, in millimetres.
    fn beyond(axis: usize, at: f64) -> Self {
        let (at, beyond) = (micrometres(at), true);
        Self { axis, at, beyond }
    }

    fn holds(&self, corner: Corner) -> bool {
        if self.beyond {
            corner[self.axis] > self.at
        } else {
            corner[self.axis] < self.at
        }
    }

    /// What is kept of a region.
    fn of(&self, region: &Rings) -> Rings {
        let (mut clear, mut crossing) = (Vec::new(), Vec::new());
        for ring in &region.0 {
            if ring.iter().all(|corner| self.holds(*corner)) {
                clear.push(ring.clone());
            } else if ring.iter().any(|corner| self.holds(*corner)) {
                crossing.push(ring.clone());
            }
        }
        self.cut(&mut clear, &crossing);
        Rings(clear)
    }

    /// Adds what is kept of rings that reach the line to the rings that lie clear of it.
    fn cut(&self, clear: &mut Vec<Loop>, rings: &[Loop]) {
        if rings.is_empty() {
            return;
        }
        match self.kept(rings) {
            Some(kept) => clear.extend(kept),
            None => {
                let all: Vec<Loop> = rings.iter().chain(clear.iter()).cloned().collect();
                *clear = self.by_clipping(&all);
            }
        }
    }

    /// What is kept of rings; `None` where the places along the line do not pair up.
    fn kept(&self, rings: &[Loop]) -> Option<Vec<Loop>> {
        let mut stretches = Vec::new();
        let mut kept = Vec::new();
        for ring in rings {
            if ring.iter().all(|corner| self.holds(*corner)) {
                kept.push(ring.clone());
            } else {
                self.stretches(ring, &mut stretches);
            }
        }
        let mut places: Vec<(Place, usize, bool)> = Vec::with_capacity(2 * stretches.len());
        for (index, stretch) in stretches.iter().enumerate() {
            places.push((stretch.enters, index, true));
            places.push((stretch.leaves, index, false));
        }
        places.sort_by(|(a, ..), (b, ..)| {
            let order = a.along.total_cmp(&b.along);
            order.then(a.slope.total_cmp(&b.slope))
        });
        // What is kept lies to the left of the line as it is walked.
        let leaves_first = (self.axis == 1) == self.beyond;
        let mut next = vec![usize::MAX; stretches.len()];
        for pair in places.chunks(2) {
            let [(_, first, enters), (_, second, also)] = pair else {
                return None;
            };
            if enters == also || *enters == leaves_first {
                return None;
            }
            let (from, to) = if leaves_first {
                (*first, *second)
            } else {
                (*second, *first)
            };
            next[from] = to;
        }
        let mut used = vec![false; stretches.len()];
        for first in 0..stretches.len() {
            let mut ring = Loop::new();
            let mut at = first;
            while !used[at] {
                used[at] = true;
                ring.append(&mut stretches[at].corners);
                at = next[at];
            }
            ring.dedup();
            while ring.len() > 1 && ring.first() == ring.last() {
                ring.pop();
            }
            if ring.len() > 2 {
                kept.push(ring);
            }
        }
        Some(kept)
    }

    /// The stretches of a ring on the kept side.
    fn stretches(&self, ring: &[Corner], found: &mut Vec<Stretch>) {
        let count = ring.len();
        let corner = |index: usize| ring[index % count];
        let comes_in = |&index: &usize| !self.holds(corner(index)) && self.holds(corner(index + 1));
        let Some(start) = (0..count).find(comes_in) else {
            return;
        };
        let mut corners = Vec::new();
        let mut enters = None;
        for index in start..start + count {
            let (a, b) = (corner(index), corner(index + 1));
            match (self.holds(a), self.holds(b)) {
                (false, true) => {
                    let (at, place) = self.crossing(a, b);
                    corners.extend([at, b]);
                    enters = Some(place);
                }
                (true, true) => corners.push(b),
                (true, false) => {
                    let (at, leaves) = self.crossing(b, a);
                    corners.push(at);
                    if let Some(enters) = enters.take() {
                        found.push(Stretch {
                            corners: std::mem::take(&mut corners),
                            enters,
                            leaves,
                        });
                    }
                }
                (false, false) => {}
            }
        }
    }

    /// Where the side from a corner past the line to one on the kept side crosses it.
    fn crossing(&self, past: Corner, kept: Corner) -> (Corner, Place) {
        let other = 1 - self.axis;
        let rise = |from: Corner, to: Corner| {
            let along = (to[other] - from[other]) as f64;
            along / (to[self.axis] - from[self.axis]) as f64
        };
        // The same side gives the same place to what lies on either side of the line.
        let (a, b) = if past[self.axis] < kept[self.axis] {
            (past, kept)
        } else {
            (kept, past)
        };
        let exact = if past[self.axis] == self.at {
            past[other] as f64
        } else {
            a[other] as f64 + (self.at - a[self.axis]) as f64 * rise(a, b)
        };
        let mut at = [self.at; 2];
        at[other] = exact.round() as i64;
        let slope = rise(past, kept);
        let place = Place {
            along: exact,
            slope: if self.beyond { slope } else { -slope },
        };
        (at, place)
    }

    /// What is kept of rings, by general clipping.
    fn by_clipping(&self, rings: &[Loop]) -> Vec<Loop> {
        let corners = || rings.iter().flatten();
        let reach = |axis: usize| {
            let places = || corners().map(move |corner| corner[axis]);
            [
                places().min().unwrap_or(0) - 1,
                places().max().unwrap_or(0) + 1,
            ]
        };
        let mut room = [reach(0), reach(1)];
        let end = usize::from(!self.beyond);
        room[self.axis][end] = self.at;
        let [[left, right], [low, high]] = room;
        let window = vec![[left, low], [right, low], [right, high], [left, high]];
        let kept = ClipperInt::intersection(&as_they_run(rings), &as_they_run(&[window]));
        Rings::new(&clip::from_grid(&kept)).0
    }
}

/// Each ring as a polygon of its own that runs as the ring does: clipping by winding number then
/// leaves the holes out.
fn as_they_run(rings: &[Loop]) -> MultiPolygon<i64> {
    let polygons = rings.iter().map(|ring| {
        let line: LineString<i64> = ring.iter().map(|at| (at[0], at[1])).collect();
        Polygon::new(line, Vec::new())
    });
    MultiPolygon(polygons.collect())
}

/// The ring without corners that do not turn and without spikes; `None` when nothing is left.
fn plain(ring: Loop) -> Option<Loop> {
    let turn = |a: Corner, b: Corner, c: Corner| {
        let (p, q) = (apart(a, b), apart(b, c));
        p[0] * q[1] - p[1] * q[0]
    };
    let mut kept = Loop::with_capacity(ring.len());
    for corner in ring {
        while let [.., a, b] = kept[..]
            && turn(a, b, corner) == 0
        {
            kept.pop();
        }
        if kept.last() != Some(&corner) {
            kept.push(corner);
        }
    }
    // Where the ring closes.
    loop {
        let count = kept.len();
        if count < 3 {
            return None;
        }
        if kept[0] == kept[count - 1] || turn(kept[count - 2], kept[count - 1], kept[0]) == 0 {
            kept.pop();
        } else if turn(kept[count - 1], kept[0], kept[1]) == 0 {
            kept.remove(0);
        } else {
            return Some(kept);
        }
    }
}

fn apart(a: Corner, b: Corner) -> [i128; 2] {
    [i128::from(b[0] - a[0]), i128::from(b[1] - a[1])]
}

/// Twice the area within a ring, in square micrometres; under zero when it runs clockwise.
fn twice_area(ring: &[Corner]) -> i128 {
    let first = ring[0];
    ring.windows(2)
        .map(|pair| {
            let (p, q) = (apart(first, pair[0]), apart(first, pair[1]));
            p[0] * q[1] - p[1] * q[0]
        })
        .sum()
}

/// A closed line from the ring's highest corner, of these the one most to the right.
fn line(ring: &[Corner]) -> LineString<f64> {
    let first = (0..ring.len()).max_by_key(|&index| (ring[index][1], ring[index][0]));
    let (head, tail) = ring.split_at(first.unwrap_or(0));
    let corners = tail.iter().chain(head).chain(tail.first());
    corners
        .map(|at| millimetres(*at))
        .map(<(f64, f64)>::from)
        .collect()
}

fn millimetres(corner: Corner) -> [f64; 2] {
    corner.map(|at| at as f64 / FACTOR)
}

fn micrometres(at: f64) -> i64 {
    (at * FACTOR).round() as i64
}

#[cfg(test)]
mod tests;
