//! The pocket under the cursor, and how it moves from side to side as pages are leafed through.

use crate::model::{Binder, Page, PocketAt, Side};

/// A pocket of an open binder: position of the page, and where on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Cursor {
    pub(super) page: usize,
    pub(super) at: PocketAt,
}

impl Default for Cursor {
    fn default() -> Self {
        Self::on(0, Side::Front)
    }
}

impl Cursor {
    /// The first pocket of a side.
    fn on(page: usize, side: Side) -> Self {
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
    pub(super) fn at(binder: &Binder, page: usize, pocket: usize) -> Self {
        let at = binder.pages().get(page);
        let at = at.and_then(|page| page.format().at(pocket));
        match at {
            Some(at) => Self { page, at },
            None => Self::on(page, Side::Front).within(binder),
        }
    }

    /// The first pocket of the last side.
    pub(super) fn last(binder: &Binder) -> Self {
        Self::on(binder.pages().len().saturating_sub(1), Side::Back).within(binder)
    }

    /// The same place, or the nearest that the binder has.
    pub(super) fn within(self, binder: &Binder) -> Self {
        let page = self.page.min(binder.pages().len().saturating_sub(1));
        let Some(format) = binder.pages().get(page).map(Page::format) else {
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

    fn moved(self, page: usize, side: Side) -> Self {
        Self {
            page,
            at: PocketAt { side, ..self.at },
        }
    }

    /// The next side that has pockets, in the order in which one leafs.
    pub(super) fn side_on(self, binder: &Binder) -> Option<Self> {
        let format = binder.pages().get(self.page)?.format();
        if self.at.side == Side::Front && format.has_side(Side::Back) {
            return Some(self.moved(self.page, Side::Back));
        }
        binder.pages().get(self.page + 1)?;
        Some(self.moved(self.page + 1, Side::Front))
    }

    /// The side before.
    pub(super) fn side_back(self, binder: &Binder) -> Option<Self> {
        if self.at.side == Side::Back {
            return Some(self.moved(self.page, Side::Front));
        }
        let page = self.page.checked_sub(1)?;
        let format = binder.pages().get(page)?.format();
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

    pub(super) fn spread_on(self, binder: &Binder) -> Self {
        self.to_spread(binder, self.spread() + 1)
            .or_else(|| self.to_spread(binder, self.spread() + 2))
            .unwrap_or(self)
    }

    pub(super) fn spread_back(self, binder: &Binder) -> Self {
        let before = self.spread().checked_sub(1);
        before
            .and_then(|spread| self.to_spread(binder, spread))
            .unwrap_or(self)
    }

    /// Into another spread, at the same side of the rings where that side has pockets.
    fn to_spread(self, binder: &Binder, spread: usize) -> Option<Self> {
        let left = spread.checked_sub(1).filter(|page| {
            let page = binder.pages().get(*page);
            page.is_some_and(|page| page.format().has_side(Side::Back))
        });
        let right = Some(spread).filter(|page| *page < binder.pages().len());
        let left = left.map(|page| self.moved(page, Side::Back));
        let right = right.map(|page| self.moved(page, Side::Front));
        match self.at.side {
            Side::Back => left.or(right),
            Side::Front => right.or(left),
        }
    }

    pub(super) fn right(self, binder: &Binder) -> Self {
        let columns = self.columns(binder);
        if self.at.column + 1 < columns {
            return self.column(self.at.column + 1);
        }
        self.side_on(binder).map_or(self, |next| next.column(0))
    }

    pub(super) fn left(self, binder: &Binder) -> Self {
        match self.at.column.checked_sub(1) {
            Some(column) => self.column(column),
            None => self
                .side_back(binder)
                .map_or(self, |before| before.column(u8::MAX)),
        }
    }

    pub(super) fn up(self) -> Self {
        self.row(self.at.row.saturating_sub(1))
    }

    pub(super) fn down(self, binder: &Binder) -> Self {
        self.row(self.at.row + 1).within(binder)
    }

    fn columns(self, binder: &Binder) -> u8 {
        let page = binder.pages().get(self.page);
        page.map_or(1, |page| page.format().columns)
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
