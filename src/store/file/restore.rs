//! Going back: to an older snapshot, or to what a hand edit has changed. Nothing is overwritten:
//! what the collection was is kept first.

use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::time::Duration;

use super::Opened;
use super::disk;
use super::folder::Found;
use super::folder::{Folder, JOURNAL_FILE, SNAPSHOT_FILE};
use super::older;
use super::replaced::{self, Steps};
use crate::model::Collection;
use crate::store::error::{Notice, StoreError};
use crate::store::files::Files;
use crate::store::history::History;
use crate::store::snapshot::{read_snapshot, write_snapshot};

/// What is kept beside a collection.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// The newest first.
    pub older: Vec<Older>,
    /// What could not be read or was replaced, by name.
    pub aside: Vec<Aside>,
}

/// An older snapshot.
#[derive(Clone, Debug)]
pub struct Older {
    pub path: PathBuf,
    /// The record that it reaches up to, by its name.
    pub record: u64,
    /// When it was written, since the beginning of 1970 (UTC), if that can be told.
    pub written: Option<Duration>,
    /// What it holds; why it cannot be gone back to otherwise.
    pub collection: Result<Collection, String>,
}

/// A file that was set aside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aside {
    pub path: PathBuf,
    pub bytes: u64,
}

/// Looks at what is beside the collection in this folder. Nothing is changed.
///
/// # Errors
/// The folder cannot be read.
pub fn beside(files: &Rc<dyn Files>, path: &Path) -> Result<Beside, StoreError> {
    let folder = Folder::at(files.clone(), path)?;
    let mut found = Beside::default();
    for (record, path) in older::list(&folder)? {
        found.older.push(Older {
            record,
            written: files.modified(&path).ok(),
            collection: whole(&**files, &path),
            path,
        });
    }
    let mut aside = disk::names(&**files, &folder.aside)?;
    aside.sort_unstable();
    for path in aside {
        let bytes = disk::read(&**files, &path)?.map_or(0, |bytes| bytes.len() as u64);
        found.aside.push(Aside { path, bytes });
    }
    Ok(found)
}

fn whole(files: &dyn Files, path: &Path) -> Result<Collection, String> {
    let bytes = disk::read(files, path).map_err(|error| error.to_string())?;
    match read_snapshot(&bytes.unwrap_or_default()) {
        Ok(snapshot) if snapshot.is_altered => Err("it is not as it was written".into()),
        Ok(snapshot) => Ok(snapshot.collection),
        Err(error) => Err(error.to_string()),
    }
}

/// Makes an older snapshot the collection. The present one goes among the older ones, if it is
/// whole, and its files are set aside in any case.
pub(super) fn restore(opened: &mut Opened, found: &Found, record: u64) -> Result<(), StoreError> {
    let Opened {
        store,
        collection,
        history,
        notices,
    } = opened;
    let folder = store.folder.clone();
    let files = &*folder.files;
    let from = older::path(&folder, record);
    let restored = whole(files, &from).map_err(|why| StoreError::NotGoneBack {
        path: from.clone(),
        why,
    })?;
    if !notices.iter().any(Notice::is_damage) {
        disk::create_folder(files, &folder.older)?;
        let present = older::path(&folder, store.last.seq);
        let bytes = write_snapshot(collection, store.last);
        // Where it is there already it is the same, or altered; its files are set aside as well.
        if disk::create_new(files, &present, &bytes)?.is_some() {
            disk::sync_folder(files, &folder.older)?;
        }
    }
    *collection = restored;
    // Its steps are not those of the journal, so they cannot be taken back.
    *history = History {
        is_cut: true,
        ..History::default()
    };
    let aside = take_as_offered(opened, found)?;
    opened.notices.push(Notice::Restored { from, aside });
    Ok(())
}

/// Copies the files as they are to `set-aside/`, then makes what could be read of them a new
/// snapshot, as a step of its own in the numbering, so that no file from before is taken to
/// belong to it. Tells where the files went.
pub(super) fn take_as_offered(
    opened: &mut Opened,
    found: &Found,
) -> Result<Vec<PathBuf>, StoreError> {
    let Opened {
        store,
        collection,
        history,
        notices,
    } = opened;
    let mut aside = Vec::new();
    for (name, bytes) in [
        (SNAPSHOT_FILE, &found.snapshot),
        (JOURNAL_FILE, &found.journal),
    ] {
        if let Some(bytes) = bytes {
            aside.push(store.folder.set_aside(name, bytes)?);
        }
    }
    // Unless all that made this collection stands in its steps, the new journal must not pass for
    // the whole of its history when a snapshot is lost later.
    let from_steps = |notice: &Notice| {
        matches!(
            notice,
            Notice::JournalOffered { .. } | Notice::JournalDamaged { .. }
        )
    };
    let mut damage = notices.iter().filter(|notice| notice.is_damage());
    history.is_cut |= store.begun == 0 || !damage.all(from_steps);
    // Were the process to end before the new journal stands, opening finds by this what it is.
    store.last = replaced::position(found, store.last.seq, Steps::of(history));
    let bytes = write_snapshot(collection, store.last);
    disk::replace(&*store.folder.files, &store.folder.snapshot, &bytes)?;
    store.snapshot = store.last;
    store.snapshot_bytes = bytes.len() as u64;
    store.begin_journal(history)?;
    Ok(aside)
}
