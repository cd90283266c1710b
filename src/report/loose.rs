//! Loose copies: those that wait for a pocket, and those that are spare.

use std::collections::HashMap;
use std::slice;

use super::gaps::on_the_shelf;
use crate::model::{Collection, Place, PocketAt, PrintingId, SetId};

/// A loose copy that waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Waiting {
    pub printing: PrintingId,
    /// The gap that it goes to; `None` where no pocket is meant for it.
    pub place: Option<Place>,
    /// Side, row and column of that pocket on its page of the layout.
    pub at: Option<PocketAt>,
}

/// Loose copies of a printing beyond those that wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spare {
    pub printing: PrintingId,
    pub count: u32,
    /// The pocket that is meant for it: one in which a copy lies, else the first of them.
    pub place: Option<Place>,
    /// Side, row and column of that pocket on its page.
    pub at: Option<PocketAt>,
}

/// Each loose copy that waits ([`crate::model::Tally::waiting`] says how many of a printing do),
/// in the order of a walk along the shelf; the first gaps of a printing are served first. Copies
/// for which no pocket is meant come last, in the order of the checklists.
#[must_use]
pub fn waiting(collection: &Collection, only: Option<SetId>) -> Vec<Waiting> {
    let mut left: HashMap<PrintingId, u32> = HashMap::new();
    let mut homeless = Vec::new();
    for printing in printings(collection, only) {
        let tally = collection.tally(printing);
        let count = tally.waiting();
        if tally.meant > 0 && count > 0 {
            left.insert(printing, count);
        } else {
            // Without a pocket meant for it no more than one waits.
            homeless.extend((0..count).map(|_| Waiting {
                printing,
                place: None,
                at: None,
            }));
        }
    }
    let mut found = Vec::new();
    if !left.is_empty() {
        for gap in on_the_shelf(collection, only.as_ref().map(slice::from_ref)) {
            if let Some(count) = left.get_mut(&gap.printing).filter(|count| **count > 0) {
                *count -= 1;
                found.push(Waiting {
                    printing: gap.printing,
                    place: gap.place,
                    at: gap.at,
                });
            }
        }
    }
    found.extend(homeless);
    found
}

/// What can be swapped away, in the order of the checklists.
#[must_use]
pub fn spares(collection: &Collection, only: Option<SetId>) -> Vec<Spare> {
    let mut found: Vec<_> = printings(collection, only)
        .map(|printing| Spare {
            printing,
            count: collection.tally(printing).spares(),
            place: None,
            at: None,
        })
        .filter(|spare| spare.count > 0)
        .collect();
    seat(collection, &mut found);
    found
}

fn printings(
    collection: &Collection,
    only: Option<SetId>,
) -> impl Iterator<Item = PrintingId> + '_ {
    collection
        .sets()
        .filter(move |(id, _)| only.is_none_or(|only| only == *id))
        .flat_map(|(id, set)| set.printings(id))
}

/// Finds the pocket of each, in one walk along the shelf.
fn seat(collection: &Collection, spares: &mut [Spare]) {
    let row: HashMap<PrintingId, usize> = (spares.iter().map(|spare| spare.printing))
        .zip(0..)
        .collect();
    if row.is_empty() {
        return;
    }
    let mut at_home = vec![false; spares.len()];
    for binder in collection.shelf() {
        for (page, meant) in binder.layout().pages.iter().enumerate() {
            let real = binder
                .comparable(page)
                .then(|| binder.pages()[page].cards());
            for (pocket, card) in meant.printings() {
                let Some(&row) = row.get(&card) else {
                    continue;
                };
                let home = real.is_some_and(|cards| cards[pocket] == Some(card));
                if spares[row].place.is_none() || (home && !at_home[row]) {
                    at_home[row] = home;
                    spares[row].place = Some(Place {
                        binder: binder.id(),
                        page,
                        pocket,
                    });
                    spares[row].at = meant.format().at(pocket);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use proptest::prelude::*;

    use super::*;
    use crate::model::PocketState;
    use crate::model::random::collections;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn every_loose_copy_either_waits_or_is_spare(collection in collections()) {
            let (waits, spare) = (waiting(&collection, None), spares(&collection, None));
            for printing in printings(&collection, None) {
                let waits = waits.iter().filter(|w| w.printing == printing).count();
                let spare: u32 = spare
                    .iter()
                    .filter(|s| s.printing == printing)
                    .map(|s| s.count)
                    .sum();
                prop_assert_eq!(waits as u32 + spare, collection.tally(printing).loose);
            }
        }

        #[test]
        fn no_two_waiting_copies_go_to_one_pocket_and_the_first_gaps_come_first(
            collection in collections(),
        ) {
            let told = waiting(&collection, None);
            let placed: Vec<_> = told.iter().filter_map(|w| w.place).collect();
            let different: HashSet<_> = placed.iter().collect();
            prop_assert_eq!(different.len(), placed.len());
            prop_assert!(told.is_sorted_by_key(|w| w.place.is_none()));
            for printing in printings(&collection, None) {
                let served: Vec<_> = told
                    .iter()
                    .filter(|w| w.printing == printing)
                    .filter_map(|w| w.place)
                    .collect();
                let open: Vec<_> = on_the_shelf(&collection, None)
                    .filter(|gap| gap.printing == printing)
                    .filter_map(|gap| gap.place)
                    .take(served.len())
                    .collect();
                prop_assert_eq!(served, open);
            }
        }

        #[test]
        fn a_spare_is_told_with_the_pocket_meant_for_it_and_rather_with_one_that_holds_a_copy(
            collection in collections(),
        ) {
            for spare in spares(&collection, None) {
                let tally = collection.tally(spare.printing);
                prop_assert_eq!(spare.place.is_some(), tally.meant > 0);
                if let Some(place) = spare.place {
                    let binder = collection.binder(place.binder).unwrap();
                    let meant = binder.layout().pages[place.page].printing(place.pocket);
                    prop_assert_eq!(meant, Some(spare.printing));
                    let home = collection.pocket(place) == PocketState::InPlace(spare.printing);
                    prop_assert_eq!(home, tally.in_place > 0);
                }
            }
        }
    }
}
