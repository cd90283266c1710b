//! The work sheet of a collection: the same plan, with the binders, pages and cards by name.

use std::collections::HashMap;

use super::numbers::Numbers;
use super::step::WorkStep;
use super::task::At;
use super::task::{Binder, Card, Task, Way};
use super::work::{Work, work};
use crate::model::{
    BinderId, Change, Collection, Layout, PageFormat, PageId, PagePlace, Place, PrintingId,
};

/// A binder, and the layout that it is to be brought to.
#[derive(Clone, Copy, Debug)]
pub struct Target<'c> {
    pub binder: BinderId,
    /// Need not be the one in force.
    pub layout: &'c Layout,
}

/// Every binder of the shelf, each with the layout that is in force.
#[must_use]
pub fn in_force(collection: &Collection) -> Vec<Target<'_>> {
    let shelf = collection.shelf();
    shelf
        .map(|binder| Target {
            binder: binder.id(),
            layout: binder.layout(),
        })
        .collect()
}

/// One thing to do and to tick off: a card out of its pocket, a card into one, a card straight
/// from one to another, or a page. It is made of changes that go into one step of a session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deed {
    pub changes: Vec<Change>,
    /// Cards that lie before a pocket it is done at, in the front of the same place: they come out
    /// first, and go back.
    pub in_front: Vec<PrintingId>,
}

/// A work sheet. Never kept: it is always planned from the collection as it is.
#[derive(Clone, Debug, Default)]
pub struct WorkSheet {
    pub work: Work,
    /// The deeds of [`Work::deeds`], one by one.
    pub deeds: Vec<Deed>,
    /// Pockets of the layouts for which no copy is left. The page is where the layout has it.
    pub unfilled: Vec<(Place, PrintingId)>,
    /// The binders that take part, in shelf order: the work speaks of them by their place here.
    pub binders: Vec<BinderId>,
    /// Every page that the work speaks of, with those that it adds.
    pub pages: Vec<(PageId, PageFormat)>,
    printings: Vec<PrintingId>,
    /// Of the pages that the deeds are done at.
    formats: HashMap<PageId, PageFormat>,
}

impl WorkSheet {
    /// The format of a page that a card comes from or goes to.
    #[must_use]
    pub fn format(&self, page: PageId) -> Option<PageFormat> {
        self.formats.get(&page).copied()
    }

    /// Makes it the sheet of what is left when its first deeds were done, and nothing else; that
    /// is what planning anew gives. `false`, and all as it was, where it is to be planned anew:
    /// the number of page moves is not proven least.
    pub fn without_first(&mut self, deeds: usize) -> bool {
        if !self.work.figures.page_moves_proven_least {
            return false;
        }
        let done = self.work.deeds().take(deeds).map(<[WorkStep]>::len).sum();
        self.deeds.drain(..deeds.min(self.deeds.len()));
        self.work.go_on_from(done);
        true
    }

    /// The printing that the work calls by this number.
    #[must_use]
    pub fn printing(&self, card: Card) -> Option<PrintingId> {
        self.printings.get(card.checked_sub(1)? as usize).copied()
    }

    fn place(&self, (binder, page): At, pocket: usize) -> Place {
        Place {
            binder: self.binders[binder],
            page,
            pocket,
        }
    }

    /// The step as a change of the collection.
    fn change(&self, step: &WorkStep) -> Option<Change> {
        let at = |(binder, page): At| PagePlace::new(self.binders[binder], page);
        Some(match *step {
            WorkStep::Lift {
                page,
                at,
                pocket,
                card,
            } => Change::Lift {
                place: self.place(at, pocket),
                page: self.pages[page].0,
                printing: self.printing(card)?,
            },
            WorkStep::Seat {
                page,
                at,
                pocket,
                card,
            } => Change::Seat {
                place: self.place(at, pocket),
                page: self.pages[page].0,
                printing: self.printing(card)?,
            },
            WorkStep::MovePage { page, from, to } => Change::MovePage {
                page: self.pages[page].0,
                from: at(from),
                to: at(to),
            },
            WorkStep::AddPage { page, to, .. } => Change::AddPage {
                binder: self.binders[to.0],
                at: to.1,
                page: self.pages[page].0,
                format: self.pages[page].1,
            },
            WorkStep::RemovePage { page, from } => Change::RemovePage {
                binder: self.binders[from.0],
                at: from.1,
                page: self.pages[page].0,
                format: self.pages[page].1,
            },
        })
    }
}

/// Plans the work that brings these binders to these layouts. Loose copies that have a pocket to
/// go to are part of it; cards of other binders are not touched. A binder that is not there is
/// left out.
///
/// After a deed has been done the sheet is planned anew, and then holds the same deeds but for
/// the one that was done, as long as nothing else was changed.
#[must_use]
pub fn sheet(collection: &Collection, targets: &[Target<'_>], way: Way) -> WorkSheet {
    let mut numbers = Numbers::default();
    let mut named = Vec::new();
    let targets = targets.iter().rev();
    let layouts: HashMap<_, _> = targets.map(|to| (to.binder, to.layout)).collect();
    for binder in collection.shelf() {
        if let Some(layout) = layouts.get(&binder.id()) {
            named.push((binder, *layout));
        }
    }
    let binders = named.iter().map(|(binder, layout)| Binder {
        pages: way.pages(binder.spec().kind.pages_move()),
        before: (binder.pages().iter())
            .map(|page| numbers.contents(page))
            .collect(),
        after: (layout.pages.iter())
            .map(|page| numbers.layout(page))
            .collect(),
    });
    let mut task = Task {
        binders: binders.collect(),
        loose: Vec::new(),
    };
    let loose = numbers.printings.iter();
    let loose = loose.map(|printing| collection.tally(*printing).loose);
    task.loose = [0].into_iter().chain(loose).collect();
    let work = work(&task, way.working);
    let mut sheet = WorkSheet {
        deeds: Vec::new(),
        unfilled: Vec::new(),
        binders: named.iter().map(|(binder, _)| binder.id()).collect(),
        pages: (named.iter())
            .flat_map(|(binder, _)| binder.pages())
            .map(|page| (page.id(), page.format()))
            .collect(),
        printings: numbers.printings,
        formats: HashMap::new(),
        work: Work::default(),
    };
    let mut fresh = collection.fresh_pages();
    let mut in_front = work.in_front.iter().copied().peekable();
    let mut done = 0;
    for deed in work.deeds() {
        for step in deed {
            if let WorkStep::AddPage { meant, .. } = step {
                let format = named[meant.0].1.pages[meant.1].format();
                let id = fresh.next().unwrap_or(PageId(u32::MAX));
                sheet.pages.push((id, format));
            }
        }
        let changes = deed.iter().filter_map(|step| sheet.change(step));
        let changes = changes.collect();
        for step in deed {
            if let WorkStep::Lift { page, .. } | WorkStep::Seat { page, .. } = step {
                let (page, format) = sheet.pages[*page];
                sheet.formats.insert(page, format);
            }
        }
        done += deed.len();
        let before = std::iter::from_fn(|| in_front.next_if(|(step, _)| *step < done));
        let before = before
            .filter_map(|(_, card)| sheet.printing(card))
            .collect();
        sheet.deeds.push(Deed {
            changes,
            in_front: before,
        });
    }
    let unfilled = work.unfilled.iter().filter_map(|gap| {
        let place = sheet.place(gap.at, gap.pocket);
        Some((place, sheet.printing(gap.card)?))
    });
    sheet.unfilled = unfilled.collect();
    sheet.work = work;
    sheet
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::model::random::collections;
    use crate::plan::{Figures, Working};

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        /// Each deed is taken by the model, and the sheet planned after it is the rest of the
        /// sheet before. At the end nothing is misplaced, and what waits has no pocket.
        #[test]
        fn a_sheet_can_be_worked_off_deed_by_deed(
            collection in collections(), hand_to_hand in any::<bool>(), stay in any::<bool>()
        ) {
            let working = if hand_to_hand { Working::HandToHand } else { Working::TwoPasses };
            let way = Way::new(working, stay);
            let mut collection = collection;
            let mut now = sheet(&collection, &in_force(&collection), way);
            while let Some(deed) = now.deeds.first() {
                // Looked at in the pockets as they are when its turn comes; between the two
                // changes of a deed that carries a card nothing of the others moves but that card.
                let mut right = Vec::new();
                let mut ground = collection.clone();
                for change in &deed.changes {
                    if let Change::Lift { place, .. } | Change::Seat { place, .. } = change {
                        let page = &ground.binder(place.binder).unwrap().pages()[place.page];
                        let side = page.format().per_side();
                        let front = place.pocket.checked_sub(side).filter(|_| page.format().shared);
                        right.extend(front.and_then(|front| page.cards()[front]));
                    }
                    change.apply(&mut ground).unwrap();
                }
                prop_assert_eq!(&deed.in_front, &right);
                prop_assert!(Change::apply_all(&deed.changes, &mut collection).is_ok());
                let again = sheet(&collection, &in_force(&collection), way);
                prop_assert_eq!(&again.deeds[..], &now.deeds[1..]);
                // What is left of it is the same without planning anew, where that is promised.
                if now.without_first(1) {
                    let figures = |sheet: &WorkSheet| Figures {
                        page_moves_proven_least: true,
                        ..sheet.work.figures
                    };
                    prop_assert_eq!(&again.deeds, &now.deeds);
                    prop_assert_eq!(figures(&again), figures(&now));
                    prop_assert_eq!(&again.unfilled, &now.unfilled);
                    prop_assert_eq!(&again.work.in_front, &now.work.in_front);
                }
                now = again;
            }
            for binder in collection.shelf() {
                let tally = binder.tally();
                prop_assert_eq!(binder.pages().len(), binder.layout().pages.len());
                prop_assert_eq!(tally.filled, tally.in_place);
            }
            let mut gaps: Vec<_> = Vec::new();
            for place in crate::model::random::places(&collection) {
                let state = collection.pocket(place);
                if state.is_gap() {
                    let wanted = state.wanted().unwrap();
                    prop_assert_eq!(collection.tally(wanted).loose, 0);
                    gaps.push((place, wanted));
                }
            }
            prop_assert_eq!(now.unfilled, gaps);
        }
    }
}
