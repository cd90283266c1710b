//! Where the files of a collection are.

use std::fmt;
use std::fs::TryLockError;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use super::disk;
use crate::store::StoreError;
use crate::store::files::Files;

/// A collection's folder: its paths, links resolved, and the file system it is on.
#[derive(Clone, Debug)]
pub(super) struct Folder {
    pub(super) files: Rc<dyn Files>,
    pub(super) root: PathBuf,
    pub(super) snapshot: PathBuf,
    pub(super) journal: PathBuf,
    pub(super) lock: PathBuf,
    pub(super) older: PathBuf,
    pub(super) aside: PathBuf,
    pub(super) note: PathBuf,
}

/// The files of a collection, by their names in its folder.
pub const SNAPSHOT_FILE: &str = "collection.json";
pub(super) const JOURNAL_FILE: &str = "journal";

impl Folder {
    /// A file that is a link stays one: what it points to is replaced.
    pub(super) fn at(files: Rc<dyn Files>, root: &Path) -> Result<Self, StoreError> {
        let resolved = |path: &Path| files.resolve(path).map_err(StoreError::io("find", path));
        let root = resolved(root)?;
        let snapshot = resolved(&root.join(SNAPSHOT_FILE))?;
        let journal = resolved(&root.join(JOURNAL_FILE))?;
        Ok(Self {
            snapshot,
            journal,
            ..Self::named(files, root)
        })
    }

    /// A folder that is not there, in which no name leads elsewhere.
    pub(super) fn named(files: Rc<dyn Files>, root: PathBuf) -> Self {
        Self {
            snapshot: root.join(SNAPSHOT_FILE),
            journal: root.join(JOURNAL_FILE),
            lock: root.join("lock"),
            older: root.join("older"),
            aside: root.join("set-aside"),
            note: root.join("last-place"),
            root,
            files,
        }
    }

    /// Takes the lock, or says why not.
    pub(super) fn lock(&self) -> Result<Box<dyn fmt::Debug>, NoLock> {
        self.files.lock(&self.lock).map_err(|error| match error {
            TryLockError::WouldBlock => NoLock::Held,
            TryLockError::Error(error) => {
                let lock = self.lock.display();
                NoLock::Failed(format!("{lock} could not be locked: {error}"))
            }
        })
    }

    /// Whether another program has the lock now. Makes no file; where it cannot be known, no.
    pub(super) fn is_held(&self) -> bool {
        self.files.is_locked(&self.lock)
    }

    /// Puts bytes that could not be read where they are never thrown away.
    pub(super) fn set_aside(&self, name: &str, bytes: &[u8]) -> Result<PathBuf, StoreError> {
        disk::create_folder(&*self.files, &self.aside)?;
        for number in 1u32.. {
            let path = self.aside.join(format!("{name}-{number}"));
            if let Some(()) = disk::create_new(&*self.files, &path, bytes)? {
                disk::sync_folder(&*self.files, &self.aside)?;
                return Ok(path);
            }
        }
        Err(StoreError::AsideFull {
            path: self.aside.clone(),
        })
    }
}

/// The files as they are on the disk.
pub(super) struct Found {
    pub(super) snapshot: Option<Vec<u8>>,
    pub(super) journal: Option<Vec<u8>>,
}

/// Why the lock was not taken.
pub(super) enum NoLock {
    /// Another program has it.
    Held,
    Failed(String),
}

impl fmt::Display for NoLock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Held => f.write_str("another program has this collection open and writes to it"),
            Self::Failed(why) => f.write_str(why),
        }
    }
}
