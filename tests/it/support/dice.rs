//! Numbers that a test was given, used one after the other.

/// Rolls that proptest chose and can make simpler. After the last one comes 0 for ever.
#[derive(Clone, Debug)]
pub(crate) struct Dice {
    rolls: Vec<u32>,
    at: usize,
}

impl Dice {
    pub(crate) fn new(rolls: Vec<u32>) -> Self {
        Self { rolls, at: 0 }
    }

    pub(crate) fn is_spent(&self) -> bool {
        self.at >= self.rolls.len()
    }

    /// A number below `bound`, which is above 0.
    pub(crate) fn below(&mut self, bound: usize) -> usize {
        let roll = self.rolls.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        roll as usize % bound
    }

    /// True once in so many times.
    pub(crate) fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == times - 1
    }

    pub(crate) fn pick<'t, T>(&mut self, of: &'t [T]) -> Option<&'t T> {
        if of.is_empty() {
            return None;
        }
        let at = self.below(of.len());
        Some(&of[at])
    }

    pub(crate) fn text(&mut self, of: &[&str]) -> Box<str> {
        self.pick(of).copied().unwrap_or_default().into()
    }
}

/// SplitMix64 (Steele, Lea and Flood, 2014): as many numbers as are wanted, the same from the same
/// seed on every machine.
#[derive(Clone, Debug)]
pub(crate) struct Seeded(pub(crate) u64);

impl Seeded {
    /// A number below `bound`, which is above 0.
    pub(crate) fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % bound as u64) as usize
    }

    /// `of` is not empty.
    pub(crate) fn pick<'t, T>(&mut self, of: &'t [T]) -> &'t T {
        &of[self.below(of.len())]
    }
}
