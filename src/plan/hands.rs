//! The binders while they are worked on: every step is done here when it is planned, so that
//! none can be planned that cannot be done.

use super::becomes::Becomes;
use super::step::{PageNumber, WorkStep};
use super::task::At;
use super::task::{Card, Grid, NONE, Pages, Task};

pub(super) struct Hands<'t> {
    pub(super) task: &'t Task,
    pub(super) grids: Vec<Grid>,
    /// What lies in each pocket of each page now.
    pub(super) cards: Vec<Box<[Card]>>,
    /// The page of the layout that each page becomes.
    becomes: Vec<Option<At>>,
    /// The page that each page of the layout is made of; new ones too.
    pub(super) made_of: Vec<Vec<Option<PageNumber>>>,
    /// Pages that stay on their rings.
    stays: Vec<bool>,
    /// The pages of each binder in order now.
    pub(super) order: Vec<Vec<PageNumber>>,
    at: Vec<At>,
    /// Copies on the table, by printing.
    pub(super) loose: Vec<u32>,
    pub(super) steps: Vec<WorkStep>,
    /// Steps that are done behind another card, each with that card.
    pub(super) in_front: Vec<(usize, Card)>,
}

impl<'t> Hands<'t> {
    pub(super) fn new(task: &'t Task, becomes: &Becomes) -> Self {
        let mut hands = Self {
            task,
            grids: Vec::new(),
            cards: Vec::new(),
            becomes: Vec::new(),
            made_of: Vec::new(),
            stays: Vec::new(),
            order: Vec::new(),
            at: Vec::new(),
            loose: task.loose.clone(),
            steps: Vec::new(),
            in_front: Vec::new(),
        };
        for (number, binder) in task.binders.iter().enumerate() {
            let first = hands.cards.len();
            for (at, page) in binder.before.iter().enumerate() {
                hands.at.push((number, at));
                hands.grids.push(page.grid);
                hands.cards.push(page.pockets.clone());
                hands.becomes.push(becomes.to[number][at]);
                hands.stays.push(becomes.stays[number][at]);
            }
            hands.order.push((first..hands.cards.len()).collect());
        }
        let begin: Vec<usize> = (hands.order.iter())
            .scan(0, |next, pages| {
                let first = *next;
                *next += pages.len();
                Some(first)
            })
            .collect();
        for from in &becomes.from {
            let made_of = from.iter().map(|page| {
                let (binder, at) = (*page)?;
                Some(begin[binder] + at)
            });
            hands.made_of.push(made_of.collect());
        }
        hands
    }

    /// What a pocket of a page should hold.
    pub(super) fn wanted(&self, page: PageNumber, pocket: usize) -> Card {
        self.becomes[page].map_or(NONE, |(binder, at)| {
            self.task.binders[binder].after[at].pockets[pocket]
        })
    }

    pub(super) fn lift(&mut self, page: PageNumber, pocket: usize) {
        self.touch(page, pocket);
        let card = std::mem::replace(&mut self.cards[page][pocket], NONE);
        self.loose[card as usize] += 1;
        self.steps.push(WorkStep::Lift {
            page,
            at: self.at[page],
            pocket,
            card,
        });
    }

    pub(super) fn seat(&mut self, page: PageNumber, pocket: usize, card: Card) {
        self.touch(page, pocket);
        self.cards[page][pocket] = card;
        self.loose[card as usize] -= 1;
        self.steps.push(WorkStep::Seat {
            page,
            at: self.at[page],
            pocket,
            card,
        });
    }

    fn touch(&mut self, page: PageNumber, pocket: usize) {
        if let Some(front) = self.front_of(page, pocket) {
            self.in_front.push((self.steps.len(), front));
        }
    }

    /// Whether a card lies before this pocket, in the front of the same place.
    pub(super) fn is_behind(&self, page: PageNumber, pocket: usize) -> bool {
        self.front_of(page, pocket).is_some()
    }

    fn front_of(&self, page: PageNumber, pocket: usize) -> Option<Card> {
        let grid = self.grids[page];
        let front = grid.partner(pocket).filter(|_| !grid.is_front(pocket))?;
        Some(self.cards[page][front]).filter(|card| *card != NONE)
    }

    /// Puts the pages of a binder in the order of its layout, front to back: each page that does
    /// not stay goes directly behind the one that comes before it in the layout.
    pub(super) fn put_in_order(&mut self, binder: usize) {
        for at in 0..self.made_of[binder].len() {
            match self.made_of[binder][at] {
                Some(page) if self.stays[page] => {}
                Some(page) => {
                    let from = self.at[page];
                    self.order[from.0].remove(from.1);
                    self.renumber(from.0, from.1);
                    let to = (binder, self.place_behind(binder, at));
                    self.order[binder].insert(to.1, page);
                    self.renumber(binder, to.1);
                    self.steps.push(WorkStep::MovePage { page, from, to });
                }
                None if self.task.binders[binder].pages != Pages::Fixed => self.add(binder, at),
                None => {}
            }
        }
    }

    fn add(&mut self, binder: usize, at: usize) {
        let page = self.cards.len();
        let grid = self.task.binders[binder].after[at].grid;
        let to = (binder, self.place_behind(binder, at));
        self.grids.push(grid);
        self.cards
            .push(vec![NONE; grid.per_side() * usize::from(grid.sides)].into());
        self.becomes.push(Some((binder, at)));
        self.stays.push(true);
        self.at.push(to);
        self.made_of[binder][at] = Some(page);
        self.order[binder].insert(to.1, page);
        self.renumber(binder, to.1);
        self.steps.push(WorkStep::AddPage {
            page,
            to,
            grid,
            meant: (binder, at),
        });
    }

    /// The place behind the page that comes before the `at`-th of the layout.
    fn place_behind(&self, binder: usize, at: usize) -> usize {
        let before = at.checked_sub(1).and_then(|at| self.made_of[binder][at]);
        before.map_or(0, |page| self.at[page].1 + 1)
    }

    fn renumber(&mut self, binder: usize, from: usize) {
        for (at, page) in self.order[binder].iter().enumerate().skip(from) {
            self.at[*page] = (binder, at);
        }
    }

    /// Takes the pages out of a binder that its layout has no use for. They are empty by then.
    pub(super) fn take_out_left_over(&mut self, binder: usize) {
        if self.task.binders[binder].pages == Pages::Fixed {
            return;
        }
        let mut at = 0;
        while let Some(page) = self.order[binder].get(at).copied() {
            if self.becomes[page].is_some() {
                at += 1;
                continue;
            }
            debug_assert!(self.cards[page].iter().all(|card| *card == NONE));
            self.order[binder].remove(at);
            self.renumber(binder, at);
            self.steps.push(WorkStep::RemovePage {
                page,
                from: (binder, at),
            });
        }
    }
}
