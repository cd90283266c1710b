//! From what lies in the binders to what should lie there, with the least handling.
//!
//! ```text
//!   task       what lies there and what should, printings as small numbers
//!   overlap    how many cards could stay, for each page and each page of the layout
//!   assign     which becomes which, so that most stay: fewest lifts
//!   equal      all other ways that are as good
//!   chain keep     of those the one that leaves most pages on the rings: fewest page moves
//!   every      hand to hand, of those the one with fewest handlings, if there are not too many
//!   groups     and where there are too many, one with fewer, where one is found
//!   stay       instead of all these, where no page is to be moved
//!   becomes    these together
//!   hands      the binders while they are worked on; each step is done when it is planned
//!   two_passes  hand_to_hand (links)     the order of the steps
//!   step figures  the steps, and what they come to, counted from the steps
//!   words      a pocket as a sheet says it
//!   numbers    pages of a collection as those of a task
//!   work       all of it; sheet: of a collection, as changes; cost: the numbers alone; carried:
//!              the numbers while pages are carried
//! ```
//!
//! What is least: lifts, always. Page moves, where `page_moves_proven_least` says so; that is
//! where a collector reorders a binder, but not where all cards of fifty pages and more are
//! shuffled, or a shelf of two thousand pages is pushed along.
//! Handlings, for the assignment chosen; and of all with as few lifts and page moves, where those
//! are few enough to go through and no page is left over (`every`). Beyond that it is the best
//! found and not proven least: another can need fewer.
//!
//! A plan is never kept. After each deed it is made anew from the binders as they are, and is the
//! rest of the one before; the reasons stand in `keep` and `hand_to_hand`. It holds deed by deed,
//! where page moves are proven least. It cannot hold in the middle of a card's way from pocket to
//! pocket: with two cards on the table and two pockets empty nothing tells which was in the hand.

pub mod assign;
mod becomes;
mod carried;
mod chain;
mod cost;
mod equal;
mod every;
mod figures;
mod groups;
mod hand_to_hand;
mod hands;
mod keep;
mod links;
mod numbers;
pub mod overlap;
mod sheet;
mod stay;
mod step;
pub mod task;
#[cfg(test)]
mod tests;
mod two_passes;
mod words;
mod work;

pub use carried::{Carried, cost};
pub use cost::{Cost, Fate, cost_and_fates, cost_of_task};
pub use figures::Figures;
pub use sheet::{Deed, Target, WorkSheet, in_force, sheet};
pub use step::{PageNumber, WorkStep};
pub use task::{At, Pages, Task, Way, Working};
pub use words::{pocket_at, pocket_words};
pub use work::{Unfilled, Work, work};
