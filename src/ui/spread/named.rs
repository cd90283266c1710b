//! A draft by its name: its place among the drafts changes when others come and go.

use crate::hand::Ground;
use crate::model::{Binder, BinderId, Collection};

/// Behind every place that a draft can have.
const NOWHERE: usize = u32::MAX as usize;

/// The name of an open draft, and of all drafts beside it. Of a real binder nothing is kept.
#[derive(Clone, Debug, Default)]
pub(super) struct Named {
    name: Box<str>,
    all: Vec<Box<str>>,
}

impl Named {
    pub(super) fn of(collection: &Collection, ground: Ground) -> Self {
        let Some(at) = ground.draft else {
            return Self::default();
        };
        let all = names(collection, ground.binder);
        let name = all.get(at).cloned().unwrap_or_default();
        Self { name, all }
    }

    /// Where the draft is now; a ground on which there is nothing when it is gone.
    pub(super) fn find(&mut self, collection: &Collection, ground: Ground) -> Ground {
        let Some(was) = ground.draft else {
            return ground;
        };
        let all = names(collection, ground.binder);
        let found = all.iter().position(|name| *name == self.name);
        // Where all others are as they were, it is this one that has another name.
        let others = |all: &[Box<str>]| {
            let mut all = all.to_vec();
            (was < all.len()).then(|| all.remove(was)).map(|_| all)
        };
        let renamed = others(&all).is_some_and(|now| Some(now) == others(&self.all));
        let at = found.or(renamed.then_some(was)).unwrap_or(NOWHERE);
        if let Some(name) = all.get(at) {
            self.name.clone_from(name);
        }
        self.all = all;
        Ground {
            draft: Some(at),
            ..ground
        }
    }
}

fn names(collection: &Collection, binder: BinderId) -> Vec<Box<str>> {
    let drafts = collection.binder(binder).map_or(&[][..], Binder::drafts);
    drafts.iter().map(|draft| draft.name.clone()).collect()
}
