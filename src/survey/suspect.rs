//! Which measurement is likely wrong, when redundant ones disagree.
//!
//! In: the tapes to a point with the places they are from, or a traverse with its misclosure, in
//! millimetres. Out: single mistakes that would explain all of it. For tapes: two distances booked
//! in each other's place, the point on the other side, and of four tapes or more one that is wrong.
//! For a traverse: the legs that run the way of the miss, since a leg taped wrong moves all that
//! follows along itself (a rule of any text on traversing). Nothing is changed: the crew tapes again.

use super::tie::tie;
use super::traverse::TraverseResult;
use crate::geom::Point;

/// A single mistake that would explain the residuals of a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Suspect {
    /// The distances of the tapes with these indices are in each other's place.
    Swapped(usize, usize),
    /// The point is on the other side.
    OtherSide,
    /// The tape with this index is wrong: this distance would fit.
    Tape(usize, f64),
}

/// The single mistakes after which all tapes agree within `limit`. The first two tapes place the
/// point, left of the line between their places or right of it.
pub fn suspects(tapes: &[(Point, f64)], left: bool, limit: f64) -> Vec<Suspect> {
    let mut found = Vec::new();
    if tapes.len() < 3 {
        return found;
    }
    if fits(tapes, !left, limit) {
        found.push(Suspect::OtherSide);
    }
    for i in 0..tapes.len() {
        for j in i + 1..tapes.len() {
            let mut swapped = tapes.to_vec();
            (swapped[i].1, swapped[j].1) = (tapes[j].1, tapes[i].1);
            if fits(&swapped, left, limit) {
                found.push(Suspect::Swapped(i, j));
            }
        }
    }
    if tapes.len() > 3 {
        for out in 0..tapes.len() {
            let mut rest = tapes.to_vec();
            let (from, _) = rest.remove(out);
            // The side is that of the first two tapes: with either gone both sides are tried.
            let sides: &[bool] = if out < 2 { &[true, false] } else { &[left] };
            for &side in sides {
                if let Some(at) = placed(&rest, side).filter(|_| fits(&rest, side, limit)) {
                    found.push(Suspect::Tape(out, from.distance(at)));
                    break;
                }
            }
        }
    }
    found
}

fn placed(tapes: &[(Point, f64)], left: bool) -> Option<Point> {
    let [(a, to_a), (b, to_b), ..] = tapes else {
        return None;
    };
    let found = tie([*a, *b], [*to_a, *to_b]).ok()?;
    Some(if left { found.left } else { found.right })
}

fn fits(tapes: &[(Point, f64)], left: bool, limit: f64) -> bool {
    placed(tapes, left).is_some_and(|at| {
        let mut further = tapes.iter().skip(2);
        further.all(|(from, distance)| (from.distance(at) - distance).abs() <= limit)
    })
}

/// A leg off the way of the miss by no more than this, in degrees, may be the one taped wrong.
const SAME_WAY: f64 = 5.0;

/// Indices of the legs that run the way of the miss, either way along it.
pub fn suspect_legs(result: &TraverseResult) -> Vec<usize> {
    let Some(miss) = result.misclosure.filter(|miss| miss.length() > 0.0) else {
        return Vec::new();
    };
    let legs = result.legs.iter().enumerate();
    legs.filter(|(_, leg)| {
        let (across, along) = (leg.measured.cross(miss).abs(), leg.measured.dot(miss).abs());
        libm::atan2(across, along).to_degrees() <= SAME_WAY
    })
    .map(|(index, _)| index)
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::spec::{Leg, Traverse, Turning};
    use crate::survey::traverse::walk;

    const LIMIT: f64 = 12.7;

    fn tapes(distances: [f64; 4]) -> Vec<(Point, f64)> {
        let places = [
            (0.0, 0.0),
            (6000.0, 0.0),
            (6000.0, -4000.0),
            (1000.0, -4000.0),
        ];
        places
            .iter()
            .zip(distances)
            .map(|(&(x, y), distance)| (Point::new(x, y), distance))
            .collect()
    }

    /// The distances from four places to (2000, 3000).
    fn right() -> [f64; 4] {
        let at = Point::new(2000.0, 3000.0);
        let all = tapes([0.0; 4]);
        [0, 1, 2, 3].map(|i| all[i].0.distance(at))
    }

    #[test]
    fn swapped_tapes_the_other_side_and_one_wrong_tape_are_told() {
        let mut swapped = right();
        swapped.swap(0, 1);
        assert_eq!(
            suspects(&tapes(swapped)[..3], true, LIMIT),
            [Suspect::Swapped(0, 1)]
        );
        assert_eq!(
            suspects(&tapes(right())[..3], false, LIMIT),
            [Suspect::OtherSide]
        );
        let mut wrong = right();
        wrong[3] += 50.8;
        let found = suspects(&tapes(wrong), true, LIMIT);
        assert_eq!(found.len(), 1);
        assert!(matches!(found[0], Suspect::Tape(3, fit) if (fit - right()[3]).abs() < 1e-6));
        assert_eq!(suspects(&tapes(right())[..2], true, LIMIT), []);
    }

    /// A rectangle 14 ft by 10 ft walked with one side a foot too long.
    #[test]
    fn a_leg_a_foot_too_long_is_among_those_that_run_the_way_of_the_miss() {
        let leg = |to: &str, bearing, feet: f64| Leg {
            to: to.into(),
            turning: Turning::Bearing(bearing),
            distance: feet * 304.8,
        };
        let traverse = Traverse {
            start: "A".into(),
            back_bearing: 90.0,
            legs: vec![
                leg("B", 90.0, 14.0),
                leg("C", 0.0, 11.0),
                leg("D", 250.0, 14.0),
                leg("A", 160.0, 10.0),
            ],
            adjust: true,
            limit: 500.0,
        };
        let close = Point::default();
        let mut sound = traverse.clone();
        sound.legs[1].distance = 10.0 * 304.8;
        let end = walk(&sound, close, None).legs[3].at;
        let walked = walk(&traverse, close, Some(end));
        assert!((walked.misclosure_mm.unwrap() - 304.8).abs() < 1e-6);
        assert_eq!(suspect_legs(&walked), [1]);
    }
}
