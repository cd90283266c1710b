//! What a draft would cost against what lies in the binder, by the planner.

use std::ops::Range;

use super::ground::Ground;
use crate::model::{Binder, Collection, Layout};
use crate::plan::{self, Cost};

/// The cost of the layout that stands on this ground. `None` when the ground is gone.
#[must_use]
pub fn cost(collection: &Collection, ground: Ground) -> Option<Cost> {
    let binder = collection.binder(ground.binder)?;
    Some(cost_of(binder, ground.layout(collection).ok()?))
}

/// The cost of any layout against what lies in the binder.
pub(super) fn cost_of(binder: &Binder, layout: &Layout) -> Cost {
    let pages_move = binder.spec().kind.pages_move();
    plan::cost(binder.pages(), layout, pages_move)
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
        self.0.cost(run, to)
    }
}
