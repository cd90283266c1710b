//! From the bytes of snapshot and journal to the collection that they tell of.

mod onward;

pub(super) use onward::{last_record, of_replaced, recover_onward};

use super::codec;
use super::error::Notice;
use super::history::{History, Kept};
use super::journal::{self, Bad, Journal, Record, What};
use super::position::Position;
use super::snapshot::{ReadError, Snapshot, read_snapshot};
use crate::model::{Collection, Refused};

/// What could be read, and what could not.
#[derive(Debug, Default)]
pub struct Recovered {
    pub collection: Collection,
    pub history: History,
    /// The last record that `collection` includes.
    pub position: Position,
    /// The record that the snapshot alone reaches up to.
    pub snapshot: Position,
    /// What is damaged, so that nothing may be written; empty when all is whole.
    pub damage: Vec<Notice>,
    /// A last line that was cut off while it was written.
    pub torn: Option<Torn>,
    /// Bytes of the journal that are whole.
    pub journal_whole: usize,
    /// Of those, the bytes of header and carried lines.
    pub journal_begun: usize,
    /// The journal is the one before the snapshot was put in place, and a copy of it is kept: a
    /// new one is to take its place.
    pub journal_replaced: bool,
    /// The journal's last whole line still needs its end of line.
    pub lacks_newline: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Torn {
    /// Its number in the journal, from 1.
    pub line: usize,
    /// Where it begins in the journal.
    pub start: usize,
    pub bytes: usize,
}

/// Which of the two files an error is about.
#[derive(Debug, PartialEq, Eq)]
pub enum Unreadable {
    Snapshot(ReadError),
    /// The journal is of this later version.
    JournalLater(u64),
}

/// Reads snapshot and journal. Without a snapshot the collection begins empty.
///
/// Damage of the journal is no error: the collection as it was before the damage is given, and
/// what was found stands in [`Recovered::damage`].
///
/// # Errors
/// The snapshot cannot be read, or a file is of a later version.
pub fn recover(snapshot: Option<&[u8]>, journal: Option<&[u8]>) -> Result<Recovered, Unreadable> {
    let (snapshot, journal) = std::thread::scope(|scope| {
        // The lines are looked at beside the snapshot: neither needs the other for that.
        let beside = journal.filter(|bytes| bytes.len() >= LONG_JOURNAL);
        let beside = beside.and_then(|bytes| {
            let parse = || journal::parse(bytes);
            let hand = std::thread::Builder::new().spawn_scoped(scope, parse);
            hand.ok()
        });
        let snapshot = snapshot.map(read_snapshot);
        let parsed = beside.and_then(|hand| hand.join().ok());
        let journal = journal.map(|bytes| Lines {
            bytes: bytes.len(),
            parsed: parsed.unwrap_or_else(|| journal::parse(bytes)),
        });
        (snapshot, journal)
    });
    let mut made = match snapshot {
        Some(read) => Recovered::of_snapshot(read.map_err(Unreadable::Snapshot)?),
        None => Recovered::default(),
    };
    made.follow(journal)?;
    Ok(made)
}

/// A journal of so many bytes is worth a thread.
const LONG_JOURNAL: usize = 64 << 10;

/// A journal, looked at line by line.
pub(super) struct Lines<'a> {
    bytes: usize,
    parsed: Result<Journal<'a>, Bad>,
}

impl<'a> Lines<'a> {
    pub(super) fn of(bytes: &'a [u8]) -> Self {
        Self {
            bytes: bytes.len(),
            parsed: journal::parse(bytes),
        }
    }
}

/// Reads a journal whose snapshot is lost. That is possible when its steps reach back to the
/// beginning: it is the first journal, or carries all the steps before it. `None` when it does
/// not, or cannot be read.
pub(super) fn recover_from_steps(journal: &[u8]) -> Option<Recovered> {
    let parsed = journal::parse(journal).ok()?;
    if parsed.header.is_cut {
        return None;
    }
    let mut made = Recovered::default();
    for step in &parsed.header.past {
        codec::redo(step.changes, &mut made.collection).ok()?;
    }
    made.position = parsed.header.from;
    made.snapshot = parsed.header.from;
    made.replay(Lines::of(journal)).ok()?;
    Some(made)
}

impl Recovered {
    /// The snapshot alone.
    pub(super) fn of_snapshot(snapshot: Snapshot) -> Self {
        let altered = snapshot.is_altered.then_some(Notice::SnapshotAltered);
        Self {
            collection: snapshot.collection,
            position: snapshot.through,
            snapshot: snapshot.through,
            damage: altered.into_iter().collect(),
            ..Self::default()
        }
    }

    /// Takes the steps since.
    ///
    /// # Errors
    /// The journal is of a later version. Nothing of it is taken then.
    pub(super) fn follow(&mut self, journal: Option<Lines<'_>>) -> Result<(), Unreadable> {
        if let Some(lines) = journal {
            return self.replay(lines);
        }
        if self.position != Position::default() {
            self.apart("there is no journal".into());
        }
        Ok(())
    }

    fn replay(&mut self, lines: Lines<'_>) -> Result<(), Unreadable> {
        let parsed = match lines.parsed {
            Ok(parsed) => parsed,
            Err(Bad {
                later: Some(version),
                ..
            }) => return Err(Unreadable::JournalLater(version)),
            Err(bad) => {
                self.damaged(bad.line, bad.what);
                return Ok(());
            }
        };
        if let Some(why) = self.is_apart(&parsed) {
            self.apart(why);
            return Ok(());
        }
        self.journal_whole = parsed.whole;
        self.journal_begun = parsed.begun;
        self.lacks_newline = parsed.lacks_newline;
        self.remember(parsed.header);
        for record in parsed.records {
            let (line, start, position) = (record.line, record.start, record.position);
            if let Err(what) = self.take(record) {
                self.journal_whole = start;
                // The snapshot may include steps that are not read then.
                self.history.is_cut |= position.seq <= self.snapshot.seq;
                self.damaged(line, what);
                return Ok(());
            }
            if position.seq > self.position.seq {
                self.position = position;
            }
        }
        match parsed.bad {
            Some(bad) if bad.is_torn => {
                self.torn = Some(Torn {
                    line: bad.line,
                    start: parsed.whole,
                    bytes: lines.bytes - parsed.whole,
                });
            }
            Some(bad) => self.damaged(bad.line, bad.what),
            None => {}
        }
        Ok(())
    }

    /// What was carried over.
    fn remember(&mut self, header: journal::Header<'_>) {
        self.history.is_cut = header.is_cut;
        self.history.done = header.past.into_iter().map(kept).collect();
        self.history.undone = header.undone.into_iter().map(kept).collect();
    }

    /// Why snapshot and journal are not of one history, if they are not.
    fn is_apart(&self, journal: &Journal<'_>) -> Option<String> {
        let through = self.snapshot;
        let from = journal.header.from;
        if from.seq > through.seq {
            return Some(format!(
                "the snapshot reaches up to record {}, the journal begins after record {}",
                through.seq, from.seq
            ));
        }
        let records = journal.records.iter().map(|record| record.position);
        match std::iter::once(from)
            .chain(records)
            .find(|at| at.seq == through.seq)
        {
            Some(at) if at == through => None,
            Some(_) => Some(format!("they differ in record {}", through.seq)),
            None => Some(format!(
                "the snapshot reaches up to record {}, the journal ends before it",
                through.seq
            )),
        }
    }

    fn take(&mut self, record: Record<'_>) -> Result<(), String> {
        let words = |refused: Refused| refused.to_string();
        // What the snapshot includes is only remembered, so that it can be undone.
        let is_new = record.position.seq > self.snapshot.seq;
        match record.what {
            What::Do(step) => {
                if is_new {
                    codec::redo(step.changes, &mut self.collection).map_err(words)?;
                }
                self.history.push(kept(step));
            }
            What::Undo(seq) => {
                let step = self.history.done.last().filter(|step| step.seq == seq);
                let step = step.ok_or_else(|| format!("step {seq} is not the last one done"))?;
                if is_new {
                    codec::undo(&step.changes, &mut self.collection).map_err(words)?;
                }
                self.history.undo(seq);
            }
            What::Redo(seq) => {
                let step = self.history.undone.last().filter(|step| step.seq == seq);
                let step = step.ok_or_else(|| format!("step {seq} is not the last one undone"))?;
                if is_new {
                    codec::redo(&step.changes, &mut self.collection).map_err(words)?;
                }
                self.history.redo(seq);
            }
        }
        Ok(())
    }

    fn damaged(&mut self, line: usize, what: String) {
        self.damage.push(Notice::JournalDamaged { line, what });
    }

    fn apart(&mut self, what: String) {
        self.damage.push(Notice::NotTogether { what });
    }
}

fn kept(step: journal::Step<'_>) -> Kept {
    Kept {
        seq: step.seq,
        label: (*step.label).into(),
        at: step.at.map(|at| (*at).into()),
        changes: step.changes.into(),
    }
}
