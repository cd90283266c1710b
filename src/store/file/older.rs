//! The snapshots before the present one.

use std::fs;
use std::io::ErrorKind;
use std::path::PathBuf;

use super::disk;
use super::folder::Folder;
use crate::store::StoreError;
use crate::store::snapshot::{Snapshot, read_snapshot};

/// So many are kept.
const KEPT: usize = 5;

/// Gives the present snapshot its second name among the older ones, so that it stays when the
/// first name goes to the next.
pub(super) fn keep(folder: &Folder, seq: u64) -> Result<(), StoreError> {
    let Some(present) = disk::read(&folder.snapshot)? else {
        return Ok(());
    };
    disk::create_folder(&folder.older)?;
    let path = folder.older.join(format!("collection-{seq}.json"));
    match fs::hard_link(&folder.snapshot, &path) {
        Ok(()) => disk::sync_folder(&folder.older),
        // Two snapshots of one record are the same, unless one of them was altered by hand.
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            if disk::read(&path)?.as_ref() != Some(&present) {
                folder.set_aside(&format!("collection-{seq}"), &present)?;
            }
            Ok(())
        }
        // Not every file system has second names.
        Err(_) => disk::replace(&path, &present),
    }
}

/// Lets the oldest go.
pub(super) fn prune(folder: &Folder) -> Result<(), StoreError> {
    for (_, path) in list(folder)?.into_iter().skip(KEPT) {
        fs::remove_file(&path).map_err(StoreError::io("remove", &path))?;
    }
    Ok(())
}

/// The newest of them that is whole.
pub(super) fn newest_whole(folder: &Folder) -> Result<Option<(PathBuf, Snapshot)>, StoreError> {
    for (_, path) in list(folder)? {
        let bytes = disk::read(&path)?.unwrap_or_default();
        match read_snapshot(&bytes) {
            Ok(snapshot) if !snapshot.is_altered => return Ok(Some((path, snapshot))),
            _ => {}
        }
    }
    Ok(None)
}

/// Newest first.
fn list(folder: &Folder) -> Result<Vec<(u64, PathBuf)>, StoreError> {
    let seq = |path: &PathBuf| -> Option<u64> {
        let name = path.file_name()?.to_str()?;
        name.strip_prefix("collection-")?
            .strip_suffix(".json")?
            .parse()
            .ok()
    };
    let paths = disk::names(&folder.older)?.into_iter();
    let mut found: Vec<_> = paths.filter_map(|path| Some((seq(&path)?, path))).collect();
    found.sort_unstable_by(|a, b| b.cmp(a));
    Ok(found)
}
