//! Opening a folder: lock, read, mend a torn end, or say why nothing may be written.

use std::path::{Path, PathBuf};
use std::rc::Rc;

use super::disk;
use super::folder::{Folder, NoLock};
use super::restore::restore;
use super::{FileStore, older};
use crate::model::Collection;
use crate::store::error::{Notice, StoreError};
use crate::store::files::Files;
use crate::store::history::History;
use crate::store::position::Position;
use crate::store::recover::{Lines, Recovered, Unreadable, recover, recover_from_steps};
use crate::store::snapshot::{ReadError, Snapshot, read_later, read_snapshot};
use crate::store::{Access, Open};

/// The files as they are on the disk.
pub(super) struct Found {
    snapshot: Option<Vec<u8>>,
    journal: Option<Vec<u8>>,
}

pub(super) type Opened = (FileStore, Collection, History, Vec<Notice>);

pub(super) fn open(files: Rc<dyn Files>, path: &Path, how: Open) -> Result<Opened, StoreError> {
    let reading_only = Access::ReadOnly("it was opened for reading".into());
    if how == Open::ForReading {
        // A folder that cannot be looked for may be there: it must not pass for an empty one.
        let exists = files.exists(path);
        if !exists.map_err(StoreError::io("look for", path))? {
            return Ok(empty(files, path, reading_only));
        }
        let folder = Folder::at(files, path)?;
        let (found, recovered) = read_unlocked(&folder)?;
        return Ok(assemble(folder, reading_only, &found, recovered));
    }
    disk::create_folder(&*files, path)?;
    let folder = Folder::at(files, path)?;
    let lock = match folder.lock() {
        Ok(lock) => lock,
        Err(no_lock) => {
            let held = matches!(no_lock, NoLock::Held);
            let why = no_lock.to_string();
            let (found, recovered) = read_unlocked(&folder)?;
            let mut opened = assemble(folder, Access::ReadOnly(why.clone()), &found, recovered);
            opened.3.insert(0, Notice::ReadOnly { why, held });
            return Ok(opened);
        }
    };
    let found = Found {
        snapshot: disk::read(&*folder.files, &folder.snapshot)?,
        journal: disk::read(&*folder.files, &folder.journal)?,
    };
    let mut recovered = understand(&folder, &found)?;
    if how == Open::PutBack && recovered.damage.contains(&Notice::SnapshotAltered) {
        recovered = before_edit(&folder, &found)?;
    }
    let is_later = |notice: &Notice| matches!(notice, Notice::Later { .. });
    if let Some(damage) = recovered.damage.first()
        && (how == Open::ForWriting || is_later(damage))
    {
        let why = Access::ReadOnly(damage.to_string());
        let mut opened = assemble(folder, why, &found, recovered);
        opened.0.lock = Some(lock);
        return Ok(opened);
    }
    let is_damaged = !recovered.damage.is_empty();
    let torn = recovered.torn;
    let (whole, lacks_newline) = (recovered.journal_whole, recovered.lacks_newline);
    let mut opened = assemble(folder, Access::Writable, &found, recovered);
    opened.0.lock = Some(lock);
    let mut begun = clear_temporaries(&opened.0.folder);
    if let Open::Older(record) = how {
        begun = begun.and_then(|()| restore(&mut opened, &found, record));
    } else if is_damaged {
        begun = begun.and_then(|()| {
            let aside = take_as_offered(&mut opened, &found)?;
            opened.3.push(Notice::TakenAsOffered { aside });
            Ok(())
        });
    } else {
        if torn.is_some() {
            begun = begun.and_then(|()| set_tail_aside(&mut opened, &found, whole));
        }
        begun = begun.and_then(|()| begin_writing(&mut opened, &found, lacks_newline));
    }
    if let Err(error) = begun {
        let why = error.to_string();
        opened.0.access = Access::ReadOnly(why.clone());
        opened.3.push(Notice::ReadOnly { why, held: false });
    }
    Ok(opened)
}

/// Where files are written beside those that they are to replace.
fn clear_temporaries(folder: &Folder) -> Result<(), StoreError> {
    disk::clear_temporaries(&*folder.files, &folder.root)?;
    disk::clear_temporaries(&*folder.files, &folder.older)
}

/// Nothing is there and nothing is made.
fn empty(files: Rc<dyn Files>, path: &Path, access: Access) -> Opened {
    let store = FileStore {
        folder: Folder {
            root: path.into(),
            snapshot: path.join("collection.json"),
            journal: path.join("journal"),
            lock: path.join("lock"),
            older: path.join("older"),
            aside: path.join("set-aside"),
            note: path.join("last-place"),
            files,
        },
        access,
        lock: None,
        journal: None,
        length: 0,
        begun: 0,
        snapshot_bytes: 0,
        snapshot: Position::default(),
        last: Position::default(),
    };
    (store, Collection::new(), History::default(), Vec::new())
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
fn read_unlocked(folder: &Folder) -> Result<(Found, Recovered), StoreError> {
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
fn understand(folder: &Folder, found: &Found) -> Result<Recovered, StoreError> {
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
fn before_edit(folder: &Folder, found: &Found) -> Result<Recovered, StoreError> {
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

fn assemble(folder: Folder, access: Access, found: &Found, recovered: Recovered) -> Opened {
    let bytes = |file: &Option<Vec<u8>>| file.as_ref().map_or(0, |bytes| bytes.len() as u64);
    let store = FileStore {
        access,
        lock: None,
        journal: None,
        length: recovered.journal_whole as u64,
        begun: recovered.journal_begun as u64,
        snapshot_bytes: bytes(&found.snapshot),
        snapshot: recovered.snapshot,
        last: recovered.position,
        folder,
    };
    let mut notices = recovered.damage;
    notices.extend(recovered.torn.map(|torn| Notice::TornTail {
        line: torn.line,
        bytes: torn.bytes,
        aside: None,
    }));
    (store, recovered.collection, recovered.history, notices)
}

/// Moves what stands beyond the whole lines out of the journal.
fn set_tail_aside(opened: &mut Opened, found: &Found, whole: usize) -> Result<(), StoreError> {
    let (store, _, _, notices) = opened;
    let tail = found
        .journal
        .as_deref()
        .and_then(|bytes| bytes.get(whole..))
        .unwrap_or_default();
    let name = format!("journal-after-{}", store.last.seq);
    let put = store.folder.set_aside(&name, tail)?;
    let path = &store.folder.journal;
    let end = store.folder.files.open_end(path);
    let mut end = end.map_err(StoreError::io("open", path))?;
    let cut = end.truncate(whole as u64).and_then(|()| end.sync());
    cut.map_err(StoreError::io("truncate", path))?;
    for notice in notices {
        if let Notice::TornTail { aside, .. } = notice {
            *aside = Some(put.clone());
        }
    }
    Ok(())
}

/// Makes what is missing of a new collection, and opens the journal for more.
fn begin_writing(
    (store, collection, history, _): &mut Opened,
    found: &Found,
    lacks_newline: bool,
) -> Result<(), StoreError> {
    if found.snapshot.is_none() && found.journal.is_none() {
        store.write_snapshot(collection)?;
    }
    if found.journal.is_none() {
        // A collection that came without its steps: they do not reach back to its beginning.
        history.is_cut |= collection.sets().len() > 0 || collection.shelf().next().is_some();
        return store.begin_journal(history);
    }
    let path = &store.folder.journal;
    let end = store.folder.files.open_end(path);
    let mut end = end.map_err(StoreError::io("open", path))?;
    if lacks_newline {
        let ended = end.write(b"\n").and_then(|()| end.sync());
        ended.map_err(StoreError::io("write", path))?;
        store.length += 1;
    }
    store.journal = Some(end);
    Ok(())
}

/// Copies the files as they are to `set-aside/`, then makes what could be read of them a new
/// snapshot, as a step of its own in the numbering, so that no file from before is taken to
/// belong to it. Tells where the files went.
pub(super) fn take_as_offered(
    opened: &mut Opened,
    found: &Found,
) -> Result<Vec<PathBuf>, StoreError> {
    let (store, collection, history, notices) = opened;
    let mut aside = Vec::new();
    let mut sum = crc32fast::Hasher::new();
    for (name, bytes) in [
        ("collection.json", &found.snapshot),
        ("journal", &found.journal),
    ] {
        if let Some(bytes) = bytes {
            sum.update(bytes);
            aside.push(store.folder.set_aside(name, bytes)?);
        }
    }
    store.last = Position {
        seq: store.last.seq + 1,
        chain: sum.finalize(),
    };
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
    let bytes = crate::store::snapshot::write_snapshot(collection, store.last);
    disk::replace(&*store.folder.files, &store.folder.snapshot, &bytes)?;
    store.snapshot = store.last;
    store.snapshot_bytes = bytes.len() as u64;
    store.begin_journal(history)?;
    Ok(aside)
}
