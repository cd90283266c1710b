//! The pocket under the cursor, and how it moves from side to side as pages are leafed through.

use crate::model::{Place, PocketAt, Side};
use crate::ui::book::Book;

/// A pocket of an open binder: position of the page, and where on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Cursor {
    pub(crate) page: usize,
    pub(crate) at: PocketAt,
}

impl Default for Cursor {
    fn default() -> Self {
        Self::on(0, Side::Front)
    }
}

impl Cursor {
    /// The first pocket of a side.
    pub(crate) fn on(page: usize, side: Side) -> Self {
        Self {
            page,
            at: PocketAt {
                side,
                row: 0,
                column: 0,
            },
        }
    }

    /// The pocket of this index, or the first of the page nearest to it.
    pub(crate) fn at(book: &Book<'_>, page: usize, pocket: usize) -> Self {
        let at = book.format(page).and_then(|format| format.at(pocket));
        match at {
            Some(at) => Self { page, at },
            None => Self::on(page, Side::Front).within(book),
        }
    }

    /// The first pocket of the last side.
    pub(super) fn last(book: &Book<'_>) -> Self {
        Self::on(book.len().saturating_sub(1), Side::Back).within(book)
    }

    /// The same place, or the nearest that the binder has.
    pub(crate) fn within(self, book: &Book<'_>) -> Self {
        let page = self.page.min(book.len().saturating_sub(1));
        let Some(format) = book.format(page) else {
            return Self::default();
        };
        let side = if format.has_side(self.at.side) {
            self.at.side
        } else {
            Side::Front
        };
        Self {
            page,
            at: PocketAt {
                side,
                row: self.at.row.min(format.rows - 1),
                column: self.at.column.min(format.columns - 1),
            },
        }
    }

    /// The pocket that it stands on; `None` when there are no pages.
    pub(crate) fn place(self, book: &Book<'_>) -> Option<Place> {
        let cursor = self.within(book);
        let pocket = book.format(cursor.page)?.index(cursor.at)?;
        Some(book.place(cursor.page, pocket))
    }

    fn moved(self, page: usize, side: Side) -> Self {
        Self {
            page,
            at: PocketAt { side, ..self.at },
        }
    }

    /// One side on or back.
    pub(crate) fn leafed(self, book: &Book<'_>, on: bool) -> Self {
        let cursor = self.within(book);
        let to = match on {
            true => cursor.side_on(book),
            false => cursor.side_back(book),
        };
        to.unwrap_or(cursor)
    }

    /// The next side that has pockets, in the order in which one leafs.
    fn side_on(self, book: &Book<'_>) -> Option<Self> {
        let format = book.format(self.page)?;
        if self.at.side == Side::Front && format.has_side(Side::Back) {
            return Some(self.moved(self.page, Side::Back));
        }
        book.format(self.page + 1)?;
        Some(self.moved(self.page + 1, Side::Front))
    }

    /// The side before.
    fn side_back(self, book: &Book<'_>) -> Option<Self> {
        if self.at.side == Side::Back {
            return Some(self.moved(self.page, Side::Front));
        }
        let page = self.page.checked_sub(1)?;
        let format = book.format(page)?;
        let side = if format.has_side(Side::Back) {
            Side::Back
        } else {
            Side::Front
        };
        Some(self.moved(page, side))
    }

    /// The number of the spread: 0 is the first front alone, with the cover at its left.
    pub(super) fn spread(self) -> usize {
        self.page + usize::from(self.at.side == Side::Back)
    }

    pub(super) fn spread_on(self, book: &Book<'_>) -> Self {
        self.to_spread(book, self.spread() + 1)
            .or_else(|| self.to_spread(book, self.spread() + 2))
            .unwrap_or(self)
    }

    pub(super) fn spread_back(self, book: &Book<'_>) -> Self {
        let before = self.spread().checked_sub(1);
        before
            .and_then(|spread| self.to_spread(book, spread))
            .unwrap_or(self)
    }

    /// Into another spread, at the same side of the rings where that side has pockets.
    fn to_spread(self, book: &Book<'_>, spread: usize) -> Option<Self> {
        let left = spread.checked_sub(1).filter(|page| {
            let format = book.format(*page);
            format.is_some_and(|format| format.has_side(Side::Back))
        });
        let right = Some(spread).filter(|page| *page < book.len());
        let left = left.map(|page| self.moved(page, Side::Back));
        let right = right.map(|page| self.moved(page, Side::Front));
        match self.at.side {
            Side::Back => left.or(right),
            Side::Front => right.or(left),
        }
    }

    pub(super) fn right(self, book: &Book<'_>) -> Self {
        let columns = self.columns(book);
        if self.at.column + 1 < columns {
            return self.column(self.at.column + 1);
        }
        self.side_on(book).map_or(self, |next| next.column(0))
    }

    pub(super) fn left(self, book: &Book<'_>) -> Self {
        match self.at.column.checked_sub(1) {
            Some(column) => self.column(column),
            None => self
                .side_back(book)
                .map_or(self, |before| before.column(u8::MAX)),
        }
    }

    pub(super) fn up(self) -> Self {
        self.row(self.at.row.saturating_sub(1))
    }

    pub(super) fn down(self, book: &Book<'_>) -> Self {
        self.row(self.at.row + 1).within(book)
    }

    fn columns(self, book: &Book<'_>) -> u8 {
        book.format(self.page).map_or(1, |format| format.columns)
    }

    fn column(self, column: u8) -> Self {
        Self {
            at: PocketAt { column, ..self.at },
            ..self
        }
    }

    fn row(self, row: u8) -> Self {
        Self {
            at: PocketAt { row, ..self.at },
            ..self
        }
    }
}
