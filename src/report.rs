//! What the collection tells: completion, gaps, spares, waiting copies, where a card is.
//!
//! Pure functions; each answer is taken from the collection as it is now. Words in an answer are
//! as they were written in a checklist: they go through [`crate::text::safe`] before they are
//! shown.

mod chance;
mod completion;
mod finder;
mod gaps;
mod lacking;
mod list;
mod loose;
mod pile;
mod swap;
mod wants;
mod words;

pub use chance::{Class, MOST_IN_CLASS, MOST_RARE, packs_for_chance, packs_until, singles_until};
pub use completion::{
    BinderSummary, Counts, SetCompletion, bar, binder_summary, completion, percent,
};
pub use finder::{Ask, Finder, Found, Hit, Search, binders_named};
pub use gaps::{Gap, gaps, next_gap};
pub use lacking::{page_lacks, run_lacks};
pub use list::{Asked, ListFilter, Listed, is_asked_for, listed};
pub use loose::{Spare, Waiting, spares, waiting};
pub use pile::{
    Group, Heap, LEAST_HEAPS, MOST_HEAPS, Sorting, StackOrder, begin_words, fewest_places, passes,
    range_words, sorting,
};
pub use swap::{Get, Stock, Swap, swap};
pub use wants::{WantFilter, is_collected, wants};
pub use words::{
    binder_meant, binder_words, far_words, pages_words, place_words, pocket_at, pocket_words,
    printing_words,
};
