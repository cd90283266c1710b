//! What is to be looked for elsewhere: gaps for which there is no copy yet.

use std::collections::HashMap;
use std::slice;

use super::gaps::{Gap, is_among, of_runs};
use crate::model::{Collection, PrintingId, SetId};

/// What of the wants is asked for. Nothing said means all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct WantFilter<'a> {
    pub set: Option<SetId>,
    /// The name of a finish, in any case, or its mark.
    pub finish: Option<&'a str>,
    /// The name of a rarity, in any case.
    pub rarity: Option<&'a str>,
    /// Runs that are not collected too ([`is_collected`]).
    pub all_runs: bool,
}

/// The gaps for which there is no copy anywhere that could go there, neither a loose one nor one
/// that lies in a wrong pocket; in the order of [`gaps`](super::gaps()), where the first gaps of a printing are
/// served first.
#[must_use]
pub fn wants(collection: &Collection, filter: WantFilter<'_>) -> Vec<Gap> {
    wants_of(collection, filter.set.as_ref().map(slice::from_ref), filter)
}

/// [`wants`] of some sets only, in the order of their ids, whatever the filter says of sets.
pub(super) fn wants_of(
    collection: &Collection,
    only: Option<&[SetId]>,
    filter: WantFilter<'_>,
) -> Vec<Gap> {
    let mut served: HashMap<PrintingId, u32> = HashMap::new();
    let runs = Runs::new(collection, only);
    (of_runs(collection, only, filter.all_runs).into_iter())
        .filter(|gap| fits(collection, gap.printing, filter))
        .filter(|gap| filter.all_runs || runs.is_collected(collection, gap.printing))
        .filter(|gap| {
            let tally = collection.tally(gap.printing);
            let at_hand = tally.copies() - tally.in_place;
            // Mostly none, and then nothing need be counted.
            if at_hand == 0 {
                return true;
            }
            let served = served.entry(gap.printing).or_default();
            *served += 1;
            *served > at_hand
        })
        .collect()
}

/// Whether a printing is of the finish and the rarity that are asked for.
pub(super) fn fits(collection: &Collection, printing: PrintingId, filter: WantFilter<'_>) -> bool {
    let Some(set) = collection.set(printing.set()) else {
        return false;
    };
    let finish = filter
        .finish
        .is_none_or(|name| set.finish_by_name(name) == Some(printing.finish()));
    let rarity = filter.rarity.is_none_or(|name| {
        let card = set.card(printing.card());
        card.is_some_and(|card| set.rarity_name(card).to_lowercase() == name.to_lowercase())
    });
    finish && rarity
}

/// Whether the collector collects the printing. What a pocket of a layout is meant for is
/// collected. Else a run (the cards of a set in one finish) is not that the collector has left out,
/// nor one without any pocket, where other cards of the set have some.
#[must_use]
pub fn is_collected(collection: &Collection, printing: PrintingId) -> bool {
    let only = [printing.set()];
    Runs::new(collection, Some(&only)).is_collected(collection, printing)
}

/// The runs with pockets, found in one go: a bit a finish, by the id of the set; nothing for a set
/// that is not asked for.
struct Runs(HashMap<SetId, u64>);

impl Runs {
    fn new(collection: &Collection, only: Option<&[SetId]>) -> Self {
        let asked = collection.sets().filter(|(id, _)| is_among(only, *id));
        let bits = asked.map(|(id, set)| {
            let meant = set.printings(id).filter(|of| set.tally(*of).meant > 0);
            // `limits::FINISHES` keeps them within 64.
            (id, meant.fold(0, |bits, of| bits | 1 << of.finish()))
        });
        Self(bits.collect())
    }

    fn is_collected(&self, collection: &Collection, printing: PrintingId) -> bool {
        let bits = self.0.get(&printing.set()).copied().unwrap_or(0);
        let has_pockets = bits & 1 << printing.finish() != 0;
        collection.tally(printing).is_collected() && (has_pockets || bits == 0)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::demo;
    use crate::model::random::collections;

    const ALL: WantFilter<'static> = WantFilter {
        set: None,
        finish: None,
        rarity: None,
        all_runs: true,
    };

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// Counted from the copies: as many are wanted of a printing as its pockets lack when all
        /// copies are put where they belong.
        #[test]
        fn as_many_are_wanted_as_there_would_be_gaps_when_all_is_put_in_place(
            collection in collections(),
        ) {
            let told = wants(&collection, ALL);
            for (id, set) in collection.sets() {
                for printing in set.printings(id) {
                    let pockets = collection.places_meant(printing).count() as u32;
                    let copies = collection.tally(printing).copies();
                    let right = pockets.max(1).saturating_sub(copies);
                    let found = told.iter().filter(|want| want.printing == printing).count();
                    prop_assert_eq!(found as u32, right);
                }
            }
        }
    }

    #[test]
    fn wants_are_filtered_by_set_finish_and_rarity() {
        let demo = demo::collection();
        let wood = demo.set_by_code("WOOD");
        let filter = WantFilter {
            set: wood,
            finish: Some("R"),
            rarity: Some("Heirloom"),
            ..WantFilter::default()
        };
        let none = wants(&demo, filter);
        // A mark is as written, a name in any case.
        assert_eq!(none, []);
        let filter = WantFilter {
            finish: Some("REVERSE"),
            ..filter
        };
        let found = wants(&demo, filter);
        assert!(!found.is_empty());
        for want in found {
            let set = demo.set(want.printing.set()).unwrap();
            let card = set.card(want.printing.card()).unwrap();
            assert_eq!((set.code(), set.rarity_name(card)), ("WOOD", "heirloom"));
            assert_eq!(want.printing.finish(), 1);
        }
    }

    #[test]
    fn a_run_that_is_left_out_is_no_gap_and_not_wanted_and_its_copies_are_spare() {
        let mut demo = demo::collection();
        let moss = demo.set_by_code("MOSS").unwrap();
        let reverse = |gap: &&Gap| (gap.printing.set(), gap.printing.finish()) == (moss, 1);
        let find = |demo: &Collection, all_runs| {
            let filter = WantFilter {
                all_runs,
                ..WantFilter::default()
            };
            let found = wants(demo, filter);
            let gaps = of_runs(demo, Some(&[moss]), false);
            let count = |list: &[Gap]| list.iter().filter(reverse).count();
            (count(&found), count(&gaps))
        };
        let (wanted, open) = find(&demo, false);
        assert!(wanted > 0 && open >= wanted);
        // Its pockets are free again, and the run is left out.
        for binder in demo
            .shelf()
            .map(crate::model::Binder::id)
            .collect::<Vec<_>>()
        {
            for page in 0..demo.binder(binder).unwrap().layout().pages.len() {
                for pocket in 0..demo.binder(binder).unwrap().layout().pages[page]
                    .format()
                    .pockets()
                {
                    let place = crate::model::Place {
                        binder,
                        page,
                        pocket,
                    };
                    let old = demo.binder(binder).unwrap().layout().pages[page].meaning(pocket);
                    if let crate::model::Meaning::Printing(of) = old
                        && (of.set(), of.finish()) == (moss, 1)
                    {
                        let new = crate::model::Meaning::Nothing;
                        let free = crate::model::Change::Mean { place, old, new };
                        free.apply(&mut demo).unwrap();
                    }
                }
            }
        }
        let out = crate::model::Change::LeaveOut {
            set: moss,
            finish: 1,
        };
        out.apply(&mut demo).unwrap();
        assert_eq!(find(&demo, false), (0, 0));
        assert!(find(&demo, true).0 >= wanted);
        for of in demo
            .set(moss)
            .unwrap()
            .printings(moss)
            .filter(|of| of.finish() == 1)
        {
            let tally = demo.tally(of);
            assert_eq!((tally.waiting(), tally.spares()), (0, tally.loose));
        }
    }

    #[test]
    fn a_run_without_any_pocket_is_only_wanted_when_asked_for() {
        let demo = demo::collection();
        let wanted = |all_runs| {
            let filter = WantFilter {
                all_runs,
                ..WantFilter::default()
            };
            wants(&demo, filter)
        };
        let (some, all) = (wanted(false), wanted(true));
        for want in &all {
            let set = demo.set(want.printing.set()).unwrap();
            let run = |finish: u8| {
                let of_run = set.printings(want.printing.set());
                let mut of_run = of_run.filter(move |of| of.finish() == finish);
                of_run.any(|of| demo.places_meant(of).next().is_some())
            };
            let set_has_pockets = (0..set.finishes().len() as u8).any(run);
            let right = run(want.printing.finish()) || !set_has_pockets;
            assert_eq!(some.contains(want), right);
            assert_eq!(is_collected(&demo, want.printing), right);
        }
    }
}
