//! The steps of the work.

use super::task::{At, Card, Grid};

/// A page by its number: the pages of all binders in shelf order as they were at the beginning,
/// from 0, then those that were added.
pub type PageNumber = usize;

/// One step. Where a page is, is where it is when the step's turn comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WorkStep {
    /// A card is taken out of its pocket.
    Lift {
        page: PageNumber,
        at: At,
        pocket: usize,
        card: Card,
    },
    /// A lifted or loose card is put into an empty pocket.
    Seat {
        page: PageNumber,
        at: At,
        pocket: usize,
        card: Card,
    },
    /// A page goes elsewhere with all that is in it; the place in `to` is counted when it has
    /// been taken out.
    MovePage { page: PageNumber, from: At, to: At },
    /// An empty page comes in, to become this page of the layout.
    AddPage {
        page: PageNumber,
        to: At,
        grid: Grid,
        meant: At,
    },
    /// An empty page is taken out.
    RemovePage { page: PageNumber, from: At },
}
