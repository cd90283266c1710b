//! Rows of copies.

use std::io::Read;

use super::table::{Column, CsvError, Reading, Row, USUALLY_KEPT, read};
use crate::intake::{BadRow, CopyRow};
use crate::model::limits;

const fn column(name: &'static str, required: bool) -> Column {
    Column {
        name,
        required,
        most: limits::WORD,
    }
}

/// In the order in which they are written.
pub(super) const COLUMNS: [Column; 4] = [
    column("set", true),
    column("number", true),
    column("finish", false),
    column("count", false),
];

/// Reads copies row by row. `each` may refuse a row too.
///
/// # Errors
/// The file is not a CSV text file with the columns that are needed.
pub fn read_copies(
    input: impl Read,
    each: impl FnMut(CopyRow<'_>) -> Result<(), BadRow>,
) -> Result<Reading, CsvError> {
    read_copies_telling(input, USUALLY_KEPT, each)
}

/// The same; the first `most` bad rows are kept.
///
/// # Errors
/// As [`read_copies`].
pub fn read_copies_telling(
    input: impl Read,
    most: usize,
    mut each: impl FnMut(CopyRow<'_>) -> Result<(), BadRow>,
) -> Result<Reading, CsvError> {
    read(input, &COLUMNS, most, |row| each(copy_row(row)?))
}

fn copy_row<'a>(row: &Row<'a>) -> Result<CopyRow<'a>, BadRow> {
    Ok(CopyRow {
        line: row.line(),
        set: row.text(0),
        number: row.text(1),
        finish: row.text(2).trim(),
        count: count(row)?,
    })
}

fn count(row: &Row<'_>) -> Result<u32, BadRow> {
    let written = row.text(3).trim();
    if written.is_empty() {
        return Ok(1);
    }
    let digits = written.bytes().all(|b| b.is_ascii_digit());
    let count = written.parse().ok().filter(|_| digits);
    count
        .filter(|count| *count <= limits::COPIES)
        .ok_or_else(|| BadRow {
            line: row.line(),
            column: COLUMNS[3].name,
            why: format!(
                "“{written}” is no count; write a whole number from 0 to {}",
                limits::COPIES
            ),
        })
}
