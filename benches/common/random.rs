//! The same numbers on every machine, from a seed.

/// SplitMix64 (Steele, Lea and Flood, 2014).
pub(crate) struct Random(pub(crate) u64);

impl Random {
    /// A whole number from 0 and less than `bound`.
    pub(crate) fn below(&mut self, bound: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % bound
    }

    /// Fisher and Yates.
    pub(crate) fn shuffle<T>(&mut self, of: &mut [T]) {
        for last in (1..of.len()).rev() {
            of.swap(last, self.below(last as u64 + 1) as usize);
        }
    }
}
