//! The one key table. The footer, the help and the keys themselves are read from it.

mod fields;
mod key;
mod layouts;
mod leads;
mod places;
mod work;

use std::sync::OnceLock;

use crossterm::event::KeyEvent;

pub use super::context::Context;
use super::intent::Intent;
pub use key::Key;
pub(super) use key::letter;
pub(super) use leads::{leads_to, way};

/// A line of the table: in a context, a key asks for something. `shown` puts it into the footer,
/// the lowest number first; 0 is for the help only.
#[derive(Clone, Copy, Debug)]
pub struct Binding {
    pub context: Context,
    pub key: Key,
    pub intent: Intent,
    pub shown: u8,
}

/// The keys of one context: its own, and those that it shares with others.
struct Place {
    context: Context,
    also: &'static [Row],
    own: &'static [Row],
}

/// Keys in the notation of [`Key`], what they ask for, and where in the footer. The first key is
/// the one that is shown.
type Row = (&'static str, Intent, u8);

/// Going up and down a list.
const STEP: &[Row] = &[
    ("up", Intent::Up, 0),
    ("down", Intent::Down, 0),
    ("home", Intent::First, 0),
    ("end", Intent::Last, 0),
];

/// The same in a long one.
const LEAF: &[Row] = &[
    ("up", Intent::Up, 0),
    ("down", Intent::Down, 0),
    ("pgup", Intent::PageBack, 0),
    ("pgdn", Intent::PageOn, 0),
    ("home", Intent::First, 0),
    ("end", Intent::Last, 0),
];

/// Wherever a context does not say otherwise.
const EVERYWHERE: &[Row] = &[
    ("ctrl-c", Intent::Leave, 0),
    ("ctrl-l", Intent::Redraw, 0),
    ("ctrl-z", Intent::Suspend, 0),
    ("f1", Intent::Help, 0),
    ("f3 ctrl-f", Intent::Anything, 0),
    ("f4", Intent::Mouse, 0),
];

const TABLE: [&[Place]; 4] = [places::KEYS, work::KEYS, layouts::KEYS, fields::KEYS];

/// The table as it is built in, a binding a key.
#[must_use]
pub fn bindings() -> &'static [Binding] {
    static BINDINGS: OnceLock<Vec<Binding>> = OnceLock::new();
    BINDINGS.get_or_init(|| {
        let mut all: Vec<Binding> = Vec::new();
        for place in TABLE.into_iter().flatten() {
            let begin = all.len();
            for (rows, gives_way) in [(place.own, false), (place.also, false), (EVERYWHERE, true)] {
                for (words, intent, shown) in rows {
                    for key in words.split(' ').filter_map(Key::parse) {
                        let is_taken = all[begin..].iter().any(|binding| binding.key == key);
                        if is_taken && gives_way {
                            continue;
                        }
                        all.push(Binding {
                            context: place.context,
                            key,
                            intent: *intent,
                            shown: *shown,
                        });
                    }
                }
            }
        }
        all
    })
}

/// The table as it holds for one person.
#[derive(Clone, Debug)]
pub struct Keymap {
    bindings: Vec<Binding>,
}

impl Default for Keymap {
    /// As it is built in.
    fn default() -> Self {
        Self {
            bindings: bindings().to_vec(),
        }
    }
}

impl Keymap {
    /// From now on these keys, and no others, ask for the intent in this context. Where it is
    /// shown does not change. An intent that the context does not know is passed over.
    #[must_use]
    pub fn rebound(mut self, context: Context, intent: Intent, keys: &[Key]) -> Self {
        let is_old = |binding: &Binding| binding.context == context && binding.intent == intent;
        let Some(at) = self.bindings.iter().position(is_old) else {
            return self;
        };
        let shown = self.bindings[at].shown;
        self.bindings.retain(|binding| !is_old(binding));
        let new = keys.iter().map(|key| Binding {
            context,
            key: *key,
            intent,
            shown,
        });
        self.bindings.splice(at..at, new);
        self
    }

    /// What the key asks for here, if anything.
    #[must_use]
    pub fn lookup(&self, context: Context, event: &KeyEvent) -> Option<Intent> {
        let key = Key::of(event)?;
        self.bindings
            .iter()
            .find(|binding| binding.context == context && binding.key == key)
            .map(|binding| binding.intent)
    }

    /// The intents of a context, each once, with all its keys, in the order of the table.
    #[must_use]
    pub fn intents(&self, context: Context) -> Vec<(Intent, Vec<Key>, u8)> {
        let mut found: Vec<(Intent, Vec<Key>, u8)> = Vec::new();
        for binding in self.bindings.iter().filter(|b| b.context == context) {
            match found
                .iter_mut()
                .find(|(intent, ..)| *intent == binding.intent)
            {
                Some((_, keys, _)) => keys.push(binding.key),
                None => found.push((binding.intent, vec![binding.key], binding.shown)),
            }
        }
        found
    }

    /// The key by which words on the screen name the intent: the first of the context. Where the
    /// context has none it is that of another one, and where no key is left the verb itself.
    #[must_use]
    pub fn word(&self, context: Context, intent: Intent) -> String {
        let of = |context| {
            let is_it = |b: &&Binding| b.context == context && b.intent == intent;
            self.bindings.iter().find(is_it)
        };
        let near = [context, Context::Binder, Context::Shelf];
        let found = near.into_iter().find_map(of);
        let found = found.or_else(|| self.bindings.iter().find(|b| b.intent == intent));
        match found {
            Some(binding) => binding.key.to_string(),
            None => format!("“{}”", intent.word(context)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn no_key_asks_for_two_things_in_one_place() {
        let mut seen = HashSet::new();
        for binding in bindings() {
            let fresh = seen.insert((binding.context, binding.key));
            assert!(fresh, "{:?} {} twice", binding.context, binding.key);
        }
    }

    #[test]
    fn every_word_of_the_table_is_a_key() {
        for place in TABLE.into_iter().flatten() {
            for (words, intent, _) in place.own.iter().chain(place.also).chain(EVERYWHERE) {
                for word in words.split(' ') {
                    assert!(Key::parse(word).is_some(), "{word:?} for {intent:?}");
                }
            }
        }
    }

    #[test]
    fn what_is_written_for_a_key_is_read_back_as_that_key() {
        for binding in bindings() {
            let word = binding.key.to_string();
            assert_eq!(Key::parse(&word), Some(binding.key), "{word}");
        }
    }

    #[test]
    fn a_key_that_was_given_to_another_verb_is_found_and_named_there() {
        let keys = |words: &str| words.split(' ').filter_map(Key::parse).collect::<Vec<_>>();
        let keymap = Keymap::default()
            .rebound(Context::Binder, Intent::NextGap, &keys("j ctrl-n"))
            .rebound(Context::Binder, Intent::Work, &[]);
        let pressed = |word: &str| {
            let key = Key::parse(word).unwrap();
            keymap.lookup(Context::Binder, &key.event())
        };
        assert_eq!(pressed("j"), Some(Intent::NextGap));
        assert_eq!(pressed("ctrl-n"), Some(Intent::NextGap));
        assert_eq!((pressed("n"), pressed("w")), (None, None));
        let word = |context, intent| keymap.word(context, intent);
        assert_eq!(word(Context::Binder, Intent::NextGap), "j");
        assert_eq!(word(Context::Carry, Intent::NextGap), "n");
        assert_eq!(word(Context::Binder, Intent::Work), "w", "of the shelf");
        assert_eq!(word(Context::Find, Intent::Undo), "u", "of the binder");
    }

    #[test]
    fn every_context_can_be_left_and_drawn_anew() {
        for place in TABLE.into_iter().flatten() {
            let context = place.context;
            let intents = Keymap::default().intents(context);
            let intents: Vec<_> = intents.into_iter().map(|i| i.0).collect();
            let leave = intents.contains(&Intent::Leave) || intents.contains(&Intent::Quit);
            assert!(leave && intents.contains(&Intent::Redraw), "{context:?}");
        }
    }
}
