//! Spot levels that do not go with those around them: a misread rod, a dropped foot.
//!
//! In: spot levels in millimetres and how far one may stand off. Out: the spots that stand further
//! than that off the best plane through their neighbours, worst first. Neighbours are the spots
//! joined to it in the Delaunay triangulation, and theirs where these fix no plane
//! or a weak one. Where the
//! plane is weak at the spot (outside its neighbours), a difference counts for less, by the
//! leverage of the plane there. A wrong spot
//! also spoils its neighbours' planes, so that of those that stand off the one is named without
//! which the rest agree best; then the search begins again without it. A real bank may show
//! as well: it is for the crew to look.

use std::collections::BTreeSet;

use super::fit::fit;
use super::ground::Ground;
use super::spec::Spot;
use crate::geom::Point;

/// Of those that stand off, so many are tried.
const TRIED: usize = 12;
/// Most spots that are named.
const NAMED: usize = 10;
/// A plane with more leverage than this at the spot is taken through more neighbours.
const WEAK: f64 = 2.0;
/// Remainders that differ by less than this share are equally good.
const ALIKE: f64 = 0.02;

/// A spot that does not go with those around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddSpot {
    /// Its index.
    pub spot: usize,
    /// Its level less that of its neighbours' plane, in millimetres.
    pub off: f64,
}

/// The spots that stand more than `limit` off their neighbours. Where two are equally suspect the
/// one further from `likely`, a level that the ground is expected near, is named.
pub fn odd_spots(spots: &[Spot], limit: f64, likely: impl Fn(Point) -> f64) -> Vec<OddSpot> {
    let mut left: Vec<usize> = (0..spots.len()).collect();
    let mut odd = Vec::new();
    while odd.len() < NAMED {
        let mut off = stands(spots, &left);
        off.retain(|stands| stands.weighted() > limit);
        off.sort_by(|a, b| b.weighted().total_cmp(&a.weighted()));
        let without = |spot: usize| -> f64 {
            let rest: Vec<usize> = left.iter().copied().filter(|&i| i != spot).collect();
            stands(spots, &rest).iter().map(Stands::weighted).sum()
        };
        let tried: Vec<(usize, f64, f64)> = off
            .iter()
            .take(TRIED)
            .map(|stands| (stands.spot, stands.off, without(stands.spot)))
            .collect();
        let Some(least) = tried.iter().map(|t| t.2).reduce(f64::min) else {
            break;
        };
        let from_likely = |spot: usize| (spots[spot].level - likely(spots[spot].at)).abs();
        let worst = tried
            .iter()
            .filter(|t| t.2 <= least * (1.0 + ALIKE) + 1.0)
            .max_by(|a, b| {
                let by = from_likely(a.0).total_cmp(&from_likely(b.0));
                by.then(b.0.cmp(&a.0))
            });
        let Some(&(spot, off, _)) = worst else { break };
        odd.push(OddSpot { spot, off });
        left.retain(|&i| i != spot);
    }
    odd
}

/// How far a spot stands off its neighbours' plane.
struct Stands {
    spot: usize,
    off: f64,
    weight: f64,
}

impl Stands {
    /// The difference as far as it counts.
    fn weighted(&self) -> f64 {
        self.off.abs() * self.weight
    }
}

/// How far each of some spots stands off the plane of its neighbours among them; those without a
/// plane are left out.
fn stands(spots: &[Spot], among: &[usize]) -> Vec<Stands> {
    let chosen: Vec<Spot> = among.iter().map(|&i| spots[i]).collect();
    let Some(ground) = Ground::through(&chosen) else {
        return Vec::new();
    };
    // Of several spots at one place the ground keeps the first.
    let kept = ground.spots();
    let mut next: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); kept.len()];
    for triangle in ground.triangles() {
        for &a in triangle {
            next[a].extend(triangle.iter().filter(|&&b| b != a));
        }
    }
    let plane = |of: &BTreeSet<usize>| {
        let around: Vec<Spot> = of.iter().map(|&i| kept[i]).collect();
        fit(&around)
    };
    let mut found = Vec::new();
    let mut from = 0;
    for (index, spot) in kept.iter().enumerate() {
        let near = plane(&next[index]).filter(|near| near.leverage(spot.at) <= WEAK);
        let near = near.or_else(|| {
            let mut wide: BTreeSet<usize> = next[index].clone();
            for &other in &next[index] {
                wide.extend(&next[other]);
            }
            wide.remove(&index);
            plane(&wide)
        });
        let Some(at) = (from..chosen.len()).find(|&i| chosen[i] == *spot) else {
            continue;
        };
        from = at + 1;
        if let Some(near) = near {
            found.push(Stands {
                spot: among[at],
                off: spot.level - near.plane.level_at(spot.at),
                weight: 1.0 / libm::sqrt(1.0 + near.leverage(spot.at)),
            });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const FOOT: f64 = 304.8;

    fn slope(places: &[(f64, f64)]) -> Vec<Spot> {
        places
            .iter()
            .map(|&(x, y)| Spot {
                at: Point::new(x * FOOT, y * FOOT),
                level: (100.0 - 0.08 * y + 0.01 * x + 0.1 * libm::sin(x + 2.0 * y)) * FOOT,
            })
            .collect()
    }

    fn named(spots: &[Spot]) -> Vec<usize> {
        let odd = odd_spots(spots, 2.0 * FOOT, |_| 99.0 * FOOT);
        odd.iter().map(|odd| odd.spot).collect()
    }

    #[test]
    fn of_four_spots_the_one_furthest_from_the_paving_is_named() {
        let mut spots = slope(&[(0.0, 0.0), (12.0, 0.0), (12.0, 10.0), (0.0, 10.0)]);
        assert!(named(&spots).is_empty());
        spots[2].level += 10.0 * FOOT;
        assert_eq!(named(&spots), [2]);
        // Three spots are a plane: nothing speaks against any of them.
        assert!(named(&spots[..3]).is_empty());
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(60) })]

        #[test]
        fn one_spot_off_by_ten_feet_is_found_wherever_it_is(
            jitter in prop::collection::vec((-2.0..2.0_f64, -2.0..2.0_f64), 9),
            wrong in 0..9_usize,
            up in any::<bool>(),
        ) {
            let places: Vec<(f64, f64)> = jitter
                .iter()
                .enumerate()
                .map(|(i, (x, y))| ((i % 3) as f64 * 9.0 + x, (i / 3) as f64 * 9.0 + y))
                .collect();
            let mut spots = slope(&places);
            prop_assert!(named(&spots).is_empty());
            spots[wrong].level += if up { 10.0 } else { -10.0 } * FOOT;
            prop_assert_eq!(named(&spots), vec![wrong]);
        }
    }
}
