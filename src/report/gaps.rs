//! Pockets that do not hold what they are meant for.

use std::slice;

use crate::model::{Binder, Collection, Place, PocketAt, PrintingId, SetId};

/// A printing that is not where it should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    pub printing: PrintingId,
    /// The pocket that is meant for it; `None` where no pocket is and there is no copy either.
    pub place: Option<Place>,
    /// Side, row and column of that pocket on its page of the layout.
    pub at: Option<PocketAt>,
}

/// Every pocket that is meant for a printing and does not hold it, in the order of a walk along
/// the shelf: binder, page, side, row, column. After them, in the order of the checklists, the
/// printings of which there is no copy and for which no pocket is meant, those of runs that are
/// left out excepted.
///
/// Pages of the layout that do not stand in the binder yet count as empty.
#[must_use]
pub fn gaps(collection: &Collection, only: Option<SetId>) -> Vec<Gap> {
    of_runs(collection, only.as_ref().map(slice::from_ref), false)
}

/// [`gaps`] of some sets, in the order of their ids; with `all_runs` of runs that are left out too.
pub(super) fn of_runs(collection: &Collection, only: Option<&[SetId]>, all_runs: bool) -> Vec<Gap> {
    let mut found: Vec<_> = on_the_shelf(collection, only).collect();
    for (id, set) in collection.sets() {
        if is_among(only, id) {
            let homeless = set.printings(id).filter(|printing| {
                let tally = set.tally(*printing);
                tally.meant == 0 && tally.copies() == 0 && (all_runs || tally.is_collected())
            });
            found.extend(homeless.map(|printing| Gap {
                printing,
                place: None,
                at: None,
            }));
        }
    }
    found
}

/// The gaps that have a pocket, in the order of a walk along the shelf.
pub(super) fn on_the_shelf(
    collection: &Collection,
    only: Option<&[SetId]>,
) -> impl Iterator<Item = Gap> {
    let is_in = |set: &SetId, binder| collection.set(*set).is_some_and(|set| set.is_in(binder));
    collection
        .shelf()
        .filter(move |binder| {
            only.is_none_or(|only| only.iter().any(|set| is_in(set, binder.id())))
        })
        .flat_map(in_binder)
        .filter(move |gap| is_among(only, gap.printing.set()))
}

pub(super) fn is_among(only: Option<&[SetId]>, set: SetId) -> bool {
    only.is_none_or(|only| only.binary_search(&set).is_ok())
}

fn in_binder(binder: &Binder) -> impl Iterator<Item = Gap> {
    (0..binder.layout().pages.len()).flat_map(move |page| on_page(binder, page))
}

/// The gaps of one page of the layout, by pocket.
fn on_page(binder: &Binder, page: usize) -> impl DoubleEndedIterator<Item = Gap> {
    let meant = &binder.layout().pages[page];
    let held = binder
        .comparable(page)
        .then(|| binder.pages()[page].cards());
    (0..meant.format().pockets()).filter_map(move |pocket| {
        let printing = meant.printing(pocket)?;
        let there = held.is_some_and(|cards| cards[pocket] == Some(printing));
        (!there).then(|| Gap {
            printing,
            place: Some(Place {
                binder: binder.id(),
                page,
                pocket,
            }),
            at: meant.format().at(pocket),
        })
    })
}

/// The next gap of the same binder after (or, not `forward`, before) a pocket; `None` past the
/// last one.
#[must_use]
pub fn next_gap(collection: &Collection, from: Place, forward: bool) -> Option<Place> {
    let binder = collection.binder(from.binder)?;
    let pages = binder.layout().pages.len();
    let beyond = |place: &Place| {
        let (here, there) = ((from.page, from.pocket), (place.page, place.pocket));
        if forward { there > here } else { there < here }
    };
    if forward {
        (from.page.min(pages)..pages)
            .flat_map(|page| on_page(binder, page))
            .filter_map(|gap| gap.place)
            .find(beyond)
    } else {
        (0..pages.min(from.page.saturating_add(1)))
            .rev()
            .flat_map(|page| on_page(binder, page).rev())
            .filter_map(|gap| gap.place)
            .find(beyond)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::model::random::{collections, places};

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn gaps_are_what_looking_into_every_pocket_finds(collection in collections()) {
            let told = gaps(&collection, None);
            let placed: Vec<Place> = told.iter().filter_map(|gap| gap.place).collect();
            let seen: Vec<Place> = places(&collection)
                .filter(|place| collection.pocket(*place).is_gap())
                .collect();
            // A page of the layout on whose position another kind of page stands cannot be looked
            // into pocket by pocket: all that is meant there is a gap.
            let odd = |place: &Place| {
                let binder = collection.binder(place.binder).unwrap();
                place.page < binder.pages().len() && !binder.comparable(place.page)
            };
            let (odd, plain): (Vec<Place>, Vec<Place>) = placed.iter().partition(|p| odd(p));
            prop_assert_eq!(plain, seen);
            for place in odd {
                let binder = collection.binder(place.binder).unwrap();
                prop_assert!(binder.layout().pages[place.page].printing(place.pocket).is_some());
            }
            let kept: u32 = collection.shelf().map(|binder| binder.tally().gaps()).sum();
            prop_assert_eq!(placed.len(), kept as usize);
        }

        #[test]
        fn homeless_printings_without_a_copy_come_last_and_once(collection in collections()) {
            let told = gaps(&collection, None);
            let first = told.iter().position(|gap| gap.place.is_none()).unwrap_or(told.len());
            let last = &told[first..];
            prop_assert!(last.iter().all(|gap| gap.place.is_none() && gap.at.is_none()));
            prop_assert!(last.is_sorted_by(|a, b| a.printing < b.printing));
            let right = |gap: &Gap| {
                let tally = collection.tally(gap.printing);
                tally.copies() == 0 && tally.meant == 0 && !tally.left_out
            };
            prop_assert!(last.iter().all(right));
        }

        #[test]
        fn the_gaps_of_the_sets_are_the_gaps_of_all(collection in collections()) {
            let mut by_set: Vec<Gap> = (collection.sets())
                .flat_map(|(id, _)| gaps(&collection, Some(id)))
                .collect();
            let mut all = gaps(&collection, None);
            let order = |gap: &Gap| (gap.place, gap.printing);
            by_set.sort_by_key(order);
            all.sort_by_key(order);
            prop_assert_eq!(by_set, all);
        }

        #[test]
        fn stepping_from_gap_to_gap_meets_each_gap_of_the_binder_once(collection in collections()) {
            for binder in collection.shelf() {
                let all: Vec<Place> = in_binder(binder).filter_map(|gap| gap.place).collect();
                let walk = |forward: bool| {
                    let edge = if forward { 0 } else { usize::MAX };
                    let mut at = Place { binder: binder.id(), page: edge, pocket: edge };
                    let mut met = Vec::new();
                    while let Some(next) = next_gap(&collection, at, forward) {
                        met.push(next);
                        at = next;
                    }
                    met
                };
                // The very first pocket is where the walk forward begins, and not met by it.
                let mut forward = walk(true);
                if let Some(first) = all.first().filter(|p| (p.page, p.pocket) == (0, 0)) {
                    forward.insert(0, *first);
                }
                prop_assert_eq!(&forward, &all);
                let mut back = walk(false);
                back.reverse();
                prop_assert_eq!(&back, &all);
            }
        }
    }
}
