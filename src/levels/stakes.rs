//! Offset stakes: strings along the paving's straight edges, held from outside the dig.
//!
//! In: straight edges with the finish plane beside them, the dig and the structures, flattened, in
//! millimetres. Out: where each stake goes on the line of its edge produced, and the finish there.
//! Where a structure stands in the way, the string is held at a mark on its face.

use std::collections::BTreeSet;
use std::ops::Range;

use super::outline::{is_inside, outline_distance, segments};
use super::plane::Plane;
use crate::geom::{Point, Shape, Vector};

/// A line nearer to a structure's face than this runs along it, in millimetres.
const ALONG_FACE: f64 = 10.0;
/// Stakes nearer than this are in each other's way: room to swing a hammer, in millimetres (common
/// practice, no source).
pub const APART: f64 = 200.0;
/// How often stakes make way at the most, for each stake there is.
const MOST_MOVES: usize = 64;
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
    /// Level of the finish plane produced to there.
    pub finish: f64,
}

/// How the end of a string is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// By a stake in the ground.
    Stake,
    /// At a mark on a structure's face.
    Face,
}

/// The stakes of some edges, `clear` millimetres outside the dig, two for each of any length.
pub fn stakes(lines: &[StakeLine], dig: &Shape, structures: &Shape, clear: f64) -> Vec<Stake> {
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
                finish: 0.0,
            });
        }
    }
    set_apart(&mut stakes, structures);
    for (stake, finish) in stakes.iter_mut().zip(&finishes) {
        stake.finish = finish.level_at(stake.at);
    }
    stakes
}

/// Puts stakes that would be in each other's way at one place, where their strings cross; where
/// they do not cross there, drives one of them further out along its own string. What nothing parts
/// stays. A stake that holds several strings moves with all of them or not at all.
fn set_apart(stakes: &mut [Stake], structures: &Shape) {
    let mut places: Vec<Vec<usize>> = (0..stakes.len()).map(|stake| vec![stake]).collect();
    let mut of: Vec<usize> = (0..stakes.len()).collect();
    let mut stays: BTreeSet<[usize; 2]> = BTreeSet::new();
    let mut crowded: BTreeSet<[usize; 2]> = BTreeSet::new();
    for later in 0..stakes.len() {
        crowd(stakes, later, 0..later, &mut crowded);
    }
    // What makes way for one may come up to another; each goes outwards alone, so that it ends.
    for _ in 0..MOST_MOVES * stakes.len() {
        let Some([later, earlier]) = crowded.difference(&stays).next().copied() else {
            return;
        };
        // A stake that holds two strings keeps its place.
        let shared = |stake: usize| places[of[stake]].len() > 1;
        let (keeps, gives) = match shared(later) && !shared(earlier) {
            true => (later, earlier),
            false => (earlier, later),
        };
        let free = |stake: usize, at: Point| {
            let stake = &stakes[stake];
            let way = (stake.at - stake.corner).unit().unwrap_or_default();
            first_inside(structures, stake.corner, way, at.distance(stake.corner)).is_none()
        };
        // Another stake that holds two strings is not come up to.
        let is_clear = |at: Point| {
            let (keeps, gives) = (of[keeps], of[gives]);
            let others = places
                .iter()
                .enumerate()
                .filter(|(place, strings)| strings.len() > 1 && *place != keeps && *place != gives);
            let mut apart = others.map(|(_, strings)| stakes[strings[0]].at.distance(at));
            apart.all(|apart| apart == 0.0 || apart >= APART)
        };
        let held = [&places[of[keeps]][..], &places[of[gives]][..]];
        let one = one_place(stakes, held).filter(|at| {
            let mut held = held.iter().flat_map(|held| held.iter());
            held.all(|stake| free(*stake, *at)) && is_clear(*at)
        });
        let further = |stake: &usize| {
            let way = (stakes[*stake].at - stakes[*stake].corner).unit();
            let at = stakes[*stake].at + way.unwrap_or_default() * APART;
            let moves = !shared(*stake) && free(*stake, at);
            moves.then_some((vec![*stake], at))
        };
        let (went, at) = match one {
            Some(at) => {
                let (into, from) = (of[keeps], of[gives]);
                let more = std::mem::take(&mut places[from]);
                more.iter().for_each(|stake| of[*stake] = into);
                places[into].extend(more);
                (places[into].clone(), at)
            }
            None => match [gives, keeps].iter().find_map(further) {
                Some(moved) => moved,
                None => {
                    stays.insert([later, earlier]);
                    continue;
                }
            },
        };
        crowded.retain(|pair| !went.iter().any(|stake| pair.contains(stake)));
        for &stake in &went {
            moved(&mut stakes[stake], at);
        }
        for &stake in &went {
            crowd(stakes, stake, 0..stakes.len(), &mut crowded);
        }
    }
}

/// Adds the pairs of a stake with others in whose way it is, the later stake first.
fn crowd(stakes: &[Stake], stake: usize, others: Range<usize>, crowded: &mut BTreeSet<[usize; 2]>) {
    for other in others {
        let (a, b) = (&stakes[stake], &stakes[other]);
        let apart = a.at.distance(b.at);
        if a.held == Held::Stake && b.held == Held::Stake && apart > 0.0 && apart < APART {
            crowded.insert([stake.max(other), stake.min(other)]);
        }
    }
}

/// Where one stake holds all strings that two stakes hold: the first one's place, if the other's
/// strings pass it; where two strings cross, if that is by both stakes.
fn one_place(stakes: &[Stake], [keeps, gives]: [&[usize]; 2]) -> Option<Point> {
    let passes = |strings: &[usize], at: Point| {
        let off = |stake: &Stake| {
            let along = (stake.at - stake.corner).unit()?;
            Some(along.cross(at - stake.at).abs())
        };
        let mut off = strings.iter().map(|string| off(&stakes[*string]));
        off.all(|off| off.is_some_and(|off| off < ON_STRING))
    };
    let [kept, given] = [stakes[*keeps.first()?].at, stakes[*gives.first()?].at];
    if passes(gives, kept) {
        return Some(kept);
    }
    let ([earlier], [later]) = (keeps, gives) else {
        return None;
    };
    let (earlier, later) = (&stakes[*earlier], &stakes[*later]);
    let (a, b) = (earlier.at - earlier.corner, later.at - later.corner);
    let turn = a.unit()?.cross(b.unit()?);
    if turn == 0.0 {
        return None;
    }
    let along = (later.corner - earlier.corner).cross(b.unit()?) / turn;
    let at = earlier.corner + a.unit()? * along;
    let by = |stake: Point| at.distance(stake) < APART;
    (by(kept) && by(given)).then_some(at)
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
mod tests;
