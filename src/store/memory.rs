//! A store that keeps its files in memory: for tests, and for a collection that is only tried out.

use super::error::StoreError;
use super::history::History;
use super::journal;
use super::position::Position;
use super::recover::{Recovered, Unreadable, recover};
use super::snapshot::write_snapshot;
use super::{Access, Entry, Store};
use crate::model::Collection;

/// The twin of [`super::FileStore`]: the same bytes, without a disk. A clone holds what was kept
/// so far, as a copy of the folder would.
#[derive(Clone, Debug)]
pub struct MemoryStore {
    snapshot: Option<Vec<u8>>,
    journal: Vec<u8>,
    last: Position,
    /// How many more entries are kept before one fails; `None` for all.
    good: Option<usize>,
    failed: Option<String>,
}

impl Default for MemoryStore {
    fn default() -> Self {
        Self {
            snapshot: None,
            journal: journal::begin(Position::default(), &History::default()).into_bytes(),
            last: Position::default(),
            good: None,
            failed: None,
        }
    }
}

impl MemoryStore {
    /// A store whose writes fail after `good` entries, as a full disk would.
    #[must_use]
    pub fn failing_after(good: usize) -> Self {
        Self {
            good: Some(good),
            ..Self::default()
        }
    }

    /// Reads back what was kept, as opening a folder does.
    ///
    /// # Errors
    /// What was kept cannot be read.
    pub fn reopen(mut self) -> Result<(Self, Recovered), Unreadable> {
        let recovered = recover(self.snapshot.as_deref(), Some(&self.journal))?;
        self.last = recovered.position;
        self.good = None;
        self.failed = None;
        Ok((self, recovered))
    }

    /// The journal as it would stand in its file.
    #[must_use]
    pub fn journal(&self) -> &[u8] {
        &self.journal
    }

    /// The snapshot as it would stand in its file, if one was written.
    #[must_use]
    pub fn snapshot(&self) -> Option<&[u8]> {
        self.snapshot.as_deref()
    }
}

impl Store for MemoryStore {
    fn keep(&mut self, at: Option<&str>, entry: Entry<'_>) -> Result<u64, StoreError> {
        if let Some(why) = &self.failed {
            return Err(StoreError::ReadOnly(why.clone()));
        }
        if self.good == Some(0) {
            self.failed = Some(StoreError::Full.to_string());
            return Err(StoreError::Full);
        }
        self.good = self.good.map(|good| good - 1);
        let (line, position) = journal::record(self.last, at, entry);
        line.parts()
            .for_each(|part| self.journal.extend_from_slice(part));
        self.last = position;
        Ok(position.seq)
    }

    fn access(&self) -> Access {
        match &self.failed {
            None => Access::Writable,
            Some(why) => Access::ReadOnly(why.clone()),
        }
    }

    fn is_rewrite_due(&self) -> bool {
        false
    }

    fn is_behind(&self) -> bool {
        false
    }

    fn rewrite(
        &mut self,
        collection: &Collection,
        history: &mut History,
    ) -> Result<(), StoreError> {
        history.cut();
        self.snapshot = Some(write_snapshot(collection, self.last));
        self.journal = journal::begin(self.last, history).into_bytes();
        Ok(())
    }
}
