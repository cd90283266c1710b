//! Rows of a checklist.

use std::io::Read;

use super::table::{Column, CsvError, Reading, Row, USUALLY_KEPT, read};
use crate::intake::{BadRow, CardRow};
use crate::model::{CardSize, limits};
use crate::text::parse_tenths;

const fn column(name: &'static str, required: bool, most: usize) -> Column {
    Column {
        name,
        required,
        most,
    }
}

const SET: usize = 0;
const NUMBER: usize = 1;
const NAME: usize = 2;
const SET_TITLE: usize = 3;
const SYMBOL: usize = 4;
const SHELF: usize = 5;
const RARITY: usize = 6;
const FINISHES: usize = 7;
const WIDTH: usize = 8;
const HEIGHT: usize = 9;

/// In the order in which they are written.
pub(super) const COLUMNS: [Column; 10] = [
    column("set", true, limits::WORD),
    column("number", true, limits::WORD),
    column("name", true, limits::TEXT),
    column("set_title", false, limits::TEXT),
    column("symbol", false, limits::WORD),
    column("shelf", false, limits::WORD),
    column("rarity", false, limits::WORD),
    column("finishes", false, limits::FINISHES * (limits::WORD + 1)),
    column("width_mm", false, limits::WORD),
    column("height_mm", false, limits::WORD),
];

/// Reads a checklist row by row. `each` may refuse a row too.
///
/// # Errors
/// The file is not a CSV text file with the columns that are needed.
pub fn read_checklist(
    input: impl Read,
    each: impl FnMut(CardRow<'_>) -> Result<(), BadRow>,
) -> Result<Reading, CsvError> {
    read_checklist_telling(input, USUALLY_KEPT, each)
}

/// The same; the first `most` bad rows are kept.
///
/// # Errors
/// As [`read_checklist`].
pub fn read_checklist_telling(
    input: impl Read,
    most: usize,
    mut each: impl FnMut(CardRow<'_>) -> Result<(), BadRow>,
) -> Result<Reading, CsvError> {
    read(input, &COLUMNS, most, |row| each(card_row(row)?))
}

fn card_row<'a>(row: &Row<'a>) -> Result<CardRow<'a>, BadRow> {
    let text = |column| row.text(column);
    Ok(CardRow {
        line: row.line(),
        set: text(SET),
        number: text(NUMBER),
        name: text(NAME),
        set_title: text(SET_TITLE),
        symbol: text(SYMBOL),
        shelf: text(SHELF),
        rarity: text(RARITY),
        finishes: text(FINISHES).trim(),
        size: size(row)?,
    })
}

fn size(row: &Row<'_>) -> Result<Option<CardSize>, BadRow> {
    /// Tenths of a millimetre; no card is wider than 10 m.
    const MOST: u32 = 100_000;
    let length = |at: usize| {
        let written = row.text(at).trim();
        if written.is_empty() {
            return Ok(None);
        }
        let tenths = parse_tenths(written).filter(|tenths| (1..=MOST).contains(tenths));
        tenths.map(Some).ok_or_else(|| BadRow {
            line: row.line(),
            column: COLUMNS[at].name,
            why: format!("“{written}” is no length; write millimetres as 63 or 63.5"),
        })
    };
    match (length(WIDTH)?, length(HEIGHT)?) {
        (None, None) => Ok(None),
        (Some(width), Some(height)) => Ok(Some(CardSize { width, height })),
        (width, _) => {
            let missing = if width.is_none() { WIDTH } else { HEIGHT };
            Err(BadRow {
                line: row.line(),
                column: COLUMNS[missing].name,
                why: "a size needs both width_mm and height_mm, or neither".into(),
            })
        }
    }
}
