//! A collection in a folder.

mod disk;
mod folder;
mod found;
mod older;
mod open;
mod replaced;
mod restore;

use std::fmt::Debug;
use std::path::Path;
use std::rc::Rc;

use folder::Folder;
pub use folder::SNAPSHOT_FILE;
pub use restore::{Aside, Beside, Older, beside};

use super::error::{Notice, StoreError};
use super::files::{Files, OpenFile};
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
    lock: Option<Box<dyn Debug>>,
    journal: Option<Box<dyn OpenFile>>,
    /// Bytes of the journal.
    length: u64,
    /// Of those, bytes of header and carried lines.
    begun: u64,
    snapshot_bytes: u64,
    snapshot: Position,
    last: Position,
    /// What there is to tell of the last snapshot that was written.
    notice: Option<Notice>,
}

/// A folder that was opened: its store, what was read of it, and what there is to tell.
#[derive(Debug)]
pub struct Opened {
    pub store: FileStore,
    pub collection: Collection,
    pub history: History,
    pub notices: Vec<Notice>,
}

impl FileStore {
    /// A journal shorter than this is never worth a new snapshot.
    const LONG_JOURNAL: u64 = 256 << 10;
    /// So much in the journal is more than a little, whatever the snapshot: some 500 steps.
    const MUCH: u64 = 64 << 10;
    /// So much, some 30 steps, is a little even beside a small snapshot: a command that takes one
    /// step should not cost a new snapshot.
    const LITTLE: u64 = 4 << 10;

    /// Opens the folder, on this file system, and reads it.
    ///
    /// # Errors
    /// The files cannot be read at all, or are of a later version.
    pub fn open_on(files: Rc<dyn Files>, folder: &Path, how: Open) -> Result<Opened, StoreError> {
        open::open(files, folder, how)
    }

    /// Puts a new journal in place of the one there is, and goes on in it. When that fails half-way
    /// nothing more is taken: the open journal may be one that no longer has a name.
    fn begin_journal(&mut self, history: &History) -> Result<(), StoreError> {
        let text = journal::begin(self.last, history);
        let folder = self.folder.clone();
        let (files, path) = (&*folder.files, &*folder.journal);
        let ready = disk::prepare(files, path, text.as_bytes())?;
        ready.put()?;
        self.journal = None;
        let begun = disk::sync_folder_of(files, path)
            .and_then(|()| files.open_end(path).map_err(StoreError::io("open", path)));
        self.journal = Some(begun.inspect_err(|error| self.fail(error))?);
        self.length = text.len() as u64;
        self.begun = self.length;
        Ok(())
    }

    fn write_snapshot(&mut self, collection: &Collection) -> Result<(), StoreError> {
        let bytes = write_snapshot(collection, self.last);
        let folder = self.folder.clone();
        let (files, path) = (&*folder.files, &*folder.snapshot);
        let ready = disk::prepare(files, path, &bytes)?;
        if let Err(error) = older::keep(&folder, self.snapshot.seq) {
            ready.discard();
            return Err(error);
        }
        ready.put()?;
        let synced = disk::sync_folder_of(files, path);
        synced.inspect_err(|error| self.fail(error))?;
        self.snapshot = self.last;
        self.snapshot_bytes = bytes.len() as u64;
        // The snapshot stands, whether or not others went.
        self.notice = (older::prune(&folder).err()).map(|error| Notice::NotPruned {
            why: error.to_string(),
        });
        Ok(())
    }

    /// Bytes of the journal's own records.
    fn grown(&self) -> u64 {
        self.length.saturating_sub(self.begun)
    }

    fn fail(&mut self, error: &StoreError) {
        self.access = Access::ReadOnly(format!(
            "a step was not kept; open the collection again to go on ({error})"
        ));
        self.journal = None;
    }
}

/// A note is short; a longer one is none of ours.
const MOST_NOTE: u64 = 16 << 10;

impl Store for FileStore {
    fn keep(&mut self, at: Option<&str>, entry: Entry<'_>) -> Result<u64, StoreError> {
        if let Access::ReadOnly(why) = &self.access {
            return Err(StoreError::ReadOnly(why.clone()));
        }
        let Some(end) = self.journal.as_mut() else {
            return Err(StoreError::JournalNotOpen);
        };
        let (line, position) = journal::record(self.last, at, entry);
        let written = (line.parts())
            .try_for_each(|part| end.write(part))
            .and_then(|()| end.sync());
        if let Err(source) = written {
            // The record may be there in part, or whole but not for good. It was not kept, so it
            // should not be there; if it cannot be taken out, reading will find it in its place.
            let taken_back = end.truncate(self.length).and_then(|()| end.sync());
            let doing = if taken_back.is_ok() {
                "write"
            } else {
                "write, nor mend,"
            };
            let error = StoreError::io(doing, &self.folder.journal)(source);
            self.fail(&error);
            return Err(error);
        }
        self.length += line.bytes();
        self.last = position;
        Ok(position.seq)
    }

    fn access(&self) -> Access {
        self.access.clone()
    }

    fn note(&self) -> Option<Vec<u8>> {
        let read = self.folder.files.read(&self.folder.note, MOST_NOTE);
        read.ok().flatten()
    }

    fn leave_note(&mut self, bytes: &[u8]) {
        if self.access == Access::Writable && self.note().as_deref() != Some(bytes) {
            disk::replace(&*self.folder.files, &self.folder.note, bytes).ok();
        }
    }

    fn notice(&mut self) -> Option<Notice> {
        self.notice.take()
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
        self.begin_journal(&carried)?;
        *history = carried;
        Ok(())
    }
}
