//! Pairs: the most pieces that share a panel two by two, and what that proves.
//!
//! In: which pieces may share a panel. Out: a maximum matching (Edmonds 1965, as `petgraph` has
//! it), and the bound that follows where no three of the pieces share a panel: each panel then
//! gives two pieces at most, so that `pieces − pairs` panels are the least.

use petgraph::algo::maximum_matching;
use petgraph::graph::{NodeIndex, UnGraph};

use super::bits::Bits;

/// The most disjoint pairs, each in order, by their first.
pub(in crate::panels) fn pairs(share: &Bits) -> Vec<[usize; 2]> {
    let mut graph = UnGraph::<(), ()>::with_capacity(share.count(), 0);
    for _ in 0..share.count() {
        graph.add_node(());
    }
    for one in 0..share.count() {
        for other in share.neighbours(one).filter(|&other| other > one) {
            graph.add_edge(NodeIndex::new(one), NodeIndex::new(other), ());
        }
    }
    let matching = maximum_matching(&graph);
    let mut pairs: Vec<[usize; 2]> = matching
        .edges()
        .map(|(a, b)| [a.index().min(b.index()), a.index().max(b.index())])
        .collect();
    pairs.sort_unstable();
    pairs
}

/// Whether any three pieces may share a panel two by two.
pub(in crate::panels) fn has_three(share: &Bits) -> bool {
    (0..share.count()).any(|one| {
        share
            .neighbours(one)
            .filter(|&other| other > one)
            .any(|other| meet(share.row(one), share.row(other), None))
    })
}

/// Pieces of which no three share a panel, taken in the order given while that holds.
pub(in crate::panels) fn without_threes(share: &Bits, order: &[usize]) -> Vec<usize> {
    let mut taken = vec![0_u64; share.count().div_ceil(64)];
    let mut members = Vec::new();
    for &piece in order {
        let three = share
            .neighbours(piece)
            .filter(|&other| taken[other / 64] >> (other % 64) & 1 == 1)
            .any(|other| meet(share.row(piece), share.row(other), Some(&taken)));
        if !three {
            taken[piece / 64] |= 1 << (piece % 64);
            members.push(piece);
        }
    }
    members.sort_unstable();
    members
}

fn meet(a: &[u64], b: &[u64], among: Option<&[u64]>) -> bool {
    match among {
        None => a.iter().zip(b).any(|(a, b)| a & b != 0),
        Some(among) => a.iter().zip(b).zip(among).any(|((a, b), c)| a & b & c != 0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The most pairs by trying them all.
    fn most(share: &Bits, used: &mut Vec<bool>, from: usize) -> usize {
        let Some(one) = (from..share.count()).find(|&one| !used[one]) else {
            return 0;
        };
        used[one] = true;
        let mut best = most(share, used, one + 1);
        for other in one + 1..share.count() {
            if !used[other] && share.joined(one, other) {
                used[other] = true;
                best = best.max(1 + most(share, used, one + 1));
                used[other] = false;
            }
        }
        used[one] = false;
        best
    }

    #[test]
    fn pairs_are_the_most_that_trying_all_finds() {
        let mut seed = 11_u64;
        for round in 0..300 {
            let count = 2 + round % 9;
            let mut share = Bits::none(count);
            for a in 0..count {
                for b in a + 1..count {
                    seed = seed * 48_271 % 2_147_483_647;
                    if seed % 100 < 20 + round as u64 % 60 {
                        share.join(a, b);
                    }
                }
            }
            let found = pairs(&share);
            let mut seen: Vec<usize> = found.iter().flatten().copied().collect();
            seen.sort_unstable();
            seen.dedup();
            assert_eq!(seen.len(), 2 * found.len(), "a piece is in one pair");
            assert!(found.iter().all(|[a, b]| share.joined(*a, *b)));
            assert_eq!(found.len(), most(&share, &mut vec![false; count], 0));
        }
    }
}
