//! A snapshot that took the place of what was damaged, altered or gone back from. It is put in place
//! before its journal, and the process may end between the two: what it was made from is known by
//! its checksum, and is kept in `set-aside/`.

use super::disk;
use super::folder::Found;
use super::folder::{Folder, JOURNAL_FILE, SNAPSHOT_FILE};
use crate::store::StoreError;
use crate::store::history::History;
use crate::store::position::Position;

/// Which steps can be undone in a collection that was made so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Steps {
    /// None of those before.
    None,
    /// Those that the journal before tells of.
    Cut,
    /// The same, and they reach back to the beginning.
    Whole,
}

impl Steps {
    const EACH: [Self; 3] = [Self::None, Self::Cut, Self::Whole];

    pub(super) fn of(history: &History) -> Self {
        match (
            history.done.is_empty() && history.undone.is_empty(),
            history.is_cut,
        ) {
            (true, _) => Self::None,
            (false, true) => Self::Cut,
            (false, false) => Self::Whole,
        }
    }

    fn mark(self) -> &'static [u8] {
        match self {
            Self::None => b"",
            Self::Cut => b"steps",
            Self::Whole => b"all steps",
        }
    }
}

/// The position of what is made from these files, of which record `last` was the last: a step of
/// its own in the numbering, so that no file from before is taken to belong to it.
pub(super) fn position(found: &Found, last: u64, steps: Steps) -> Position {
    let (snapshot, journal) = (found.snapshot.as_deref(), found.journal.as_deref());
    Position {
        seq: last + 1,
        chain: sum(snapshot, journal.unwrap_or_default(), steps),
    }
}

fn sum(snapshot: Option<&[u8]>, journal: &[u8], steps: Steps) -> u32 {
    let mut sum = crc32fast::Hasher::new();
    for part in [snapshot.unwrap_or_default(), journal, steps.mark()] {
        sum.update(part);
    }
    sum.finalize()
}

/// Whether the snapshot that reaches up to `through` was made so from files with this journal, and
/// with which steps. Both files must be found among what was set aside.
pub(super) fn made_from(
    folder: &Folder,
    journal: &[u8],
    through: Position,
) -> Result<Option<Steps>, StoreError> {
    let files = &*folder.files;
    let (mut snapshots, mut is_kept) = (vec![None], false);
    for path in disk::names(files, &folder.aside)? {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let is = |file: &str| {
            let number = name
                .strip_prefix(file)
                .and_then(|rest| rest.strip_prefix('-'));
            number.is_some_and(|number| number.parse::<u32>().is_ok())
        };
        if is(SNAPSHOT_FILE) {
            snapshots.push(disk::read(files, &path)?);
        } else if is(JOURNAL_FILE) {
            is_kept |= disk::read(files, &path)?.as_deref() == Some(journal);
        }
    }
    let made = snapshots.iter().find_map(|snapshot| {
        let is_it = |steps: &Steps| sum(snapshot.as_deref(), journal, *steps) == through.chain;
        Steps::EACH.into_iter().find(is_it)
    });
    Ok(made.filter(|_| is_kept))
}
