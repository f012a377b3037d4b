//! A small generator of evenly spread numbers for the search: the same on every machine and in
//! every run.
//!
//! Method: SplitMix64 (Steele, Lea and Flood, *Fast Splittable Pseudorandom Number Generators*,
//! 2014). Not for secrets.

/// The generator.
#[derive(Clone, Debug)]
pub struct Random(u64);

impl Random {
    /// Starts from a seed.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number below `limit`; 0 when the limit is 0.
    pub fn below(&mut self, limit: usize) -> usize {
        ((u128::from(self.bits()) * limit as u128) >> 64) as usize
    }

    /// A number from 0 up to but not including 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_published_sequence() {
        // First outputs of the reference implementation for the seed 1234567.
        let mut random = Random::new(1_234_567);
        assert_eq!(random.bits(), 6_457_827_717_110_365_317);
        assert_eq!(random.bits(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn numbers_stay_in_their_range() {
        let mut random = Random::new(7);
        let mut seen = [0; 5];
        for _ in 0..5000 {
            seen[random.below(5)] += 1;
            assert!((0.0..1.0).contains(&random.unit()));
        }
        assert!(seen.iter().all(|n| (850..1150).contains(n)), "{seen:?}");
    }
}
