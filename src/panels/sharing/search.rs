//! Branch and bound for the fewest panels.
//!
//! In: which pieces may share a panel, a partition to better, a number no partition undercuts.
//! Out: the best partition found, and whether the search came to its end. The piece that fits the
//! fewest of the opened panels is placed next (DSATUR, Brélaz 1979).

use super::bits::Bits;

/// How much work the search may take: steps times pieces.
const WORK: usize = 3_000_000;
const NONE: usize = usize::MAX;

/// What a search found.
pub(in crate::panels) struct Found {
    /// The pieces by panel.
    pub(in crate::panels) panels: Vec<Vec<usize>>,
    /// Whether no partition has fewer.
    pub(in crate::panels) least: bool,
}

/// Searches for fewer panels than `known` has, down to `bound`.
pub(in crate::panels) fn search(share: &Bits, known: &[Vec<usize>], bound: usize) -> Found {
    let count = share.count();
    let apart = share.opposite();
    let degree = (0..count).map(|piece| apart.neighbours(piece).count());
    let mut search = Search {
        degree: degree.collect(),
        apart,
        bound,
        panel_of: vec![NONE; count],
        blocked: vec![vec![0; known.len()]; count],
        full: vec![0; count],
        best: known.to_vec(),
        steps: 0,
        limit: WORK / count.max(1),
    };
    search.run(0);
    Found {
        least: search.steps < search.limit || search.best.len() <= bound,
        panels: search.best,
    }
}

struct Search {
    /// Which pieces cannot share a panel.
    apart: Bits,
    /// With how many others each piece cannot share.
    degree: Vec<usize>,
    bound: usize,
    panel_of: Vec<usize>,
    /// For each piece and panel, how many of the panel's pieces it cannot share with.
    blocked: Vec<Vec<u16>>,
    /// For each piece, how many panels it cannot go to.
    full: Vec<usize>,
    best: Vec<Vec<usize>>,
    steps: usize,
    limit: usize,
}

impl Search {
    /// Places the pieces that are left, with `used` panels opened; keeps the best found.
    fn run(&mut self, used: usize) {
        if used >= self.best.len() {
            return;
        }
        let left = (0..self.panel_of.len()).filter(|&piece| self.panel_of[piece] == NONE);
        let hardest = left.max_by_key(|&piece| {
            (
                self.full[piece],
                self.degree[piece],
                std::cmp::Reverse(piece),
            )
        });
        let Some(piece) = hardest else {
            self.best = vec![Vec::new(); used];
            for (piece, &panel) in self.panel_of.iter().enumerate() {
                self.best[panel].push(piece);
            }
            return;
        };
        for panel in 0..=used {
            if self.best.len() <= self.bound || self.steps >= self.limit {
                return;
            }
            if panel + 1 >= self.best.len() || self.blocked[piece][panel] > 0 {
                continue;
            }
            self.steps += 1;
            self.put(piece, panel);
            self.run(used.max(panel + 1));
            self.take(piece, panel);
        }
    }

    fn put(&mut self, piece: usize, panel: usize) {
        self.panel_of[piece] = panel;
        for other in self.apart.neighbours(piece) {
            let blocked = &mut self.blocked[other][panel];
            self.full[other] += usize::from(*blocked == 0);
            *blocked += 1;
        }
    }

    fn take(&mut self, piece: usize, panel: usize) {
        self.panel_of[piece] = NONE;
        for other in self.apart.neighbours(piece) {
            let blocked = &mut self.blocked[other][panel];
            *blocked -= 1;
            self.full[other] -= usize::from(*blocked == 0);
        }
    }
}
