//! The state of a pocket in words.

use crate::model::{Binder, Collection, PocketState, PrintingId};
use crate::report::printing_words;

/// What lies in the pocket and what it is for.
pub(super) fn tell(collection: &Collection, binder: &Binder, state: &PocketState) -> String {
    let card = |printing| card(collection, binder, printing);
    match state {
        PocketState::Unassigned => "free".into(),
        PocketState::Blank => "left empty on purpose".into(),
        PocketState::Keepsake(words) => format!("keepsake: {words}"),
        PocketState::InPlace(held) => format!("{}, in place", card(*held)),
        PocketState::Gap(wanted) => format!("gap for {}", card(*wanted)),
        PocketState::Waiting(wanted) => {
            format!("gap for {}, a loose copy waits", card(*wanted))
        }
        PocketState::Misplaced { held, wanted } => match wanted {
            Some(wanted) => {
                format!(
                    "{}, misplaced; the pocket is for {}",
                    card(*held),
                    card(*wanted)
                )
            }
            None => format!("{}, misplaced; the pocket is for no card", card(*held)),
        },
    }
}

/// The card, with its set where that is not the binder's own.
fn card(collection: &Collection, binder: &Binder, printing: PrintingId) -> String {
    let words = printing_words(collection, printing);
    if binder.spec().set == Some(printing.set()) {
        return words;
    }
    let code = collection.set(printing.set()).map_or("", |set| set.code());
    format!("{code} {words}")
}

/// The state in one short word, under the number in the grid.
pub(super) fn short(state: &PocketState) -> &'static str {
    match state {
        PocketState::Unassigned => "-",
        PocketState::Blank => "blank",
        PocketState::Keepsake(_) => "keepsake",
        PocketState::InPlace(_) => "in place",
        PocketState::Gap(_) => "gap",
        PocketState::Waiting(_) => "waiting",
        PocketState::Misplaced { .. } => "misplaced",
    }
}

/// Number and mark of the card in the pocket, or of the one that it is for.
pub(super) fn number(collection: &Collection, state: &PocketState) -> String {
    let Some(printing) = state.held().or(state.wanted()) else {
        return String::new();
    };
    let set = collection.set(printing.set());
    set.map_or_else(String::new, |set| set.marked(printing))
}
