//! The work: steps in the order in which they are done, and what they come to.

use super::becomes::becomes_working;
use super::figures::{Figures, couples, figures};
use super::hand_to_hand;
use super::hands::Hands;
use super::keep::Effort;
use super::step::WorkStep;
use super::task::{At, Card, NONE, Task, Working};
use super::two_passes;

/// A pocket of the layout for which no copy is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unfilled {
    /// The page as the layout counts.
    pub at: At,
    pub pocket: usize,
    pub card: Card,
}

/// The steps from what lies in the binders to what should, and what they come to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Work {
    pub working: Working,
    pub steps: Vec<WorkStep>,
    pub figures: Figures,
    /// The steps, from 0, at the back of a shared pocket whose front is filled, each with the card
    /// that lies there: it comes out first, and goes back. As many as the extra touches.
    pub in_front: Vec<(usize, Card)>,
    /// In the order of the layout.
    pub unfilled: Vec<Unfilled>,
}

/// Plans the work. For one task and one way of working the answer is always the same, and what
/// is left of it after some of its deeds ([`Work::deeds`]) were done is the answer for the task
/// as it then is.
///
/// That the rest stays the same holds wherever the number of page moves is proven least.
#[must_use]
pub fn work(task: &Task, working: Working) -> Work {
    let becomes = becomes_working(task, Effort::THOROUGH, working);
    let proven = becomes.proven;
    let mut hands = Hands::new(task, &becomes);
    match working {
        Working::TwoPasses => two_passes::work(&mut hands),
        Working::HandToHand => hand_to_hand::work(&mut hands),
    }
    let unfilled = unfilled(task, &hands);
    let figures = figures(&hands.steps, hands.in_front.len(), proven);
    Work {
        working,
        steps: hands.steps,
        figures,
        in_front: hands.in_front,
        unfilled,
    }
}

fn unfilled(task: &Task, hands: &Hands<'_>) -> Vec<Unfilled> {
    let mut unfilled = Vec::new();
    for (binder, meant) in task.binders.iter().enumerate() {
        for (at, page) in meant.after.iter().enumerate() {
            let real = hands.made_of[binder][at];
            for (pocket, card) in page.pockets.iter().enumerate() {
                let held = real.map_or(NONE, |real| hands.cards[real][pocket]);
                if *card != NONE && held != *card {
                    unfilled.push(Unfilled {
                        at: (binder, at),
                        pocket,
                        card: *card,
                    });
                }
            }
        }
    }
    unfilled
}

impl Work {
    /// Leaves out the first steps, which have been done.
    pub(super) fn go_on_from(&mut self, done: usize) {
        self.steps.drain(..done);
        self.in_front.retain_mut(|(step, _)| {
            let is_left = *step >= done;
            *step = step.saturating_sub(done);
            is_left
        });
        let proven = self.figures.page_moves_proven_least;
        self.figures = figures(&self.steps, self.in_front.len(), proven);
    }

    /// For each lift the number of the step that seats the card again, for each seat that of the
    /// step that lifted it; `None` for a card that ends loose, was loose before, and for pages.
    #[must_use]
    pub fn couples(&self) -> Vec<Option<usize>> {
        couples(&self.steps)
    }

    /// The steps as a person does and ticks them off: a card that goes straight from pocket to
    /// pocket is one deed of two steps, every other step is a deed of its own.
    pub fn deeds(&self) -> impl Iterator<Item = &[WorkStep]> {
        let mut rest = &self.steps[..];
        std::iter::from_fn(move || {
            let length = match rest {
                [] => return None,
                [
                    WorkStep::Lift { card, .. },
                    WorkStep::Seat { card: next, .. },
                    ..,
                ] if self.working == Working::HandToHand && card == next => 2,
                _ => 1,
            };
            let (deed, after) = rest.split_at(length);
            rest = after;
            Some(deed)
        })
    }
}
