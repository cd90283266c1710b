//! The snapshots before the present one.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::disk;
use super::folder::Folder;
use crate::model::Collection;
use crate::store::snapshot::{Snapshot, read_snapshot, write_snapshot};
use crate::store::{Position, StoreError};

/// So many are kept.
const KEPT: usize = 5;

/// So far apart, so that they reach back further than the minutes of one evening.
const APART: Duration = Duration::from_secs(24 * 60 * 60);

/// Gives the present snapshot its second name among the older ones, so that it stays when the
/// first name goes to the next. The empty one of a new folder is nothing to go back to.
pub(super) fn keep(folder: &Folder, seq: u64) -> Result<(), StoreError> {
    let files = &*folder.files;
    // One that is larger than an empty one is refused before it is read.
    let empty = write_snapshot(&Collection::new(), Position::default());
    match files.read(&folder.snapshot, empty.len() as u64) {
        Ok(None) => return Ok(()),
        Ok(Some(present)) if present == empty => return Ok(()),
        Ok(Some(_)) => {}
        Err(error) if error.kind() == ErrorKind::FileTooLarge => {}
        Err(error) => return Err(StoreError::io("read", &folder.snapshot)(error)),
    }
    let present = || disk::read(files, &folder.snapshot).map(Option::unwrap_or_default);
    disk::create_folder(files, &folder.older)?;
    let path = path(folder, seq);
    match files.link(&folder.snapshot, &path) {
        Ok(()) => disk::sync_folder(files, &folder.older),
        // Two snapshots of one record are the same, unless one of them was altered by hand.
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            let present = present()?;
            if disk::read(files, &path)?.as_ref() != Some(&present) {
                folder.set_aside(&format!("collection-{seq}"), &present)?;
            }
            Ok(())
        }
        // Not every file system has second names.
        Err(_) => disk::replace(files, &path, &present()?),
    }
}

/// Lets the oldest go, and the one before the newest when it is of the same day as the one before
/// it. The newest stays, so that there is always the one before the present.
pub(super) fn prune(folder: &Folder) -> Result<(), StoreError> {
    let mut listed = list(folder)?;
    if let [_, (_, second), (_, third), ..] = &listed[..]
        && are_near(folder, third, second)
    {
        let (_, path) = listed.remove(1);
        remove(folder, &path)?;
    }
    for (_, path) in listed.into_iter().skip(KEPT) {
        remove(folder, &path)?;
    }
    Ok(())
}

fn remove(folder: &Folder, path: &Path) -> Result<(), StoreError> {
    let removed = folder.files.remove(path);
    removed.map_err(StoreError::io("remove", path))
}

/// By the files' own times. Where these cannot be told or go backwards, nothing is near.
fn are_near(folder: &Folder, before: &Path, after: &Path) -> bool {
    let written = |path: &Path| folder.files.modified(path);
    let (Ok(before), Ok(after)) = (written(before), written(after)) else {
        return false;
    };
    after.checked_sub(before).is_some_and(|time| time < APART)
}

/// The newest of them that is whole.
pub(super) fn newest_whole(folder: &Folder) -> Result<Option<(PathBuf, Snapshot)>, StoreError> {
    for (_, path) in list(folder)? {
        if let Some(snapshot) = whole(folder, &path)? {
            return Ok(Some((path, snapshot)));
        }
    }
    Ok(None)
}

/// One of them, if it is as it was written.
pub(super) fn whole(folder: &Folder, path: &Path) -> Result<Option<Snapshot>, StoreError> {
    let bytes = disk::read(&*folder.files, path)?.unwrap_or_default();
    let snapshot = read_snapshot(&bytes).ok();
    Ok(snapshot.filter(|snapshot| !snapshot.is_altered))
}

/// Where the snapshot that reaches up to this record is kept.
pub(super) fn path(folder: &Folder, record: u64) -> PathBuf {
    folder.older.join(format!("collection-{record}.json"))
}

/// Newest first.
pub(super) fn list(folder: &Folder) -> Result<Vec<(u64, PathBuf)>, StoreError> {
    let seq = |path: &PathBuf| -> Option<u64> {
        let name = path.file_name()?.to_str()?;
        name.strip_prefix("collection-")?
            .strip_suffix(".json")?
            .parse()
            .ok()
    };
    let paths = disk::names(&*folder.files, &folder.older)?.into_iter();
    let mut found: Vec<_> = paths.filter_map(|path| Some((seq(&path)?, path))).collect();
    found.sort_unstable_by(|a, b| b.cmp(a));
    Ok(found)
}
