//! Files: the snapshot, the journal of steps since, the lock; and reading them back;
//! [`csv`] for what comes in and goes out.
//!
//! A collection is a folder:
//!
//! ```text
//!   collection.json   the snapshot: the whole collection up to one journal record
//!   journal           the steps since, a JSON object a line, each chained to the one before
//!   lock              held by the one that writes
//!   older/            the newest earlier snapshots, named by the record they reach up to
//!   set-aside/        bytes that could not be read; never thrown away
//!   last-place        where one was on the screen when it was left; may be thrown away
//! ```
//!
//! What is promised about them is in `assets/promises.md`.

pub mod arrangement;
mod codec;
pub mod csv;
mod error;
mod file;
pub mod files;
mod history;
mod journal;
mod memory;
mod outside;
mod parts;
pub mod pictures;
mod position;
mod recover;
mod snapshot;
mod strings;
mod token;

pub use codec::{apply, redo, undo};
pub use error::{Notice, StoreError};
pub use file::{Aside, Beside, FileStore, Older, Opened, SNAPSHOT_FILE, beside};
pub use history::{History, Kept};
pub use memory::MemoryStore;
pub use outside::{Outside, OutsideError, at_home};
pub use position::Position;
pub use recover::{Recovered, Torn, Unreadable, recover};
pub use snapshot::{ReadError, Snapshot, read_snapshot, write_snapshot};

use crate::model::Collection;

/// Whether changes can be kept, and if not, why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Access {
    Writable,
    /// Open for reading; the reason in words for a person.
    ReadOnly(String),
}

/// What a collection is opened for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Open {
    ForReading,
    /// Falls back to reading, and says why, when another program writes, the folder cannot be
    /// written, or the files are damaged.
    ForWriting,
    /// As [`Open::ForWriting`], but where files are damaged or altered by hand, what can be read
    /// of them is taken as the collection. The files as they were go to `set-aside/`.
    AsOffered,
    /// As [`Open::ForWriting`], but a snapshot that was altered by hand is put back as it was
    /// before: as the steps tell it, or as the newest older snapshot has it. The altered file goes
    /// to `set-aside/`.
    PutBack,
    /// Goes back to the older snapshot that reaches up to this record. The collection as it is
    /// goes among the older ones, and its files to `set-aside/`.
    Older(u64),
}

/// What is to be kept: one step, or that one was undone or redone.
#[derive(Clone, Copy, Debug)]
pub enum Entry<'a> {
    Do {
        label: &'a str,
        /// The changes as [`apply`] writes them.
        changes: &'a str,
    },
    /// By the number under which the step was kept.
    Undo(u64),
    Redo(u64),
}

/// Where a collection is kept.
pub trait Store: std::fmt::Debug {
    /// Keeps an entry for good and gives it its number. `at` is RFC 3339.
    ///
    /// # Errors
    /// It could not be kept. The store takes nothing more then, until it is opened again.
    fn keep(&mut self, at: Option<&str>, entry: Entry<'_>) -> Result<u64, StoreError>;

    fn access(&self) -> Access;

    /// Bytes that were left beside the collection, if they can be read: no part of it.
    fn note(&self) -> Option<Vec<u8>> {
        None
    }

    /// Leaves bytes beside the collection, in the place of those that were left before. When that
    /// cannot be done nothing is told.
    fn leave_note(&mut self, _: &[u8]) {}

    /// What there is to tell of the snapshot that was written last, once.
    fn notice(&mut self) -> Option<Notice> {
        None
    }

    /// Whether the journal has grown so long that a new snapshot is worth its cost.
    fn is_rewrite_due(&self) -> bool;

    /// Whether the snapshot is so far behind that who takes it alone would miss more than a little.
    fn is_behind(&self) -> bool;

    /// Writes the collection as a new snapshot and begins a new journal, into which the history
    /// is carried over as far as its bounds allow.
    ///
    /// # Errors
    /// It could not be written. What was kept before is still kept.
    fn rewrite(&mut self, collection: &Collection, history: &mut History)
    -> Result<(), StoreError>;
}
