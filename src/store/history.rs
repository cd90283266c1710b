//! What was done and undone, kept as the text of the journal and understood only when needed.

use compact_str::CompactString;

/// A step as it was kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// The number under which the step was first kept.
    pub seq: u64,
    pub label: CompactString,
    /// RFC 3339, if it was known.
    pub at: Option<CompactString>,
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
    /// The most bytes of steps that a new journal carries over. A step that is larger by itself is
    /// carried as long as it is the next to be undone or redone.
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
    /// done last is nearest and stays longest; the next to undo and the next to redo stay always,
    /// for a step whose undoing was offered must not be lost to its size.
    pub(super) fn cut(&mut self) {
        let (mut steps, mut bytes) = (0, 0);
        let mut fits = |step: &Kept| {
            steps += 1;
            bytes += step.size();
            steps <= Self::MOST_STEPS && bytes <= Self::MOST_BYTES
        };
        let undone = nearest(&self.undone, &mut fits);
        let all_undone = undone == self.undone.len();
        let done = nearest(&self.done, |step| all_undone && fits(step));
        self.is_cut |= !all_undone || done < self.done.len();
        self.undone.drain(..self.undone.len() - undone);
        self.done.drain(..self.done.len() - done);
    }
}

/// How many of the last steps fit; the last one always does.
fn nearest(steps: &[Kept], fits: impl FnMut(&Kept) -> bool) -> usize {
    let mut fits = fits;
    let within = steps.iter().rev().take_while(|step| fits(step)).count();
    within.max(1).min(steps.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(seq: u64, bytes: usize) -> Kept {
        Kept {
            seq,
            label: "a step".into(),
            at: None,
            changes: "x".repeat(bytes).into(),
        }
    }

    fn seqs(steps: &[Kept]) -> Vec<u64> {
        steps.iter().map(|step| step.seq).collect()
    }

    #[test]
    fn the_next_step_to_undo_and_to_redo_is_carried_however_large() {
        let large = History::MOST_BYTES + 1;
        let mut history = History {
            done: vec![step(1, 9), step(2, large)],
            undone: vec![step(4, 9), step(3, large)],
            is_cut: false,
        };
        history.cut();
        assert_eq!(
            (seqs(&history.done), seqs(&history.undone)),
            (vec![2], vec![3])
        );
        assert!(history.is_cut);
        let mut history = History {
            done: vec![step(1, large), step(2, 9)],
            ..History::default()
        };
        history.cut();
        assert_eq!(seqs(&history.done), [2], "a large one behind others counts");
        assert!(history.is_cut);
    }

    #[test]
    fn what_is_within_the_bounds_stays_whole() {
        let half = History::MOST_BYTES / 2 - 100;
        let mut history = History {
            done: vec![step(1, half), step(2, half)],
            ..History::default()
        };
        history.cut();
        assert_eq!(seqs(&history.done), [1, 2]);
        assert!(!history.is_cut);
    }
}
