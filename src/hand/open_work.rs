//! What is still to be done in a real binder, and what becomes of its pages and cards by it.

use crate::model::{Binder, Layout, LayoutPage, Meaning};
use crate::plan::{self, Cost};

/// Where a page is when the work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PageGoes {
    /// Its place in the layout, from 0.
    pub to: usize,
    /// It has to be moved for that; others only count on when some have been.
    pub is_moved: bool,
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
            cost,
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

    /// Where the page that stands here is at the end, if that is another place.
    #[must_use]
    pub fn page_goes_to(&self, page: usize) -> Option<PageGoes> {
        let fate = self.fates.get(page)?;
        let to = fate.to.filter(|to| *to != page)?;
        Some(PageGoes {
            to,
            is_moved: fate.moves,
        })
    }

    /// Whether the card of a pocket goes to its place with its page, and is not touched.
    #[must_use]
    pub fn rides(&self, binder: &Binder, page: usize, pocket: usize) -> bool {
        let held = binder.pages().get(page);
        let held = held.and_then(|held| held.cards().get(pocket).copied().flatten());
        let meant = self.page_goes_to(page);
        let meant = meant.and_then(|goes| binder.layout().pages.get(goes.to));
        held.zip(meant)
            .is_some_and(|(held, meant)| meant.meaning(pocket) == Meaning::Printing(held))
    }
}

/// The layout with its pages where those stand today that become them, if any stands elsewhere.
fn aligned(binder: &Binder, becomes: &[Option<usize>]) -> Option<Layout> {
    let stays = |(at, to): (usize, &Option<usize>)| *to == Some(at);
    if becomes.iter().enumerate().all(stays) {
        return None;
    }
    let layout = binder.layout();
    let pages = binder.pages().iter().zip(becomes).map(|(page, to)| {
        let meant = to.and_then(|to| layout.pages.get(to)).cloned();
        meant.unwrap_or_else(|| LayoutPage::empty(page.format()))
    });
    let to_come = (layout.pages.iter().enumerate())
        .filter(|(at, _)| !becomes.contains(&Some(*at)))
        .map(|(_, page)| page.clone());
    Some(Layout {
        pages: pages.chain(to_come).collect(),
        sections: layout.sections.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::hand::Ground;
    use crate::model::{Change, Page};

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
        let to = |to, is_moved| Some(PageGoes { to, is_moved });
        assert_eq!(goes, [to(1, false), to(2, false), to(0, true), None]);
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
