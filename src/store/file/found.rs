//! What is found in a folder, and what stands in for what cannot be read of it.

use std::path::{Path, PathBuf};

use super::disk;
use super::folder::{Folder, Found};
use super::older;
use super::replaced::{self, Steps};
use crate::store::error::{Notice, StoreError};
use crate::store::recover::{
    Lines, Recovered, Unreadable, last_record, of_replaced, recover, recover_from_steps,
    recover_onward,
};
use crate::store::snapshot::{ReadError, Snapshot, read_later, read_snapshot, sealed_with};
use crate::text::count;

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
                true => instead(folder, found, "is not there".into())?,
                false => match &recovered.damage[..] {
                    [Notice::NotTogether { what }] => {
                        beside_apart(folder, found, what, &recovered)?
                    }
                    _ => None,
                },
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
    instead(folder, found, format!("cannot be read ({what})"))?.ok_or(unreadable)
}

/// What is shown where a whole snapshot and the journal are not of one history: the snapshot, if it
/// was just put in place of another; what reaches further, if it is of an earlier time than the
/// journal.
fn beside_apart(
    folder: &Folder,
    found: &Found,
    what: &str,
    recovered: &Recovered,
) -> Result<Option<Recovered>, StoreError> {
    let (Some(snapshot), Some(journal)) = (&found.snapshot, &found.journal) else {
        return Ok(None);
    };
    let read = || read_snapshot(snapshot).ok();
    if let Some(steps) = replaced::made_from(folder, journal, recovered.position)? {
        let with_steps = steps != Steps::None;
        let made = read().and_then(|snapshot| of_replaced(snapshot, journal, with_steps));
        return Ok(made.map(|mut made| {
            made.history.is_cut = steps != Steps::Whole;
            made
        }));
    }
    let own = recovered.position.seq;
    if last_record(journal).is_none_or(|last| last <= own) {
        return Ok(None);
    }
    let what = format!("is not of the time of the journal ({what})");
    if let Some(made) = read().and_then(|snapshot| recover_onward(snapshot, journal, None)) {
        let path = folder.snapshot.clone();
        return Ok(Some(with_steps_since(made, path, what, own)));
    }
    let instead = instead(folder, found, what)?;
    Ok(instead.filter(|made| made.position.seq > own))
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

/// The collection as it was before its snapshot was altered by hand, which may have left it
/// readable or not. Nothing less than that passes for it.
///
/// # Errors
/// Not all of it is kept; what would be lost is told.
pub(super) fn before_edit(
    folder: &Folder,
    found: &Found,
    recovered: Recovered,
) -> Result<Recovered, StoreError> {
    let recovered = match recovered.damage.contains(&Notice::SnapshotAltered) {
        true => instead(folder, found, "was altered by hand".into())?,
        false => Some(recovered),
    };
    let why = match recovered {
        Some(recovered) => match &recovered.damage[..] {
            [] | [Notice::JournalOffered { .. } | Notice::OlderOffered { lost: Some(0), .. }] => {
                return Ok(recovered);
            }
            [Notice::OlderOffered { older, lost, .. }] => format!(
                "the newest whole state that is kept is {}, and {} would be lost",
                older.display(),
                match lost {
                    Some(lost) => format!("the {} since", count(*lost, "step", "steps")),
                    None => "all steps since".into(),
                }
            ),
            damage => {
                let told = damage.iter().map(ToString::to_string);
                told.collect::<Vec<_>>().join("; ")
            }
        },
        None => "the steps do not reach back to the beginning, and no earlier state is kept".into(),
    };
    Err(StoreError::NotPutBack { why })
}

fn of_snapshot(snapshot: Snapshot, notice: Notice) -> Recovered {
    Recovered {
        damage: vec![notice],
        ..Recovered::of_snapshot(snapshot)
    }
}

/// What stands in for a snapshot that `what` tells of: the steps of the journal where they tell
/// all, else an older snapshot and the steps since, else that alone; whichever reaches furthest.
fn instead(folder: &Folder, found: &Found, what: String) -> Result<Option<Recovered>, StoreError> {
    let journal = found.journal.as_deref();
    let mut steps = journal.and_then(recover_from_steps);
    let seal = found.snapshot.as_deref().and_then(sealed_with);
    let mut newest: Option<(PathBuf, Snapshot)> = None;
    for (_, path) in older::list(folder)? {
        let Some(snapshot) = older::whole(folder, &path)? else {
            continue;
        };
        let through = snapshot.through.seq;
        let alone = newest
            .as_ref()
            .map_or(through, |(_, newest)| newest.through.seq);
        steps = steps.filter(|made| made.position.seq >= alone);
        if steps.is_some() {
            break;
        }
        let onward = |journal| recover_onward(snapshot.clone(), journal, seal);
        if let Some(made) = journal
            .and_then(onward)
            .filter(|made| made.position.seq >= alone)
        {
            return Ok(Some(with_steps_since(made, path, what, through)));
        }
        newest.get_or_insert((path, snapshot));
    }
    if let Some(mut made) = steps {
        made.damage.insert(0, Notice::JournalOffered { what });
        return Ok(Some(made));
    }
    let last = journal.and_then(last_record);
    Ok(newest.map(|(older, snapshot)| {
        let notice = Notice::OlderOffered {
            older,
            what,
            since: 0,
            lost: last.and_then(|last| last.checked_sub(snapshot.through.seq)),
        };
        of_snapshot(snapshot, notice)
    }))
}

/// Tells what was made of the snapshot at `older` that reaches up to record `through`.
fn with_steps_since(mut made: Recovered, older: PathBuf, what: String, through: u64) -> Recovered {
    let notice = Notice::OlderOffered {
        older,
        what,
        since: made.position.seq - through,
        lost: Some(0),
    };
    made.damage.insert(0, notice);
    made
}
