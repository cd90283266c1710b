//! The colours of both palettes, each with one of the 256 indexed colours for it.
//!
//! Dark: the colours of Okabe and Ito (2008), "Color universal design". Light: shades of them, dark
//! enough to be read on white, and as far apart as that allows. `tests.rs` computes their contrast
//! (WCAG 2.2) and how far apart they are with the common colour-vision deficiencies.

use ratatui::style::Color;

/// A colour, and an index near to it.
pub(super) type Shade = (u32, u8);

/// The colours of what differs in meaning.
#[derive(Debug)]
pub(super) struct Ink {
    pub(super) in_place: Shade,
    pub(super) gap: Shade,
    pub(super) waiting: Shade,
    pub(super) misplaced: Shade,
    pub(super) keepsake: Shade,
    /// Words of less weight: how faint a terminal makes what is dim is its own choice, and some
    /// make it too faint to be read.
    pub(super) quiet: Shade,
}

/// Bluish green, sky blue, orange, vermillion, reddish purple.
pub(super) static DARK: Ink = Ink {
    in_place: (0x00_9E73, 36),
    gap: (0x56_B4E9, 153),
    waiting: (0xE6_9F00, 214),
    misplaced: (0xD5_5E00, 166),
    keepsake: (0xCC_79A7, 139),
    quiet: (0x9E_9E9E, 247),
};

/// Shades of bluish green, blue, orange, vermillion, reddish purple.
pub(super) static LIGHT: Ink = Ink {
    in_place: (0x00_5E43, 23),
    gap: (0x00_70AF, 26),
    waiting: (0x57_3900, 94),
    misplaced: (0xB4_4F00, 88),
    keepsake: (0x8A_5070, 53),
    quiet: (0x62_6262, 241),
};

pub(super) fn rgb(number: u32) -> Color {
    let [_, red, green, blue] = number.to_be_bytes();
    Color::Rgb(red, green, blue)
}

/// Red, green and blue of an indexed colour from 16: a cube of 6 x 6 x 6, then 24 greys. The 16
/// first are the terminal's own, and are anything.
pub(super) fn of_index(index: u8) -> [u8; 3] {
    let step = |at: u8| if at == 0 { 0 } else { 55 + 40 * at };
    match index.checked_sub(16) {
        None => [0; 3],
        Some(at @ ..216) => [step(at / 36), step(at / 6 % 6), step(at % 6)],
        Some(at) => [8 + 10 * (at - 216); 3],
    }
}

/// The indexed colour that is nearest, by the sum of squares.
pub(super) fn nearest(rgb: [u8; 3]) -> u8 {
    let far = |index: &u8| -> u32 {
        let pairs = of_index(*index).into_iter().zip(rgb);
        pairs.map(|(a, b)| u32::from(a.abs_diff(b)).pow(2)).sum()
    };
    (16..=u8::MAX).min_by_key(far).unwrap_or(16)
}
