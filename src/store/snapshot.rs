//! The snapshot: the whole collection as readable JSON in a stable order.
//!
//! A card of a checklist is a line, a side of a page is a line, and what is usual is left out. A
//! pocket that holds the card it is meant for is that card's number, a gap is the number in
//! parentheses, a pocket that is for nothing is an empty string; what is unusual is a small
//! object. `assets/collection.schema.json` describes it whole.

mod put;
mod read;
mod seal;
mod side;
mod unpaired;
mod usual;
mod write;

pub(super) use read::read_later;
pub use read::{ReadError, Snapshot, read_snapshot};
pub(super) use seal::sealed_with;
pub use write::write_snapshot;

use crate::model::Binder;

/// What a snapshot calls its format.
const FORMAT: &str = "ringbound-collection";
/// The one version there is.
const VERSION: u64 = 1;

/// Whether contents and layout go page by page, in the same formats, so that one list of pages
/// can say both.
fn is_paired(binder: &Binder) -> bool {
    let pages = binder.pages().iter();
    binder.pages().len() == binder.layout().pages.len()
        && pages
            .zip(&binder.layout().pages)
            .all(|(page, meant)| page.format() == meant.format())
}
