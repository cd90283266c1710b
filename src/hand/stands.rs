//! Which page of the layout a page of a real binder is for, while pages are still to be moved: deeds
//! at a pocket alter what is told of it, and not what the layout has for the place where it stands
//! today.

use std::collections::HashMap;

use super::by_pages::becomes;
use crate::model::{Binder, BinderId, Collection, Place};

/// The page of the layout that each page of a binder becomes, by where they stand.
#[derive(Clone, Debug, Default)]
pub(super) struct Stands {
    /// `None` where each page stands where the layout has it.
    becomes: Option<Vec<Option<usize>>>,
}

impl Stands {
    /// Where cards lie elsewhere than they should this takes a look at every pocket, and where pages
    /// may move a plan.
    pub(super) fn of(binder: &Binder) -> Self {
        Self {
            becomes: becomes(binder),
        }
    }

    pub(super) fn are_to_move(&self) -> bool {
        self.becomes.is_some()
    }

    /// The page of the layout that this one becomes; `None` for one that is to be taken out.
    pub(super) fn meant(&self, page: usize) -> Option<usize> {
        match &self.becomes {
            None => Some(page),
            Some(becomes) => becomes.get(page).copied().flatten(),
        }
    }

    /// Where the page stands that becomes this one of the layout. Pages that are still to be put in
    /// come behind all others.
    fn page(&self, meant: usize) -> usize {
        let Some(becomes) = &self.becomes else {
            return meant;
        };
        let stands = becomes.iter().position(|to| *to == Some(meant));
        stands.unwrap_or_else(|| {
            let before = (0..meant).filter(|page| !becomes.contains(&Some(*page)));
            becomes.len() + before.count()
        })
    }
}

/// Finds where pockets of layouts stand today; each binder is looked at once.
#[derive(Debug, Default)]
pub struct Today(HashMap<BinderId, Stands>);

impl Today {
    /// The pocket that is today what this one of the layout in force will be.
    pub fn stands(&mut self, collection: &Collection, meant: Place) -> Place {
        let stands = (self.0).entry(meant.binder).or_insert_with(|| {
            let binder = collection.binder(meant.binder);
            binder.map(Stands::of).unwrap_or_default()
        });
        Place {
            page: stands.page(meant.page),
            ..meant
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::hand::{self, Ground, Manner, by_pages};
    use crate::model::{Change, PocketState, Step};

    fn apply(collection: &mut Collection, step: &Step) {
        Change::apply_all(&step.changes, collection).unwrap();
        assert_eq!(collection.check(), Vec::new());
    }

    /// The demo, where the layout in force has pages of a binder elsewhere than they stand.
    fn reordered() -> (Collection, Ground) {
        let mut collection = demo::collection();
        let binder = collection.binder_by_name("wood").unwrap();
        let step = hand::begin_draft(&collection, binder, "moved", false).unwrap();
        apply(&mut collection, &step);
        let draft = Ground {
            binder,
            draft: Some(0),
        };
        for (from, to) in [(0, 33), (12, 3)] {
            let moved = hand::move_pages(&collection, draft, from..from + 1, to).unwrap();
            apply(&mut collection, &moved.step);
        }
        let step = hand::adopt(&collection, draft).unwrap();
        apply(&mut collection, &step);
        (collection, Ground::real(binder))
    }

    /// Every pocket as it is told.
    fn told(collection: &Collection, ground: Ground) -> Vec<(Place, PocketState)> {
        let told = by_pages(collection, Some(ground.binder));
        let pages = 0..told.binder(ground.binder).unwrap().pages().len();
        let places = pages.flat_map(|page| (0..18).map(move |pocket| ground.place(page, pocket)));
        places.map(|place| (place, told.pocket(place))).collect()
    }

    fn differing(
        before: &[(Place, PocketState)],
        after: &[(Place, PocketState)],
    ) -> Vec<(Place, PocketState)> {
        let pairs = before.iter().zip(after);
        let differing = pairs.filter(|(before, after)| before != after);
        differing.map(|(_, after)| after.clone()).collect()
    }

    /// Common practice, no source: what a hand does at a pocket is done to that pocket.
    #[test]
    fn while_pages_are_to_be_moved_a_deed_alters_the_pocket_that_is_told_and_no_other() {
        let (collection, ground) = reordered();
        let before = told(&collection, ground);
        let gaps = (before.iter()).filter(|(_, state)| matches!(state, PocketState::Gap(_)));
        let mut tried = 0;
        for (place, _) in gaps.step_by(20) {
            let mut after = collection.clone();
            let put = hand::make_free(&after, ground, *place).unwrap();
            apply(&mut after, &put.step);
            let differing = differing(&before, &told(&after, ground));
            assert_eq!(differing, [(*place, PocketState::Unassigned)]);
            tried += 1;
        }
        assert!(tried > 5);
    }

    #[test]
    fn while_pages_are_to_be_moved_a_card_takes_along_what_its_pocket_is_told_to_be_for() {
        let (collection, ground) = reordered();
        let before = told(&collection, ground);
        let lies = (before.iter()).filter(|(_, state)| matches!(state, PocketState::InPlace(_)));
        let lies: Vec<_> = lies.step_by(30).collect();
        for pair in lies.windows(2) {
            let [(from, one), (to, other)] = pair else {
                unreachable!("windows of two")
            };
            let mut after = collection.clone();
            let put = hand::put_down(&after, ground, &[*from], *to, Manner::Swap).unwrap();
            apply(&mut after, &put.step);
            let differing = differing(&before, &told(&after, ground));
            assert_eq!(differing, [(*from, other.clone()), (*to, one.clone())]);
        }
    }

    #[test]
    fn a_page_that_is_moved_by_hand_to_its_place_is_work_done() {
        let (mut collection, ground) = reordered();
        let moves = |of: &Collection| hand::cost(of, ground).unwrap().page_moves;
        assert_eq!(moves(&collection), 2);
        for (at, from, to) in [(1, 0, 33), (0, 12, 3)] {
            let moved = hand::move_pages(&collection, ground, from..from + 1, to).unwrap();
            apply(&mut collection, &moved.step);
            assert_eq!(moves(&collection), at);
        }
    }

    #[test]
    fn pages_neither_come_nor_go_while_others_are_to_be_moved() {
        let (collection, ground) = reordered();
        let format = ground.formats(&collection)[0];
        let why = "pages are still to be moved here: work off the work sheet first";
        assert_eq!(hand::insert_page(&collection, ground, 3, format), Err(why));
        assert_eq!(hand::remove_page(&collection, ground, 3), Err(why));
    }

    #[test]
    fn a_pocket_of_the_layout_is_found_where_its_page_stands_today() {
        let (collection, ground) = reordered();
        let mut today = Today::default();
        for (place, state) in told(&collection, ground) {
            let Some(wanted) = state.wanted() else {
                continue;
            };
            let meant = collection.places_meant(wanted).next().unwrap();
            if meant.binder == ground.binder {
                assert_eq!(today.stands(&collection, meant), place);
            }
        }
    }
}
