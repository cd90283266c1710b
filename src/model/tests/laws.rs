//! The laws that hold for every change: it can be undone, it is refused without a trace, and it
//! neither makes nor loses copies.

use proptest::prelude::*;

use super::same;
use crate::model::random::{collections, collections_and_changes};
use crate::model::*;

fn printings(collection: &Collection) -> Vec<PrintingId> {
    (collection.sets())
        .flat_map(|(id, set)| set.printings(id))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_change_is_undone_by_its_inverse_and_a_refused_one_leaves_no_trace(
        (mut collection, changes) in collections_and_changes(),
    ) {
        for change in changes {
            let before = collection.clone();
            match change.apply(&mut collection) {
                Err(_) => prop_assert!(same(&before, &collection), "{:?}", change),
                Ok(()) => {
                    prop_assert!(collection.check().is_empty());
                    let mut back = collection.clone();
                    change.inverse().apply(&mut back).unwrap();
                    prop_assert!(same(&before, &back), "{:?}", change);
                    prop_assert!(back.check().is_empty());
                }
            }
        }
    }

    #[test]
    fn several_changes_are_taken_whole_or_not_at_all(
        (mut collection, changes) in collections_and_changes(),
    ) {
        let before = collection.clone();
        if Change::apply_all(&changes, &mut collection).is_err() {
            prop_assert!(same(&before, &collection));
        }
        prop_assert!(collection.check().is_empty());
    }

    #[test]
    fn only_acquire_and_part_with_alter_the_number_of_copies(
        (mut collection, changes) in collections_and_changes(),
    ) {
        for change in changes {
            let copies = |c: &Collection| -> Vec<u32> {
                printings(c).iter().map(|p| c.tally(*p).copies()).collect()
            };
            let before = copies(&collection);
            let taken = change.apply(&mut collection).is_ok();
            let alters = matches!(change, Change::Acquire { .. } | Change::PartWith { .. });
            prop_assert_eq!(copies(&collection) != before, taken && alters, "{:?}", change);
        }
    }

    #[test]
    fn a_page_that_moves_keeps_its_cards_and_the_layout_stays(
        (mut collection, changes) in collections_and_changes(),
    ) {
        for change in changes {
            let before = collection.clone();
            let taken = change.apply(&mut collection).is_ok();
            let Change::MovePage { page, to, .. } = change else {
                continue;
            };
            for (id, binder) in &collection.binders {
                prop_assert_eq!(&binder.layout, &before.binders[id].layout);
            }
            if taken {
                prop_assert_eq!(collection.binders[&to.binder].pages[to.page].id(), page);
            }
            let pages = |c: &Collection| {
                let mut all: Vec<_> = c.binders.values().flat_map(|b| b.pages.clone()).collect();
                all.sort_by_key(Page::id);
                all
            };
            prop_assert_eq!(pages(&collection), pages(&before));
        }
    }

    #[test]
    fn putting_a_collection_together_at_once_gives_what_the_changes_gave(
        collection in collections(),
    ) {
        let mut builder = Builder::new();
        for (_, set) in collection.sets() {
            let parts = SetParts {
                head: set.head().clone(),
                finishes: set.finishes().to_vec(),
                rarities: set.rarities().to_vec(),
                cards: set.cards().to_vec(),
            };
            let id = builder.set(parts).unwrap();
            for finish in (0..set.finishes().len() as u8).filter(|at| set.is_left_out(*at)) {
                builder.leave_out(id, finish).unwrap();
            }
        }
        for binder in collection.shelf() {
            let pages = binder.pages().iter();
            let pages = pages.map(|page| (page.id(), page.format(), page.cards().into()));
            let (spec, layout) = (binder.spec().clone(), binder.layout().clone());
            builder.binder(binder.id(), spec, pages.collect(), layout).unwrap();
            for draft in binder.drafts() {
                builder.draft(binder.id(), draft.clone()).unwrap();
            }
        }
        for printing in printings(&collection) {
            builder.loose(printing, collection.tally(printing).loose).unwrap();
        }
        for (name, rules) in collection.templates() {
            builder.template(name, rules).unwrap();
        }
        let again = builder.finish().unwrap();
        prop_assert!(again.check().is_empty());
        prop_assert!(same(&collection, &again));
    }

    #[test]
    fn looking_into_a_pocket_agrees_with_the_running_counts(collection in collections()) {
        for printing in printings(&collection) {
            let tally = collection.tally(printing);
            let held: Vec<_> = collection.places_holding(printing).collect();
            prop_assert_eq!(held.len(), tally.pocketed as usize);
            let meant = collection.places_meant(printing).count();
            prop_assert_eq!(meant, tally.meant as usize);
            let home = PocketState::InPlace(printing);
            let at_home = held.iter().filter(|p| collection.pocket(**p) == home).count();
            prop_assert_eq!(at_home, tally.in_place as usize);
            prop_assert_eq!(tally.waiting() + tally.spares(), tally.loose);
        }
    }
}
