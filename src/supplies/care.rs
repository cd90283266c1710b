//! The usual caution, at the point where it matters, in one line.

/// What can do harm.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Care {
    /// Where pages and sleeves are chosen.
    Plastic,
    /// Where binders stand.
    Room,
    /// Where a shelf is loaded.
    Shelf,
    /// Where a binder is near full.
    Full,
}

/// The line. No more is promised than the sources carry, which are about photographs: ISO 18902
/// (polyvinyl chloride is not for storage; known to us from an extract only); Library of Congress,
/// Caring for Your Photographic Collections (dry, cool, not in attic or cellar). For the shelf: U.S.
/// CPSC, Anchor It!, 2020 (anchor bookcases to the wall, the heavy low).
#[must_use]
pub fn care(about: Care) -> &'static str {
    match about {
        Care::Plastic => {
            "No PVC next to cards, but polypropylene or polyester, as the maker instructs."
        }
        Care::Room => "Keep binders dry, out of the sun, not in attic or cellar.",
        Care::Shelf => "Heavy binders low; anchor a tall shelf. Follow its maker and local rules.",
        Care::Full => "An overfull binder bends the pages at the rings: leave some room.",
    }
}

/// The weight of so many pieces of this size, in whole grams, rounded down: area times grammage (as
/// ISO 536 defines it). Lengths in tenths of a millimetre, `gsm` in grams a square metre.
#[must_use]
pub fn grams(width: u32, height: u32, gsm: u32, count: u64) -> u64 {
    let pieces = u128::from(width) * u128::from(height) * u128::from(gsm) * u128::from(count);
    // A square metre has a hundred million squares of a tenth of a millimetre.
    u64::try_from(pieces / 100_000_000).unwrap_or(u64::MAX)
}
