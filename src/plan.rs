//! From what lies in the binders to what should lie there, with the least handling.

pub mod assign;
mod becomes;
mod chain;
mod cost;
mod equal;
mod figures;
mod hand_to_hand;
mod hands;
mod keep;
mod links;
pub mod overlap;
mod sheet;
pub mod task;
#[cfg(test)]
mod tests;
mod two_passes;
mod work;

pub use cost::{Cost, cost};
pub use figures::Figures;
pub use sheet::{Deed, Sheet, Target, in_force, sheet};
pub use task::{Task, Working};
pub use work::{At, PageNumber, Step, Unfilled, Work, work};
