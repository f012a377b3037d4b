//! Small matters of following water: parts of a stretch put in order, whether a fall leads into an
//! area, and the stretches that an outlet is reached over.
//!
//! In and out: fractions of sides, sides of an area. Millimetres.

use super::joint::TOUCH;
use super::side::Side;
use crate::geom::{Point, Vector};

/// Sine of the angle under which a fall runs along a side.
const ALONG: f64 = 1e-9;

/// A stretch of a side that water reaches: outlet, area, side, from and to as fractions.
pub type Reach = (usize, usize, usize, [f64; 2]);

/// What a span shares with a stretch, which may run either way: its ends in the order of the
/// stretch, and the same as fractions of it; none when they share no length.
pub fn shared(span: [f64; 2], stretch: [f64; 2]) -> Option<([f64; 2], [f64; 2])> {
    let [from, to] = stretch;
    let low = span[0].max(from.min(to));
    let high = span[1].min(from.max(to));
    if high <= low {
        return None;
    }
    let ends = if from > to { [high, low] } else { [low, high] };
    Some((ends, ends.map(|at| (at - from) / (to - from))))
}

/// A part given as fractions of a stretch, on the stretch itself.
pub fn within([from, to]: [f64; 2], part: [f64; 2]) -> [f64; 2] {
    part.map(|f| from + (to - from) * f)
}

/// Parts in order, grown over the slivers between them that rounding left; none without parts.
pub fn closed(mut parts: Vec<([f64; 2], usize)>) -> Option<Vec<([f64; 2], usize)>> {
    parts.sort_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    let mut whole: Vec<([f64; 2], usize)> = Vec::with_capacity(parts.len());
    for (part, outlet) in parts {
        match whole.last_mut() {
            Some(last) if last.1 == outlet => last.0[1] = part[1].max(last.0[1]),
            Some(last) => {
                let from = last.0[1];
                if part[1] > from {
                    whole.push(([from, part[1]], outlet));
                }
            }
            None => whole.push(([0.0, part[1]], outlet)),
        }
    }
    whole.last_mut()?.0[1] = 1.0;
    Some(whole)
}

/// Whether a direction leads from a place on the rim of an area into the area.
pub fn leads_in(sides: &[Side], at: Point, way: Vector) -> bool {
    sides.iter().any(|side| {
        if side.from.distance(at) <= TOUCH {
            // A corner: between the side that starts here and the one that ends here.
            let Some(before) = sides.iter().find(|s| s.to.distance(side.from) <= 1e-3) else {
                return false;
            };
            let (out, back) = (side.along(), -before.along());
            let angle =
                |v: Vector| libm::atan2(out.cross(v), out.dot(v)).rem_euclid(std::f64::consts::TAU);
            let (sector, turn) = (angle(back), angle(way));
            return turn > ALONG && turn < sector - ALONG;
        }
        let inner = side.to.distance(at) > TOUCH && side.edge().distance(at) <= TOUCH;
        inner && side.along().left().dot(way) > ALONG
    })
}

/// The stretches of sides that an outlet is reached over, joined where they touch.
pub fn stretches(reached: &[Reach], outlet: usize, sides: &[&[Side]]) -> Vec<[Point; 2]> {
    let mut own: Vec<(usize, usize, [f64; 2])> = reached
        .iter()
        .filter(|reach| reach.0 == outlet)
        .map(|&(_, area, side, t)| (area, side, t))
        .collect();
    own.sort_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)).then(a.2[0].total_cmp(&b.2[0])));
    let mut joined: Vec<(usize, usize, [f64; 2])> = Vec::new();
    for (area, side, t) in own {
        match joined.last_mut() {
            Some(last) if (last.0, last.1) == (area, side) && t[0] <= last.2[1] + 1e-9 => {
                last.2[1] = last.2[1].max(t[1]);
            }
            _ => joined.push((area, side, t)),
        }
    }
    let place = |(area, side, t): (usize, usize, [f64; 2])| {
        let side = &sides[area][side];
        t.map(|t| side.from + (side.to - side.from) * t)
    };
    joined.into_iter().map(place).collect()
}
