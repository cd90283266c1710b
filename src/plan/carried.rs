//! What a layout costs while pages of it are carried from place to place.
//!
//! Pages of a layout that stand in another order are the same pages: what each has in common with
//! the pages of the binder stays, and so does the assignment of greatest weight with the prices
//! that prove it. All this is found once, when they are picked up. What changes is which pages can
//! stay on the rings, and only that is found anew for each place.

use std::ops::Range;

use super::assign::{Assigned, NO, assign};
use super::cost::{Cost, cost_of_task};
use super::equal::Equal;
use super::keep::{Effort, count};
use super::numbers::task_of;
use super::overlap::{Edges, overlaps};
use super::task::{Movable, NONE, Stand, Task};
use crate::model::{Layout, Page};

/// A binder and a layout whose pages are carried.
#[derive(Clone, Debug)]
pub struct Carried {
    task: Task,
    edges: Edges,
    assigned: Assigned,
    cards: usize,
}

impl Carried {
    /// Pages are about to be carried in this layout for these pages, as [`super::cost`] takes
    /// them.
    #[must_use]
    pub fn new(contents: &[Page], layout: &Layout, pages_move: bool) -> Self {
        Self::of(task_of(contents, layout, pages_move))
    }

    /// The same for a task of one binder.
    ///
    /// # Panics
    /// The task is of more binders, or of none.
    #[must_use]
    pub fn of(task: Task) -> Self {
        assert_eq!(task.binders.len(), 1, "pages are carried in one binder");
        let (edges, assigned) = {
            let movable = Movable::new(&task);
            let edges = overlaps(&movable, task.loose.len().saturating_sub(1));
            let assigned = assign(&edges, movable.columns.len());
            (edges, assigned)
        };
        let cards = task.binders[0].before.iter().flat_map(|page| &page.pockets);
        Self {
            cards: cards.filter(|card| **card != NONE).count(),
            task,
            edges,
            assigned,
        }
    }

    /// The cost with the pages `run` of the layout where `to` is the place of the first of them,
    /// counted when they have been taken out. As [`cost_of_task`] the layout in that order; page moves
    /// that are not proven least are those of one way that was found, not always of the same.
    #[must_use]
    pub fn cost(&self, run: Range<usize>, to: usize) -> Cost {
        let pages = self.task.binders[0].after.len();
        let order = order(pages, run, to);
        let mut movable = Movable::new(&self.task);
        if movable.columns.len() < pages {
            // Pages that are bound in: there is nothing but to compare page by page.
            let mut task = self.task.clone();
            let after = &self.task.binders[0].after;
            task.binders[0].after = order.iter().map(|at| after[*at].clone()).collect();
            return cost_of_task(&task);
        }
        let columns: Vec<Stand<'_>> = (order.iter().enumerate())
            .map(|(at, old)| Stand {
                at,
                ..movable.columns[*old]
            })
            .collect();
        movable.columns = columns;
        let (edges, assigned) = self.reordered(&order);
        let mut equal = Equal::new(&movable, &edges, &assigned);
        let (stay, proven) = count(&movable, &mut equal, Effort::GLANCE);
        let rows = movable.rows.len();
        let is_page = |column: &&u32| (**column as usize) < pages;
        let matched = equal.take[..rows].iter().filter(is_page).count();
        let in_place = assigned.weight() as usize;
        Cost {
            lifts: self.cards - in_place,
            page_moves: matched - stay,
            page_moves_proven_least: proven,
            pages_added: pages - matched,
            pages_removed: rows - matched,
            in_place,
        }
    }

    /// What was found, with the columns by their new places. `order` has the old ones.
    fn reordered(&self, order: &[usize]) -> (Edges, Assigned) {
        let mut place = vec![0u32; order.len()];
        for (new, old) in (0u32..).zip(order) {
            place[*old] = new;
        }
        let new = |column: &u32| place.get(*column as usize).copied().unwrap_or(NO);
        let of = &self.assigned;
        let assigned = Assigned {
            column: of.column.iter().map(new).collect(),
            row: order.iter().map(|old| of.row[*old]).collect(),
            row_price: of.row_price.clone(),
            column_price: order.iter().map(|old| of.column_price[*old]).collect(),
        };
        (self.edges.renamed(&place), assigned)
    }
}

/// The cost of bringing these pages to this layout, which need not be the one in force.
///
/// Meant to be asked on every event: 60 pages of 18 pockets take far less than a millisecond.
/// Page moves that are not proven least are those of one way that was found.
/// In a binder with fixed pages (`pages_move` false) each page can only become the page of the
/// layout at its own place; pages that the layout has beyond are not counted as added.
#[must_use]
pub fn cost(contents: &[Page], layout: &Layout, pages_move: bool) -> Cost {
    Carried::new(contents, layout, pages_move).cost(0..0, 0)
}

/// The old place of each page in the new order.
fn order(pages: usize, run: Range<usize>, to: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..pages).filter(|page| !run.contains(page)).collect();
    let to = to.min(order.len());
    order.splice(to..to, run.filter(|page| *page < pages));
    order
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::plan::task::{Binder, Grid, Pages};

    fn page(cards: &[u32]) -> crate::plan::task::Page {
        crate::plan::task::Page {
            grid: Grid {
                rows: 1,
                columns: cards.len() as u8,
                sides: 1,
                shared: false,
            },
            pockets: cards.into(),
        }
    }

    fn pages() -> impl Strategy<Value = Vec<Vec<u32>>> {
        let page = prop_oneof![
            prop::collection::vec(0u32..9, 3),
            prop::collection::vec(0u32..9, 3),
            prop::collection::vec(0u32..9, 2),
        ];
        prop::collection::vec(page, 1..7)
    }

    proptest! {
        /// Asked anew for the layout in its new order, the planner says the same.
        #[test]
        fn carried_pages_cost_what_the_layout_in_that_order_costs(
            before in pages(), after in pages(), moves in any::<bool>(),
            from in 0usize..7, many in 1usize..4, to in 0usize..7,
        ) {
            let from = from % after.len();
            let run = from..(from + many).min(after.len());
            let to = to.min(after.len() - run.len());
            let binder = |after: &[Vec<u32>]| Task {
                binders: vec![Binder {
                    pages: Pages::rings(moves),
                    before: before.iter().map(|cards| page(cards)).collect(),
                    after: after.iter().map(|cards| page(cards)).collect(),
                }],
                loose: vec![0; 9],
            };
            let mut moved = after.clone();
            let lifted: Vec<_> = moved.drain(run.clone()).collect();
            moved.splice(to..to, lifted);
            let cost = Carried::of(binder(&after)).cost(run, to);
            prop_assert_eq!(cost, cost_of_task(&binder(&moved)));
        }
    }
}
