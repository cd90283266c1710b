//! Every key of the key table, pressed on every screen, with the work beside the keys that a
//! person has too: a key waits for a short answer only, and the frame in which a longer one
//! arrives counts as much as the frame of the key.

use std::path::Path;
use std::time::Instant;

use ringbound::model::Collection;
use ringbound::ui::{Binding, Context, Intent, bindings};

use super::{Grown, SIZES, files, middle};
use crate::common::collection::collection;
use crate::common::shown::{FRAME, Shown};
use crate::common::table::{missed, timed};

/// How long a key waits for an answer that takes longer, in milliseconds: half of a frame.
const WAIT: f64 = 8.0;

/// The keys that lead to a screen from the start (of two ways the one that does: a window may be
/// in between, or not; `<` and a name is a file of the bench, pasted), and what is typed there.
/// The word before tells screens of one kind apart.
const SCREENS: &[(Context, &str, &str, &str)] = &[
    (Context::Shelf, "", "", ""),
    (Context::Binder, "", "enter", ""),
    (Context::Binder, "last", "end enter", ""),
    (Context::Carry, "card", "enter c", ""),
    (Context::Carry, "page", "enter C", ""),
    (Context::Find, "", "f", "moss 12"),
    (Context::Form, "", "s", ""),
    (Context::Form, "typing in", "k", ""),
    (Context::Prompt, "", "enter g", "2"),
    (Context::Menu, "", "enter a", ""),
    (Context::Menu, "give up", "del", ""),
    (Context::Drafts, "", "enter d", ""),
    (Context::History, "", "h", ""),
    (Context::Work, "shelf", "w|w enter", ""),
    (Context::Ways, "shelf", "w|w o", ""),
    (Context::Work, "binder", "enter w|enter w enter", ""),
    (
        Context::Ways,
        "binder",
        "enter w|enter w o|enter d n R enter C end enter d a esc w|\
         enter d n R enter C end enter d a esc w o",
        "",
    ),
    (Context::Pile, "", "e", "S001"),
    (Context::List, "shelf", "l", ""),
    (Context::List, "narrowed", "l", "moss"),
    (Context::List, "binder", "enter l", ""),
    (Context::File, "list", "l f2", ""),
    (
        Context::File,
        "swap",
        "x <swap-wants enter <swap-spares enter f2",
        "",
    ),
    (Context::SwapFiles, "", "x <swap-wants", ""),
    (
        Context::SwapFiles,
        "both",
        "x <swap-wants enter <swap-spares",
        "",
    ),
    (
        Context::Swap,
        "",
        "x <swap-wants enter <swap-spares enter",
        "",
    ),
    (Context::Print, "shelf", "P", ""),
    (Context::Print, "binder", "enter P", ""),
    (Context::Supplies, "", "b", ""),
    (Context::Sections, "", "enter d s enter", ""),
    (Context::Section, "", "enter d s enter enter", ""),
    (Context::Templates, "", "enter d s", ""),
    (Context::Growth, "", "enter d s enter g", ""),
    (Context::Spine, "", "t", ""),
    (Context::TypeIn, "", "enter k", "12"),
    (Context::Import, "500 cards", "i <few", ""),
    (Context::Import, "as many cards as pockets", "i <many", ""),
    (Context::Anything, "", "f3", "un"),
    (Context::Help, "", "?", ""),
];

pub(super) fn measured() -> Vec<Grown> {
    let mut named: Vec<Context> = bindings().iter().map(|binding| binding.context).collect();
    named.dedup();
    for context in named {
        if !SCREENS.iter().any(|screen| screen.0 == context) {
            not_measured(&format!("{context:?} has no line"));
        }
    }
    let mut all: Vec<Grown> = Vec::new();
    for (at, size) in SIZES.into_iter().enumerate() {
        let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
        files::swapped(folder.path());
        files::checklist(folder.path(), "few", 500);
        files::checklist(folder.path(), "many", size);
        let bench = Bench {
            pockets: size,
            is_first: at == 0,
            collection: &collection(size),
            folder: folder.path(),
        };
        for (what, time) in SCREENS.iter().flat_map(|screen| bench.on_screen(screen)) {
            match all.iter_mut().find(|grown| grown.what == what) {
                Some(grown) => grown.push(time),
                None => {
                    // On a small shelf not every screen can be had.
                    let mut grown = Grown::new(what);
                    (0..at.min(1)).for_each(|_| grown.push((f64::NAN, f64::NAN)));
                    grown.push(time);
                    all.push(grown);
                }
            }
        }
    }
    all.retain(|grown| {
        let is_whole = grown.times.len() == SIZES.len();
        if !is_whole {
            not_measured(&format!("{} at every size", grown.what));
        }
        is_whole
    });
    all
}

/// As much as a goal that is missed.
fn not_measured(what: &str) {
    missed(&format!("growth: NOT MEASURED: {what}"), "", "");
}

/// A collection of one size, and the files that come to it.
struct Bench<'a> {
    pockets: usize,
    is_first: bool,
    collection: &'a Collection,
    folder: &'a Path,
}

impl Bench<'_> {
    fn on_screen(
        &self,
        (context, which, path, words): &(Context, &str, &str, &str),
    ) -> Vec<(String, (f64, f64))> {
        let leads = |path: &&str| self.by(path, words).app.context() == *context;
        let Some(path) = path.split('|').find(leads) else {
            let what = format!("{context:?} {which} among {} pockets", self.pockets);
            if self.is_first {
                println!("  {what} is not there");
            } else {
                not_measured(&what);
            }
            return Vec::new();
        };
        // What is made on the way there is made at once.
        let open = || {
            let mut shown = self.by(path, words);
            shown.beside();
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
            let time = middle(open, |shown| self.pressed(&what, shown, &key));
            times.push((what, time));
        }
        if !words.is_empty() {
            let what = format!("{context:?} {which}, a letter typed");
            let time = middle(open, |shown| self.pressed(&what, shown, "o"));
            times.push((what, time));
        }
        times
    }

    fn by(&self, path: &str, words: &str) -> Shown {
        let mut shown = Shown::new(self.collection, (120, 40));
        for word in path.split_whitespace() {
            match word.strip_prefix('<') {
                Some(name) if !name.is_empty() => {
                    let path = self.folder.join(format!("{name}.csv"));
                    shown.paste(path.to_str().expect("a plain path"));
                }
                _ => shown.keys(word),
            }
        }
        shown.text(words);
        shown.draw();
        shown.settled();
        shown
    }

    /// From the press to the finished frame, or the longest frame that follows from it; and that
    /// without the wait for an answer.
    fn pressed(&self, what: &str, mut shown: Shown, key: &str) -> (f64, f64) {
        let begun = Instant::now();
        let first = timed(|| {
            shown.keys(key);
            shown.draw();
        });
        let waited = if shown.app.waits() { WAIT } else { 0.0 };
        let later = shown.settled();
        let whole = begun.elapsed().as_secs_f64() * 1e3;
        if later > FRAME {
            println!(
                "  {}: {what}: key {first:.1}, longest frame after it {later:.1}, all there \
                 after {whole:.0} ms",
                self.pockets
            );
        }
        (first.max(later), (first - waited).max(later))
    }
}
