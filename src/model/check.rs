//! The invariants of a collection, taken anew from the state itself.

use std::collections::{HashMap, HashSet};
use std::fmt;
use std::sync::Arc;

use super::binder::{Binder, LayoutPage};
use super::collection::Collection;
use super::id::{BinderId, PageId, PrintingId, SetId};
use super::tally::{BinderTally, Tally};

/// An invariant that does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Broken {
    /// The running counts of a printing are not what a recount gives.
    Counts {
        printing: PrintingId,
        kept: Tally,
        recounted: Tally,
    },
    BinderCounts {
        binder: BinderId,
        kept: BinderTally,
        recounted: BinderTally,
    },
    /// The list of binders that have to do with a set is not what a recount gives.
    SetBinders(SetId),
    /// A pocket or a layout names a printing that does not exist.
    NoSuchPrinting(PrintingId),
    /// A page that is in two places, or is not where the index says.
    PageLost(PageId),
    /// A page whose pockets are not as many as its format has.
    PageShape(PageId),
    /// The shelf does not hold every binder once, or a name does not lead to its binder.
    Shelf,
    /// The order of the sets does not hold every set once.
    Order,
    /// A number or code does not lead to its card or set.
    Checklist(Box<str>),
}

impl fmt::Display for Broken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Counts {
                kept, recounted, ..
            } => write!(
                f,
                "the counts of a printing are {kept:?}, recounted {recounted:?}"
            ),
            Self::BinderCounts { binder, .. } => {
                write!(f, "the counts of binder {binder} are not what is in it")
            }
            Self::SetBinders(set) => {
                write!(f, "the binders of set number {} are not kept right", set.0)
            }
            Self::NoSuchPrinting(_) => f.write_str("a pocket names a card that does not exist"),
            Self::PageLost(page) => write!(f, "page {page} is not where it should be"),
            Self::PageShape(page) => write!(f, "page {page} has a wrong number of pockets"),
            Self::Order => f.write_str("the order of the sets does not hold every set once"),
            Self::Shelf => f.write_str("the shelf does not hold every binder once"),
            Self::Checklist(code) => write!(f, "the checklist of {code} is not in order"),
        }
    }
}

impl Collection {
    /// Every invariant that does not hold; empty for a whole collection. Walks everything.
    #[must_use]
    pub fn check(&self) -> Vec<Broken> {
        let mut found = Vec::new();
        self.check_sets(&mut found);
        self.check_shelf(&mut found);
        self.check_counts(&mut found);
        found
    }

    /// After a change, in debug builds: the whole check while the collection is small enough for
    /// tests to stay fast.
    #[cfg(debug_assertions)]
    pub(super) fn check_often(&self) {
        if self.binders.len() + self.sets.len() > 1_000 {
            return;
        }
        let pockets: u32 = self.binders.values().map(|b| b.tally.pockets).sum();
        let cards: usize = self.sets().map(|(_, set)| set.cards.len()).sum();
        if pockets < 1_000 && cards < 1_000 {
            let found = self.check();
            assert!(found.is_empty(), "a change broke the collection: {found:?}");
        }
    }

    fn check_sets(&self, found: &mut Vec<Broken>) {
        let in_order: HashSet<_> = self.order.iter().collect();
        let sets = self.sets.iter().flatten().count();
        let counts = [in_order.len(), self.order.len(), self.codes.len()];
        if counts != [sets; 3] || !self.order.iter().all(|id| self.set(*id).is_some()) {
            found.push(Broken::Order);
            return;
        }
        for (id, set) in self.sets() {
            let leads = |(at, card): (u32, &super::Card)| {
                set.numbers.get(&card.number) == Some(&at)
                    && card.finishes != 0
                    && (card.finishes.checked_shr(set.finishes.len() as u32)).unwrap_or(0) == 0
            };
            let right = self.codes.get(set.code()) == Some(&id)
                && set.numbers.len() == set.cards.len()
                && set.tallies.len() == set.finishes.len()
                && set
                    .left_out
                    .checked_shr(set.finishes.len() as u32)
                    .unwrap_or(0)
                    == 0
                && set
                    .tallies
                    .iter()
                    .all(|column| column.len() == set.cards.len())
                && (0..).zip(&set.cards).all(leads);
            if !right {
                found.push(Broken::Checklist(set.code().into()));
            }
        }
    }

    fn check_shelf(&self, found: &mut Vec<Broken>) {
        let standing: HashSet<_> = self.shelf.iter().collect();
        let named = |(id, binder): (&BinderId, &Arc<Binder>)| {
            *id == binder.id && self.names.get(binder.name()) == Some(id) && standing.contains(id)
        };
        let mut called: HashMap<Box<str>, u32> = HashMap::new();
        for binder in self.binders.values() {
            *called.entry(binder.called().into()).or_default() += 1;
        }
        let right = standing.len() == self.shelf.len()
            && self.called == called
            && self.shelf.len() == self.binders.len()
            && self.names.len() == self.binders.len()
            && self.binders.iter().all(named);
        if !right {
            found.push(Broken::Shelf);
        }
        let mut seen = HashSet::new();
        for binder in self.binders.values() {
            for page in &binder.pages {
                let at_home = self.page_binder.get(&page.id) == Some(&binder.id);
                if !seen.insert(page.id) || !at_home {
                    found.push(Broken::PageLost(page.id));
                }
                if page.cards.len() != page.format.pockets() {
                    found.push(Broken::PageShape(page.id));
                }
            }
        }
        for page in self.page_binder.keys().filter(|page| !seen.contains(page)) {
            found.push(Broken::PageLost(*page));
        }
    }

    /// Counts everything anew in a copy that starts from zero.
    fn check_counts(&self, found: &mut Vec<Broken>) {
        let mut fresh = self.clone();
        for set in fresh.sets.iter_mut().flatten() {
            let set = Arc::make_mut(set);
            set.binders.clear();
            for tally in set.tallies.iter_mut().flatten() {
                *tally = Tally {
                    loose: tally.loose,
                    ..Tally::default()
                };
            }
        }
        for (id, binder) in &self.binders {
            let Some(again) = fresh.binder_to_alter(*id) else {
                continue;
            };
            again.tally = BinderTally::default();
            let cards = binder.pages.iter().flat_map(|page| page.cards.iter());
            for card in cards {
                again.tally.pockets += 1;
                again.tally.filled += u32::from(card.is_some());
            }
            for printing in binder.pages.iter().flat_map(|p| p.cards.iter()).flatten() {
                self.check_printing(*printing, found);
                fresh.count(*printing, |tally| tally.pocketed += 1);
                fresh.remember(printing.set(), *id);
            }
            for page in &binder.layout.pages {
                for (_, printing) in page.printings() {
                    self.check_printing(printing, found);
                    fresh.count_meant(*id, printing, 1);
                }
            }
            fresh.matches(*id, .., 1);
            let drafts = binder.drafts.iter().flat_map(|draft| &draft.layout.pages);
            for (_, printing) in drafts.flat_map(LayoutPage::printings) {
                self.check_printing(printing, found);
            }
        }
        self.compare(&fresh, found);
    }

    fn check_printing(&self, printing: PrintingId, found: &mut Vec<Broken>) {
        if !self.has_printing(printing) {
            found.push(Broken::NoSuchPrinting(printing));
        }
    }

    fn compare(&self, fresh: &Self, found: &mut Vec<Broken>) {
        for (id, set) in self.sets() {
            if fresh
                .set(id)
                .is_none_or(|fresh| fresh.binders != set.binders)
            {
                found.push(Broken::SetBinders(id));
            }
            for printing in set.printings(id) {
                let (kept, recounted) = (self.tally(printing), fresh.tally(printing));
                if kept != recounted {
                    found.push(Broken::Counts {
                        printing,
                        kept,
                        recounted,
                    });
                }
            }
        }
        for (id, binder) in &self.binders {
            let again = &fresh.binders[id];
            if binder.tally != again.tally {
                found.push(Broken::BinderCounts {
                    binder: *id,
                    kept: binder.tally,
                    recounted: again.tally,
                });
            }
        }
    }
}
