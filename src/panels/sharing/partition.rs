//! The fewest panels that give all of a set of pieces, each cut at its own place of the panel.
//!
//! In: which pieces may share a panel, their areas as shares of the panel, and how the installer
//! would share them. Out: the pieces panel by panel, and a number that no partition undercuts.
//!
//! Two pieces share a panel when their regions do not overlap, and so do any number of which that
//! holds for every two: a partition into cliques. Pieces that share with none in common are
//! solved apart. Where no three share a panel the answer is a maximum matching and exact. Else
//! the best of several first answers is improved by iterated greedy (Culberson 1992), which never
//! opens a panel more, and while few enough by branch and bound in order of saturation (DSATUR,
//! Brélaz 1979). All limits count steps, so that every machine finds the same.

use super::bits::Bits;
use super::matching::{has_three, pairs, without_threes};
use super::search::search;

/// How much work iterated greedy may take: panels looked into.
const IMPROVING: usize = 10_000_000;
/// Rounds of iterated greedy without a gain after which it ends.
const PATIENCE: usize = 400;
/// Up to this many pieces a least number is searched for.
const SEARCHED: usize = 300;
/// Up to this many pairs that may share, the most disjoint ones are looked for.
const MOST_PAIRS: usize = 4_000_000;

/// Pieces by panel, and what is proved of their number.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::panels) struct Partition {
    /// The pieces that each panel gives, each in order.
    pub(in crate::panels) panels: Vec<Vec<usize>>,
    /// No partition has fewer panels.
    pub(in crate::panels) bound: usize,
}

/// The fewest panels found. `areas` are shares of the panel, `installer` is a partition to do no
/// worse than, and `order` names the pieces, the hardest to place first.
pub(in crate::panels) fn partition(
    share: &Bits,
    areas: &[f64],
    installer: &[Vec<usize>],
    order: &[usize],
) -> Partition {
    let mut rank = vec![0; share.count()];
    for (at, &piece) in order.iter().enumerate() {
        rank[piece] = at;
    }
    let mut all = Partition::default();
    for part in share.parts() {
        if part.len() == 1 {
            all.panels.push(part);
            all.bound += 1;
            continue;
        }
        // numbered within the part from the hardest to place
        let mut members = part;
        members.sort_by_key(|&piece| rank[piece]);
        let mut place = vec![usize::MAX; share.count()];
        for (at, &piece) in members.iter().enumerate() {
            place[piece] = at;
        }
        let own: Vec<Vec<usize>> = installer
            .iter()
            .map(|panel| panel.iter().map(|&piece| place[piece]))
            .map(|places| places.filter(|&at| at != usize::MAX).collect::<Vec<_>>())
            .filter(|panel| !panel.is_empty())
            .collect();
        let area: f64 = members.iter().map(|&piece| areas[piece]).sum();
        let found = connected(&share.among(&members), area, own);
        all.bound += found.bound;
        all.panels.extend(found.panels.iter().map(|panel| {
            let mut panel: Vec<usize> = panel.iter().map(|&at| members[at]).collect();
            panel.sort_unstable();
            panel
        }));
    }
    all.panels.sort_unstable();
    all
}

/// Pieces that all share with others among them, the hardest to place first.
fn connected(share: &Bits, area: f64, installer: Vec<Vec<usize>>) -> Partition {
    let count = share.count();
    let joined = (0..count)
        .map(|one| share.neighbours(one).count())
        .sum::<usize>()
        / 2;
    if joined <= MOST_PAIRS && !has_three(share) {
        let panels = paired(count, &pairs(share));
        let bound = panels.len();
        return Partition { panels, bound };
    }
    let bound = least(share, area);
    let order: Vec<usize> = (0..count).collect();
    let mut best = installer;
    let mut better = |found: Vec<Vec<usize>>| {
        if found.len() < best.len() {
            best = found;
        }
    };
    better(first_fit(share, &order));
    if joined <= MOST_PAIRS {
        better(by_pairs(share));
    }
    let mut best = improved(share, best, bound);
    let mut proved = bound;
    if best.len() > bound && count <= SEARCHED {
        let found = search(share, &best, bound);
        if found.least {
            proved = found.panels.len();
        }
        best = found.panels;
    }
    Partition {
        panels: best,
        bound: proved,
    }
}

/// No partition has fewer panels: by area, and by pieces of which no three share a panel, from
/// the hardest to place and from every piece on while there are few.
fn least(share: &Bits, area: f64) -> usize {
    let count = share.count();
    let mut least = libm::ceil(area - 1e-6).max(0.0) as usize;
    let firsts = if count <= SEARCHED { count } else { 1 };
    let mut seen: Vec<Vec<usize>> = Vec::new();
    for first in 0..firsts.min(24) {
        let first = first * firsts / firsts.min(24);
        let order: Vec<usize> = std::iter::once(first)
            .chain((0..count).filter(|&piece| piece != first))
            .collect();
        let members = without_threes(share, &order);
        if seen.contains(&members) {
            continue;
        }
        let within = share.among(&members);
        let joined: usize = (0..members.len())
            .map(|one| within.neighbours(one).count())
            .sum();
        if joined / 2 <= MOST_PAIRS {
            least = least.max(members.len() - pairs(&within).len());
        }
        seen.push(members);
    }
    least
}

/// Pairs as panels of two, and each of the rest as one.
fn paired(count: usize, pairs: &[[usize; 2]]) -> Vec<Vec<usize>> {
    let mut single = vec![true; count];
    let mut panels: Vec<Vec<usize>> = Vec::new();
    for pair in pairs {
        panels.push(pair.to_vec());
        for &piece in pair {
            single[piece] = false;
        }
    }
    panels.extend(
        (0..count)
            .filter(|&piece| single[piece])
            .map(|piece| vec![piece]),
    );
    panels
}

/// The most pairs, then the most pairs of these, until none go together.
fn by_pairs(share: &Bits) -> Vec<Vec<usize>> {
    let mut panels: Vec<Vec<usize>> = (0..share.count()).map(|piece| vec![piece]).collect();
    loop {
        let mut together = Bits::none(panels.len());
        for a in 0..panels.len() {
            for b in a + 1..panels.len() {
                let mut both = panels[a]
                    .iter()
                    .flat_map(|&one| panels[b].iter().map(move |&other| (one, other)));
                if both.all(|(one, other)| share.joined(one, other)) {
                    together.join(a, b);
                }
            }
        }
        let found = pairs(&together);
        if found.is_empty() {
            return panels;
        }
        panels = paired(panels.len(), &found)
            .into_iter()
            .map(|group| {
                group
                    .into_iter()
                    .flat_map(|at| panels[at].clone())
                    .collect()
            })
            .collect();
    }
}

/// Each piece in the first panel that it fits, in the order given.
fn first_fit(share: &Bits, order: &[usize]) -> Vec<Vec<usize>> {
    let mut panels: Vec<Vec<usize>> = Vec::new();
    let mut fits: Vec<Vec<u64>> = Vec::new();
    for &piece in order {
        let (word, bit) = (piece / 64, piece % 64);
        match fits.iter().position(|fits| fits[word] >> bit & 1 == 1) {
            Some(panel) => {
                panels[panel].push(piece);
                for (fits, row) in fits[panel].iter_mut().zip(share.row(piece)) {
                    *fits &= row;
                }
            }
            None => {
                panels.push(vec![piece]);
                fits.push(share.row(piece).to_vec());
            }
        }
    }
    panels
}

/// First fit again and again with whole panels in another order, which never takes a panel more.
fn improved(share: &Bits, start: Vec<Vec<usize>>, bound: usize) -> Vec<Vec<usize>> {
    let mut panels = start;
    let (mut work, mut idle) = (0, 0);
    let mut numbers = Numbers(20_260_101);
    for round in 0.. {
        if panels.len() <= bound || work > IMPROVING || idle > PATIENCE {
            break;
        }
        work += share.count() * panels.len() / 2;
        let before = panels.len();
        match round % 3 {
            0 => panels.reverse(),
            1 => panels.sort_by_key(|panel| panel.len()),
            _ => numbers.shuffle(&mut panels),
        }
        let order: Vec<usize> = panels.iter().flatten().copied().collect();
        panels = first_fit(share, &order);
        idle = if panels.len() < before { 0 } else { idle + 1 };
    }
    panels
}

/// A small generator (Lehmer), the same on every run.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        (self.0 % count as u64) as usize
    }

    fn shuffle<T>(&mut self, list: &mut [T]) {
        for last in (1..list.len()).rev() {
            list.swap(last, self.below(last + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The least number by trying every partition.
    fn exhaustive(share: &Bits, panels: &mut Vec<Vec<usize>>, piece: usize) -> usize {
        if piece == share.count() {
            return panels.len();
        }
        let mut best = usize::MAX;
        for panel in 0..panels.len() {
            if panels[panel]
                .iter()
                .all(|&other| share.joined(other, piece))
            {
                panels[panel].push(piece);
                best = best.min(exhaustive(share, panels, piece + 1));
                panels[panel].pop();
            }
        }
        panels.push(vec![piece]);
        best = best.min(exhaustive(share, panels, piece + 1));
        panels.pop();
        best
    }

    fn random(count: usize, percent: u64, seed: u64) -> Bits {
        let mut numbers = Numbers(seed);
        let mut share = Bits::none(count);
        for a in 0..count {
            for b in a + 1..count {
                if (numbers.below(100) as u64) < percent {
                    share.join(a, b);
                }
            }
        }
        share
    }

    #[test]
    fn small_cases_are_the_least_that_an_exhaustive_search_finds() {
        for round in 0..400_u64 {
            let count = 2 + (round % 8) as usize;
            let share = random(count, 15 + round % 80, 7 + round);
            let order: Vec<usize> = (0..count).collect();
            let alone: Vec<Vec<usize>> = (0..count).map(|piece| vec![piece]).collect();
            let found = partition(&share, &vec![0.0; count], &alone, &order);
            let wanted = exhaustive(&share, &mut Vec::new(), 0);
            assert_eq!(
                (found.panels.len(), found.bound),
                (wanted, wanted),
                "round {round}"
            );
            let mut seen: Vec<usize> = found.panels.iter().flatten().copied().collect();
            seen.sort_unstable();
            assert_eq!(seen, order);
            for panel in &found.panels {
                for (at, &one) in panel.iter().enumerate() {
                    assert!(
                        panel[at + 1..]
                            .iter()
                            .all(|&other| share.joined(one, other))
                    );
                }
            }
        }
    }

    #[test]
    fn a_good_partition_to_begin_with_is_never_made_worse() {
        for round in 0..8_u64 {
            let share = random(40, 35, 99 + round);
            let order: Vec<usize> = (0..40).rev().collect();
            let given = by_pairs(&share);
            let found = partition(&share, &[0.0; 40], &given, &order);
            assert!(found.bound <= found.panels.len() && found.panels.len() <= given.len());
        }
    }
}
