//! Opening a folder: lock, read, mend a torn end, or say why nothing may be written.

use std::path::Path;
use std::rc::Rc;

use super::disk;
use super::folder::{Folder, Found, NoLock};
use super::found::{before_edit, read_unlocked, understand};
use super::restore::{restore, take_as_offered};
use super::{FileStore, Opened};
use crate::model::Collection;
use crate::store::error::{Notice, StoreError};
use crate::store::files::Files;
use crate::store::history::History;
use crate::store::position::Position;
use crate::store::recover::Recovered;
use crate::store::{Access, Open};

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
            opened.notices.insert(0, Notice::ReadOnly { why, held });
            return Ok(opened);
        }
    };
    let found = Found {
        snapshot: disk::read(&*folder.files, &folder.snapshot)?,
        journal: disk::read(&*folder.files, &folder.journal)?,
    };
    let mut recovered = understand(&folder, &found)?;
    let is_later = |notice: &Notice| matches!(notice, Notice::Later { .. });
    if how == Open::PutBack && !recovered.damage.first().is_some_and(is_later) {
        recovered = before_edit(&folder, &found, recovered)?;
    }
    if let Some(damage) = recovered.damage.first()
        && (how == Open::ForWriting || is_later(damage))
    {
        let why = Access::ReadOnly(damage.to_string());
        let mut opened = assemble(folder, why, &found, recovered);
        opened.store.lock = Some(lock);
        return Ok(opened);
    }
    let is_damaged = !recovered.damage.is_empty();
    let torn = recovered.torn;
    let (whole, lacks_newline) = (recovered.journal_whole, recovered.lacks_newline);
    let is_replaced = recovered.journal_replaced;
    let mut opened = assemble(folder, Access::Writable, &found, recovered);
    opened.store.lock = Some(lock);
    let mut begun = clear_temporaries(&opened.store.folder);
    if let Open::Older(record) = how {
        begun = begun.and_then(|()| restore(&mut opened, &found, record));
    } else if is_damaged {
        begun = begun.and_then(|()| {
            let aside = take_as_offered(&mut opened, &found)?;
            if how == Open::PutBack {
                // What was damaged is as it was, so there is no more to tell of it.
                opened.notices.retain(|notice| !notice.is_damage());
                opened.notices.push(Notice::PutBack { aside });
            } else {
                opened.notices.push(Notice::TakenAsOffered { aside });
            }
            Ok(())
        });
    } else if is_replaced {
        begun = begun.and_then(|()| opened.store.begin_journal(&opened.history));
    } else {
        if torn.is_some() {
            begun = begun.and_then(|()| set_tail_aside(&mut opened, &found, whole));
        }
        begun = begun.and_then(|()| begin_writing(&mut opened, &found, lacks_newline));
    }
    if let Err(error) = begun {
        let why = error.to_string();
        opened.store.access = Access::ReadOnly(why.clone());
        opened.notices.push(Notice::ReadOnly { why, held: false });
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
        folder: Folder::named(files, path.into()),
        access,
        lock: None,
        journal: None,
        length: 0,
        begun: 0,
        snapshot_bytes: 0,
        snapshot: Position::default(),
        last: Position::default(),
        notice: None,
    };
    Opened {
        store,
        collection: Collection::new(),
        history: History::default(),
        notices: Vec::new(),
    }
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
        notice: None,
        folder,
    };
    let mut notices = recovered.damage;
    notices.extend(recovered.torn.map(|torn| Notice::TornTail {
        line: torn.line,
        bytes: torn.bytes,
        aside: None,
    }));
    Opened {
        store,
        collection: recovered.collection,
        history: recovered.history,
        notices,
    }
}

/// Moves what stands beyond the whole lines out of the journal.
fn set_tail_aside(opened: &mut Opened, found: &Found, whole: usize) -> Result<(), StoreError> {
    let Opened { store, notices, .. } = opened;
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
    opened: &mut Opened,
    found: &Found,
    lacks_newline: bool,
) -> Result<(), StoreError> {
    let Opened {
        store,
        collection,
        history,
        ..
    } = opened;
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
