//! What a draft would cost against what lies in the binder, by the planner.

use std::ops::Range;

use super::ground::Ground;
use crate::model::{Binder, Collection, Layout};
use crate::plan;

/// The work from the contents to a layout.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    /// Cards that have to leave their pockets: the least there is.
    pub lifts: usize,
    pub page_moves: usize,
    pub pages_added: usize,
    pub pages_removed: usize,
}

impl Cost {
    /// In words a collector understands: `2 pages move, 9 cards are touched`.
    #[must_use]
    pub fn words(&self) -> String {
        let mut parts = Vec::new();
        let mut part = |many: usize, one: &str, more: &str| match many {
            0 => {}
            1 => parts.push(format!("1 {one}")),
            many => parts.push(format!("{many} {more}")),
        };
        part(self.page_moves, "page moves", "pages move");
        part(self.pages_added, "page comes in", "pages come in");
        part(self.pages_removed, "page goes", "pages go");
        part(self.lifts, "card is touched", "cards are touched");
        if parts.is_empty() {
            "nothing to do".into()
        } else {
            parts.join(", ")
        }
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
