//! The plan for a program.

use serde::Serialize;

use crate::model::Side;
use crate::paper::Names;
use crate::plan::task::Grid;
use crate::plan::{Work, WorkStep};
use crate::text::Choice;

#[derive(Serialize)]
pub(super) struct Answer<'n> {
    format: &'static str,
    version: u32,
    working: &'static str,
    lifts: usize,
    page_moves: usize,
    pages_added: usize,
    pages_removed: usize,
    extra_touches: usize,
    handlings: usize,
    most_cards_aside: usize,
    page_moves_proven_least: bool,
    unfilled: Vec<UnfilledAnswer<'n>>,
    steps: Vec<StepAnswer<'n>>,
}

#[derive(Serialize)]
struct UnfilledAnswer<'n> {
    binder: &'n str,
    /// As the layout counts, from 1.
    page: usize,
    #[serde(flatten)]
    pocket: PocketAnswer,
    printing: &'n str,
}

#[derive(Serialize)]
struct PocketAnswer {
    side: &'static str,
    row: usize,
    column: usize,
}

#[derive(Serialize)]
#[serde(tag = "do", rename_all = "snake_case")]
enum StepAnswer<'n> {
    Lift(CardAnswer<'n>),
    Seat(CardAnswer<'n>),
    MovePage {
        binder: &'n str,
        page: &'n str,
        to_binder: &'n str,
        to: usize,
    },
    AddPage {
        binder: &'n str,
        page: &'n str,
        to: usize,
        rows: u8,
        columns: u8,
        sides: u8,
        shared_pockets: bool,
    },
    RemovePage {
        binder: &'n str,
        page: &'n str,
    },
}

#[derive(Serialize)]
struct CardAnswer<'n> {
    binder: &'n str,
    page: &'n str,
    #[serde(flatten)]
    pocket: PocketAnswer,
    printing: &'n str,
}

impl<'n> Answer<'n> {
    pub(super) fn new(names: &'n Names, work: &Work) -> Self {
        let figures = &work.figures;
        Self {
            format: "ringbound-plan",
            version: 1,
            working: work.working.word(),
            lifts: figures.lifts,
            page_moves: figures.page_moves,
            pages_added: figures.pages_added,
            pages_removed: figures.pages_removed,
            extra_touches: figures.extra_touches,
            handlings: figures.handlings,
            most_cards_aside: figures.most_cards_aside,
            page_moves_proven_least: figures.page_moves_proven_least,
            unfilled: (work.unfilled.iter())
                .map(|gap| UnfilledAnswer {
                    binder: &names.binders[gap.at.0],
                    page: gap.at.1 + 1,
                    pocket: pocket(names.layout(gap.at), gap.pocket),
                    printing: names.printing(gap.card),
                })
                .collect(),
            steps: work.steps.iter().map(|step| answer(names, step)).collect(),
        }
    }
}

fn answer<'n>(names: &'n Names, step: &WorkStep) -> StepAnswer<'n> {
    let binder = |binder: usize| names.binders[binder].as_str();
    match *step {
        WorkStep::Lift {
            page,
            at,
            pocket: index,
            card,
        }
        | WorkStep::Seat {
            page,
            at,
            pocket: index,
            card,
        } => {
            let answer = CardAnswer {
                binder: binder(at.0),
                page: names.page(page),
                pocket: pocket(names.grid(page), index),
                printing: names.printing(card),
            };
            if matches!(step, WorkStep::Lift { .. }) {
                StepAnswer::Lift(answer)
            } else {
                StepAnswer::Seat(answer)
            }
        }
        WorkStep::MovePage { page, from, to } => StepAnswer::MovePage {
            binder: binder(from.0),
            page: names.page(page),
            to_binder: binder(to.0),
            to: to.1 + 1,
        },
        WorkStep::AddPage { page, to, grid, .. } => StepAnswer::AddPage {
            binder: binder(to.0),
            page: names.page(page),
            to: to.1 + 1,
            rows: grid.rows,
            columns: grid.columns,
            sides: grid.sides,
            shared_pockets: grid.shared,
        },
        WorkStep::RemovePage { page, from } => StepAnswer::RemovePage {
            binder: binder(from.0),
            page: names.page(page),
        },
    }
}

fn pocket(grid: Grid, index: usize) -> PocketAnswer {
    let columns = usize::from(grid.columns).max(1);
    let at = index % grid.per_side().max(1);
    PocketAnswer {
        side: match grid.is_front(index) {
            true => Side::Front.word(),
            false => Side::Back.word(),
        },
        row: at / columns + 1,
        column: at % columns + 1,
    }
}
