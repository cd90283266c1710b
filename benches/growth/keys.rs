//! Every key of the key table, pressed on every screen, with the work beside the keys that a
//! person has too: a key waits for a short answer only.

use ringbound::model::Collection;
use ringbound::ui::{Binding, Context, Intent, bindings};

use super::{Grown, SIZES, least};
use crate::common::collection::collection;
use crate::common::shown::Shown;
use crate::common::table::timed;

/// The keys that lead to a screen from the start (of two ways the one that does: a window may be
/// in between, or not), and what is typed there. The word before tells screens of one kind apart.
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
    (Context::Work, "shelf", "w|w enter", ""),
    (Context::Ways, "shelf", "w|w o", ""),
    (Context::Work, "binder", "enter w|enter w enter", ""),
    (Context::Ways, "binder", "enter w|enter w o", ""),
    (Context::Pile, "", "e", "S001"),
    (Context::List, "shelf", "l", ""),
    (Context::List, "binder", "enter l", ""),
    (Context::File, "", "l f2", ""),
    (Context::SwapFiles, "", "x", ""),
    (Context::Print, "shelf", "P", ""),
    (Context::Print, "binder", "enter P", ""),
    (Context::Supplies, "", "b", ""),
    (Context::Sections, "", "enter d s enter", ""),
    (Context::Section, "", "enter d s enter enter", ""),
    (Context::Templates, "", "enter d s", ""),
    (Context::Growth, "", "enter d s enter g", ""),
    (Context::Help, "", "?", ""),
];

pub(super) fn measured() -> Vec<Grown> {
    let mut all: Vec<Grown> = Vec::new();
    for size in SIZES {
        let collection = collection(size);
        let times = SCREENS
            .iter()
            .flat_map(|screen| on_screen((size, &collection), screen));
        for (what, time) in times {
            match all.iter_mut().find(|grown| grown.what == what) {
                Some(grown) => grown.times.push(time),
                None => all.push(Grown {
                    what,
                    times: vec![time],
                }),
            }
        }
    }
    all.retain(|grown| {
        let is_whole = grown.times.len() == SIZES.len();
        if !is_whole {
            println!("  NOT MEASURED at every size: {}", grown.what);
        }
        is_whole
    });
    all
}

fn on_screen(
    (pockets, collection): (usize, &Collection),
    (context, which, path, words): &(Context, &str, &str, &str),
) -> Vec<(String, f64)> {
    let by = |path: &str| {
        let mut shown = Shown::new(collection, (120, 40));
        shown.keys(path);
        shown.text(words);
        shown.draw();
        shown
    };
    let leads = |path: &&str| by(path).app.context() == *context;
    let Some(path) = path.split('|').find(leads) else {
        println!("  NOT MEASURED: {path} does not lead to {context:?}");
        return Vec::new();
    };
    let open = || by(path);
    // As for a person: what takes longer than a frame is made beside the keys.
    let beside = || {
        let mut shown = open();
        shown.app.wake_by(|| {});
        shown
    };
    let own = |binding: &&Binding| binding.context == *context;
    let mut seen: Vec<Intent> = Vec::new();
    let mut times = Vec::new();
    for binding in bindings().iter().filter(own) {
        if seen.contains(&binding.intent) {
            continue;
        }
        seen.push(binding.intent);
        let key = binding.key.to_string();
        let what = format!("{context:?} {which} {key}: {:?}", binding.intent);
        let time = least(beside, |mut shown| timed(|| press(&mut shown, &key)));
        // Done at once, without a loop: how long until what is made beside the keys is there.
        let mut shown = open();
        let whole = timed(|| press(&mut shown, &key));
        if whole > 16.0 && time < whole / 2.0 {
            println!(
                "  made beside the keys, {pockets} pockets: {what} {time:.1}, there after {whole:.0} ms"
            );
        }
        times.push((what, time));
    }
    if !words.is_empty() {
        let time = least(beside, |mut shown| timed(|| press(&mut shown, "o")));
        times.push((format!("{context:?} {which}, a letter typed"), time));
    }
    times
}

fn press(shown: &mut Shown, key: &str) {
    shown.keys(key);
    shown.draw();
}
