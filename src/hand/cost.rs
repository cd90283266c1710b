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

/// The cost of the layout that stands on this ground, with the pages `lifted` (a run and the place
/// where it would be put down) there already. `None` when the ground is gone.
#[must_use]
pub fn cost(
    collection: &Collection,
    ground: Ground,
    lifted: Option<(Range<usize>, usize)>,
) -> Option<Cost> {
    let binder = collection.binder(ground.binder)?;
    let layout = ground.layout(collection).ok()?;
    Some(match lifted {
        None => cost_of(binder, layout),
        Some((run, to)) => {
            let mut wanted = layout.clone();
            let pages: Vec<_> = wanted.pages.drain(run).collect();
            let to = to.min(wanted.pages.len());
            wanted.pages.splice(to..to, pages);
            cost_of(binder, &wanted)
        }
    })
}

/// The cost of any layout against what lies in the binder.
#[must_use]
pub fn cost_of(binder: &Binder, layout: &Layout) -> Cost {
    let pages_move = binder.spec().kind.pages_move();
    let cost = plan::cost(binder.pages(), layout, pages_move);
    Cost {
        lifts: cost.lifts,
        page_moves: cost.page_moves,
        pages_added: cost.pages_added,
        pages_removed: cost.pages_removed,
    }
}
