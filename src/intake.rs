//! Sets, cards and copies on their way in: from a phrase or from rows to a step.

mod checklist;
mod copies;
mod near;
mod phrase;
mod row;
mod shelve;

pub use checklist::{Checklist, ChecklistOptions, new_set};
pub use copies::{Copies, CopiesIntake};
pub use near::{hint, nearest};
pub use phrase::{MOST_CARDS, Phrase, PhraseError};
pub use row::{Added, BadRow, CardRow, CopyRow, Difference, Intake, Verdict};
pub use shelve::BinderOptions;

#[cfg(test)]
mod tests;
