//! Lengths on paper: millimetres inside, points and inches only at the edges.

use crate::model::CardSize;
use crate::supplies::PaperFormat;

/// Points in a millimetre: a point is 1/72 inch (ISO 32000-1, 8.3.2.3), an inch 25.4 mm.
pub const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// A width and a height in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    pub width: f64,
    pub height: f64,
}

impl Size {
    /// ISO 216.
    pub const A3: Self = Self::new(297.0, 420.0);
    pub const A4: Self = Self::of_tenths(PaperFormat::A4.width, PaperFormat::A4.height);
    pub const A5: Self = Self::of_tenths(PaperFormat::A5.width, PaperFormat::A5.height);
    pub const LETTER: Self = Self::of_tenths(PaperFormat::LETTER.width, PaperFormat::LETTER.height);
    /// The card size most in use.
    pub const CARD: Self = Self::of_tenths(CardSize::USUAL.width, CardSize::USUAL.height);

    const fn of_tenths(width: u32, height: u32) -> Self {
        Self::new(width as f64 / 10.0, height as f64 / 10.0)
    }

    #[must_use]
    pub const fn new(width: f64, height: f64) -> Self {
        Self { width, height }
    }
}

impl std::fmt::Display for Size {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} x {} mm", mm(self.width), mm(self.height))
    }
}

/// A length in millimetres in words, to the tenth: `25`, `63.5`.
#[must_use]
pub fn mm(length: f64) -> String {
    let tenths = format!("{length:.1}");
    match tenths.strip_suffix(".0") {
        Some(whole) => whole.into(),
        None => tenths,
    }
}

/// A rectangle on a sheet, in millimetres from its upper left corner, downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    pub x: f64,
    pub y: f64,
    pub width: f64,
    pub height: f64,
}

impl Area {
    #[must_use]
    pub const fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self {
            x,
            y,
            width,
            height,
        }
    }

    #[must_use]
    pub fn right(&self) -> f64 {
        self.x + self.width
    }

    #[must_use]
    pub fn bottom(&self) -> f64 {
        self.y + self.height
    }

    /// Smaller by so much on every side.
    #[must_use]
    pub fn inset(&self, by: f64) -> Self {
        Self::new(
            self.x + by,
            self.y + by,
            self.width - 2.0 * by,
            self.height - 2.0 * by,
        )
    }

    /// Whether the other lies in it; rounding in the last digits does not count.
    #[must_use]
    pub fn holds(&self, other: &Self) -> bool {
        const SLACK: f64 = 1e-6;
        other.x >= self.x - SLACK
            && other.y >= self.y - SLACK
            && other.right() <= self.right() + SLACK
            && other.bottom() <= self.bottom() + SLACK
    }

    /// Whether they cover a place in common; touching edges do not.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        const SLACK: f64 = 1e-6;
        self.x + SLACK < other.right()
            && other.x + SLACK < self.right()
            && self.y + SLACK < other.bottom()
            && other.y + SLACK < self.bottom()
    }
}

/// The least and the greatest side of a sheet of paper, in millimetres.
const PAPER: std::ops::RangeInclusive<f64> = 40.0..=2_000.0;

/// Paper that has a name, in the order in which it is told.
pub const PAPERS: [(&str, Size); 4] = [
    ("a4", Size::A4),
    ("letter", Size::LETTER),
    ("a3", Size::A3),
    ("a5", Size::A5),
];

/// Why words are no size.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SizeError {
    #[error(
        "“{0}” is no paper: write {papers}, or a width and a height in millimetres: 210x297",
        papers = PAPERS.map(|(word, _)| word).join(", ")
    )]
    Unknown(String),
    #[error("“{0}” is no size: write width and height in millimetres: 63.5x88.9")]
    NoSize(String),
    #[error("“{0}” is no paper to print on: a side has 40 to 2000 mm")]
    OutOfRange(String),
}

/// Paper by its name, or by its width and height in millimetres (`210x297`).
///
/// # Errors
/// It is neither, or no printer takes it.
pub fn parse_paper(words: &str) -> Result<Size, SizeError> {
    let word = words.trim().to_lowercase();
    let named = PAPERS.iter().find(|(known, _)| *known == word);
    let size = named.map(|(_, size)| *size).or_else(|| by_numbers(&word));
    let size = size.ok_or_else(|| SizeError::Unknown(words.into()))?;
    if PAPER.contains(&size.width) && PAPER.contains(&size.height) {
        Ok(size)
    } else {
        Err(SizeError::OutOfRange(words.into()))
    }
}

/// A card by its width and height in millimetres: `63.5x88.9`, each from 10 to 500.
///
/// # Errors
/// It is not written so.
pub fn parse_card(words: &str) -> Result<Size, SizeError> {
    let card = |size: &Size| {
        let sides = [size.width, size.height];
        sides.iter().all(|side| (10.0..=500.0).contains(side))
    };
    let size = by_numbers(&words.trim().to_lowercase()).filter(card);
    size.ok_or_else(|| SizeError::NoSize(words.into()))
}

fn by_numbers(words: &str) -> Option<Size> {
    let words = words.strip_suffix("mm").unwrap_or(words);
    let (width, height) = words.split_once(['x', '×'])?;
    let number = |word: &str| {
        let word = word.trim().replace(',', ".");
        // Not `1e3`, `inf` and `nan`.
        let plain = word.bytes().all(|b| b.is_ascii_digit() || b == b'.');
        word.parse::<f64>().ok().filter(|_| plain)
    };
    Some(Size::new(number(width)?, number(height)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn papers_have_the_sizes_of_their_standards() {
        // ISO 216:2007: A4 210 x 297 mm, each size half the one before, rounded down.
        for (larger, smaller) in [("a3", "a4"), ("a4", "a5")] {
            let (larger, smaller) = (parse_paper(larger).unwrap(), parse_paper(smaller).unwrap());
            assert_eq!(smaller.width, (larger.height / 2.0).floor());
            assert_eq!(smaller.height, larger.width);
        }
        assert_eq!(parse_paper("A4"), Ok(Size::new(210.0, 297.0)));
        // ANSI/ASME Y14.1: 8.5 x 11 in, and an inch is 25.4 mm.
        let letter = parse_paper("letter").unwrap();
        assert!((letter.width - 8.5 * 25.4).abs() < 1e-9);
        assert!((letter.height - 11.0 * 25.4).abs() < 1e-9);
        // 2.5 x 3.5 in. (Common practice, no source.)
        assert!((Size::CARD.width - 2.5 * 25.4).abs() < 1e-9);
        assert!((Size::CARD.height - 3.5 * 25.4).abs() < 1e-9);
    }

    #[test]
    fn a_point_is_a_seventy_second_of_an_inch() {
        // A4 is 595.276 x 841.890 pt.
        assert!((210.0 * POINTS_PER_MM - 595.276).abs() < 1e-3);
        assert!((297.0 * POINTS_PER_MM - 841.890).abs() < 1e-3);
        // ISO/IEC 7810 ID-1 is 85.60 x 53.98 mm: 242.65 x 153.01 pt.
        let card = parse_card("85.60x53.98").unwrap();
        assert!((card.width * POINTS_PER_MM - 242.646).abs() < 1e-3);
        assert!((card.height * POINTS_PER_MM - 153.014).abs() < 1e-3);
    }

    #[test]
    fn a_size_is_a_width_and_a_height_in_millimetres() {
        assert_eq!(parse_paper(" 100 x 150 mm "), Ok(Size::new(100.0, 150.0)));
        assert_eq!(parse_card("63,5×88,9"), Ok(Size::CARD));
        for bad in [
            "", "a9", "100", "x", "1e3x200", "infx200", "nanx100", "-1x5",
        ] {
            assert_eq!(parse_paper(bad), Err(SizeError::Unknown(bad.into())));
        }
        for bad in ["0x0", "39x100", "100x2001"] {
            assert_eq!(parse_paper(bad), Err(SizeError::OutOfRange(bad.into())));
        }
        for bad in ["9x88", "63.5", "63.5x501"] {
            assert_eq!(parse_card(bad), Err(SizeError::NoSize(bad.into())));
        }
    }

    #[test]
    fn lengths_are_told_to_the_tenth() {
        assert_eq!(mm(25.0), "25");
        assert_eq!(mm(63.5), "63.5");
        assert_eq!(Size::LETTER.to_string(), "215.9 x 279.4 mm");
    }
}
