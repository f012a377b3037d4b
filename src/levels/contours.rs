//! Ground contours: where the triangulated ground stands at round levels.
//!
//! In: the ground and the interval between contours, millimetres. Out: for each round level the
//! runs of points along which the ground has it. Inside a triangle the ground is a plane, so a
//! contour is straight there and its ends are exact (linear interpolation along the triangle's
//! sides); runs are strung together side by side. Outside the spots' hull the ground is only
//! assumed and has no contours. Smoothing is left out: a smoothed contour shows ground that
//! nobody measured.

use std::collections::BTreeMap;

use super::ground::Ground;
use super::spec::Spot;
use crate::geom::Point;

/// The places where the ground has one level.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// The level, in millimetres.
    pub level: f64,
    /// Open runs from hull to hull, and closed ones that end where they start; higher ground on
    /// the left.
    pub runs: Vec<Vec<Point>>,
}

/// Most contours that are made; finer intervals give none.
const MOST: f64 = 500.0;

/// The contours at whole multiples of `interval`, lowest first.
pub fn contours(ground: &Ground, interval: f64) -> Vec<Contour> {
    let levels = ground.spots().iter().map(|spot| spot.level);
    let low = levels.clone().fold(f64::INFINITY, f64::min);
    let high = levels.fold(f64::NEG_INFINITY, f64::max);
    if interval <= 0.0 || (high - low) / interval > MOST {
        return Vec::new();
    }
    let first = (low / interval).ceil() as i64;
    let last = (high / interval).floor() as i64;
    (first..=last)
        .map(|count| count as f64 * interval)
        .map(|level| Contour {
            level,
            runs: runs(ground, level),
        })
        .filter(|contour| !contour.runs.is_empty())
        .collect()
}

/// The finest of some intervals that gives no more than `most` contours over the spots' range;
/// `None` when the spots are all level or every interval gives more.
pub fn interval(spots: &[Spot], intervals: &[f64], most: usize) -> Option<f64> {
    let levels = spots.iter().map(|spot| spot.level);
    let low = levels.clone().fold(f64::INFINITY, f64::min);
    let high = levels.fold(f64::NEG_INFINITY, f64::max);
    let fits = |step: &f64| (high / step).floor() - (low / step).ceil() + 1.0 <= most as f64;
    let finest = intervals.iter().copied().filter(fits);
    finest
        .fold(None, |least: Option<f64>, step| {
            Some(least.map_or(step, |least| least.min(step)))
        })
        .filter(|_| high > low)
}

/// A side of a triangle, by the spots at its ends, the lower index first.
type Side = (usize, usize);

/// The runs at one level. A spot at the level counts as above it, so that every contour passes
/// from side to side and none ends at a spot.
fn runs(ground: &Ground, level: f64) -> Vec<Vec<Point>> {
    let spots = ground.spots();
    let above = |i: usize| spots[i].level >= level;
    // From the side a contour enters a triangle by to the side it leaves by.
    let mut onward: BTreeMap<Side, Side> = BTreeMap::new();
    let mut entered: Vec<Side> = Vec::new();
    for triangle in ground.triangles() {
        let mut way = [None, None];
        for (from, to) in [(0, 1), (1, 2), (2, 0)].map(|(i, j)| (triangle[i], triangle[j])) {
            let side = (from.min(to), from.max(to));
            match (above(from), above(to)) {
                // Where the triangle's sides, anticlockwise, step down, the contour comes in with
                // the higher ground on its left.
                (true, false) => way[0] = Some(side),
                (false, true) => way[1] = Some(side),
                _ => {}
            }
        }
        if let [Some(enters), Some(leaves)] = way {
            onward.insert(enters, leaves);
            entered.push(leaves);
        }
    }
    entered.sort_unstable();
    let crossing = |(a, b): Side| {
        let (a, b) = (spots[a], spots[b]);
        let share = (level - a.level) / (b.level - a.level);
        a.at + (b.at - a.at) * share
    };
    let mut all = Vec::new();
    let starts: Vec<Side> = onward
        .keys()
        .filter(|side| entered.binary_search(side).is_err())
        .copied()
        .collect();
    let mut follow = |onward: &mut BTreeMap<Side, Side>, start: Side| {
        let mut run = vec![crossing(start)];
        let mut side = start;
        while let Some(next) = onward.remove(&side) {
            run.push(crossing(next));
            side = next;
        }
        run.dedup_by(|a, b| a.distance(*b) < 1e-6);
        if run.len() > 1 {
            all.push(run);
        }
    };
    for start in starts {
        follow(&mut onward, start);
    }
    while let Some(start) = onward.keys().next().copied() {
        follow(&mut onward, start);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::samples::spot;

    fn pyramid() -> Ground {
        let spots = [
            spot(0.0, 0.0, 0.0),
            spot(10.0, 0.0, 0.0),
            spot(10.0, 10.0, 0.0),
            spot(0.0, 10.0, 0.0),
            spot(5.0, 5.0, 10.0),
        ];
        Ground::through(&spots).expect("spots")
    }

    /// A pyramid of base 10 and height 10 has at a quarter of its height a square of side 7.5.
    #[test]
    fn a_pyramid_has_square_contours() {
        let all = contours(&pyramid(), 2.5);
        let levels: Vec<f64> = all.iter().map(|c| c.level).collect();
        assert_eq!(levels, [2.5, 5.0, 7.5]);
        let run = &all[0].runs[0];
        assert_eq!((all[0].runs.len(), run.len()), (1, 5));
        assert!(run[0].distance(run[4]) < 1e-9);
        let around: f64 = run.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
        assert!((around - 30.0).abs() < 1e-9);
        // Higher ground, the middle, is on the left.
        for pair in run.windows(2) {
            assert!((pair[1] - pair[0]).cross(Point::new(5.0, 5.0) - pair[0]) > 0.0);
        }
    }

    #[test]
    fn every_point_of_a_contour_has_its_level() {
        let mut spots = Vec::new();
        for i in 0..6 {
            for j in 0..5 {
                let (x, y) = (
                    f64::from(i) * 900.0 + f64::from(j * j) * 30.0,
                    f64::from(j) * 800.0,
                );
                let level = 400.0 * libm::sin(x / 1500.0) + 200.0 * libm::cos(y / 700.0);
                spots.push(spot(x, y, level));
            }
        }
        let ground = Ground::through(&spots).expect("spots");
        let all = contours(&ground, 50.0);
        assert!(all.len() > 8);
        for contour in &all {
            for run in &contour.runs {
                for pair in run.windows(2) {
                    for share in [0.0, 0.3, 1.0] {
                        let level = ground.level_at(pair[0] + (pair[1] - pair[0]) * share);
                        assert!((level - contour.level).abs() < 1e-6);
                    }
                }
                let closed = run[0].distance(run[run.len() - 1]) < 1e-9;
                let on_hull = |at: Point| {
                    ground.is_extrapolated(at + (at - Point::new(2600.0, 1600.0)) * 1e-3)
                };
                assert!(closed || (on_hull(run[0]) && on_hull(run[run.len() - 1])));
            }
        }
    }

    #[test]
    fn the_interval_is_the_finest_that_does_not_crowd() {
        let spots = [spot(0.0, 0.0, 3.0), spot(1.0, 0.0, 61.0)];
        assert_eq!(interval(&spots, &[5.0, 10.0, 20.0], 6), Some(10.0));
        assert_eq!(interval(&spots, &[5.0, 10.0, 20.0], 12), Some(5.0));
        assert_eq!(interval(&spots[..1], &[5.0], 6), None);
        assert_eq!(interval(&spots, &[1.0], 6), None);
    }
}
