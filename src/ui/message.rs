//! What is said at the foot of every screen.

use super::desk::Desk;
use super::intent::Intent;
use super::keymap::Context;
use crate::model::Collection;
use crate::text;

/// How a message is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tone {
    Done,
    Amiss,
}

/// What the message line says.
#[derive(Debug)]
pub(super) struct Message {
    pub(super) words: String,
    pub(super) tone: Tone,
    /// How to take it back or do it again: its key, and the words after that.
    pub(super) way: Option<(Intent, &'static str)>,
}

impl Message {
    pub(super) fn is_amiss(&self) -> bool {
        self.tone == Tone::Amiss
    }

    /// What is said, and how to take it back or do it again, on a screen with these keys.
    pub(super) fn told(&self, desk: &Desk, context: Context) -> (&str, Option<String>, Tone) {
        let way = self.way.map(|(intent, words)| {
            let key = desk.key(context, intent);
            format!("{key} {words}")
        });
        (&self.words, way, self.tone)
    }
}

/// The words of a step as a sentence of their own. A name or a code with which they begin stays as
/// it is written.
pub(super) fn as_sentence(collection: &Collection, words: &str) -> String {
    let first = words.split([' ', ',', ':']).next().unwrap_or_default();
    let is_name = first.starts_with(char::is_lowercase)
        && (collection.binder_by_name(first).is_some()
            || collection.sets().any(|(_, set)| set.code() == first));
    match is_name {
        true => words.to_owned(),
        false => text::sentence(words),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    #[test]
    fn a_step_is_told_as_a_sentence_and_names_stay_as_they_are_written() {
        let collection = demo::collection();
        assert!(collection.binder_by_name("wood").is_some());
        for (label, told) in [
            ("page 2 will be page 3", "Page 2 will be page 3"),
            (
                "wood, page 2: 3 cards sorted",
                "wood, page 2: 3 cards sorted",
            ),
            (
                "12a Amber Badger into page 1",
                "12a Amber Badger into page 1",
            ),
            ("The Long Wood stands first", "The Long Wood stands first"),
            ("", ""),
        ] {
            assert_eq!(as_sentence(&collection, label), told);
        }
    }
}
