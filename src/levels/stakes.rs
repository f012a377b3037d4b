//! Offset stakes: strings along the paving's straight edges, held from outside the dig.
//!
//! In: straight edges with the finish plane beside them, the dig and the structures, flattened, in
//! millimetres. Out: where each stake goes on the line of its edge produced, and how high the
//! string stands above the stake's mark. All marks are at one level, the lowest of the strings, so
//! that one setting of the laser serves all stakes and no height is negative. Where a structure
//! stands in the way, the string is held at a mark on its face.

use super::outline::{is_inside, outline_distance, segments};
use super::plane::Plane;
use crate::geom::{Point, Shape, Vector};

/// A line nearer to a structure's face than this runs along it, in millimetres.
const ALONG_FACE: f64 = 10.0;
/// Stakes nearer than this are in each other's way: room to swing a hammer, in millimetres (common
/// practice, no source).
pub const APART: f64 = 200.0;
/// A string that passes a stake within this can be held by it, in millimetres.
const ON_STRING: f64 = 1.0;

/// A straight edge to hold a string along.
#[derive(Clone, Debug, PartialEq)]
pub struct StakeLine {
    /// The edge's name.
    pub edge: String,
    /// Its ends.
    pub ends: [Point; 2],
    /// The finish plane of the area it belongs to.
    pub finish: Plane,
}

/// One end of a string.
#[derive(Clone, Debug, PartialEq)]
pub struct Stake {
    /// The edge's name.
    pub edge: String,
    /// Which end of the edge it is produced past, 0 or 1.
    pub end: usize,
    /// The edge's end that it stands beyond.
    pub corner: Point,
    /// Where it is.
    pub at: Point,
    /// How it is held.
    pub held: Held,
    /// Distance from the edge's end, in millimetres.
    pub from_corner: f64,
    /// Level of the string there: the finish plane produced.
    pub string: f64,
    /// Height of the string above the mark, in millimetres.
    pub above_mark: f64,
}

/// How the end of a string is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// By a stake in the ground.
    Stake,
    /// At a mark on a structure's face.
    Face,
}

/// All stakes and the level of their marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Stakes {
    /// The level of every mark, in millimetres.
    pub mark: f64,
    /// The stakes, two a line.
    pub stakes: Vec<Stake>,
}

/// The stakes of some edges, `clear` millimetres outside the dig; `None` without edges of any
/// length.
pub fn stakes(lines: &[StakeLine], dig: &Shape, structures: &Shape, clear: f64) -> Option<Stakes> {
    let mut stakes = Vec::with_capacity(2 * lines.len());
    let mut finishes = Vec::with_capacity(2 * lines.len());
    for line in lines {
        let Some(along) = (line.ends[1] - line.ends[0]).unit() else {
            continue;
        };
        for (end, way) in [(0, -along), (1, along)] {
            let from = line.ends[end];
            let free = last_crossing(dig, from, way) + clear;
            let (from_corner, held) = match first_inside(structures, from, way, free) {
                Some(hit) => (hit, Held::Face),
                None => (free, Held::Stake),
            };
            finishes.push(line.finish);
            stakes.push(Stake {
                corner: from,
                edge: line.edge.clone(),
                end,
                at: from + way * from_corner,
                held,
                from_corner,
                string: 0.0,
                above_mark: 0.0,
            });
        }
    }
    set_apart(&mut stakes, structures);
    for (stake, finish) in stakes.iter_mut().zip(&finishes) {
        stake.string = finish.level_at(stake.at);
    }
    let mark = stakes.iter().map(|stake| stake.string).reduce(f64::min)?;
    for stake in &mut stakes {
        stake.above_mark = stake.string - mark;
    }
    Some(Stakes { mark, stakes })
}

/// Puts stakes that would be in each other's way at one place, where their strings cross; where
/// they do not cross there, drives one of them further out along its own string. What nothing parts
/// stays.
fn set_apart(stakes: &mut [Stake], structures: &Shape) {
    let mut shared = vec![false; stakes.len()];
    let mut stays: Vec<(usize, usize)> = Vec::new();
    // What makes way for one may come up to another.
    for _ in 0..4 * stakes.len() {
        let in_the_way = |&(earlier, later): &(usize, usize)| {
            let (a, b) = (&stakes[earlier], &stakes[later]);
            let apart = a.at.distance(b.at);
            a.held == Held::Stake && b.held == Held::Stake && apart > 0.0 && apart < APART
        };
        let pairs = (1..stakes.len()).flat_map(|b| (0..b).map(move |a| (a, b)));
        let mut pairs = pairs.filter(|pair| !stays.contains(pair));
        let Some(pair) = pairs.find(in_the_way) else {
            return;
        };
        // A stake that holds two strings keeps its place.
        let (keeps, gives) = match shared[pair.1] && !shared[pair.0] {
            true => (pair.1, pair.0),
            false => pair,
        };
        let free = |stake: &Stake, at: Point| {
            let way = (stake.at - stake.corner).unit().unwrap_or_default();
            first_inside(structures, stake.corner, way, at.distance(stake.corner)).is_none()
        };
        let one = one_place(&stakes[keeps], &stakes[gives], shared[keeps]);
        if let Some(at) = one.filter(|at| free(&stakes[keeps], *at) && free(&stakes[gives], *at)) {
            for index in [keeps, gives] {
                shared[index] = true;
                moved(&mut stakes[index], at);
            }
            continue;
        }
        let further = |stake: &Stake| {
            let way = (stake.at - stake.corner).unit().unwrap_or_default();
            let at = stake.at + way * APART;
            free(stake, at).then_some(at)
        };
        let mut movable = [gives, keeps].into_iter().filter(|index| !shared[*index]);
        match movable.find_map(|index| further(&stakes[index]).map(|at| (index, at))) {
            Some((index, at)) => moved(&mut stakes[index], at),
            None => stays.push(pair),
        }
    }
}

/// Where one stake holds both strings: where they cross, if that is by both stakes; the earlier
/// one's own place if it holds two strings already and the later one's passes it.
fn one_place(earlier: &Stake, later: &Stake, fixed: bool) -> Option<Point> {
    let (a, b) = (earlier.at - earlier.corner, later.at - later.corner);
    let passes = later.at + b.unit()? * (earlier.at - later.at).dot(b.unit()?);
    if passes.distance(earlier.at) < ON_STRING {
        return Some(earlier.at);
    }
    let turn = a.unit()?.cross(b.unit()?);
    if fixed || turn == 0.0 {
        return None;
    }
    let along = (later.corner - earlier.corner).cross(b.unit()?) / turn;
    let at = earlier.corner + a.unit()? * along;
    let by = |stake: &Stake| at.distance(stake.at) < APART;
    (by(earlier) && by(later)).then_some(at)
}

/// The stake at another place of its string.
fn moved(stake: &mut Stake, at: Point) {
    stake.from_corner = at.distance(stake.corner);
    stake.at = at;
}

/// How far along a ray it meets a shape's outline, all meetings, in order.
fn crossings(shape: &Shape, from: Point, way: Vector) -> Vec<f64> {
    let mut found = Vec::new();
    for [a, b] in segments(shape) {
        let (left, right) = (way.cross(a - from), way.cross(b - from));
        let (at_a, at_b) = ((a - from).dot(way), (b - from).dot(way));
        // A piece that the ray runs along counts with both ends.
        if left.abs() < 1e-6 {
            found.push(at_a);
        }
        if right.abs() < 1e-6 {
            found.push(at_b);
        }
        if (left < 0.0) != (right < 0.0) {
            found.push(at_a + (at_b - at_a) * left / (left - right));
        }
    }
    found.retain(|t| *t > 0.0);
    found.sort_by(f64::total_cmp);
    found
}

fn last_crossing(shape: &Shape, from: Point, way: Vector) -> f64 {
    crossings(shape, from, way).last().copied().unwrap_or(0.0)
}

/// How far along a ray it first goes into a shape, if it does before `until`; running along an
/// outline is not going in.
fn first_inside(shape: &Shape, from: Point, way: Vector, until: f64) -> Option<f64> {
    let mut start = 0.0;
    for end in crossings(shape, from, way) {
        let middle = from + way * ((start + end) / 2.0);
        if start < until && is_inside(shape, middle) && outline_distance(shape, middle) > ALONG_FACE
        {
            return Some(start);
        }
        start = end;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use geo::{Coord, LineString, Polygon};

    fn rectangle(x: [f64; 2], y: [f64; 2]) -> Shape {
        let corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])];
        let line = LineString::new(corners.iter().map(|&(x, y)| Coord { x, y }).collect());
        Shape::new(vec![Polygon::new(line, Vec::new())])
    }

    fn line(edge: &str, a: (f64, f64), b: (f64, f64)) -> StakeLine {
        StakeLine {
            edge: edge.into(),
            ends: [Point::new(a.0, a.1), Point::new(b.0, b.1)],
            finish: Plane::falling(Point::new(0.0, 0.0), 0.0, 0.02, Vector::new(0.0, 1.0)),
        }
    }

    /// Paving 4 m × 3 m against a house below it, dig 150 mm past its three open edges.
    #[test]
    fn stakes_stand_outside_the_dig_and_marks_on_the_house() {
        let dig = rectangle([-150.0, 4150.0], [0.0, 3150.0]);
        let house = rectangle([0.0, 6000.0], [-5000.0, 0.0]);
        let lines = [
            line("A-B", (0.0, 0.0), (4000.0, 0.0)),
            line("B-C", (4000.0, 0.0), (4000.0, 3000.0)),
            line("C-D", (4000.0, 3000.0), (0.0, 3000.0)),
        ];
        let found = stakes(&lines, &dig, &house, 600.0).unwrap();
        assert!((found.mark + 75.0).abs() < 1e-9);
        let at: Vec<_> = found
            .stakes
            .iter()
            .map(|s| (s.at.x, s.at.y, s.held))
            .collect();
        assert_eq!(
            at,
            [
                (-750.0, 0.0, Held::Stake),
                (4750.0, 0.0, Held::Stake),
                (4000.0, 0.0, Held::Face),
                (4000.0, 3750.0, Held::Stake),
                (4750.0, 3000.0, Held::Stake),
                (-750.0, 3000.0, Held::Stake),
            ]
        );
        // Strings at finish: 75 mm above the lowest at the wall, 15 along the far edge.
        assert!((found.stakes[0].above_mark - 75.0).abs() < 1e-9);
        assert!((found.stakes[4].above_mark - 15.0).abs() < 1e-9);
        assert_eq!(stakes(&[], &dig, &house, 600.0), None);
    }

    /// Two strings at right angles that would end 10 mm and 50 mm past their crossing are held by
    /// one stake at it; two side by side, 100 mm apart, by stakes one of which stands further out.
    #[test]
    fn no_two_stakes_are_in_each_others_way() {
        let none = Shape::new(Vec::new());
        let at = |lines: &[StakeLine], dig: &Shape| -> Vec<(f64, f64)> {
            let found = stakes(lines, dig, &none, 600.0).unwrap().stakes;
            for stake in &found {
                let off = stake.at.distance(stake.corner) - stake.from_corner;
                assert!(off.abs() < 1e-9);
                assert!((stake.string - lines[0].finish.level_at(stake.at)).abs() < 1e-9);
            }
            for (index, one) in found.iter().enumerate() {
                for other in &found[..index] {
                    let apart = one.at.distance(other.at);
                    assert!(apart == 0.0 || apart >= APART, "{one:?} {other:?}");
                }
            }
            found.iter().map(|s| (s.at.x, s.at.y)).collect()
        };
        let dig = rectangle([-1000.0, 1000.0], [-1000.0, 1000.0]);
        let far = [
            line("A-B", (0.0, 2000.0), (1000.0, 2000.0)),
            line("C-D", (1650.0, 0.0), (1650.0, 1000.0)),
        ];
        let found = at(&far, &dig);
        assert_eq!((found[1], found[3]), ((1600.0, 2000.0), (1650.0, 1600.0)));
        let near = [
            line("A-B", (0.0, 2000.0), (1000.0, 2000.0)),
            line("C-D", (1650.0, 0.0), (1650.0, 1350.0)),
        ];
        let found = at(&near, &dig);
        assert_eq!((found[1], found[3]), ((1650.0, 2000.0), (1650.0, 2000.0)));
        let beside = [
            line("A-B", (0.0, 0.0), (1000.0, 0.0)),
            line("C-D", (0.0, 100.0), (1000.0, 100.0)),
        ];
        let found = at(&beside, &dig);
        assert_eq!((found[1], found[3]), ((1600.0, 0.0), (1800.0, 100.0)));
        // Two that come towards each other go on until they are past.
        let towards = [
            line("A-B", (0.0, 2000.0), (1000.0, 2000.0)),
            line("C-D", (3300.0, 2100.0), (2350.0, 2100.0)),
        ];
        let found = at(&towards, &rectangle([-1000.0, 1000.0], [-1000.0, 1000.0]));
        assert!(found[1].0 - found[3].0 > 100.0, "{found:?}");
        // A third string that ends by the shared stake is held by it if it runs through it, else
        // further out.
        let third = |y: f64| {
            let mut lines = near.to_vec();
            lines.push(line("E-F", (0.0, y), (1200.0, y + 1200.0)));
            at(&lines, &dig)[5]
        };
        let (x, y) = third(350.0);
        assert!((x - 1650.0).abs() < 1e-9 && (y - 2000.0).abs() < 1e-9);
        let (x, y) = third(450.0);
        let along = 800.0 * 0.5_f64.sqrt();
        assert!((x - 1200.0 - along).abs() < 1e-9 && (y - 1650.0 - along).abs() < 1e-9);
    }
}
