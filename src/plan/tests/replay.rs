//! A replayer of its own: it knows the binders, the table and nothing of how the steps were
//! planned. It does each step strictly, and counts anew what they come to.

use std::collections::BTreeMap;

use crate::plan::task::{Binder, Card, Grid, NONE, Page, Pages, Task, Working};
use crate::plan::{Work, WorkStep};

#[derive(Clone, Debug)]
pub(super) struct Replay {
    moves: Vec<Pages>,
    after: Vec<Vec<Page>>,
    pub(super) order: Vec<Vec<usize>>,
    pages: BTreeMap<usize, (Grid, Vec<Card>)>,
    pub(super) loose: Vec<u32>,
    next: usize,
    pub(super) extra_touches: usize,
}

impl Replay {
    pub(super) fn new(task: &Task) -> Self {
        let mut replay = Self {
            moves: task.binders.iter().map(|b| b.pages).collect(),
            after: task.binders.iter().map(|b| b.after.clone()).collect(),
            order: Vec::new(),
            pages: BTreeMap::new(),
            loose: task.loose.clone(),
            next: 0,
            extra_touches: 0,
        };
        for binder in &task.binders {
            let mut order = Vec::new();
            for page in &binder.before {
                replay
                    .pages
                    .insert(replay.next, (page.grid, page.pockets.to_vec()));
                order.push(replay.next);
                replay.next += 1;
            }
            replay.order.push(order);
        }
        replay
    }

    pub(super) fn step(&mut self, step: &WorkStep) {
        match *step {
            WorkStep::Lift {
                page,
                at,
                pocket,
                card,
            } => {
                assert_eq!(self.order[at.0][at.1], page, "{step:?}");
                self.touch(page, pocket);
                let held = &mut self.pages.get_mut(&page).unwrap().1[pocket];
                assert_ne!(card, NONE);
                assert_eq!(*held, card, "{step:?}");
                *held = NONE;
                self.loose[card as usize] += 1;
            }
            WorkStep::Seat {
                page,
                at,
                pocket,
                card,
            } => {
                assert_eq!(self.order[at.0][at.1], page, "{step:?}");
                self.touch(page, pocket);
                let held = &mut self.pages.get_mut(&page).unwrap().1[pocket];
                assert_eq!(*held, NONE, "{step:?}");
                *held = card;
                assert!(self.loose[card as usize] > 0, "{step:?}");
                self.loose[card as usize] -= 1;
            }
            WorkStep::MovePage { page, from, to } => {
                let can = |binder: usize| self.moves[binder] == Pages::Move;
                assert!(can(from.0) && can(to.0), "{step:?}");
                assert_eq!(self.order[from.0].remove(from.1), page, "{step:?}");
                self.order[to.0].insert(to.1, page);
            }
            WorkStep::AddPage { page, to, grid, .. } => {
                assert_ne!(self.moves[to.0], Pages::Fixed, "{step:?}");
                assert_eq!(page, self.next);
                self.next += 1;
                let sides = usize::from(grid.sides);
                let pockets = usize::from(grid.rows) * usize::from(grid.columns) * sides;
                self.pages.insert(page, (grid, vec![NONE; pockets]));
                self.order[to.0].insert(to.1, page);
            }
            WorkStep::RemovePage { page, from } => {
                assert_ne!(self.moves[from.0], Pages::Fixed, "{step:?}");
                assert_eq!(self.order[from.0].remove(from.1), page, "{step:?}");
                let (_, cards) = self.pages.remove(&page).unwrap();
                assert!(cards.iter().all(|card| *card == NONE), "{step:?}");
            }
        }
    }

    fn touch(&mut self, page: usize, pocket: usize) {
        let (grid, cards) = &self.pages[&page];
        let side = usize::from(grid.rows) * usize::from(grid.columns);
        if grid.shared && pocket >= side && cards[pocket - side] != NONE {
            self.extra_touches += 1;
        }
    }

    /// The task as it is now.
    pub(super) fn task(&self) -> Task {
        let binders = (self.order.iter()).zip(&self.after).zip(&self.moves);
        let binders = binders.map(|((order, after), moves)| Binder {
            pages: *moves,
            before: (order.iter())
                .map(|page| {
                    let (grid, cards) = &self.pages[page];
                    Page {
                        grid: *grid,
                        pockets: cards.clone().into(),
                    }
                })
                .collect(),
            after: after.clone(),
        });
        Task {
            binders: binders.collect(),
            loose: self.loose.clone(),
        }
    }

    /// Binders are as they should be, but for pockets of which no copy is left; tells those.
    pub(super) fn gaps(&self) -> Vec<((usize, usize), usize, Card)> {
        let mut gaps = Vec::new();
        for (binder, meant) in self.after.iter().enumerate() {
            assert_eq!(self.order[binder].len(), meant.len());
            for (at, (page, meant)) in self.order[binder].iter().zip(meant).enumerate() {
                let (grid, cards) = &self.pages[page];
                assert_eq!(*grid, meant.grid);
                for (pocket, (held, wanted)) in cards.iter().zip(&meant.pockets).enumerate() {
                    if held == wanted {
                        continue;
                    }
                    assert_eq!(*held, NONE, "a wrong card is left");
                    assert_eq!(self.loose[*wanted as usize], 0, "a copy was left over");
                    gaps.push(((binder, at), pocket, *wanted));
                }
            }
        }
        gaps
    }
}

/// Everything a plan promises, but that it is the least.
pub(super) fn check(task: &Task, work: &Work) {
    let mut replay = Replay::new(task);
    let mut in_hand = None;
    let mut handlings = 0;
    let (mut lifts, mut moves, mut added, mut removed) = (0, 0, 0, 0);
    for step in &work.steps {
        replay.step(step);
        let before = in_hand.take();
        match step {
            WorkStep::Lift { card, .. } => {
                lifts += 1;
                handlings += 1;
                in_hand = Some(*card);
            }
            WorkStep::Seat { card, .. } => {
                handlings += usize::from(before != Some(*card));
            }
            WorkStep::MovePage { .. } => moves += 1,
            WorkStep::AddPage { .. } => added += 1,
            WorkStep::RemovePage { .. } => removed += 1,
        }
    }
    let figures = &work.figures;
    assert_eq!(figures.lifts, lifts);
    assert_eq!(figures.page_moves, moves);
    assert_eq!(figures.pages_added, added);
    assert_eq!(figures.pages_removed, removed);
    assert_eq!(figures.handlings, handlings);
    assert_eq!(figures.extra_touches, replay.extra_touches);
    assert_eq!(figures.most_cards_aside, most_aside(&work.steps));
    assert!(work.working == Working::TwoPasses || figures.most_cards_aside <= 1);
    if task
        .binders
        .iter()
        .all(|binder| binder.pages != Pages::Fixed)
    {
        let unfilled = work.unfilled.iter();
        let unfilled: Vec<_> = unfilled.map(|gap| (gap.at, gap.pocket, gap.card)).collect();
        assert_eq!(replay.gaps(), unfilled);
    }
}

/// For each moment the lifted cards that are seated later, but not in the next step. A seat right
/// after a lift of the same printing seats that card; any other the copy lifted last.
fn most_aside(steps: &[WorkStep]) -> usize {
    let mut lies: Vec<(Card, usize)> = Vec::new();
    let mut from_to = Vec::new();
    for (number, step) in steps.iter().enumerate() {
        match step {
            WorkStep::Lift { card, .. } => lies.push((*card, number)),
            WorkStep::Seat { card, .. } => {
                if let Some(at) = lies.iter().rposition(|(other, _)| other == card) {
                    from_to.push((lies.remove(at).1, number));
                }
            }
            _ => {}
        }
    }
    let aside = |moment: usize| {
        let there = from_to.iter();
        there
            .filter(|(from, to)| from + 1 < *to && (*from..*to).contains(&moment))
            .count()
    };
    (0..steps.len()).map(aside).max().unwrap_or(0)
}

/// After each deed the rest of the plan is the plan of what is left.
pub(super) fn check_rest(task: &Task, work: &Work) {
    let mut replay = Replay::new(task);
    let mut done = 0;
    for deed in work.deeds() {
        for step in deed {
            replay.step(step);
        }
        done += deed.len();
        let again = crate::plan::work(&replay.task(), work.working);
        let rest = work.steps[done..].iter();
        let rest: Vec<WorkStep> = rest.map(|step| renumber(&replay, step)).collect();
        assert_eq!(again.steps, rest, "after {done} steps of {:?}", work.steps);
    }
}

/// The step as a plan from now on would call the pages.
fn renumber(now: &Replay, step: &WorkStep) -> WorkStep {
    let there: Vec<usize> = now.order.concat();
    let number = |page: usize| match there.iter().position(|other| *other == page) {
        Some(at) => at,
        // Still to be added.
        None => there.len() + page - now.next,
    };
    let mut step = *step;
    match &mut step {
        WorkStep::Lift { page, .. }
        | WorkStep::Seat { page, .. }
        | WorkStep::MovePage { page, .. }
        | WorkStep::AddPage { page, .. }
        | WorkStep::RemovePage { page, .. } => *page = number(*page),
    }
    step
}
