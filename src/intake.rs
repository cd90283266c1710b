//! Sets, cards and copies on their way in: from a phrase, from rows or from typed lines.

mod checklist;
mod code;
mod copies;
mod number;
mod phrase;
mod pile;
mod row;
mod shelve;
mod type_in;

pub use checklist::{Checklist, ChecklistOptions, new_set};
pub use code::proposed_code;
pub use copies::{Copies, CopiesIntake, RowKnown};
pub use phrase::{MOST_CARDS, Phrase, PhraseError};
pub use pile::{Entry, Pasted, Why, choose_set, named_set, pile_step, read_line, read_lines};
pub use row::{Added, BadRow, CardRow, CopyRow, Difference, Intake, Verdict};
pub use shelve::{BinderOptions, binder_for_set};
pub use type_in::{TypedIn, as_the_others, begin_typing_in, in_few_words, next_in_row, type_in};

#[cfg(test)]
mod tests;
