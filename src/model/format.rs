//! Page formats: the grid of pockets of a page, and how a pocket is counted.

use std::fmt;

use crate::text::Choice;

/// Where a pocket is open, which decides how a card can slip out and what is in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Opening {
    Top,
    Side,
}

impl Choice for Opening {
    const WORDS: &'static [(&'static str, Self)] = &[("side", Self::Side), ("top", Self::Top)];
}

/// Front or back of a page. The front is what lies at the right of the rings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    Front,
    Back,
}

impl Choice for Side {
    const WORDS: &'static [(&'static str, Self)] = &[("front", Self::Front), ("back", Self::Back)];
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// The kind of a page. Two pages are interchangeable when [`PageFormat::same_grid`] holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct PageFormat {
    pub rows: u8,
    pub columns: u8,
    /// 1 when cards are put in from the front only, 2 when front and back are both loaded.
    pub sides: u8,
    /// Front and back of a place are one pocket: two cards lie in it back to back.
    pub shared: bool,
    pub opening: Opening,
    /// Inner width and height of a pocket in tenths of a millimetre; 0 when not known.
    pub pocket_width: u16,
    pub pocket_height: u16,
}

/// A pocket on a page: side, row and column, rows and columns counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct PocketAt {
    pub side: Side,
    pub row: u8,
    pub column: u8,
}

impl PocketAt {
    /// `row 1, pocket 2`: rows from the top, pockets from the left, counted from 1.
    #[must_use]
    pub fn row_words(self) -> String {
        format!("row {}, pocket {}", self.row + 1, self.column + 1)
    }
}

/// `back, row 1, pocket 2`: the words for it on every screen and on paper.
impl fmt::Display for PocketAt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, {}", self.side, self.row_words())
    }
}

impl PageFormat {
    /// The most rows or columns a page may have.
    pub const MOST: u8 = 20;

    /// A page of `rows` x `columns` loaded on `sides` sides, pockets of unknown size, side opening.
    #[must_use]
    pub fn new(rows: u8, columns: u8, sides: u8) -> Self {
        Self {
            rows,
            columns,
            sides,
            shared: false,
            opening: Opening::Side,
            pocket_width: 0,
            pocket_height: 0,
        }
    }

    /// Whether the numbers make a page: 1 to 20 rows and columns, 1 or 2 sides, and a shared
    /// pocket only where both sides are loaded.
    #[must_use]
    pub fn is_possible(&self) -> bool {
        (1..=Self::MOST).contains(&self.rows)
            && (1..=Self::MOST).contains(&self.columns)
            && (1..=2).contains(&self.sides)
            && (!self.shared || self.sides == 2)
    }

    /// Places on one side: rows x columns.
    #[must_use]
    pub fn per_side(&self) -> usize {
        usize::from(self.rows) * usize::from(self.columns)
    }

    /// Pockets (places for one card) on the whole page.
    #[must_use]
    pub fn pockets(&self) -> usize {
        self.per_side() * usize::from(self.sides)
    }

    /// Whether a card in one such page could lie at the same place of the other: rows, columns,
    /// sides and sharing agree. Pocket size and opening do not count.
    #[must_use]
    pub fn same_grid(&self, other: &Self) -> bool {
        self.rows == other.rows
            && self.columns == other.columns
            && self.sides == other.sides
            && self.shared == other.shared
    }

    #[must_use]
    pub fn has_side(&self, side: Side) -> bool {
        side == Side::Front || self.sides == 2
    }

    /// The running number of a pocket: front row by row, then back row by row, from 0.
    /// `None` when the page has no such pocket.
    #[must_use]
    pub fn index(&self, at: PocketAt) -> Option<usize> {
        if at.row >= self.rows || at.column >= self.columns || !self.has_side(at.side) {
            return None;
        }
        let before = match at.side {
            Side::Front => 0,
            Side::Back => self.per_side(),
        };
        Some(before + usize::from(at.row) * usize::from(self.columns) + usize::from(at.column))
    }

    /// Side, row and column of the `index`-th pocket; the reverse of [`PageFormat::index`].
    #[must_use]
    pub fn at(&self, index: usize) -> Option<PocketAt> {
        if index >= self.pockets() {
            return None;
        }
        let side = if index < self.per_side() {
            Side::Front
        } else {
            Side::Back
        };
        let rest = index % self.per_side();
        let columns = usize::from(self.columns);
        // Both fit: rows and columns are u8.
        Some(PocketAt {
            side,
            row: (rest / columns) as u8,
            column: (rest % columns) as u8,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn index_and_at_are_each_others_reverse() {
        for (rows, columns, sides) in [(1, 1, 1), (2, 2, 2), (3, 1, 2), (3, 3, 1), (3, 4, 2)] {
            let format = PageFormat::new(rows, columns, sides);
            for index in 0..format.pockets() {
                let at = format.at(index).unwrap();
                assert_eq!(format.index(at), Some(index));
            }
            assert_eq!(format.at(format.pockets()), None);
        }
    }

    #[test]
    fn a_single_sided_page_has_no_back() {
        let at = PocketAt {
            side: Side::Back,
            row: 0,
            column: 0,
        };
        assert_eq!(PageFormat::new(3, 3, 1).index(at), None);
        assert_eq!(PageFormat::new(3, 3, 2).index(at), Some(9));
    }
}
