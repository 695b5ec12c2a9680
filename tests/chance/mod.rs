//! Chance that is the same in every run and on every machine.

#![allow(dead_code, reason = "each test file uses a part of it")]

use std::ops::Range;

/// SplitMix64 (Steele, Lea and Flood, 2014): small and seeded.
pub struct Chance(pub u64);

impl Chance {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below a bound.
    pub fn below(&mut self, bound: usize) -> usize {
        (self.next() % bound.max(1) as u64) as usize
    }

    pub fn within(&mut self, range: Range<usize>) -> usize {
        range.start + self.below(range.end - range.start)
    }

    pub fn one<T: Clone>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())].clone()
    }
}
