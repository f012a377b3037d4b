//! What is left of many rings less many others, worked group by group.
//!
//! In: rings on whole micrometres, those that add and those that take off, each as it runs. Out: the
//! polygons where those that add wind round and none of those that take off does (non-zero winding).
//! Method: rings that come near each other, and rings near those, are a group; all others run round
//! a whole group or not at all, so that the general clipping is asked of each group with a frame
//! round it for each ring that runs round it, and what it leaves of the frame is the ground that the
//! group lies in. General clipping takes time by the square of what it is given; a thousand holes
//! apart from each other take a thousand times one.

use geo::{LineString, MultiPolygon, Polygon};
use geo_clipper::ClipperInt;

use super::clip::{self, FACTOR};
use super::point::Point;
use super::ring::Bounds;
use super::sides::Sides;
use super::sweep::{Groups, each_near};

/// Rings nearer than this are of one group, in millimetres.
const CLEAR: f64 = 0.01;

/// How far round a group its frame lies, in micrometres.
const FRAME: i64 = 1000;

/// A ring that adds or takes off.
struct Loop<'a> {
    line: &'a LineString<i64>,
    off: bool,
    bounds: Bounds,
    sides: Sides,
}

/// What runs round a place: how often the rings that add do, and those that take off.
type Round = [i64; 2];

/// What is left of the rings of `on` less those of `off`; none where the groups do not lie apart, as
/// where a ring crosses itself through another.
pub(super) fn left(on: &MultiPolygon<i64>, off: &MultiPolygon<i64>) -> Option<MultiPolygon<i64>> {
    let adding = clip::rings(on).filter_map(|line| Loop::new(line, false));
    let taking = clip::rings(off).filter_map(|line| Loop::new(line, true));
    let loops: Vec<Loop> = adding.chain(taking).collect();
    let (group, inside) = parted(&loops);
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); loops.len()];
    for (at, group) in group.iter().enumerate() {
        members[*group].push(at);
    }
    let mut round: Vec<Round> = vec![[0, 0]; loops.len()];
    for (inner, outer) in inside {
        if group[inner] != group[outer] {
            let around = &loops[outer];
            round[inner][usize::from(around.off)] += around.winds_round(loops[inner].first());
        }
    }
    let (mut parts, mut holes) = (Vec::new(), Vec::new());
    for (number, members) in members.iter().enumerate() {
        let Some(first) = members.first() else {
            continue;
        };
        let round = members
            .iter()
            .all(|at| round[*at] == round[*first])
            .then_some(round[*first])?;
        let group: Vec<&Loop> = members.iter().map(|at| &loops[*at]).collect();
        let own = alone(&group, round)?;
        parts.extend(own.parts.into_iter().map(|part| (number, part)));
        holes.extend(own.open.into_iter().map(|hole| (number, hole)));
    }
    nested(parts, holes)
}

impl<'a> Loop<'a> {
    fn new(line: &'a LineString<i64>, off: bool) -> Option<Self> {
        let points: Vec<Point> = line.0.iter().map(|at| millimetres(*at)).collect();
        let boxes = points.iter().map(|p| Bounds { min: *p, max: *p });
        let bounds = boxes.reduce(Bounds::union)?;
        (points.len() > 3).then(|| Self {
            line,
            off,
            bounds,
            sides: Sides::along(&points),
        })
    }

    fn first(&self) -> Point {
        millimetres(self.line.0[0])
    }

    /// How often the ring runs round a place, anticlockwise.
    fn winds_round(&self, at: Point) -> i64 {
        winding(&self.sides, at)
    }

    /// Whether a side comes near a box.
    fn comes_near(&self, bounds: Bounds) -> bool {
        let corners = [
            bounds.min,
            Point::new(bounds.max.x, bounds.min.y),
            bounds.max,
            Point::new(bounds.min.x, bounds.max.y),
        ];
        self.sides.near(bounds, CLEAR).any(|(a, b)| {
            let Some(along) = (*b - *a).unit() else {
                return true;
            };
            let off = corners.map(|corner| along.cross(corner - *a));
            off.iter().any(|off| *off <= CLEAR) && off.iter().any(|off| *off >= -CLEAR)
        })
    }
}

/// The first ring of each ring's group, and which ring may lie inside which other one of another
/// group.
fn parted(loops: &[Loop]) -> (Vec<usize>, Vec<(usize, usize)>) {
    let boxes: Vec<Bounds> = loops.iter().map(|ring| ring.bounds).collect();
    let mut groups = Groups::apart(loops.len());
    let mut inside = Vec::new();
    each_near(&boxes, CLEAR, |a, b| {
        let (one, other) = (&loops[a], &loops[b]);
        if one.comes_near(other.bounds) && other.comes_near(one.bounds) {
            groups.join(a, b);
            return;
        }
        for (inner, outer) in [(b, a), (a, b)] {
            let around = loops[outer].bounds;
            if around.union(loops[inner].bounds) == around {
                inside.push((inner, outer));
            }
        }
    });
    let groups = (0..loops.len()).map(|at| groups.first(at)).collect();
    (groups, inside)
}

/// What is left of a group by itself.
#[derive(Default)]
struct Alone {
    parts: Vec<Polygon<i64>>,
    /// The holes in the ground that the group lies in.
    open: Vec<LineString<i64>>,
}

/// What is left of a group by itself; none where what runs round it winds the wrong way.
fn alone(group: &[&Loop], round: Round) -> Option<Alone> {
    if round.iter().any(|times| *times < 0) {
        return None;
    }
    let some = |off: bool| group.iter().filter(move |ring| ring.off == off);
    let nothing_on = round[0] == 0 && some(false).next().is_none();
    let all_off = round[1] > 0 && some(true).next().is_none();
    if nothing_on || all_off {
        return Some(Alone::default());
    }
    let frame = frame(group);
    let wound = |off: bool| {
        let own = some(off).map(|ring| Polygon::new(ring.line.clone(), Vec::new()));
        let times = round[usize::from(off)] as usize;
        let frames = std::iter::repeat_n(Polygon::new(frame.clone(), Vec::new()), times);
        MultiPolygon(own.chain(frames).collect())
    };
    let found = ClipperInt::difference(&wound(false), &wound(true));
    let mut left = Alone::default();
    for part in found {
        if part.exterior().0.contains(&frame.0[0]) {
            left.open.extend(part.into_inner().1);
        } else {
            left.parts.push(part);
        }
    }
    Some(left)
}

/// A rectangle well clear round a group.
fn frame(group: &[&Loop]) -> LineString<i64> {
    let corners = || group.iter().flat_map(|ring| &ring.line.0);
    let reach = |of: fn(&geo::Coord<i64>) -> i64| {
        let (low, high) = (corners().map(of).min(), corners().map(of).max());
        [low.unwrap_or(0) - FRAME, high.unwrap_or(0) + FRAME]
    };
    let ([left, right], [low, high]) = (reach(|at| at.x), reach(|at| at.y));
    LineString::from(vec![
        (left, low),
        (right, low),
        (right, high),
        (left, high),
        (left, low),
    ])
}

/// Polygons with the holes that lie in them, each in the smallest of another group that holds it.
fn nested(
    parts: Vec<(usize, Polygon<i64>)>,
    holes: Vec<(usize, LineString<i64>)>,
) -> Option<MultiPolygon<i64>> {
    let around: Vec<Option<Loop>> = parts
        .iter()
        .map(|(_, part)| Loop::new(part.exterior(), false))
        .collect();
    let size = |at: usize| {
        let bounds = around[at].as_ref().map(|ring| ring.bounds);
        bounds.map_or(0.0, |bounds| bounds.width() * bounds.height())
    };
    let mut own: Vec<Vec<LineString<i64>>> = vec![Vec::new(); parts.len()];
    for (number, hole) in holes {
        let at = millimetres(*hole.0.first()?);
        let spot = Bounds { min: at, max: at };
        let holds = |(group, ring): (&usize, &Option<Loop>)| {
            ring.as_ref().is_some_and(|ring| {
                *group != number && ring.bounds.near(spot, 0.0) && ring.winds_round(at) != 0
            })
        };
        let groups = parts.iter().map(|(group, _)| group);
        let holding = groups.zip(&around).enumerate();
        let holding = holding.filter(|(_, pair)| holds(*pair)).map(|(at, _)| at);
        let least = holding.min_by(|a, b| size(*a).total_cmp(&size(*b)))?;
        own[least].push(hole);
    }
    drop(around);
    let parts = parts.into_iter().zip(own).map(|((_, part), own)| {
        let (exterior, mut holes) = part.into_inner();
        holes.extend(own);
        Polygon::new(exterior, holes)
    });
    Some(MultiPolygon(parts.collect()))
}

/// How often sides of a ring run round a place, anticlockwise.
fn winding(sides: &Sides, at: Point) -> i64 {
    let mut times = 0;
    for (a, b) in sides.at_height(at.y) {
        if (a.y > at.y) == (b.y > at.y) {
            continue;
        }
        if at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            times += if b.y > a.y { 1 } else { -1 };
        }
    }
    times
}

fn millimetres(at: geo::Coord<i64>) -> Point {
    Point::new(at.x as f64 / FACTOR, at.y as f64 / FACTOR)
}

#[cfg(test)]
mod tests;
