//! Every key of the key table, pressed on every screen.

use ringbound::model::Collection;
use ringbound::ui::{Binding, Context, Intent, bindings};

use super::{Grown, SIZES, least};
use crate::common::collection::collection;
use crate::common::shown::Shown;
use crate::common::table::timed;

/// The keys that lead to a screen from the start, and what is typed there. The first word of two
/// tells screens of one kind apart.
const SCREENS: &[(Context, &str, &str, &str)] = &[
    (Context::Shelf, "", "", ""),
    (Context::Binder, "", "enter", ""),
    (Context::Binder, "last", "end enter", ""),
    (Context::Carry, "card", "enter c", ""),
    (Context::Carry, "page", "enter C", ""),
    (Context::Find, "", "f", "moss 12"),
    (Context::Form, "", "s", ""),
    (Context::Prompt, "", "enter g", "2"),
    (Context::Menu, "", "enter a", ""),
    (Context::Drafts, "", "enter d", ""),
    (Context::History, "", "h", ""),
    (Context::Work, "shelf", "w", ""),
    (Context::Ways, "shelf", "w o", ""),
    (Context::Work, "binder", "enter w", ""),
    (Context::Ways, "binder", "enter w o", ""),
    (Context::Pile, "", "e", "S001"),
    (Context::List, "shelf", "l", ""),
    (Context::List, "binder", "enter l", ""),
    (Context::File, "", "l f2", ""),
    (Context::SwapFiles, "", "x", ""),
    (Context::Print, "shelf", "P", ""),
    (Context::Print, "binder", "enter P", ""),
    (Context::Supplies, "", "b", ""),
    (Context::Sections, "", "enter d s", ""),
    (Context::Section, "", "enter d s enter", ""),
    (Context::Templates, "", "enter d s t", ""),
    (Context::Growth, "", "enter d s g", ""),
    (Context::Help, "", "?", ""),
];

pub(super) fn measured() -> Vec<Grown> {
    let mut all: Vec<Grown> = Vec::new();
    for size in SIZES {
        let collection = collection(size);
        let times = SCREENS.iter().flat_map(|screen| on_screen(&collection, screen));
        for (at, (what, time)) in times.enumerate() {
            match all.get_mut(at) {
                Some(grown) => grown.times.push(time),
                None => all.push(Grown {
                    what,
                    times: vec![time],
                }),
            }
        }
    }
    all
}

fn on_screen(
    collection: &Collection,
    (context, which, path, words): &(Context, &str, &str, &str),
) -> Vec<(String, f64)> {
    let open = || {
        let mut shown = Shown::new(collection, (120, 40));
        shown.keys(path);
        shown.text(words);
        shown.draw();
        shown
    };
    let found = open().app.context();
    assert_eq!(found, *context, "{path} leads there");
    let own = |binding: &&Binding| binding.context == *context;
    let mut seen: Vec<Intent> = Vec::new();
    let mut times = Vec::new();
    for binding in bindings().iter().filter(own) {
        if seen.contains(&binding.intent) {
            continue;
        }
        seen.push(binding.intent);
        let key = binding.key.to_string();
        let time = least(open, |mut shown| timed(|| press(&mut shown, &key)));
        times.push((format!("{context:?} {which} {key}: {:?}", binding.intent), time));
    }
    if !words.is_empty() {
        let time = least(open, |mut shown| timed(|| press(&mut shown, "o")));
        times.push((format!("{context:?} {which}, a letter typed"), time));
    }
    times
}

fn press(shown: &mut Shown, key: &str) {
    shown.keys(key);
    shown.draw();
}
