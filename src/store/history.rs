//! What was done and undone, kept as the text of the journal and understood only when needed.

/// A step as it was kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The number under which the step was first kept.
    pub seq: u64,
    pub label: Box<str>,
    /// RFC 3339, if it was known.
    pub at: Option<Box<str>>,
    /// The changes as JSON.
    pub changes: Box<str>,
}

impl Kept {
    fn size(&self) -> usize {
        self.label.len() + self.changes.len() + 64
    }
}

/// The steps that can be undone and redone; the last of each list is the next.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct History {
    pub done: Vec<Kept>,
    pub undone: Vec<Kept>,
    /// Older steps were once let go, so undo does not reach back to the beginning.
    pub is_cut: bool,
}

impl History {
    /// The most steps that a new journal carries over.
    pub const MOST_STEPS: usize = 1_000;
    /// The most bytes of steps that a new journal carries over.
    pub const MOST_BYTES: usize = 8 << 20;

    pub(crate) fn push(&mut self, step: Kept) {
        self.done.push(step);
        self.undone.clear();
    }

    /// Moves the last done step to the undone ones, if it is this one.
    pub(crate) fn undo(&mut self, seq: u64) -> Option<()> {
        let step = self.done.pop_if(|step| step.seq == seq)?;
        self.undone.push(step);
        Some(())
    }

    pub(crate) fn redo(&mut self, seq: u64) -> Option<()> {
        let step = self.undone.pop_if(|step| step.seq == seq)?;
        self.done.push(step);
        Some(())
    }

    /// Lets the oldest steps go until what is left is within the bounds. What was undone last and
    /// done last is nearest and stays longest.
    pub(super) fn cut(&mut self) {
        let (mut steps, mut bytes) = (0, 0);
        let mut fits = |step: &Kept| {
            steps += 1;
            bytes += step.size();
            steps <= Self::MOST_STEPS && bytes <= Self::MOST_BYTES
        };
        let undone = self
            .undone
            .iter()
            .rev()
            .take_while(|step| fits(step))
            .count();
        let all_undone = undone == self.undone.len();
        let done = if all_undone {
            self.done.iter().rev().take_while(|step| fits(step)).count()
        } else {
            0
        };
        self.is_cut |= !all_undone || done < self.done.len();
        self.undone.drain(..self.undone.len() - undone);
        self.done.drain(..self.done.len() - done);
    }
}
