//! Where the files of a collection are.

use std::fmt;
use std::fs::{self, File, TryLockError};
use std::path::{Path, PathBuf};

use super::disk;
use crate::store::StoreError;

/// The paths in a collection's folder, links resolved.
#[derive(Clone, Debug)]
pub(super) struct Folder {
    pub(super) root: PathBuf,
    pub(super) snapshot: PathBuf,
    pub(super) journal: PathBuf,
    pub(super) lock: PathBuf,
    pub(super) older: PathBuf,
    pub(super) aside: PathBuf,
}

impl Folder {
    /// A folder that is there. A file that is a link stays one: what it points to is replaced.
    pub(super) fn at(root: &Path) -> Result<Self, StoreError> {
        let root = fs::canonicalize(root).map_err(StoreError::io("find", root))?;
        Ok(Self {
            snapshot: resolved(root.join("collection.json"))?,
            journal: resolved(root.join("journal"))?,
            lock: root.join("lock"),
            older: root.join("older"),
            aside: root.join("set-aside"),
            root,
        })
    }

    /// Takes the lock, or says why not.
    pub(super) fn lock(&self) -> Result<File, NoLock> {
        let refused = |error| {
            NoLock::Failed(format!(
                "{} could not be locked: {error}",
                self.lock.display()
            ))
        };
        let file = disk::options()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(&self.lock)
            .map_err(refused)?;
        match file.try_lock() {
            Ok(()) => Ok(file),
            Err(TryLockError::WouldBlock) => Err(NoLock::Held),
            Err(TryLockError::Error(error)) => Err(refused(error)),
        }
    }

    /// Whether another program has the lock now. Makes no file; where it cannot be known, no.
    pub(super) fn is_held(&self) -> bool {
        let tried = File::open(&self.lock).map(|file| file.try_lock_shared());
        matches!(tried, Ok(Err(TryLockError::WouldBlock)))
    }

    /// Puts bytes that could not be read where they are never thrown away.
    pub(super) fn set_aside(&self, name: &str, bytes: &[u8]) -> Result<PathBuf, StoreError> {
        disk::create_folder(&self.aside)?;
        for number in 1u32.. {
            let path = self.aside.join(format!("{name}-{number}"));
            if let Some(()) = disk::create_new(&path, bytes)? {
                disk::sync_folder(&self.aside)?;
                return Ok(path);
            }
        }
        Err(StoreError::ReadOnly("set-aside is full".into()))
    }
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

fn resolved(path: PathBuf) -> Result<PathBuf, StoreError> {
    match fs::symlink_metadata(&path) {
        Ok(meta) if meta.is_symlink() => {
            fs::canonicalize(&path).map_err(StoreError::io("follow", &path))
        }
        _ => Ok(path),
    }
}
