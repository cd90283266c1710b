//! What an arrangement would cost, without the steps: for numbers that change while a page is
//! carried.

mod words;

use super::becomes::{Becomes, becomes};
use super::keep::Effort;
use super::numbers::task_of;
use super::task::{NONE, Pages, Task};
use crate::model::{self, Layout};

/// What it takes to bring a binder from its contents to a layout.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    /// Cards that have to leave their pockets: the least there is.
    pub lifts: usize,
    /// Pages that have to be put elsewhere in the binder.
    pub page_moves: usize,
    /// No other way with as few lifts needs fewer page moves, and that is proven.
    pub page_moves_proven_least: bool,
    pub pages_added: usize,
    pub pages_removed: usize,
    /// Cards that lie in the pocket meant for them and stay there.
    pub in_place: usize,
}

impl Cost {
    /// Whether the layout is what lies there already.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.lifts == 0 && self.pages() == 0
    }

    /// All pages that are moved, put in or taken out.
    #[must_use]
    pub fn pages(&self) -> usize {
        self.page_moves + self.pages_added + self.pages_removed
    }

    /// The number of page moves is that of a way that was found, and not proven least.
    #[must_use]
    pub fn may_be_fewer(&self) -> bool {
        !self.page_moves_proven_least && self.page_moves > 0
    }
}

/// What becomes of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fate {
    /// The place that it has in the layout; `None` for one that is taken out, or that fixed pages
    /// leave without a meaning.
    pub to: Option<usize>,
    /// It comes off the rings and goes on elsewhere; others only count on when it has moved.
    pub moves: bool,
}

/// [`super::cost()`], and what becomes of each of these pages.
#[must_use]
pub fn cost_and_fates(
    contents: &[model::Page],
    layout: &Layout,
    pages_move: bool,
) -> (Cost, Vec<Fate>) {
    let task = task_of(contents, layout, pages_move);
    let becomes = becomes(&task, Effort::GLANCE);
    let to = becomes.to.iter().flatten();
    let fates = to.zip(becomes.stays.iter().flatten());
    let fates = fates.map(|(to, stays)| Fate {
        to: to.map(|(_, place)| place),
        moves: to.is_some() && !stays,
    });
    (counted(&task, &becomes), fates.collect())
}

/// [`super::cost()`] for a whole task.
#[must_use]
pub fn cost_of_task(task: &Task) -> Cost {
    counted(task, &becomes(task, Effort::GLANCE))
}

fn counted(task: &Task, becomes: &Becomes) -> Cost {
    let cards = task.binders.iter().flat_map(|binder| &binder.before);
    let cards = cards.flat_map(|page| &page.pockets);
    let cards = cards.filter(|card| **card != NONE).count();
    let in_place = becomes.in_place as usize;
    let mut cost = Cost {
        lifts: cards - in_place,
        page_moves: becomes.page_moves,
        page_moves_proven_least: becomes.proven,
        in_place,
        ..Cost::default()
    };
    for (binder, (from, to)) in (task.binders.iter()).zip(becomes.from.iter().zip(&becomes.to)) {
        if binder.pages != Pages::Fixed {
            cost.pages_added += from.iter().filter(|page| page.is_none()).count();
            cost.pages_removed += to.iter().filter(|page| page.is_none()).count();
        }
    }
    cost
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::plan::cost;

    /// Common practice, no source: where layout and contents agree nothing is to be done; where a
    /// page is carried to another place, one page moves and no card.
    #[test]
    fn a_carried_page_costs_one_page_move_and_no_lift() {
        let collection = demo::collection();
        let binder = collection.shelf().next().unwrap();
        let mut layout = binder.layout().clone();
        for (page, meant) in binder.pages().iter().zip(&mut layout.pages) {
            for (at, card) in page.cards().iter().enumerate() {
                meant.set_meaning(
                    at,
                    card.map_or(model::Meaning::Nothing, model::Meaning::Printing),
                );
            }
        }
        layout.pages.truncate(binder.pages().len());
        let before = cost(binder.pages(), &layout, true);
        assert_eq!((before.lifts, before.page_moves), (0, 0));
        let filled = binder.pages().iter().flat_map(model::Page::cards).flatten();
        assert_eq!(before.in_place, filled.count());
        let carried = layout.pages.remove(0);
        layout.pages.insert(2, carried);
        let after = cost(binder.pages(), &layout, true);
        assert_eq!((after.lifts, after.page_moves), (0, 1));
        assert!(after.page_moves_proven_least);
        assert_eq!((after.pages_added, after.pages_removed), (0, 0));
        let fixed = cost(binder.pages(), &layout, false);
        assert!(fixed.lifts > 0);
        assert_eq!(fixed.page_moves, 0);
        layout.pages.pop();
        let fewer = cost(binder.pages(), &layout, true);
        assert_eq!((fewer.pages_added, fewer.pages_removed), (0, 1));
    }
}
