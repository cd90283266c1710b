//! Sets, cards and copies on their way in: from a phrase, from rows or from typed lines.

mod checklist;
mod copies;
mod key_in;
mod near;
mod phrase;
mod pile;
mod row;
mod shelve;

pub use checklist::{Checklist, ChecklistOptions, new_set};
pub use copies::{Copies, CopiesIntake};
pub use key_in::{KeyedIn, begin_keying_in, following, in_few_words, key_in};
pub use near::{hint, nearest};
pub use phrase::{MOST_CARDS, Phrase, PhraseError};
pub use pile::{Entry, Pasted, Why, choose_set, read_line, read_lines};
pub use row::{Added, BadRow, CardRow, CopyRow, Difference, Intake, Verdict};
pub use shelve::BinderOptions;

#[cfg(test)]
mod tests;
