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
