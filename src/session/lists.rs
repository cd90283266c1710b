//! Lists out to files, and the lists of another collector in.

use std::fs::File;
use std::io::{self, Read, Write};
use std::path::Path;

use super::watched::Watched;
use super::words::cannot_read;
use crate::intake::{Copies, RowKnown};
use crate::model::Collection;
use crate::report::{Listed, Stock};
use crate::store::csv::{
    CsvError, Form, PlacedRow, Reading, USUALLY_KEPT, read_copies, write_placed,
};
use crate::text;

/// What another collector's list says.
#[derive(Clone, Debug, Default)]
pub struct TheirList {
    pub stock: Stock,
    /// Rows of sets that are not here; they are passed over.
    pub foreign: u64,
    /// Rows of cards that the checklists of sets that are here do not have; likewise.
    pub unknown: u64,
    /// The first of either, in the order of the file.
    pub passed: Vec<PassedRow>,
}

/// A row of such a list that was passed over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PassedRow {
    /// Where it begins in its file, from 1.
    pub line: u64,
    /// As the file has it: the code of the set and the number.
    pub card: String,
    /// The set is not here; else its checklist does not have the card.
    pub is_foreign: bool,
}

impl PassedRow {
    #[must_use]
    pub fn why(&self) -> &'static str {
        match self.is_foreign {
            true => "no set here has this code",
            false => "no such card is in its set",
        }
    }
}

impl TheirList {
    /// What was passed over, if anything was: `2 rows are of sets that are not here`.
    #[must_use]
    pub fn passed_over(&self) -> Option<String> {
        let rows = |many: u64| text::count(many, "row is", "rows are");
        let foreign = || format!("{} of sets that are not here", rows(self.foreign));
        match (self.foreign, self.unknown) {
            (0, 0) => None,
            (_, 0) => Some(foreign()),
            (0, many) => Some(format!("{} of cards that no checklist has", rows(many))),
            (_, many) => Some(format!(
                "{}, {many} of cards that no checklist has",
                foreign()
            )),
        }
    }
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
    let (mut foreign, mut unknown) = (0, 0);
    let mut passed = Vec::new();
    let reading = read_copies(input, |row| {
        let is_foreign = match copies.knows(&row) {
            RowKnown::Nothing => true,
            RowKnown::Set => false,
            RowKnown::Card => return copies.row(&row),
        };
        foreign += u64::from(is_foreign);
        unknown += u64::from(!is_foreign);
        if passed.len() < USUALLY_KEPT {
            passed.push(PassedRow {
                line: row.line,
                card: format!("{} {}", row.set, row.number),
                is_foreign,
            });
        }
        Ok(())
    })?;
    let stock = copies.counts().clone();
    let list = TheirList {
        stock,
        foreign,
        unknown,
        passed,
    };
    Ok((reading, list))
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
/// Why not, as a sentence. One that begins with the name of the file has it as it is written.
pub fn their_file(
    collection: &Collection,
    path: &Path,
    watch: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<TheirList, String> {
    let shown = path.display();
    let unread = |e: &io::Error| text::sentence(cannot_read(&shown, e));
    let file = open_plain(path).map_err(|e| unread(&e))?;
    let bytes = file.metadata().map_err(|e| unread(&e))?.len();
    let file = Watched::new(file, |read| watch(read, bytes));
    let (reading, list) = their_list(collection, file).map_err(|e| match e {
        CsvError::Io(e) => unread(&e),
        e => e.told(&shown),
    })?;
    if let Some(ask) = reading.ask_of_mistyped() {
        return Err(format!("{shown}: {ask}"));
    }
    match (reading.problems.first(), reading.bad) {
        (Some(problem), 0 | 1) => Err(format!("{shown}, {problem}")),
        (Some(problem), bad) => Err(format!("{shown}: {bad} rows are bad; {problem}")),
        (None, _) => Ok(list),
    }
}
