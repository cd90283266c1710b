//! Sets, cards and copies on their way in: from a phrase or from rows to a step.

mod phrase;

pub use phrase::{MOST_CARDS, Phrase, PhraseError};
