//! What is said at the foot of every screen.

use super::desk::Desk;
use super::intent::Intent;
use super::keymap::Context;

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
