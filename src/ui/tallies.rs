//! How far each binder is, as it is told while pages are still to be moved: found out once after
//! each step, and not for every frame in which it is shown.

use std::cell::{Cell, RefCell};
use std::collections::HashMap;

use crate::hand;
use crate::model::{Binder, BinderId, BinderTally};

/// What was found out since the collection last changed.
#[derive(Debug, Default)]
pub(super) struct Tallies {
    revision: Cell<u64>,
    of: RefCell<HashMap<BinderId, BinderTally>>,
}

impl Tallies {
    /// Of a binder of the collection as it is at this revision.
    pub(super) fn of(&self, binder: &Binder, revision: u64) -> BinderTally {
        let mut of = self.of.borrow_mut();
        if self.revision.replace(revision) != revision {
            of.clear();
        }
        *(of.entry(binder.id())).or_insert_with(|| hand::tally_by_pages(binder))
    }
}
