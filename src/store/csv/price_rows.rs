//! Rows of a price list.

use std::io::Read;

use super::table::{Column, CsvError, Reading, USUALLY_KEPT, read};
use crate::intake::BadRow;
use crate::model::limits;
use crate::supplies::{PriceList, PriceRow};

const fn column(name: &'static str, required: bool) -> Column {
    Column {
        name,
        required,
        most: limits::WORD,
    }
}

/// The last is for the collector: a place to write where it is sold.
pub(super) const COLUMNS: [Column; 7] = [
    column("item", true),
    column("size", true),
    column("pack", false),
    column("price", false),
    column("currency", false),
    column("on_hand", false),
    Column {
        name: "note",
        required: false,
        most: limits::TEXT,
    },
];

/// Reads a price list row by row into `list`. Bad rows are left out and told.
///
/// # Errors
/// The file is not a CSV text file with the columns that are needed.
pub fn read_prices(input: impl Read, list: &mut PriceList) -> Result<Reading, CsvError> {
    read(input, &COLUMNS, USUALLY_KEPT, |row| {
        let written = PriceRow {
            item: row.text(0),
            size: row.text(1),
            pack: row.text(2),
            price: row.text(3),
            currency: row.text(4),
            on_hand: row.text(5),
        };
        list.row(&written).map_err(|error| BadRow {
            line: row.line(),
            column: error.column,
            why: error.why,
        })
    })
}
