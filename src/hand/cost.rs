//! What a draft would cost against what lies in the binder, by the planner.

use std::ops::Range;

use super::by_pages::aligned;
use super::ground::Ground;
use crate::model::{Binder, Collection, Layout, Meaning};
use crate::plan;
use crate::text::{count, listed};

/// The work from the contents to a layout.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    /// Cards that have to leave their pockets: the least there is.
    pub lifts: usize,
    pub page_moves: usize,
    /// The number of page moves is that of a way that was found, and not proven least.
    pub may_be_fewer: bool,
    pub pages_added: usize,
    pub pages_removed: usize,
}

impl Cost {
    /// In words a collector understands: `2 pages move, 9 cards come out`.
    #[must_use]
    pub fn words(&self) -> String {
        let mut parts = Vec::new();
        let moves = self.page_moves;
        self.part_of_moves(&mut parts, moves, "page moves", "pages move");
        let (added, removed) = (self.pages_added, self.pages_removed);
        part(&mut parts, added, "page comes in", "pages come in");
        part(&mut parts, removed, "page goes", "pages go");
        part(&mut parts, self.lifts, "card comes out", "cards come out");
        if parts.is_empty() {
            "nothing to do".into()
        } else {
            parts.join(", ")
        }
    }
}

/// How many, of what; nothing of none.
fn part(parts: &mut Vec<String>, many: usize, one: &str, more: &str) {
    if many > 0 {
        parts.push(count(many as u64, one, more));
    }
}

impl Cost {
    /// A number in which the page moves are.
    fn part_of_moves(&self, parts: &mut Vec<String>, many: usize, one: &str, more: &str) {
        let before = parts.len();
        part(parts, many, one, more);
        if self.may_be_fewer
            && let Some(words) = parts.get_mut(before)
        {
            words.insert_str(0, "at most ");
        }
    }

    /// All pages that are moved, put in or taken out.
    #[must_use]
    pub fn pages(&self) -> usize {
        self.page_moves + self.pages_added + self.pages_removed
    }

    /// Where there is little room: `110 cards, 4 pages`.
    #[must_use]
    pub fn short(&self) -> String {
        let mut parts = Vec::new();
        part(&mut parts, self.lifts, "card", "cards");
        self.part_of_moves(&mut parts, self.pages(), "page", "pages");
        if parts.is_empty() {
            return "nothing to do".into();
        }
        parts.join(", ")
    }

    /// As a task: `110 cards to take out, 1 page to move and 2 pages to put in`.
    #[must_use]
    pub fn task(&self) -> String {
        let mut parts = Vec::new();
        part(
            &mut parts,
            self.lifts,
            "card to take out",
            "cards to take out",
        );
        let moves = self.page_moves;
        self.part_of_moves(&mut parts, moves, "page to move", "pages to move");
        let added = self.pages_added;
        part(&mut parts, added, "page to put in", "pages to put in");
        let removed = self.pages_removed;
        part(&mut parts, removed, "page to take out", "pages to take out");
        match &parts[..] {
            [] => "nothing to do".into(),
            parts => listed(parts, ", "),
        }
    }
}

/// What is still to be done in a real binder.
#[derive(Clone, Debug)]
pub struct OpenWork {
    pub cost: Cost,
    /// What becomes of each page in the binder.
    fates: Vec<plan::Fate>,
    /// The layout with each page where the page that becomes it stands today, if that is another
    /// place.
    layout: Option<Layout>,
}

impl OpenWork {
    /// `None` where every card lies in the pocket meant for it. Binders of a thousand pages take a
    /// few milliseconds.
    #[must_use]
    pub fn of(binder: &Binder) -> Option<Self> {
        let tally = binder.tally();
        if tally.filled == tally.in_place {
            return None;
        }
        let pages_move = binder.spec().kind.pages_move();
        let (cost, fates) = plan::cost_and_fates(binder.pages(), binder.layout(), pages_move);
        let mut work = Self {
            cost: cost.into(),
            fates,
            layout: None,
        };
        work.layout = aligned(binder, &work.becomes()).filter(|_| pages_move);
        Some(work)
    }

    /// The page of the layout that each page becomes; `None` for one that is to be taken out.
    pub(super) fn becomes(&self) -> Vec<Option<usize>> {
        self.fates.iter().map(|fate| fate.to).collect()
    }

    /// Whether pages stand elsewhere than they are to.
    #[must_use]
    pub fn moves_pages(&self) -> bool {
        self.cost.page_moves > 0
    }

    /// The layout as it is to be told from while pages are still to be moved; `None` where they
    /// stand as it says.
    #[must_use]
    pub fn layout(&self) -> Option<&Layout> {
        self.layout.as_ref()
    }

    /// The place, counted from 0, that the page which stands here has at the end, if it is
    /// another; and whether it has to be moved for that, or counts on when others have.
    #[must_use]
    pub fn page_goes_to(&self, page: usize) -> Option<(usize, bool)> {
        let fate = self.fates.get(page)?;
        let to = fate.to.filter(|to| *to != page);
        to.map(|to| (to, fate.moves))
    }

    /// Whether the card of a pocket goes to its place with its page, and is not touched.
    #[must_use]
    pub fn rides(&self, binder: &Binder, page: usize, pocket: usize) -> bool {
        let held = binder.pages().get(page);
        let held = held.and_then(|held| held.cards().get(pocket).copied().flatten());
        let meant = self.page_goes_to(page);
        let meant = meant.and_then(|(to, _)| binder.layout().pages.get(to));
        held.zip(meant)
            .is_some_and(|(held, meant)| meant.meaning(pocket) == Meaning::Printing(held))
    }
}

/// The cost of the layout that stands on this ground. `None` when the ground is gone.
#[must_use]
pub fn cost(collection: &Collection, ground: Ground) -> Option<Cost> {
    let binder = collection.binder(ground.binder)?;
    Some(cost_of(binder, ground.layout(collection).ok()?))
}

/// The cost of any layout against what lies in the binder.
#[must_use]
pub fn cost_of(binder: &Binder, layout: &Layout) -> Cost {
    let pages_move = binder.spec().kind.pages_move();
    plan::cost(binder.pages(), layout, pages_move).into()
}

impl From<plan::Cost> for Cost {
    fn from(cost: plan::Cost) -> Self {
        Self {
            lifts: cost.lifts,
            page_moves: cost.page_moves,
            may_be_fewer: !cost.page_moves_proven_least && cost.page_moves > 0,
            pages_added: cost.pages_added,
            pages_removed: cost.pages_removed,
        }
    }
}

/// Pages of a layout in hand, and what the layout would cost wherever they are put down.
#[derive(Clone, Debug)]
pub struct PagesInHand(plan::Carried);

impl PagesInHand {
    /// For the layout that stands on this ground. `None` when the ground is gone.
    #[must_use]
    pub fn new(collection: &Collection, ground: Ground) -> Option<Self> {
        let binder = collection.binder(ground.binder)?;
        let layout = ground.layout(collection).ok()?;
        let pages_move = binder.spec().kind.pages_move();
        let carried = plan::Carried::new(binder.pages(), layout, pages_move);
        Some(Self(carried))
    }

    /// The cost with the pages `run` put down where `to` is the first place they have, counted
    /// when they have been taken out.
    #[must_use]
    pub fn cost(&self, run: Range<usize>, to: usize) -> Cost {
        self.0.cost(run, to).into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::model::{Change, Page};

    fn cost(lifts: usize, moves: usize, added: usize, removed: usize) -> Cost {
        Cost {
            lifts,
            page_moves: moves,
            may_be_fewer: false,
            pages_added: added,
            pages_removed: removed,
        }
    }

    #[test]
    fn a_cost_is_told_in_full_as_a_task_and_in_short() {
        let all = cost(110, 1, 2, 1);
        assert_eq!(
            all.task(),
            "110 cards to take out, 1 page to move, 2 pages to put in and 1 page to take out"
        );
        assert_eq!(all.short(), "110 cards, 4 pages");
        assert_eq!(cost(1, 0, 0, 0).task(), "1 card to take out");
        assert_eq!(cost(0, 2, 0, 0).short(), "2 pages");
        assert_eq!(cost(0, 0, 0, 0).task(), "nothing to do");
        assert_eq!(cost(0, 0, 0, 0).short(), "nothing to do");
    }

    #[test]
    fn page_moves_that_are_not_proven_least_are_told_as_the_most() {
        let found = Cost {
            may_be_fewer: true,
            ..cost(110, 7, 2, 0)
        };
        assert_eq!(
            found.words(),
            "at most 7 pages move, 2 pages come in, 110 cards come out"
        );
        assert_eq!(
            found.task(),
            "110 cards to take out, at most 7 pages to move and 2 pages to put in"
        );
        assert_eq!(found.short(), "110 cards, at most 9 pages");
    }

    /// Common practice, no source: a page that is moved takes its cards along, and those behind
    /// it only count on.
    #[test]
    fn cards_ride_with_a_page_that_has_to_move_and_with_those_that_count_on() {
        let mut collection = demo::collection();
        let id = collection.shelf().next().map(Binder::id).unwrap();
        let ground = Ground::real(id);
        let step = super::super::begin_draft(&collection, id, "one", false).unwrap();
        Change::apply_all(&step.changes, &mut collection).unwrap();
        let draft = Ground {
            draft: Some(0),
            ..ground
        };
        let step = super::super::move_pages(&collection, draft, 2..3, 0)
            .unwrap()
            .step;
        Change::apply_all(&step.changes, &mut collection).unwrap();
        let before = collection.binder(id).unwrap().tally().in_place;
        let step = super::super::adopt(&collection, draft).unwrap();
        Change::apply_all(&step.changes, &mut collection).unwrap();
        let binder = collection.binder(id).unwrap();
        assert!(binder.tally().in_place < before);
        let work = OpenWork::of(binder).unwrap();
        assert_eq!(work.cost.page_moves, 1);
        let goes: Vec<_> = (0..4).map(|page| work.page_goes_to(page)).collect();
        assert_eq!(
            goes,
            [Some((1, false)), Some((2, false)), Some((0, true)), None]
        );
        // All that are not in place ride, but for those that have to be carried.
        let pockets = |page: &Page| page.format().pockets();
        let pages = binder.pages().iter().enumerate();
        let riding = pages.flat_map(|(at, page)| (0..pockets(page)).map(move |p| (at, p)));
        let riding = riding.filter(|(page, pocket)| work.rides(binder, *page, *pocket));
        let tally = binder.tally();
        let moved = (tally.filled - tally.in_place) as usize;
        assert_eq!(riding.count(), moved - work.cost.lifts);
    }
}
