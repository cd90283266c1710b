//! What the steps come to, counted from the steps themselves.

use std::collections::HashMap;

use super::step::WorkStep;
use super::task::Card;

/// Each figure can be recounted from the steps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Figures {
    /// Cards taken out of a pocket: the fewest that any plan can do with.
    pub lifts: usize,
    pub page_moves: usize,
    /// No assignment with as few lifts needs fewer page moves, and that is proven.
    pub page_moves_proven_least: bool,
    pub pages_added: usize,
    pub pages_removed: usize,
    /// Lifts and seats at the back of a shared pocket while its front is filled.
    pub extra_touches: usize,
    /// Times a card is picked up.
    pub handlings: usize,
    /// The most lifted cards that lie on the table at one time, still to be seated.
    pub most_cards_aside: usize,
    /// Cards put into a pocket.
    pub seats: usize,
    /// Times another page is opened than the step before had.
    pub page_turns: usize,
}

pub(super) fn figures(steps: &[WorkStep], extra_touches: usize, proven: bool) -> Figures {
    let mut figures = Figures {
        extra_touches,
        page_moves_proven_least: proven,
        most_cards_aside: most_aside(steps),
        ..Figures::default()
    };
    let mut open = None;
    for (number, step) in steps.iter().enumerate() {
        match step {
            WorkStep::Lift { page, .. } | WorkStep::Seat { page, .. } => {
                figures.page_turns += usize::from(open.is_some_and(|open| open != *page));
                open = Some(*page);
            }
            _ => {}
        }
        match step {
            WorkStep::Lift { .. } => {
                figures.lifts += 1;
                figures.handlings += 1;
            }
            WorkStep::Seat { .. } => {
                figures.seats += 1;
                figures.handlings += usize::from(!is_in_hand(steps, number));
            }
            WorkStep::MovePage { .. } => figures.page_moves += 1,
            WorkStep::AddPage { .. } => figures.pages_added += 1,
            WorkStep::RemovePage { .. } => figures.pages_removed += 1,
        }
    }
    figures
}

/// Whether a seated card was lifted by the step just before.
fn is_in_hand(steps: &[WorkStep], seat: usize) -> bool {
    match (seat.checked_sub(1).map(|before| steps[before]), steps[seat]) {
        (Some(WorkStep::Lift { card, .. }), WorkStep::Seat { card: seated, .. }) => card == seated,
        _ => false,
    }
}

/// For each lift the step that seats the card again, for each seat the step that lifted it: `None`
/// for a card that ends loose or was loose before. Copies of a printing are interchangeable: the
/// one lifted last is seated first.
pub(super) fn couples(steps: &[WorkStep]) -> Vec<Option<usize>> {
    let mut lifted: HashMap<Card, Vec<usize>> = HashMap::new();
    let mut couples = vec![None; steps.len()];
    for (number, step) in steps.iter().enumerate() {
        match step {
            WorkStep::Lift { card, .. } => lifted.entry(*card).or_default().push(number),
            WorkStep::Seat { card, .. } => {
                if let Some(from) = lifted.get_mut(card).and_then(Vec::pop) {
                    couples[from] = Some(number);
                    couples[number] = Some(from);
                }
            }
            _ => {}
        }
    }
    couples
}

fn most_aside(steps: &[WorkStep]) -> usize {
    // How many more, or fewer, lie there after each step.
    let mut alters = vec![0isize; steps.len()];
    for (from, to) in couples(steps).into_iter().enumerate() {
        if let Some(to) = to.filter(|to| *to > from + 1) {
            alters[from] += 1;
            alters[to] -= 1;
        }
    }
    let mut now = 0;
    let counts = alters.iter().map(|by| {
        now += by;
        now
    });
    counts.max().map_or(0, |most| most.max(0) as usize)
}
