//! What a draft would cost against what lies in the binder.

use std::ops::Range;

use super::ground::Ground;
use crate::model::{Collection, Layout};

/// The work from the contents to a layout.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    /// Cards that are taken out of a pocket.
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
    let mut wanted: Layout = layout.clone();
    if let Some((run, to)) = lifted {
        let pages: Vec<_> = wanted.pages.drain(run).collect();
        let to = to.min(wanted.pages.len());
        wanted.pages.splice(to..to, pages);
    }
    let mut cost = Cost::default();
    for (at, page) in binder.pages().iter().enumerate() {
        let meant = wanted.pages.get(at);
        let meant = meant.filter(|meant| meant.format().same_grid(&page.format()));
        for (pocket, card) in page.cards().iter().enumerate() {
            let stays = meant.is_some_and(|meant| meant.printing(pocket) == *card);
            cost.lifts += usize::from(card.is_some() && !stays);
        }
    }
    let (have, want) = (binder.pages().len(), wanted.pages.len());
    cost.pages_added = want.saturating_sub(have);
    cost.pages_removed = have.saturating_sub(want);
    Some(cost)
}
