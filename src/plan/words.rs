//! A pocket in words, on paper as on the screen.

use super::task::Grid;
use crate::model::{PocketAt, Side};

/// Side, row and column of a pocket that is counted as in [`crate::model::PageFormat::index`].
#[must_use]
pub fn pocket_at(grid: Grid, pocket: usize) -> PocketAt {
    let columns = usize::from(grid.columns).max(1);
    let at = pocket % grid.per_side().max(1);
    // Both fit: rows and columns are u8.
    PocketAt {
        side: match grid.is_front(pocket) {
            true => Side::Front,
            false => Side::Back,
        },
        row: (at / columns) as u8,
        column: (at % columns) as u8,
    }
}

/// `back, row 1, pocket 2`.
#[must_use]
pub fn pocket_words(grid: Grid, pocket: usize) -> String {
    pocket_at(grid, pocket).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::PageFormat;

    fn grid(rows: u8, columns: u8, sides: u8) -> Grid {
        Grid {
            rows,
            columns,
            sides,
            shared: false,
        }
    }

    #[test]
    fn a_pocket_is_told_in_the_words_of_the_screen() {
        for (rows, columns, sides) in [(1, 1, 1), (2, 2, 2), (3, 4, 2), (4, 1, 2), (1, 4, 1)] {
            let format = PageFormat::new(rows, columns, sides);
            for pocket in 0..format.pockets() {
                let at = format.at(pocket).unwrap();
                let told = crate::report::pocket_words(0, at);
                let here = pocket_words(grid(rows, columns, sides), pocket);
                assert_eq!(told, format!("page 1, {here}"));
            }
        }
        assert_eq!(pocket_words(grid(3, 3, 2), 10), "back, row 1, pocket 2");
        assert_eq!(pocket_words(grid(3, 3, 1), 4), "front, row 2, pocket 2");
    }

    /// Every pocket of a page has words of its own.
    #[test]
    fn no_two_pockets_are_told_alike() {
        for (rows, columns, sides) in [(1, 1, 2), (2, 2, 2), (3, 4, 2), (20, 20, 2), (5, 1, 1)] {
            let grid = grid(rows, columns, sides);
            let pockets = grid.per_side() * usize::from(sides);
            let words = (0..pockets).map(|pocket| pocket_words(grid, pocket));
            let words: std::collections::BTreeSet<_> = words.collect();
            assert_eq!(words.len(), pockets);
        }
    }
}
