//! What is found in a folder, and what stands in for what cannot be read of it.

use std::path::Path;

use super::disk;
use super::folder::Folder;
use super::older;
use crate::store::error::{Notice, StoreError};
use crate::store::recover::{Lines, Recovered, Unreadable, recover, recover_from_steps};
use crate::store::snapshot::{ReadError, Snapshot, read_later, read_snapshot};

/// The files as they are on the disk.
pub(super) struct Found {
    pub(super) snapshot: Option<Vec<u8>>,
    pub(super) journal: Option<Vec<u8>>,
}

/// How often the files are read without the lock before what was found counts.
const LOOKS: usize = 4;

/// Without the lock another program may replace both files between two reads. The journal is read
/// first: an older journal with a newer snapshot still fits, and where it does not, another look
/// finds both new.
///
/// A last line that is not whole may be on its way: beside a program that writes it is no damage,
/// and the step in it is not kept yet. It is torn when it is the same before and after nobody had
/// the lock.
pub(super) fn read_unlocked(folder: &Folder) -> Result<(Found, Recovered), StoreError> {
    let (mut looks, mut nobody_wrote) = (0, None);
    loop {
        looks += 1;
        let journal = disk::read(&*folder.files, &folder.journal)?;
        let found = Found {
            snapshot: disk::read(&*folder.files, &folder.snapshot)?,
            journal,
        };
        let mut recovered = understand(folder, &found)?;
        let is_apart = |notice: &Notice| matches!(notice, Notice::NotTogether { .. });
        let is_apart = recovered.damage.iter().any(is_apart);
        let may_be_under_way = recovered.torn.is_some() && recovered.torn != nobody_wrote;
        if looks == LOOKS || !is_apart && !may_be_under_way {
            recovered.torn = recovered.torn.filter(|_| !may_be_under_way);
            return Ok((found, recovered));
        }
        nobody_wrote = recovered.torn.filter(|_| !folder.is_held());
    }
}

/// Reads the bytes; where the snapshot cannot be read, something else stands in.
pub(super) fn understand(folder: &Folder, found: &Found) -> Result<Recovered, StoreError> {
    let error = match recover(found.snapshot.as_deref(), found.journal.as_deref()) {
        Ok(recovered) => {
            let is_apart = |notice: &Notice| matches!(notice, Notice::NotTogether { .. });
            let is_lost = found.snapshot.is_none()
                && (found.journal.is_none() || recovered.damage.iter().any(is_apart));
            let stands_in = match is_lost {
                true => instead(folder, found, "it is not there".into())?,
                false => None,
            };
            return Ok(stands_in.unwrap_or(recovered));
        }
        Err(Unreadable::JournalLater(version)) => {
            return later(folder, found, &folder.journal, version);
        }
        Err(Unreadable::Snapshot(error)) => error,
    };
    let what = error.to_string();
    let path = folder.snapshot.clone();
    let unreadable = match error {
        ReadError::Later(version) => {
            return match found.snapshot.as_deref().and_then(read_later) {
                Some(snapshot) => Ok(as_understood(folder, found, snapshot, version)),
                None => later(folder, found, &path, version),
            };
        }
        ReadError::At { line, column, what } => StoreError::Unreadable {
            path,
            line,
            column,
            what,
        },
    };
    instead(folder, found, what)?.ok_or(unreadable)
}

/// What is shown, for reading, where a later version of the program wrote the snapshot, and this
/// one understands enough of it: that, and the steps since where they fit.
fn as_understood(folder: &Folder, found: &Found, snapshot: Snapshot, version: u64) -> Recovered {
    let path = folder.snapshot.clone();
    let mut made = Recovered::of_snapshot(snapshot);
    if let Err(Unreadable::JournalLater(version)) =
        made.follow(found.journal.as_deref().map(Lines::of))
    {
        made.damage.push(Notice::Later {
            path: folder.journal.clone(),
            version,
            shown: Some(path.clone()),
        });
    }
    let notice = Notice::Later {
        path,
        version,
        shown: None,
    };
    made.damage.insert(0, notice);
    made
}

/// What is shown, for reading, where a later version of the program wrote a file that this one
/// does not understand: what stands in a snapshot of this version. The later file is not guessed
/// at.
fn later(
    folder: &Folder,
    found: &Found,
    path: &Path,
    version: u64,
) -> Result<Recovered, StoreError> {
    let own = found.snapshot.as_deref().map(read_snapshot);
    let own = own.and_then(Result::ok).filter(|own| !own.is_altered);
    let own = own.map(|own| (folder.snapshot.clone(), own));
    let path = path.to_owned();
    let Some((shown, snapshot)) =
        own.map_or_else(|| older::newest_whole(folder), |own| Ok(Some(own)))?
    else {
        return Err(StoreError::Later { path, version });
    };
    let notice = Notice::Later {
        path,
        version,
        shown: Some(shown),
    };
    Ok(of_snapshot(snapshot, notice))
}

/// The collection as it was before its snapshot was altered by hand.
pub(super) fn before_edit(folder: &Folder, found: &Found) -> Result<Recovered, StoreError> {
    let what = "it was altered by hand, and is put back".to_owned();
    instead(folder, found, what)?.ok_or_else(|| {
        StoreError::ReadOnly(
            "there is nothing to put it back from: the steps do not reach back to the beginning, \
             and no earlier state is kept"
                .into(),
        )
    })
}

fn of_snapshot(snapshot: Snapshot, notice: Notice) -> Recovered {
    Recovered {
        damage: vec![notice],
        ..Recovered::of_snapshot(snapshot)
    }
}

/// What stands in for a snapshot that cannot be read: the steps of the journal where they tell
/// all, else the newest older snapshot; whichever reaches further.
fn instead(folder: &Folder, found: &Found, what: String) -> Result<Option<Recovered>, StoreError> {
    let steps = found.journal.as_deref().and_then(recover_from_steps);
    let older = older::newest_whole(folder)?;
    let steps_reach = steps.as_ref().map(|made| made.position.seq);
    let older_reaches = older.as_ref().map(|(_, older)| older.through.seq);
    if let Some(mut made) = steps.filter(|_| steps_reach >= older_reaches) {
        made.damage.insert(0, Notice::JournalOffered { what });
        return Ok(Some(made));
    }
    Ok(older.map(|(older, snapshot)| of_snapshot(snapshot, Notice::OlderOffered { older, what })))
}
