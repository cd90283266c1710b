//! How far each binder is, as it is told while pages are still to be moved: found out once after
//! each step, and not for every frame in which it is shown.

use std::cell::{Cell, RefCell};
use std::collections::HashMap;

use crate::hand;
use crate::model::{Binder, BinderId, BinderTally, Collection};

/// Pockets that are looked at in one frame for what all binders come to.
const LOOKED_AT: usize = 20_000;

/// What was found out since the collection last changed.
#[derive(Debug, Default)]
pub(super) struct Tallies {
    revision: Cell<u64>,
    of: RefCell<HashMap<BinderId, BinderTally>>,
    /// Of all binders: not found out yet, or not to be found out in a frame.
    all: Cell<Option<Option<BinderTally>>>,
}

impl Tallies {
    /// Of a binder of the collection as it is at this revision.
    pub(super) fn of(&self, binder: &Binder, revision: u64) -> BinderTally {
        self.forget_before(revision);
        let mut of = self.of.borrow_mut();
        *(of.entry(binder.id())).or_insert_with(|| hand::tally_by_pages(binder))
    }

    /// Of all binders together; `None` where too many pockets would have to be looked at.
    pub(super) fn of_all(&self, collection: &Collection, revision: u64) -> Option<BinderTally> {
        self.forget_before(revision);
        let all = self.all.get().unwrap_or_else(|| {
            let looked_at: usize = collection.shelf().map(hand::looked_at).sum();
            let all = || {
                collection
                    .shelf()
                    .map(|binder| self.of(binder, revision))
                    .sum()
            };
            (looked_at <= LOOKED_AT).then(all)
        });
        self.all.set(Some(all));
        all
    }

    fn forget_before(&self, revision: u64) {
        if self.revision.replace(revision) != revision {
            self.of.borrow_mut().clear();
            self.all.set(None);
        }
    }
}
