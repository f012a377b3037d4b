//! Generated numbers, the same on every run, so that every run tries the same cases.

/// A linear congruential generator with Knuth's constants for 64 bits (MMIX).
pub struct Knuth(pub u64);

impl Knuth {
    /// From 0 to below 1.
    pub fn share(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    /// From `low` to below `high`.
    pub fn next(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }
}

/// A small multiplicative generator (Lehmer).
pub struct Lehmer(pub u64);

impl Lehmer {
    /// Between `low` and `high`.
    pub fn next(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        low + (high - low) * self.0 as f64 / 2_147_483_647.0
    }
}
