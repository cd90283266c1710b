//! What would make a page or a run whole.

use std::collections::HashMap;

use crate::model::{BinderId, Collection, PrintingId, SetId};

/// What is still to be got until a page of the layout can be made whole, in the order of its
/// pockets: its gaps without those that a copy could fill that is loose or lies in a wrong pocket.
#[must_use]
pub fn page_lacks(collection: &Collection, binder: BinderId, page: usize) -> Vec<PrintingId> {
    let Some(binder) = collection.binder(binder) else {
        return Vec::new();
    };
    let Some(meant) = binder.layout().pages.get(page) else {
        return Vec::new();
    };
    let held = binder.pages().get(page);
    let held = held.filter(|_| binder.comparable(page));
    let mut served: HashMap<PrintingId, u32> = HashMap::new();
    let gaps = meant.printings().filter(|(pocket, printing)| {
        let there = held.map(|held| held.cards()[*pocket]);
        there != Some(Some(*printing))
    });
    gaps.map(|(_, printing)| printing)
        .filter(|printing| {
            let tally = collection.tally(*printing);
            let served = served.entry(*printing).or_default();
            *served += 1;
            *served > tally.copies() - tally.in_place
        })
        .collect()
}

/// The cards of a set in one finish of which there is no copy yet, in the order of the checklist;
/// none where the run is left out and no pocket is meant for it.
#[must_use]
pub fn run_lacks(collection: &Collection, id: SetId, finish: u8) -> Vec<PrintingId> {
    let Some(set) = collection.set(id) else {
        return Vec::new();
    };
    let of_run = set.printings(id).filter(|of| of.finish() == finish);
    of_run
        .filter(|of| {
            let tally = set.tally(*of);
            tally.copies() == 0 && tally.is_collected()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::demo;
    use crate::model::random::{collections, places};
    use crate::model::{Change, Meaning};
    use crate::report::completion;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// Counted pocket by pocket.
        #[test]
        fn a_page_lacks_its_gaps_less_the_copies_that_could_fill_them(collection in collections()) {
            for binder in collection.shelf() {
                for page in 0..binder.layout().pages.len() {
                    let lacks = page_lacks(&collection, binder.id(), page);
                    for printing in lacks.iter().copied() {
                        let gaps = places(&collection)
                            .filter(|place| (place.binder, place.page) == (binder.id(), page))
                            .filter(|place| {
                                let meaning = binder.layout().pages[page].meaning(place.pocket);
                                let apart = page < binder.pages().len() && !binder.comparable(page);
                                meaning == Meaning::Printing(printing)
                                    && (apart || collection.held(*place) != Some(printing))
                            })
                            .count();
                        let tally = collection.tally(printing);
                        let at_hand = (tally.loose + tally.pocketed - tally.in_place) as usize;
                        let told = lacks.iter().filter(|of| **of == printing).count();
                        // A page of another kind has fewer pockets than the layout says.
                        let apart = page < binder.pages().len() && !binder.comparable(page);
                        prop_assert!(apart || told == gaps - at_hand);
                    }
                }
            }
        }

        #[test]
        fn what_a_run_lacks_is_what_completion_says_is_missing(collection in collections()) {
            for told in completion(&collection, None) {
                let set = collection.set(told.set).unwrap();
                let lacks = |finish: u8| run_lacks(&collection, told.set, finish).len();
                let all: usize = (0..set.finishes().len() as u8).map(lacks).sum();
                prop_assert_eq!(all, told.collected.missing() as usize);
            }
        }
    }

    #[test]
    fn getting_what_a_page_lacks_leaves_nothing_to_be_got() {
        let mut collection = demo::collection();
        let moss = collection.binder_by_name("moss").unwrap();
        let lacks = page_lacks(&collection, moss, 0);
        assert!(!lacks.is_empty());
        for (at, printing) in lacks.iter().enumerate() {
            assert_eq!(page_lacks(&collection, moss, 0).len(), lacks.len() - at);
            let got = Change::Acquire {
                printing: *printing,
                count: 1,
            };
            got.apply(&mut collection).unwrap();
        }
        assert_eq!(page_lacks(&collection, moss, 0), []);
    }
}
