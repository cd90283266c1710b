//! Lists out to files, and the lists of another collector in.

use std::fs::File;
use std::io::{self, Read, Write};
use std::path::Path;

use super::watched::Watched;
use super::words::cannot_read;
use crate::intake::Copies;
use crate::model::Collection;
use crate::report::{Listed, Stock};
use crate::store::csv::{CsvError, Form, PlacedRow, Reading, read_copies, write_placed};

/// What another collector's list says.
#[derive(Clone, Debug, Default)]
pub struct TheirList {
    pub stock: Stock,
    /// Rows of sets that are not here; they are passed over.
    pub foreign: u64,
}

/// Reads a list of another collector: rows of copies.
///
/// # Errors
/// It is not a CSV text file with the columns that are needed.
pub fn their_list(
    collection: &Collection,
    input: impl Read,
) -> Result<(Reading, TheirList), CsvError> {
    let mut copies = Copies::new(collection);
    let mut foreign = 0;
    let reading = read_copies(input, |row| {
        if collection.set_by_code(row.set).is_none() {
            foreign += 1;
            return Ok(());
        }
        copies.row(&row)
    })?;
    let stock = copies.counts().clone();
    Ok((reading, TheirList { stock, foreign }))
}

/// Opens a file to read. What is no regular file is refused unopened, since a pipe is waited for.
///
/// # Errors
/// It cannot be opened, or is none.
pub(super) fn open_plain(path: &Path) -> io::Result<File> {
    let about = std::fs::metadata(path)?;
    if about.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    if !about.is_file() {
        return Err(io::Error::other("it is no regular file"));
    }
    File::open(path)
}

/// Writes a list as CSV: the columns of copies, and further ones for the card and its pocket.
///
/// # Errors
/// Writing fails.
pub fn write_listed(
    to: impl Write,
    collection: &Collection,
    rows: impl IntoIterator<Item = Listed>,
    form: Form,
) -> io::Result<()> {
    let rows = rows.into_iter().map(|row| PlacedRow {
        printing: row.printing,
        count: row.count,
        place: row.place.zip(row.at),
    });
    write_placed(to, collection, rows, form)
}

/// [`their_list`] of a file, for work beside the keys. A file with bad rows is not taken. `watch` is
/// told how many bytes of how many are read, and says whether to go on.
///
/// # Errors
/// Why not, in words for a person.
pub fn their_file(
    collection: &Collection,
    path: &Path,
    watch: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<TheirList, String> {
    let shown = path.display();
    let unread = |e: &io::Error| cannot_read(&shown, e);
    let file = open_plain(path).map_err(|e| unread(&e))?;
    let bytes = file.metadata().map_err(|e| unread(&e))?.len();
    let file = Watched::new(file, |read| watch(read, bytes));
    let (reading, list) = their_list(collection, file).map_err(|e| match e {
        CsvError::Io(e) => unread(&e),
        e => e.told(&shown),
    })?;
    match (reading.problems.first(), reading.bad) {
        (Some(problem), 0 | 1) => Err(format!("{shown}, {problem}")),
        (Some(problem), bad) => Err(format!("{shown}: {bad} rows are bad; {problem}")),
        (None, _) => Ok(list),
    }
}
