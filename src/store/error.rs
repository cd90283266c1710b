//! What can go wrong with files, and what is to be told when they are opened.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::text::count;

/// Why a collection could not be opened or a step not kept.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    #[error("could not {doing} {}: {source}", path.display())]
    Io {
        /// As in "could not `read` /some/path".
        doing: &'static str,
        path: PathBuf,
        source: io::Error,
    },
    #[error(
        "a later version of this program wrote {} (version {version} of its format); this one \
         cannot read it, and no earlier state that it can read is kept beside it. It was left as it is",
        path.display()
    )]
    Later { path: PathBuf, version: u64 },
    #[error("{}, line {line}, column {column}: {what}", path.display())]
    Unreadable {
        path: PathBuf,
        line: usize,
        column: usize,
        what: String,
    },
    #[error(
        "{} has more than {most} bytes, which no collection comes near; it was not read",
        path.display()
    )]
    TooLarge { path: PathBuf, most: u64 },
    /// Nothing is written: as [`super::Access::ReadOnly`] says why.
    #[error("{0}")]
    ReadOnly(String),
    #[error("the journal is not open")]
    JournalNotOpen,
    /// Bytes that could not be read found no free name in this folder.
    #[error("{} is full", path.display())]
    AsideFull { path: PathBuf },
    /// A snapshot that was altered by hand has nothing from which it could be made as it was.
    #[error("collection.json cannot be put back as it was: {why}")]
    NotPutBack { why: String },
    /// This older snapshot is not there, or not whole.
    #[error("{} cannot be gone back to: {why}", path.display())]
    NotGoneBack { path: PathBuf, why: String },
    /// A store in memory has taken as much as it takes.
    #[error("no space is left")]
    Full,
}

impl StoreError {
    /// For `map_err`: adds what was being done to which file.
    pub(super) fn io(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        move |source| Self::Io {
            doing,
            path: path.to_owned(),
            source,
        }
    }
}

fn path_words(paths: &[PathBuf]) -> String {
    let paths = paths.iter().map(|path| path.display().to_string());
    paths.collect::<Vec<_>>().join(", ")
}

/// What a person should be told about how a collection was opened. Shown with [`fmt::Display`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// The last line of the journal was not whole: a write that was cut off.
    TornTail {
        line: usize,
        bytes: usize,
        /// Where the bytes were put; `None` when the folder was opened for reading.
        aside: Option<PathBuf>,
    },
    /// The journal is damaged from this line on. The steps before it are offered.
    JournalDamaged { line: usize, what: String },
    /// Snapshot and journal are not of one history. The snapshot alone is offered.
    NotTogether { what: String },
    /// The snapshot can be read, but is not as it was written.
    SnapshotAltered,
    /// The snapshot cannot be read, or is not the one that the journal goes on from: `what` says
    /// so of it. An older one is offered.
    OlderOffered {
        older: PathBuf,
        what: String,
        /// So many records since that one are known from the journal, and included.
        since: u64,
        /// So many are known to be missing; `None` when it cannot be told how many.
        lost: Option<u64>,
    },
    /// The same, but what the steps of the journal come to is offered, for they reach back to the
    /// beginning.
    JournalOffered { what: String },
    /// A later version of the program wrote this file. For reading, what stands in it is shown as
    /// far as this version understands it, or what this other file has.
    Later {
        path: PathBuf,
        version: u64,
        shown: Option<PathBuf>,
    },
    /// Opened for reading only, though writing was asked for.
    ReadOnly {
        why: String,
        /// Whether it is because another program writes.
        held: bool,
    },
    /// What was damaged was put aside, and what could be read is now the collection.
    TakenAsOffered { aside: Vec<PathBuf> },
    /// The collection is as it was before its snapshot was altered by hand; the files as they were
    /// with that are here.
    PutBack { aside: Vec<PathBuf> },
    /// An older snapshot is the collection now; the files as they were before are here.
    Restored { from: PathBuf, aside: Vec<PathBuf> },
    /// Earlier snapshots that are no longer needed could not be removed; nothing else is amiss.
    NotPruned { why: String },
    /// A new snapshot was due and could not be written; the old one and the journal serve on.
    NotRewritten { why: String },
}

impl Notice {
    /// Whether files are damaged, altered or do not belong together.
    #[must_use]
    pub fn is_damage(&self) -> bool {
        matches!(
            self,
            Self::JournalDamaged { .. }
                | Self::NotTogether { .. }
                | Self::SnapshotAltered
                | Self::OlderOffered { .. }
                | Self::JournalOffered { .. }
                | Self::Later { .. }
        )
    }
}

impl fmt::Display for Notice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TornTail { line, bytes, aside } => {
                write!(
                    f,
                    "the last line of the journal (line {line}, {bytes} bytes) was cut off while \
                     it was written, so that step was never kept"
                )?;
                match aside {
                    Some(path) => write!(f, "; its bytes are in {}", path.display()),
                    None => Ok(()),
                }
            }
            Self::JournalDamaged { line, what } => write!(
                f,
                "the journal is damaged at line {line}: {what}. The collection is shown as it \
                 was before that line; nothing was overwritten"
            ),
            Self::NotTogether { what } => write!(
                f,
                "collection.json and journal do not belong together: {what}. The collection is \
                 shown as collection.json has it; nothing was overwritten"
            ),
            Self::SnapshotAltered => f.write_str(
                "collection.json is not as it was written: it was altered by hand or is damaged. \
                 It is shown as it now is; nothing was overwritten",
            ),
            Self::OlderOffered {
                older,
                what,
                since,
                lost,
            } => {
                write!(
                    f,
                    "collection.json {what}. The collection is shown as an earlier state of it \
                     has it, {}, ",
                    older.display()
                )?;
                match (since, lost) {
                    (0, Some(0)) => f.write_str("with which the list of steps (journal) ends")?,
                    (_, Some(0)) => write!(
                        f,
                        "with the {} since, from the list of steps (journal)",
                        count(*since, "step", "steps")
                    )?,
                    (_, Some(lost)) => {
                        write!(f, "without the {} since", count(*lost, "step", "steps"))?;
                    }
                    (_, None) => f.write_str("without any step since")?,
                }
                f.write_str("; nothing was overwritten")
            }
            Self::JournalOffered { what } => write!(
                f,
                "collection.json {what}. The collection is shown as the list of steps (journal) \
                 tells it, from the first on; nothing was overwritten"
            ),
            Self::PutBack { aside } => write!(
                f,
                "the collection is as it was before collection.json was altered; the files as \
                 they were with that: {}",
                path_words(aside)
            ),
            Self::ReadOnly { why, .. } => write!(f, "open for reading only: {why}"),
            Self::TakenAsOffered { aside } => {
                f.write_str("what could be read is now the collection; the files as they were: ")?;
                f.write_str(&path_words(aside))
            }
            Self::Restored { from, aside } => write!(
                f,
                "the collection is now as {} has it; the files as they were before: {}",
                from.display(),
                path_words(aside)
            ),
            Self::Later {
                path,
                version,
                shown,
            } => write!(
                f,
                "a later version of this program wrote {} (version {version} of its format). {}; \
                 nothing was changed",
                path.display(),
                match shown {
                    Some(shown) => format!("The collection is shown as {} has it", shown.display()),
                    None => "It is shown as far as this version understands it: some things may \
                             be missing"
                        .into(),
                }
            ),
            Self::NotPruned { why } => write!(
                f,
                "earlier states that are no longer needed could not be removed: {why}"
            ),
            Self::NotRewritten { why } => write!(
                f,
                "collection.json could not be written anew ({why}); the old one and the journal serve on"
            ),
        }
    }
}

/// What is wrong with JSON, without the place, which is told as that of the whole file.
pub(super) fn json_words(error: &serde_json::Error) -> String {
    let told = error.to_string();
    let what = told.rsplit_once(" at line ");
    what.map_or_else(|| told.clone(), |(what, _)| what.to_owned())
}
