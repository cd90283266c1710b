//! Going on from a snapshot through the steps that a later journal carries.
//!
//! A journal carries the steps before it without their records: what was undone before it began
//! leaves no line. So a snapshot from before it began is gone on from only where it is proven that
//! the steps carried are all that was done since.

use super::{Lines, Recovered};
use crate::store::Entry;
use crate::store::codec;
use crate::store::history::History;
use crate::store::journal::{Header, Step, record};
use crate::store::position::Position;
use crate::store::snapshot::{Snapshot, sealed_with, write_snapshot};

/// The collection of an older snapshot and all steps since. `None` where it is not proven that the
/// journal has them all.
///
/// `seal` is the checksum of the snapshot with which the journal began, where that is known: what
/// comes to the same bytes is the same.
pub(in crate::store) fn recover_onward(
    snapshot: Snapshot,
    journal: &[u8],
    seal: Option<u32>,
) -> Option<Recovered> {
    let lines = Lines::of(journal);
    let header = &lines.parsed.as_ref().ok()?.header;
    let mut made = Recovered::of_snapshot(snapshot);
    if header.from.seq > made.position.seq {
        let from = header.from;
        made.bring(header, seal)?;
        (made.position, made.snapshot) = (from, from);
    }
    made.is_apart(lines.parsed.as_ref().ok()?)
        .is_none()
        .then_some(())?;
    made.replay(lines).ok()?;
    Some(made)
}

impl Recovered {
    /// Takes the steps that were carried over from after this snapshot.
    fn bring(&mut self, header: &Header<'_>, seal: Option<u32>) -> Option<()> {
        let through = self.position;
        let since = || header.past.iter().filter(|step| step.seq > through.seq);
        for step in since() {
            codec::redo(step.changes, &mut self.collection).ok()?;
        }
        let is_proven = chained(through, since()) == Some(header.from)
            || seal.is_some_and(|seal| {
                sealed_with(&write_snapshot(&self.collection, header.from)) == Some(seal)
            });
        is_proven.then_some(())
    }
}

/// Where these steps lead as the only records after `from`: the checksums of their lines follow
/// from what is carried of them. `None` when others were between them.
fn chained<'s, 'a: 's>(
    from: Position,
    steps: impl Iterator<Item = &'s Step<'a>>,
) -> Option<Position> {
    let mut last = from;
    for step in steps {
        if step.seq != last.seq + 1 {
            return None;
        }
        let (label, changes) = (&*step.label, step.changes);
        let entry = Entry::Do { label, changes };
        last = record(last, step.at.as_deref(), entry).1;
    }
    Some(last)
}

/// The number of the last whole record, if the journal can be read.
pub(in crate::store) fn last_record(journal: &[u8]) -> Option<u64> {
    let parsed = Lines::of(journal).parsed.ok()?;
    let last = parsed.records.last().map(|record| record.position);
    Some(last.unwrap_or(parsed.header.from).seq)
}

/// A snapshot that took the place of another, before its own journal was put in place. The steps
/// that can be undone are those of the journal before, up to the record before the snapshot's.
pub(in crate::store) fn of_replaced(
    snapshot: Snapshot,
    journal: &[u8],
    with_steps: bool,
) -> Option<Recovered> {
    let mut made = Recovered::of_snapshot(snapshot);
    if with_steps {
        let mut parsed = Lines::of(journal).parsed.ok()?;
        let before = made.snapshot.seq.checked_sub(1)?;
        parsed
            .records
            .retain(|record| record.position.seq <= before);
        made.remember(parsed.header);
        // None of them is new: the snapshot includes all.
        for record in parsed.records {
            made.take(record).ok()?;
        }
    } else {
        made.history = History::default();
    }
    made.journal_replaced = true;
    Some(made)
}
