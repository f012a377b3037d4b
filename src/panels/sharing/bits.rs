//! A graph as a square of bits: which of a number of things go together.

use std::ops::Range;

/// A symmetric relation over `0..count`, one bit for each pair.
#[derive(Clone, Debug)]
pub(in crate::panels) struct Bits {
    count: usize,
    words: usize,
    rows: Vec<u64>,
}

impl Bits {
    /// Nothing related over `0..count`.
    pub(in crate::panels) fn none(count: usize) -> Self {
        let words = count.div_ceil(64);
        Self {
            count,
            words,
            rows: vec![0; count * words],
        }
    }

    /// How many things there are.
    pub(in crate::panels) fn count(&self) -> usize {
        self.count
    }

    /// Relates two.
    pub(in crate::panels) fn join(&mut self, a: usize, b: usize) {
        self.rows[a * self.words + b / 64] |= 1 << (b % 64);
        self.rows[b * self.words + a / 64] |= 1 << (a % 64);
    }

    /// Whether two are related.
    pub(in crate::panels) fn joined(&self, a: usize, b: usize) -> bool {
        self.rows[a * self.words + b / 64] >> (b % 64) & 1 == 1
    }

    /// All that one is related to, as words of bits.
    pub(in crate::panels) fn row(&self, of: usize) -> &[u64] {
        &self.rows[of * self.words..(of + 1) * self.words]
    }

    /// All that one is related to, in order.
    pub(in crate::panels) fn neighbours(&self, of: usize) -> impl Iterator<Item = usize> {
        ones(self.row(of))
    }

    /// The relation that holds between two different things where this one does not.
    pub(in crate::panels) fn opposite(&self) -> Self {
        let mut opposite = self.clone();
        for of in 0..self.count {
            for (at, word) in opposite.words_of(of).enumerate() {
                let used = (self.count - at * 64).min(64);
                opposite.rows[word] = !self.rows[word] & (u64::MAX >> (64 - used));
            }
            opposite.rows[of * self.words + of / 64] &= !(1 << (of % 64));
        }
        opposite
    }

    /// The relation among some of the things, numbered in the order given.
    pub(in crate::panels) fn among(&self, members: &[usize]) -> Self {
        let mut among = Self::none(members.len());
        for (a, &one) in members.iter().enumerate() {
            for (b, &other) in members.iter().enumerate().skip(a + 1) {
                if self.joined(one, other) {
                    among.join(a, b);
                }
            }
        }
        among
    }

    /// The sets of things that are related with each other directly or through others, each in
    /// order.
    pub(in crate::panels) fn parts(&self) -> Vec<Vec<usize>> {
        let mut seen = vec![false; self.count];
        let mut parts = Vec::new();
        for from in 0..self.count {
            if seen[from] {
                continue;
            }
            seen[from] = true;
            let mut part = vec![from];
            let mut next = 0;
            while next < part.len() {
                for other in self.neighbours(part[next]) {
                    if !seen[other] {
                        seen[other] = true;
                        part.push(other);
                    }
                }
                next += 1;
            }
            part.sort_unstable();
            parts.push(part);
        }
        parts
    }

    fn words_of(&self, of: usize) -> Range<usize> {
        of * self.words..(of + 1) * self.words
    }
}

/// The places of the ones, in order.
pub(in crate::panels) fn ones(words: &[u64]) -> impl Iterator<Item = usize> {
    words.iter().enumerate().flat_map(|(at, &word)| {
        let mut left = word;
        std::iter::from_fn(move || {
            if left == 0 {
                return None;
            }
            let place = left.trailing_zeros() as usize;
            left &= left - 1;
            Some(at * 64 + place)
        })
    })
}
