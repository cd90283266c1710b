//! Sorting a stack by hand before it is filed: how often it has to be dealt out.
//!
//! Dealing onto k heaps and picking them up in order tells k ranges apart, and doing so p times
//! k to the power p. (D. E. Knuth, The Art of Computer Programming 3, section 5.2.5.)

mod order;
mod ranges;
#[cfg(test)]
mod tests;

pub use order::{StackOrder, begin_words, range_words};
pub use ranges::{Group, Heap, Sorting, sorting};

/// Heaps that a table has room for: with fewer nothing is sorted, more are not asked for.
pub const LEAST_HEAPS: u32 = 2;
pub const MOST_HEAPS: u32 = 1_000;

/// How often `cards` have to be dealt onto `places` heaps until any stack of them is in order:
/// the least p with places^p ≥ cards, by whole numbers. `None` where no number of passes is
/// enough: two cards or more and fewer than two places.
#[must_use]
pub fn passes(cards: u64, places: u32) -> Option<u32> {
    if cards <= 1 {
        return Some(0);
    }
    if places < 2 {
        return None;
    }
    let (mut told_apart, mut passes) = (1u64, 0);
    while told_apart < cards {
        told_apart = told_apart.saturating_mul(u64::from(places));
        passes += 1;
    }
    Some(passes)
}

/// The fewest places with which `cards` need no more than `passes` passes; `None` where none do.
#[must_use]
pub fn fewest_places(cards: u64, passes_most: u32) -> Option<u32> {
    if cards <= 1 {
        return Some(1);
    }
    if passes_most == 0 {
        return None;
    }
    let enough = |places: u32| passes(cards, places).is_some_and(|p| p <= passes_most);
    let (mut low, mut high) = (2, u32::try_from(cards).ok()?.max(2));
    while low < high {
        let middle = low + (high - low) / 2;
        if enough(middle) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    Some(low)
}
