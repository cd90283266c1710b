//! A pocket as one would say it, the same on paper and on the screen.

use super::task::Grid;

const ORDINALS: [&str; 20] = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
    "seventeenth",
    "eighteenth",
    "nineteenth",
    "twentieth",
];

/// `back` or `front`; nothing on a page that is loaded on its front only.
#[must_use]
pub fn side_words(grid: Grid, pocket: usize) -> &'static str {
    match (grid.sides, grid.is_front(pocket)) {
        (..2, _) => "",
        (_, true) => "front",
        (_, false) => "back",
    }
}

/// `top row, second pocket`: rows from the top, pockets from the left. Without the side.
#[must_use]
pub fn row_words(grid: Grid, pocket: usize) -> String {
    let columns = usize::from(grid.columns).max(1);
    let at = pocket % grid.per_side().max(1);
    let (row, column) = (at / columns, at % columns);
    let row = match (row, usize::from(grid.rows)) {
        (0, 1) => "",
        (0, _) => "top",
        (1, 3) => "middle",
        (row, rows) if row + 1 == rows => "bottom",
        (row, _) => ordinal(row),
    };
    match (row, columns) {
        ("", 1) => "the pocket".into(),
        ("", _) => format!("{} pocket", ordinal(column)),
        (row, 1) => format!("{row} pocket"),
        (row, _) => format!("{row} row, {} pocket", ordinal(column)),
    }
}

/// `back, top row, second pocket`.
#[must_use]
pub fn pocket_words(grid: Grid, pocket: usize) -> String {
    match side_words(grid, pocket) {
        "" => row_words(grid, pocket),
        side => format!("{side}, {}", row_words(grid, pocket)),
    }
}

fn ordinal(at: usize) -> &'static str {
    // A page has at most 20 rows and columns.
    ORDINALS.get(at).copied().unwrap_or("last")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(rows: u8, columns: u8, sides: u8) -> Grid {
        Grid {
            rows,
            columns,
            sides,
            shared: false,
        }
    }

    #[test]
    fn a_pocket_is_told_as_one_would_say_it() {
        assert_eq!(
            pocket_words(grid(3, 3, 2), 10),
            "back, top row, second pocket"
        );
        assert_eq!(pocket_words(grid(3, 3, 1), 4), "middle row, second pocket");
        assert_eq!(
            pocket_words(grid(2, 2, 2), 3),
            "front, bottom row, second pocket"
        );
        assert_eq!(pocket_words(grid(4, 3, 1), 6), "third row, first pocket");
        assert_eq!(pocket_words(grid(1, 4, 1), 3), "fourth pocket");
        assert_eq!(pocket_words(grid(4, 1, 2), 7), "back, bottom pocket");
        assert_eq!(pocket_words(grid(1, 1, 1), 0), "the pocket");
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
