//! How far sets and binders are.

use crate::model::{Binder, Collection, PrintingId, Set, SetId, Tally};

/// The share as a person reads it: `57 %`, rounded down; `<1 %` when something is there but less
/// than one in a hundred; `100 %` only when nothing is missing. `None` when there is nothing to
/// complete.
#[must_use]
pub fn percent(have: u32, total: u32) -> Option<String> {
    if total == 0 {
        return None;
    }
    let floor = u64::from(have.min(total)) * 100 / u64::from(total);
    Some(if floor == 0 && have > 0 {
        "<1 %".into()
    } else {
        format!("{floor} %")
    })
}

/// How many of `cells` cells of a bar are filled: all of them only when nothing is missing, and
/// one at least when something is there, as far as both can be.
#[must_use]
pub fn bar(have: u32, total: u32, cells: u16) -> u16 {
    if total == 0 || cells == 0 {
        return 0;
    }
    if have >= total {
        return cells;
    }
    let floor = u64::from(cells) * u64::from(have) / u64::from(total);
    // Below `cells`, so it fits.
    (floor as u16).max(u16::from(have > 0)).min(cells - 1)
}

/// Printings of a set, or of a part of it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Of which there is at least one copy, wherever it is.
    pub held: u32,
    /// Of which a copy lies in a pocket that is meant for it.
    pub in_place: u32,
    pub total: u32,
}

impl Counts {
    #[must_use]
    pub fn missing(&self) -> u32 {
        self.total - self.held
    }

    fn add(&mut self, tally: Tally) {
        self.total += 1;
        self.held += u32::from(tally.copies() > 0);
        self.in_place += u32::from(tally.in_place > 0);
    }
}

/// How far a set is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetCompletion {
    pub set: SetId,
    pub all: Counts,
    /// Of all, those that are collected: [`Tally::is_collected`]. What is left out and there all
    /// the same is not among them.
    pub collected: Counts,
    /// By the name of the finish, in the set's order. A finish without cards is left out.
    pub by_finish: Vec<(Box<str>, Counts)>,
    /// By rarity, in the set's order; cards without one come last, under "".
    pub by_rarity: Vec<(Box<str>, Counts)>,
}

/// How far each set is, or only the one named. A printing counts once, however many copies of it
/// there are, so spare copies never make up for one that is missing.
#[must_use]
pub fn completion(collection: &Collection, only: Option<SetId>) -> Vec<SetCompletion> {
    collection
        .sets()
        .filter(|(id, _)| only.is_none_or(|only| only == *id))
        .map(|(id, set)| of_set(id, set))
        .collect()
}

fn of_set(id: SetId, set: &Set) -> SetCompletion {
    let (mut all, mut collected) = (Counts::default(), Counts::default());
    let mut by_finish = vec![Counts::default(); set.finishes().len()];
    // One more than the set names: for the cards without a rarity.
    let mut by_rarity = vec![Counts::default(); set.rarities().len() + 1];
    for printing in set.printings(id) {
        let tally = set.tally(printing);
        all.add(tally);
        if tally.is_collected() {
            collected.add(tally);
        }
        by_finish[usize::from(printing.finish())].add(tally);
        by_rarity[rarity_row(set, printing)].add(tally);
    }
    let finishes = set.finishes().iter().map(|finish| finish.name.clone());
    let rarities = set.rarities().iter().cloned().chain(["".into()]);
    let there = |(_, counts): &(Box<str>, Counts)| counts.total > 0;
    SetCompletion {
        set: id,
        all,
        collected,
        by_finish: finishes.zip(by_finish).filter(there).collect(),
        by_rarity: rarities.zip(by_rarity).filter(there).collect(),
    }
}

fn rarity_row(set: &Set, printing: PrintingId) -> usize {
    let last = set.rarities().len();
    set.card(printing.card())
        .and_then(|card| card.rarity)
        .map_or(last, |rarity| usize::from(rarity).min(last))
}

/// What is told of a binder as a whole. Taken from running counts: costs the same for any binder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BinderSummary {
    /// Physical pages.
    pub pages: usize,
    /// Pages of the layout for which there is no physical page yet.
    pub pages_to_come: usize,
    /// Pockets on the physical pages.
    pub pockets: u32,
    /// Pockets that hold a card.
    pub filled: u32,
    /// Pockets that are meant for a printing.
    pub meant: u32,
    /// Pockets that hold what they are meant for.
    pub in_place: u32,
    /// Pockets that are meant for a printing and do not hold it.
    pub gaps: u32,
    /// Cards that lie in a pocket meant for something else, or for nothing.
    pub misplaced: u32,
}

#[must_use]
pub fn binder_summary(binder: &Binder) -> BinderSummary {
    let tally = binder.tally();
    let pages = binder.pages().len();
    BinderSummary {
        pages,
        pages_to_come: binder.layout().pages.len().saturating_sub(pages),
        pockets: tally.pockets,
        filled: tally.filled,
        meant: tally.meant,
        in_place: tally.in_place,
        gaps: tally.gaps(),
        misplaced: tally.filled - tally.in_place,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::Value;

    use super::*;
    use crate::model::random::collections;
    use crate::model::{Builder, Card, Finish, Page, SetParts};

    /// The source is named in the file.
    fn cases(kind: &str) -> Vec<Value> {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/completion.json");
        let text = std::fs::read_to_string(path).unwrap();
        let all: Value = serde_json::from_str(&text).unwrap();
        let cases = all["cases"].as_array().unwrap().iter();
        let found: Vec<_> = cases.filter(|case| case["kind"] == kind).cloned().collect();
        assert!(!found.is_empty(), "no cases of the kind {kind}");
        found
    }

    fn number(value: &Value) -> u32 {
        u32::try_from(value.as_u64().unwrap()).unwrap()
    }

    #[test]
    fn a_share_is_told_as_the_recounted_cases_tell_it() {
        for case in cases("percent") {
            let told = percent(number(&case["have"]), number(&case["total"]));
            let right = case["show"].as_str().map(|show| format!("{show} %"));
            assert_eq!(told, right, "{case}");
        }
    }

    proptest! {
        #[test]
        fn a_hundred_percent_and_a_full_bar_mean_that_nothing_is_missing(
            total in 1u32..,
            have in any::<u32>(),
            cells in 1u16..300,
        ) {
            let have = have % (total.saturating_add(1)).max(1);
            let told = percent(have, total).unwrap();
            prop_assert_eq!(told == "100 %", have == total);
            prop_assert_eq!(told == "0 %", have == 0);
            let filled = bar(have, total, cells);
            prop_assert_eq!(filled == cells, have == total);
            if cells > 1 {
                prop_assert_eq!(filled == 0, have == 0);
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn the_parts_of_a_set_add_up_to_the_whole(collection in collections()) {
            for told in completion(&collection, None) {
                let sum = |rows: &[(Box<str>, Counts)]| {
                    let mut sum = Counts::default();
                    for (_, row) in rows {
                        sum.held += row.held;
                        sum.in_place += row.in_place;
                        sum.total += row.total;
                    }
                    sum
                };
                prop_assert_eq!(sum(&told.by_finish), told.all);
                prop_assert_eq!(sum(&told.by_rarity), told.all);
                // Counted from what is said of the runs: nothing that is left out and without a
                // pocket of its own.
                let set = collection.set(told.set).unwrap();
                let is_out = |of: &PrintingId| {
                    set.is_left_out(of.finish()) && collection.places_meant(*of).next().is_none()
                };
                let right = set.printings(told.set).filter(|of| !is_out(of)).count();
                prop_assert_eq!(told.collected.total as usize, right);
                prop_assert!(told.all.in_place <= told.all.held);
                prop_assert!(told.all.held <= told.all.total);
                prop_assert_eq!(completion(&collection, Some(told.set)), vec![told]);
            }
        }
    }

    /// A set whose `n`-th card has `owned[n]` loose copies.
    fn owning(owned: &[u32]) -> Collection {
        let mut builder = Builder::new();
        let card = |at: usize| Card {
            number: at.to_string().into(),
            name: "".into(),
            rarity: None,
            size: None,
            finishes: 1,
        };
        let parts = SetParts {
            head: crate::model::SetHead {
                code: "S".into(),
                ..Default::default()
            },
            finishes: vec![Finish {
                name: "regular".into(),
                mark: "".into(),
            }],
            rarities: Vec::new(),
            cards: (0..owned.len()).map(card).collect(),
        };
        let set = builder.set(parts).unwrap();
        for (card, count) in (0..).zip(owned) {
            builder
                .loose(PrintingId::new(set, card, 0), *count)
                .unwrap();
        }
        builder.finish().unwrap()
    }

    #[test]
    fn spare_copies_never_make_up_for_a_missing_printing() {
        for case in cases("copies") {
            let list = |name: &str| -> Vec<u32> {
                case[name].as_array().unwrap().iter().map(number).collect()
            };
            let (owned, wanted) = (list("owned"), list("wanted"));
            // One copy of each printing is wanted here, so of a case that wants more only the
            // printings are compared.
            let ours: Vec<u32> = (owned.iter().zip(&wanted))
                .filter(|(_, wanted)| **wanted > 0)
                .map(|(owned, _)| *owned)
                .collect();
            let told = completion(&owning(&ours), None).remove(0).all;
            assert_eq!(told.total, number(&case["printings_wanted"]), "{case}");
            assert_eq!(told.held, number(&case["printings_started"]), "{case}");
            assert_eq!(told.missing(), told.total - told.held);
            if wanted.iter().all(|wanted| *wanted == 1) {
                assert_eq!(told.held, number(&case["printings_complete"]), "{case}");
                assert_eq!(told.missing(), number(&case["copies_missing"]), "{case}");
            }
        }
    }

    #[test]
    fn finishes_and_rarities_are_told_in_the_order_of_the_set_and_none_comes_last() {
        let collection = crate::demo::collection();
        let moss = collection.set_by_code("MOSS").unwrap();
        let told = completion(&collection, Some(moss)).remove(0);
        let names = |rows: &[(Box<str>, Counts)]| -> Vec<String> {
            rows.iter().map(|(name, _)| name.to_string()).collect()
        };
        assert_eq!(names(&told.by_finish), ["regular", "reverse"]);
        assert_eq!(
            names(&told.by_rarity),
            ["common", "scarce", "rare", "heirloom", ""]
        );
        // 130 numbered cards in two finishes; 12a, P1, P2 and P3 in one.
        assert_eq!(told.all.total, 264);
        assert_eq!(told.by_finish[1].1.total, 130);
        assert_eq!(told.by_rarity[4].1.total, 4);
    }

    #[test]
    fn a_spine_tells_what_a_walk_through_the_binder_finds() {
        let collection = crate::demo::collection();
        for binder in collection.shelf() {
            let told = binder_summary(binder);
            let cards = || binder.pages().iter().flat_map(Page::cards);
            assert_eq!(told.pockets as usize, cards().count());
            assert_eq!(told.filled as usize, cards().flatten().count());
            assert_eq!(told.gaps, told.meant - told.in_place);
            assert_eq!(told.misplaced, told.filled - told.in_place);
        }
        let post = collection.binder_by_name("post").unwrap();
        let told = binder_summary(collection.binder(post).unwrap());
        assert_eq!((told.pages, told.pages_to_come), (2, 3));
    }
}
