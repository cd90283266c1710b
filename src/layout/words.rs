//! Page formats as a person writes and reads them: `3x4` is three rows of four pockets.

use crate::model::{Opening, PageFormat};

/// Words that do not make a page format; the text says what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct WordsError(String);

/// What is taken where nothing is said: 3 rows of 3, both sides, side opening.
#[must_use]
pub fn default_format() -> PageFormat {
    PageFormat::new(3, 3, 2)
}

/// Rows and columns of `3x4` (or `3×4`, `3 x 4`); `1` is one pocket.
///
/// # Errors
/// Not of this form, or not 1 to 20 rows and columns.
pub fn parse_grid(words: &str) -> Result<(u8, u8), WordsError> {
    let wrong = || {
        WordsError(format!(
            "a page is written rows x columns, each 1 to {}: 3x3, 3x4, 2x2, 3x1, or 1 for one pocket",
            PageFormat::MOST
        ))
    };
    if words.trim() == "1" {
        return Ok((1, 1));
    }
    let (rows, columns) = words.split_once(['x', 'X', '×']).ok_or_else(wrong)?;
    let count = |text: &str| {
        let text = text.trim();
        let plain = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        let count = text.parse().ok().filter(|_| plain);
        count.filter(|count| (1..=PageFormat::MOST).contains(count))
    };
    count(rows).zip(count(columns)).ok_or_else(wrong)
}

/// Width and height of a pocket, written `64x89` in millimetres, in tenths of a millimetre.
///
/// # Errors
/// Not of this form, or not 1 to 1,000 mm.
pub fn parse_pocket(words: &str) -> Result<(u16, u16), WordsError> {
    let wrong = || {
        WordsError(
            "a pocket is written width x height in millimetres, each 1 to 1000: 64x89 or 63.5x88.9"
                .into(),
        )
    };
    let (width, height) = words.split_once(['x', 'X', '×']).ok_or_else(wrong)?;
    let tenths = |text: &str| {
        let tenths = crate::text::parse_tenths(text.trim())?;
        u16::try_from(tenths)
            .ok()
            .filter(|t| (10..=10_000).contains(t))
    };
    tenths(width).zip(tenths(height)).ok_or_else(wrong)
}

/// What [`parse_grid`] reads.
#[must_use]
pub fn grid_word(format: &PageFormat) -> String {
    format!("{}x{}", format.rows, format.columns)
}

/// The format in words, as a person tells it.
#[must_use]
pub fn describe(format: &PageFormat) -> String {
    let grid = match (format.rows, format.columns) {
        (1, 1) => "one pocket".into(),
        (1, columns) => format!("1 row of {columns} pockets"),
        (rows, 1) => format!("{rows} rows of one pocket"),
        (rows, columns) => format!("{rows} rows of {columns} pockets"),
    };
    let sides = match (format.sides, format.shared) {
        (1, _) => "one side",
        (_, false) => "both sides",
        (_, true) => "both sides, front and back share a pocket",
    };
    let opening = match format.opening {
        Opening::Top => "open at the top",
        Opening::Side => "open at the side",
    };
    let mut words = format!("{grid}, {sides}, {opening}");
    if format.pocket_width > 0 && format.pocket_height > 0 {
        let (width, height) = (
            crate::text::tenths(u32::from(format.pocket_width)),
            crate::text::tenths(u32::from(format.pocket_height)),
        );
        words.push_str(&format!(", pockets of {width} x {height} mm"));
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_grid_is_read_as_rows_by_columns() {
        for (words, grid) in [
            ("1", (1, 1)),
            ("2x2", (2, 2)),
            ("3x1", (3, 1)),
            ("3x4", (3, 4)),
            ("4X5", (4, 5)),
            (" 3 × 3 ", (3, 3)),
            ("20x20", (20, 20)),
        ] {
            assert_eq!(parse_grid(words), Ok(grid), "{words}");
        }
    }

    #[test]
    fn what_is_no_grid_is_refused_with_what_would_be_right() {
        for words in [
            "", "9", "0x3", "3x", "x3", "3x21", "-3x3", "+3x3", "3x3x3", "three",
        ] {
            let refused = parse_grid(words).unwrap_err().to_string();
            assert!(refused.contains("3x4"), "{words}: {refused}");
        }
    }

    #[test]
    fn a_grid_word_is_read_back() {
        for (rows, columns) in [(3, 3), (3, 4), (2, 2), (3, 1), (1, 1), (20, 20)] {
            let format = PageFormat::new(rows, columns, 2);
            assert_eq!(parse_grid(&grid_word(&format)), Ok((rows, columns)));
        }
    }

    #[test]
    fn a_pocket_is_read_in_tenths_of_a_millimetre() {
        assert_eq!(parse_pocket("64x89"), Ok((640, 890)));
        assert_eq!(parse_pocket("63.5 x 88.9"), Ok((635, 889)));
        for words in ["64", "0x89", "64x-1", "64x1001", "6.45x89", "64x89mm"] {
            assert!(parse_pocket(words).is_err(), "{words}");
        }
    }

    #[test]
    fn a_format_is_told_in_words() {
        let mut format = PageFormat::new(3, 4, 2);
        assert_eq!(
            describe(&format),
            "3 rows of 4 pockets, both sides, open at the side"
        );
        format.shared = true;
        format.opening = Opening::Top;
        format.pocket_width = 635;
        format.pocket_height = 890;
        assert_eq!(
            describe(&format),
            "3 rows of 4 pockets, both sides, front and back share a pocket, open at the top, \
             pockets of 63.5 x 89 mm"
        );
        assert_eq!(
            describe(&PageFormat::new(1, 1, 1)),
            "one pocket, one side, open at the side"
        );
    }
}
