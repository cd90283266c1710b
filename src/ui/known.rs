//! What can be set of the screen, for [`crate::settings`].

use std::sync::OnceLock;

use super::intent::Intent;
use super::keymap::{Context, Key, Keymap, bindings};
use super::theme::{Role, SLOTS};
use crate::settings::{self, Known, Place, Settings, Sign, Verb};

/// Verbs and keys, roles and signs of the screen.
#[must_use]
pub fn known() -> &'static Known {
    static KNOWN: OnceLock<Known> = OnceLock::new();
    KNOWN.get_or_init(|| Known {
        places: contexts().into_iter().map(place).collect(),
        roles: (Role::ALL.iter())
            .map(|(_, word, says)| settings::Role { word, says })
            .collect(),
        signs: (SLOTS.iter())
            .map(|slot| Sign {
                word: slot.word,
                says: slot.says,
                usual: slot.usual(),
                is_state: slot.is_state,
            })
            .collect(),
        key: |word| Key::parse(word).map(|key| key.to_string()),
    })
}

/// In the order of the table.
fn contexts() -> Vec<Context> {
    let mut contexts: Vec<Context> = bindings().iter().map(|binding| binding.context).collect();
    contexts.dedup();
    contexts
}

fn place(context: Context) -> Place {
    let verb = |(intent, keys, _): (Intent, Vec<Key>, u8)| Verb {
        word: kebab(intent),
        keys: keys.iter().map(ToString::to_string).collect(),
        says: intent.sentence(context),
        is_needed: matches!(intent, Intent::Leave | Intent::Quit | Intent::Help),
    };
    Place {
        word: kebab(context),
        takes_text: context.takes_letters(),
        verbs: Keymap::default()
            .intents(context)
            .into_iter()
            .map(verb)
            .collect(),
    }
}

/// The word of the settings for a name of the code: `next-gap` for `NextGap`.
fn kebab(name: impl std::fmt::Debug) -> String {
    let mut word = String::new();
    for c in format!("{name:?}").chars() {
        if c.is_uppercase() && !word.is_empty() {
            word.push('-');
        }
        word.push(c.to_ascii_lowercase());
    }
    word
}

/// The key table with what the settings say otherwise.
pub(super) fn keymap(settings: &Settings) -> Keymap {
    let mut keymap = Keymap::default();
    if settings.keys.is_empty() {
        return keymap;
    }
    for context in contexts() {
        let place = kebab(context);
        for (intent, ..) in Keymap::default().intents(context) {
            if let Some(words) = settings.keys.get(&(place.clone(), kebab(intent))) {
                let keys: Vec<Key> = words.iter().filter_map(|word| Key::parse(word)).collect();
                keymap = keymap.rebound(context, intent, &keys);
            }
        }
    }
    keymap
}
