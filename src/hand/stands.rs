//! Where a pocket of the layout in force stands today, while pages are still to be moved.

use std::collections::HashMap;

use super::by_pages::becomes;
use crate::model::{Binder, BinderId, Collection, Place};

/// The page of the layout that each page of a binder becomes, by where they stand.
#[derive(Debug, Default)]
struct Stands {
    /// `None` where each page stands where the layout has it.
    becomes: Option<Vec<Option<usize>>>,
}

impl Stands {
    /// Where cards lie elsewhere than they should this takes a look at every pocket, and where pages
    /// may move a plan.
    fn of(binder: &Binder) -> Self {
        Self {
            becomes: becomes(binder),
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
    use crate::hand::{self, Ground, by_pages};
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
