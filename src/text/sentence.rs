//! Words that begin a sentence.

use std::fmt::Display;

/// The words with a capital.
#[must_use]
pub fn sentence(words: impl Display) -> String {
    let words = words.to_string();
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + chars.as_str()
    })
}
