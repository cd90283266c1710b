//! What random packs may still bring: expectations, not promises, and no advice to buy.
//!
//! A pack holds a number of cards of each class (a rarity), all different, each card of a class
//! as likely as any other, and packs and classes do not know of each other. That is what is
//! computed, without approximation beyond rounding. Real packs may differ: they are put together
//! by machines, in boxes, by rules that nobody tells.
//!
//! - One class, a whole number a pack: the recursion over the number of missing cards, whose terms
//!   are all positive. The alternating sum of the textbooks is useless in floating point. (W.
//!   Feller, An Introduction to Probability Theory and Its Applications I, IX.3; packs: W. Stadje,
//!   Adv. Appl. Prob. 22 (1990) 866–882.)
//! - Several classes, or a part of a card a pack (one more card in that share of the packs): the
//!   chance of not being done after t packs, summed over t.
//! - Packs of one card: the recursion over what is missing of each class. (H. von Schelling, Amer.
//!   Math. Monthly 61 (1954) 306–311.)

mod packs;
mod singles;
#[cfg(test)]
mod tests;

pub use packs::{packs_for_chance, packs_until};
pub use singles::singles_until;

/// The most cards of a class for which the chances are worked out.
pub const MOST_IN_CLASS: usize = 2_000;

/// The most packs that one certain card may be rare in (different cards of its class, divided by
/// those of a pack) for the chances to be worked out in a moment; several times this many packs
/// are gone through.
pub const MOST_RARE: f64 = 5_000.0;

/// Cards that come in packs alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Class {
    /// Different cards of it.
    pub cards: usize,
    /// How many of them are not there yet; at most `cards`.
    pub missing: usize,
    /// How many different ones a pack holds, at most `cards`; 0.25 is one in every fourth pack.
    pub per_pack: f64,
}
