//! What water does where it comes to a shared edge.
//!
//! In: the sides of every area and their planes. Out: for each shared side, piece by piece, whether
//! water goes on in the next area, follows the edge, or stands; and the gutters, pieces of edge
//! that water follows, each with its upper and its lower end. Millimetres.

use super::side::{Beyond, Side};
use crate::geom::Point;
use crate::levels::plane::Plane;

/// Steps up to this hold no water, in millimetres.
pub const STEP: f64 = 0.5;
/// Sides of two areas within this of each other are shared, in millimetres.
pub const TOUCH: f64 = 1.0;
/// Shorter pieces are rounding, in millimetres.
const SHORT: f64 = 1e-3;
/// Sine of the angle under which a fall runs along an edge.
const ALONG: f64 = 1e-9;
/// Falls within this ratio (0.005 %) count as level.
const LEVEL: f64 = 0.000_05;

/// What water does on a piece of a shared side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// It goes on in the next area, from that area's side.
    On {
        /// Index of the next area.
        area: usize,
        /// Index of its side.
        side: usize,
    },
    /// It follows the edge, by index of the gutter.
    Along(usize),
    /// The next area is level: it stands there.
    Stands(usize),
}

/// A piece of a shared side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// From where to where, as fractions of the side.
    pub t: [f64; 2],
    /// What water does there.
    pub way: Way,
}

/// A piece of edge that water follows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gutter {
    /// The area whose surface the water is on.
    pub area: usize,
    /// The upper end.
    pub from: Point,
    /// The lower end.
    pub to: Point,
    /// Fall along it, never negative; nought when it is level.
    pub fall: f64,
}

/// Pieces by area and side, and the gutters.
#[derive(Clone, Debug, Default)]
pub struct Joints {
    /// One list of pieces for each side of each area, empty where the side is not shared.
    pub pieces: Vec<Vec<Vec<Piece>>>,
    /// The gutters.
    pub gutters: Vec<Gutter>,
}

/// The joints of all areas.
pub fn joints(sides: &[Vec<Side>], planes: &[Plane]) -> Joints {
    let mut joints = Joints::default();
    for (area, own) in sides.iter().enumerate() {
        let mut all = Vec::with_capacity(own.len());
        for side in own {
            let mut pieces = Vec::new();
            if let Beyond::Area(next) = side.beyond {
                for (index, other) in sides[next].iter().enumerate() {
                    if other.beyond == Beyond::Area(area) {
                        let ways = [(area, side), (next, other)];
                        shared(ways, index, planes, &mut joints.gutters, &mut pieces);
                    }
                }
            }
            pieces.sort_by(|a, b| a.t[0].total_cmp(&b.t[0]));
            all.push(pieces);
        }
        joints.pieces.push(all);
    }
    joints
}

/// Adds the pieces that a side shares with one side of the next area; none where the area falls
/// away from the side, so that no water comes to it.
fn shared(
    [(area, side), (next, other)]: [(usize, &Side); 2],
    index: usize,
    planes: &[Plane],
    gutters: &mut Vec<Gutter>,
    pieces: &mut Vec<Piece>,
) {
    let length = side.from.distance(side.to);
    let along = side.along();
    let leaves = planes[area].downhill();
    if leaves.is_none_or(|downhill| downhill.dot(along.left()) > ALONG) {
        return;
    }
    let run = |at: Point| (at - side.from).dot(along);
    let ends = [run(other.from), run(other.to)];
    let start = ends[0].min(ends[1]).max(0.0);
    let end = ends[0].max(ends[1]).min(length);
    if end - start <= SHORT || along.dot(other.along()) >= 0.0 {
        return;
    }
    // How far apart the sides are over what they share: they may diverge beyond it.
    let apart = |t: f64| other.edge().distance(side.from + along * t);
    if apart(start) > TOUCH || apart(end) > TOUCH {
        return;
    }
    let at = |t: f64| side.from + along * t;
    let step = |t: f64| planes[area].level_at(at(t)) - planes[next].level_at(at(t));
    let mut cuts = vec![start, end];
    let (first, last) = (step(start), step(end));
    for limit in [-STEP, 0.0, STEP] {
        if (first < limit) != (last < limit) {
            cuts.push(start + (end - start) * (limit - first) / (last - first));
        }
    }
    cuts.sort_by(f64::total_cmp);
    for pair in cuts.windows(2) {
        if pair[1] - pair[0] <= SHORT {
            continue;
        }
        let ends = [at(pair[0]), at(pair[1])];
        let step = step((pair[0] + pair[1]) / 2.0);
        let inward = other.along().left();
        let way = match planes[next].downhill() {
            _ if step < -STEP => Way::Along(gutter(area, ends, planes, gutters)),
            None => Way::Stands(next),
            Some(downhill) if downhill.dot(inward) > ALONG => Way::On {
                area: next,
                side: index,
            },
            Some(_) => {
                // In a valley water follows the lower of the two surfaces.
                let lower = if step < 0.0 { area } else { next };
                Way::Along(gutter(lower, ends, planes, gutters))
            }
        };
        pieces.push(Piece {
            t: [pair[0] / length, pair[1] / length],
            way,
        });
    }
}

/// Adds the gutter over a piece of edge on the surface of an area.
fn gutter(area: usize, ends: [Point; 2], planes: &[Plane], gutters: &mut Vec<Gutter>) -> usize {
    let [a, b] = ends.map(|at| planes[area].level_at(at));
    let [from, to] = if a >= b { ends } else { [ends[1], ends[0]] };
    let fall = (a - b).abs() / from.distance(to);
    gutters.push(Gutter {
        area,
        from,
        to,
        fall: if fall > LEVEL { fall } else { 0.0 },
    });
    gutters.len() - 1
}
