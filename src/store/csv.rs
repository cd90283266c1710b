//! CSV of RFC 4180: reading strictly and with exact places of what is wrong, and writing.

mod card_rows;
mod copy_rows;
mod guard;
mod price_rows;
mod record;
mod table;
mod write;

pub use card_rows::{read_checklist, read_checklist_telling};
pub use copy_rows::{read_copies, read_copies_telling};
pub use guard::Form;
pub use price_rows::read_prices;
pub use table::{CsvError, Problem, Reading, USUALLY_KEPT, Whereabouts};
pub use write::{CsvWriter, PlacedRow, write_checklist, write_copies, write_placed};

#[cfg(test)]
mod tests;
