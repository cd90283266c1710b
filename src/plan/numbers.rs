//! Pages of a collection as pages of a task, with printings as small numbers.

use std::collections::HashMap;

use super::task::{Binder, NONE, Pages, Task};
use crate::model::{self, Layout, PrintingId};

/// The task of bringing these pages to this layout, with no loose copies.
pub(super) fn task_of(contents: &[model::Page], layout: &Layout, pages_move: bool) -> Task {
    let mut numbers = Numbers::default();
    let before = contents.iter().map(|page| numbers.contents(page));
    let before = before.collect();
    let after = layout.pages.iter().map(|page| numbers.layout(page));
    let binder = Binder {
        pages: Pages::rings(pages_move),
        before,
        after: after.collect(),
    };
    Task {
        binders: vec![binder],
        loose: vec![0; numbers.count() + 1],
    }
}

/// Small numbers for the printings that have to do with a plan.
#[derive(Debug, Default)]
pub(super) struct Numbers {
    number: HashMap<PrintingId, u32>,
    pub(super) printings: Vec<PrintingId>,
}

impl Numbers {
    /// From 1, in the order in which they are first asked for.
    pub(super) fn number(&mut self, printing: PrintingId) -> u32 {
        *self.number.entry(printing).or_insert_with(|| {
            self.printings.push(printing);
            self.printings.len() as u32
        })
    }

    pub(super) fn count(&self) -> usize {
        self.printings.len()
    }

    pub(super) fn contents(&mut self, page: &model::Page) -> super::task::Page {
        let cards = page.cards().iter();
        super::task::Page {
            grid: page.format().into(),
            pockets: cards
                .map(|card| card.map_or(NONE, |card| self.number(card)))
                .collect(),
        }
    }

    pub(super) fn layout(&mut self, page: &model::LayoutPage) -> super::task::Page {
        let mut pockets = vec![NONE; page.format().pockets()];
        for (at, printing) in page.printings() {
            pockets[at] = self.number(printing);
        }
        super::task::Page {
            grid: page.format().into(),
            pockets: pockets.into(),
        }
    }
}
