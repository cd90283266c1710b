//! A collection in a folder.

mod disk;
mod folder;
mod older;
mod open;

use std::fs::File;
use std::path::Path;

use disk::Tail;
use folder::Folder;

use super::error::{Notice, StoreError};
use super::history::History;
use super::journal;
use super::position::Position;
use super::snapshot::write_snapshot;
use super::{Access, Entry, Open, Store};
use crate::model::Collection;

/// A folder with snapshot, journal and lock. The lock is let go when this is dropped.
#[derive(Debug)]
pub struct FileStore {
    folder: Folder,
    access: Access,
    /// Held while writing is possible.
    lock: Option<File>,
    journal: Option<Box<dyn Tail>>,
    /// Bytes of the journal.
    length: u64,
    /// Of those, bytes of header and carried lines.
    begun: u64,
    snapshot_bytes: u64,
    snapshot: Position,
    last: Position,
}

impl FileStore {
    /// A journal shorter than this is never worth a new snapshot.
    const LONG_JOURNAL: u64 = 256 << 10;
    /// So much in the journal is more than a little, whatever the snapshot: some 500 steps.
    const MUCH: u64 = 64 << 10;
    /// So much, some 30 steps, is a little even beside a small snapshot: a command that takes one
    /// step should not cost a new snapshot.
    const LITTLE: u64 = 4 << 10;

    /// Opens the folder and reads it. What there is to tell comes with it.
    ///
    /// # Errors
    /// The files cannot be read at all, or are of a later version.
    pub fn open(
        folder: &Path,
        how: Open,
    ) -> Result<(Self, Collection, History, Vec<Notice>), StoreError> {
        open::open(folder, how)
    }

    /// Puts a new journal in place of the one there is, and goes on in it.
    fn begin_journal(&mut self, history: &History) -> Result<(), StoreError> {
        let text = journal::begin(self.last, history);
        let path = &self.folder.journal;
        disk::replace(path, text.as_bytes())?;
        self.journal = None;
        self.journal = Some(disk::open_tail(path)?);
        self.length = text.len() as u64;
        self.begun = self.length;
        Ok(())
    }

    fn write_snapshot(&mut self, collection: &Collection) -> Result<(), StoreError> {
        let bytes = write_snapshot(collection, self.last);
        let path = &self.folder.snapshot;
        let ready = disk::prepare(path, &bytes)?;
        older::keep(&self.folder, self.snapshot.seq)?;
        ready.put()?;
        self.snapshot = self.last;
        self.snapshot_bytes = bytes.len() as u64;
        older::prune(&self.folder)
    }

    /// Bytes of the journal's own records.
    fn grown(&self) -> u64 {
        self.length.saturating_sub(self.begun)
    }

    fn fail(&mut self, error: &StoreError) {
        self.access = Access::ReadOnly(format!(
            "a step could not be kept ({error}). Open the collection again to go on"
        ));
        self.journal = None;
    }
}

impl Store for FileStore {
    fn keep(&mut self, at: Option<&str>, entry: Entry<'_>) -> Result<u64, StoreError> {
        if let Access::ReadOnly(why) = &self.access {
            return Err(StoreError::ReadOnly(why.clone()));
        }
        let Some(tail) = self.journal.as_mut() else {
            return Err(StoreError::ReadOnly("the journal is not open".into()));
        };
        let (line, position) = journal::record(self.last, at, entry);
        if let Err(source) = tail.append(line.as_bytes()) {
            // The record may be there in part, or whole but not for good. It was not kept, so it
            // should not be there; if it cannot be taken out, reading will find it in its place.
            let taken_back = tail.truncate(self.length);
            let doing = if taken_back.is_ok() {
                "write"
            } else {
                "write, nor mend,"
            };
            let error = StoreError::io(doing, &self.folder.journal)(source);
            self.fail(&error);
            return Err(error);
        }
        self.length += line.len() as u64;
        self.last = position;
        Ok(position.seq)
    }

    fn access(&self) -> Access {
        self.access.clone()
    }

    fn is_rewrite_due(&self) -> bool {
        let grown = self.grown();
        self.access == Access::Writable
            && grown > Self::LONG_JOURNAL
            && grown > self.snapshot_bytes / 4
    }

    fn is_behind(&self) -> bool {
        let grown = self.grown();
        let holds_nothing = self.snapshot.seq == 0;
        let is_much = grown > Self::MUCH || grown > Self::LITTLE && grown > self.snapshot_bytes / 4;
        self.access == Access::Writable && grown > 0 && (holds_nothing || is_much)
    }

    fn rewrite(
        &mut self,
        collection: &Collection,
        history: &mut History,
    ) -> Result<(), StoreError> {
        if let Access::ReadOnly(why) = &self.access {
            return Err(StoreError::ReadOnly(why.clone()));
        }
        // In this order: until the new journal stands, the old one is still right, for the
        // snapshot says which of its records it includes.
        self.write_snapshot(collection)?;
        let mut carried = history.clone();
        carried.cut();
        let begun = self.begin_journal(&carried);
        if let (Err(error), None) = (&begun, &self.journal) {
            self.fail(error);
        }
        begun?;
        *history = carried;
        Ok(())
    }
}

#[cfg(test)]
mod tests;
