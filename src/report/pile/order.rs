//! The right order of a stack: that in which a walk along the shelf meets the pockets.

use std::collections::HashSet;

use crate::model::{Collection, Place, PrintingId, SetId};
use crate::text::natural_cmp;

/// The different cards that may be in a stack, in the order of the shelf's pockets; those without
/// a pocket after them, by set and by number.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StackOrder {
    pub printings: Vec<PrintingId>,
    /// How natural a border before each is, for [`super::sorting`].
    pub breaks: Vec<u8>,
}

mod border {
    pub(super) const SET: u8 = 5;
    pub(super) const BINDER: u8 = 4;
    pub(super) const FINISH: u8 = 3;
    pub(super) const PAGE: u8 = 2;
    pub(super) const TEN: u8 = 1;
}

impl StackOrder {
    /// Every printing of these sets for which `may_be_in` holds; of all sets where none is named.
    #[must_use]
    pub fn new(
        collection: &Collection,
        sets: &[SetId],
        may_be_in: impl Fn(PrintingId) -> bool,
    ) -> Self {
        let wanted = |set: SetId| sets.is_empty() || sets.contains(&set);
        let mut seen = HashSet::new();
        let mut found: Vec<(PrintingId, Option<Place>)> = Vec::new();
        for binder in collection.shelf() {
            for (page, meant) in binder.layout().pages.iter().enumerate() {
                for (pocket, printing) in meant.printings() {
                    if wanted(printing.set()) && may_be_in(printing) && seen.insert(printing) {
                        let place = Place {
                            binder: binder.id(),
                            page,
                            pocket,
                        };
                        found.push((printing, Some(place)));
                    }
                }
            }
        }
        for (id, set) in collection.sets().filter(|(id, _)| wanted(*id)) {
            let mut rest: Vec<_> = (set.printings(id))
                .filter(|printing| may_be_in(*printing) && !seen.contains(printing))
                .collect();
            rest.sort_by(|a, b| {
                let numbers = (number(collection, *a), number(collection, *b));
                (a.finish().cmp(&b.finish())).then_with(|| natural_cmp(numbers.0, numbers.1))
            });
            found.extend(rest.into_iter().map(|printing| (printing, None)));
        }
        let before = std::iter::once(None).chain(found.iter().map(Some));
        let breaks = before
            .zip(&found)
            .map(|(before, after)| before.map_or(u8::MAX, |it| border(collection, it, after)));
        Self {
            breaks: breaks.collect(),
            printings: found.iter().map(|(printing, _)| *printing).collect(),
        }
    }
}

fn border(
    collection: &Collection,
    (before, was): &(PrintingId, Option<Place>),
    (after, is): &(PrintingId, Option<Place>),
) -> u8 {
    let binder = |place: &Option<Place>| place.map(|place| place.binder);
    let page = |place: &Option<Place>| place.map(|place| place.page);
    // 11, 21, 101: where a person begins anew.
    let begins_ten = || {
        let number = collection.card(*after).map_or("", |card| &card.number);
        number.len() > 1 && number.ends_with('1') && number.bytes().all(|b| b.is_ascii_digit())
    };
    if before.set() != after.set() {
        border::SET
    } else if binder(was) != binder(is) {
        border::BINDER
    } else if before.finish() != after.finish() {
        border::FINISH
    } else if page(was) != page(is) {
        border::PAGE
    } else if begins_ten() {
        border::TEN
    } else {
        0
    }
}

/// `FEN 1 to 34`, `FEN reverse 7`, `FEN 98 to MOSS 12`: a stretch of a stack's order, by its first
/// and last card.
#[must_use]
pub fn range_words(collection: &Collection, printings: &[PrintingId]) -> String {
    let (Some(first), Some(last)) = (printings.first(), printings.last()) else {
        return "nothing".into();
    };
    let run = |of: &PrintingId| run_words(collection, *of);
    let number = |of: &PrintingId| number(collection, *of);
    let (from, to) = (run(first), run(last));
    if first == last {
        format!("{from} {}", number(first))
    } else if from == to {
        format!("{from} {} to {}", number(first), number(last))
    } else {
        format!("{from} {} to {to} {}", number(first), number(last))
    }
}

/// `FEN 73, 91, FEN reverse 1, 19`: numbers in a row, each run named once.
#[must_use]
pub fn begin_words(
    collection: &Collection,
    printings: impl IntoIterator<Item = PrintingId>,
) -> String {
    let mut run = String::new();
    let mut words: Vec<String> = Vec::new();
    for printing in printings {
        let (now, number) = (
            run_words(collection, printing),
            number(collection, printing),
        );
        words.push(if now == run {
            number.into()
        } else {
            format!("{now} {number}")
        });
        run = now;
    }
    words.join(", ")
}

/// The set's code, and the finish unless it is the set's first.
fn run_words(collection: &Collection, of: PrintingId) -> String {
    let set = collection.set(of.set());
    let code = set.map_or("", |set| set.code());
    let finish = set.and_then(|set| set.finishes().get(usize::from(of.finish())));
    match finish.filter(|_| of.finish() > 0) {
        Some(finish) => format!("{code} {}", finish.name),
        None => code.to_owned(),
    }
}

fn number(collection: &Collection, of: PrintingId) -> &str {
    collection.card(of).map_or("", |card| &card.number)
}
