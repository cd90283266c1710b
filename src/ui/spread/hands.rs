//! What hands are at in an open binder: only the screen knows it, and drawing shows it.

use super::Cursor;
use crate::model::Place;
use crate::ui::book::{Book, Lifted};

/// The marked run and what is in hand.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Hands<'a> {
    /// Where a marked run begins; it ends at the cursor.
    pub(crate) mark: Option<Cursor>,
    pub(crate) carried: Option<Carried<'a>>,
}

/// Something in hand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Carried<'a> {
    /// What it is, for the label that travels with it.
    pub(crate) label: &'a str,
    /// The pockets that cards in hand came from.
    pub(crate) from: &'a [Place],
    /// Pages in hand, and where they would be put down.
    pub(crate) pages: Option<&'a Lifted>,
    /// Where the pointer is, while the mouse button that holds it is down.
    pub(crate) pointer: Option<(u16, u16)>,
    /// The cursor is where it would land, and not only where it has come from to a miniature.
    pub(crate) is_here: bool,
}

impl Hands<'_> {
    /// The pages in hand, as the book shows them.
    pub(crate) fn lifted(self) -> Option<Lifted> {
        self.carried?.pages.cloned()
    }

    /// Whether a pocket belongs to the marked run, which ends at `end`.
    pub(crate) fn marks(self, book: &Book<'_>, end: Cursor, pocket: Cursor) -> bool {
        let Some(mark) = self.mark else {
            return false;
        };
        let order = |cursor: Cursor| (cursor.page, cursor.at);
        let (a, b) = (order(mark.within(book)), order(end.within(book)));
        (a.min(b)..=a.max(b)).contains(&order(pocket))
    }

    /// Whether the card of this pocket is in hand.
    pub(super) fn is_under_way(self, place: Place) -> bool {
        self.carried
            .is_some_and(|carried| carried.from.contains(&place))
    }
}
