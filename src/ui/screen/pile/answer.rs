//! What is answered to an entry: where the card goes, and what is still to be got there.

use super::Pile;
use crate::hand;
use crate::intake::Entry;
use crate::model::{Collection, Place, PocketState, PrintingId, SetId};
use crate::report;
use crate::ui::theme::Role;

/// The most numbers that are listed; with more, only how many there are is of use.
const MOST_NUMBERS: usize = 9;

/// One entry, as it is told.
#[derive(Clone, Debug)]
pub(super) struct Entered {
    pub(super) words: String,
    pub(super) answer: String,
    /// The same where there is less room.
    pub(super) short: String,
    /// What would finish the page and the run.
    pub(super) hint: String,
    pub(super) role: Role,
    pub(super) count: u32,
}

/// What became of an entry that has been kept, and the pocket to show.
pub(super) fn answer(
    collection: &Collection,
    set: Option<SetId>,
    entry: Entry,
) -> (Entered, Option<Place>) {
    let printing = entry.printing;
    let tally = collection.tally(printing);
    let gap = Pile::gap_for(collection, printing);
    let mut told = Entered {
        words: match set == Some(printing.set()) {
            true => report::printing_words(collection, printing),
            // Of another set than the one that is being entered.
            false => hand::named(collection, printing),
        },
        answer: String::new(),
        short: String::new(),
        hint: String::new(),
        role: Role::Waiting,
        count: entry.count,
    };
    match gap {
        Some(place) if tally.spares() < entry.count => {
            let title = report::binder_words(collection, place.binder);
            let words = report::place_words(collection, place);
            let over = match tally.spares().min(entry.count) {
                0 => String::new(),
                over => format!("; {over} of them spare"),
            };
            let front = hand::in_front(collection, place);
            let behind = front.map_or_else(String::new, |front| {
                format!(", behind {}", report::printing_words(collection, front))
            });
            let amiss = misplaced(collection, printing);
            told.answer = format!("fills a gap: {title}, {words}{behind}{over}{amiss}");
            told.short = format!("fills a gap, page {}{over}", place.page + 1);
            told.hint = hint(collection, printing, place);
            told.role = Role::InPlace;
        }
        _ if tally.meant == 0 && tally.spares() < entry.count => {
            told.answer = "no pocket is meant for it yet".into();
        }
        _ if !tally.is_collected() => {
            let have = tally.copies();
            told.answer = format!("spare: you do not collect this run; you have {have}");
            told.short = format!("spare, you have {have}");
        }
        _ => told.answer = format!("spare, you have {}", tally.copies()),
    }
    if told.short.is_empty() {
        told.short.clone_from(&told.answer);
    }
    let place = gap.or_else(|| collection.places_holding(printing).next());
    (told, place)
}

/// Where a copy lies that is not in its pocket, so that nobody wonders why the count stays.
fn misplaced(collection: &Collection, printing: PrintingId) -> String {
    let mut holding = collection.places_holding(printing);
    let lies = holding.find(|place| !matches!(collection.pocket(*place), PocketState::InPlace(_)));
    lies.map_or_else(String::new, |place| {
        let words = report::place_words(collection, place);
        format!("; you have one, misplaced: {words}")
    })
}

fn hint(collection: &Collection, printing: PrintingId, place: Place) -> String {
    let (id, finish) = (printing.set(), printing.finish());
    let page = report::page_lacks(collection, place.binder, place.page);
    let page = finishing(collection, id, &page, "this page");
    let run = report::run_lacks(collection, id, finish);
    let set = collection.set(id);
    let name = set.and_then(|set| set.finishes().get(usize::from(finish)));
    let run = finishing(collection, id, &run, name.map_or("", |name| &name.name));
    format!("{page}; {run}")
}

/// `2 more finish this page: 12, 14a`.
fn finishing(collection: &Collection, id: SetId, lacks: &[PrintingId], what: &str) -> String {
    let number = |of: &PrintingId| {
        let card = collection.card(*of).map_or("", |card| &card.number);
        let set = collection.set(of.set());
        let mark = set.and_then(|set| set.finishes().get(usize::from(of.finish())));
        let mark = mark.map_or("", |finish| &finish.mark);
        let mut words = format!("{card} {mark}").trim_end().to_owned();
        if of.set() != id {
            words = format!("{} {words}", set.map_or("", |set| set.code()));
        }
        words
    };
    let list = || lacks.iter().map(number).collect::<Vec<_>>().join(", ");
    match lacks.len() {
        0 => format!("{what} is complete"),
        1 => format!("1 more finishes {what}: {}", list()),
        many if many <= MOST_NUMBERS => format!("{many} more finish {what}: {}", list()),
        many => format!("{many} more finish {what}"),
    }
}
