//! The running counts: how a change of one thing alters them.

use std::ops::{Bound, Range, RangeBounds};
use std::sync::Arc;

use super::binder::Binder;
use super::collection::Collection;
use super::id::{BinderId, PrintingId, SetId};
use super::set::Set;
use super::tally::Tally;

impl Collection {
    /// A set of this collection alone: one that is shared with a clone is copied first.
    pub(super) fn set_to_alter(&mut self, id: SetId) -> Option<&mut Set> {
        let set = self.sets.get_mut(usize::from(id.0))?.as_mut();
        set.map(Arc::make_mut)
    }

    /// A binder of this collection alone, as [`Collection::set_to_alter`].
    pub(super) fn binder_to_alter(&mut self, id: BinderId) -> Option<&mut Binder> {
        self.binders.get_mut(&id).map(Arc::make_mut)
    }

    /// Alters the counts of one printing; one that does not exist has none.
    pub(super) fn count(&mut self, printing: PrintingId, alter: impl FnOnce(&mut Tally)) {
        let set = self.set_to_alter(printing.set());
        if let Some(tally) = set.and_then(|set| set.tally_mut(printing)) {
            alter(tally);
        }
    }

    /// A pocket of the binder's layout begins (`sign` 1) or ceases (-1) to be meant for `printing`.
    pub(super) fn count_meant(&mut self, binder: BinderId, printing: PrintingId, sign: i32) {
        self.count(printing, |tally| {
            tally.meant = tally.meant.wrapping_add_signed(sign);
        });
        if let Some(within) = self.binder_to_alter(binder) {
            within.tally.meant = within.tally.meant.wrapping_add_signed(sign);
        }
        if sign > 0 {
            self.remember(printing.set(), binder);
        } else {
            self.forget(printing.set(), binder);
        }
    }

    /// Adds `sign` to the counts of cards in place, for every match on these positions. Called
    /// with -1 before pages shift and with 1 afterwards.
    pub(super) fn matches(&mut self, id: BinderId, pages: impl RangeBounds<usize>, sign: i32) {
        let most = self.binders.get(&id).map_or(0, |binder| binder.pages.len());
        let low = match pages.start_bound() {
            Bound::Included(low) => *low,
            Bound::Excluded(low) => low + 1,
            Bound::Unbounded => 0,
        };
        let high = match pages.end_bound() {
            Bound::Included(high) => high + 1,
            Bound::Excluded(high) => *high,
            Bound::Unbounded => most,
        };
        self.matches_within(id, low..high.min(most), 0..usize::MAX, sign);
    }

    /// [`Collection::matches`] for some pockets of each page only.
    pub(super) fn matches_within(
        &mut self,
        id: BinderId,
        pages: Range<usize>,
        pockets: Range<usize>,
        sign: i32,
    ) {
        // Taken out for the moment so that the sets can be altered while it is read.
        let Some(mut binder) = self.binders.remove(&id) else {
            return;
        };
        let mut found = 0;
        for page in pages.filter(|page| binder.comparable(*page)) {
            let (real, meant) = (&binder.pages[page], &binder.layout.pages[page]);
            for (pocket, printing) in meant.printings() {
                if pockets.contains(&pocket) && real.cards[pocket] == Some(printing) {
                    found += sign;
                    self.count(printing, |tally| {
                        tally.in_place = tally.in_place.wrapping_add_signed(sign);
                    });
                }
            }
        }
        if found != 0 {
            let tally = &mut Arc::make_mut(&mut binder).tally;
            tally.in_place = tally.in_place.wrapping_add_signed(found);
        }
        self.binders.insert(id, binder);
    }

    /// One more pocket of the binder has to do with the set.
    pub(super) fn remember(&mut self, set: SetId, binder: BinderId) {
        let Some(set) = self.set_to_alter(set) else {
            return;
        };
        match set
            .binders
            .binary_search_by_key(&binder, |(other, _)| *other)
        {
            Ok(at) => set.binders[at].1 += 1,
            Err(at) => set.binders.insert(at, (binder, 1)),
        }
    }

    /// One pocket fewer of the binder has to do with the set.
    pub(super) fn forget(&mut self, set: SetId, binder: BinderId) {
        let Some(set) = self.set_to_alter(set) else {
            return;
        };
        if let Ok(at) = set
            .binders
            .binary_search_by_key(&binder, |(other, _)| *other)
        {
            set.binders[at].1 -= 1;
            if set.binders[at].1 == 0 {
                set.binders.remove(at);
            }
        }
    }
}
