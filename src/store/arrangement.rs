//! Arrangements in files: binders with their pages and cards, without a collection, as the
//! planner is asked about them.
//!
//! What a file must hold is told by `ringbound plan --help`. A file that does not is refused with
//! the line and column of what is wrong.

mod object;
mod pair;
mod read;

pub use pair::{Paired, Which, Wrong, pair};
pub use read::{Arrangement, read_arrangement};

use std::fmt;

/// The most pages and pockets in one file: far more than stand on any shelf, and few enough to
/// be planned in a moment.
pub const MOST_PAGES: usize = 5_000;
pub const MOST_POCKETS: usize = 400_000;

/// The most bytes that are read.
pub const MOST_BYTES: u64 = 64 << 20;

/// A place in a file. Lines and columns count from 1, columns in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineColumn {
    pub line: usize,
    pub column: usize,
}

impl fmt::Display for LineColumn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}", self.line, self.column)
    }
}

/// Something about a file, and where: why it cannot be read, or a note.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{at}: {what}")]
pub struct Remark {
    pub at: LineColumn,
    pub what: String,
}
