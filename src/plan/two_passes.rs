//! Two passes: take out front to back, put the pages in order, put in front to back.

use super::hands::Hands;
use super::task::{Grid, NONE};

pub(super) fn work(hands: &mut Hands<'_>) {
    let binders = 0..hands.order.len();
    for binder in binders.clone() {
        for page in hands.order[binder].clone() {
            // Fronts come before backs, so a card that lies behind one that moves is free.
            for pocket in 0..hands.cards[page].len() {
                let card = hands.cards[page][pocket];
                if card != NONE && card != hands.wanted(page, pocket) {
                    hands.lift(page, pocket);
                }
            }
        }
    }
    for binder in binders.clone() {
        hands.put_in_order(binder);
        hands.take_out_left_over(binder);
    }
    for binder in binders {
        for page in hands.order[binder].clone() {
            for pocket in seating_order(hands.grids[page]) {
                let wanted = hands.wanted(page, pocket);
                let is_empty = hands.cards[page][pocket] == NONE;
                if wanted != NONE && is_empty && hands.loose[wanted as usize] > 0 {
                    hands.seat(page, pocket, wanted);
                }
            }
        }
    }
}

/// Front to back; in shared pockets the backs first, while nothing lies before them.
pub(super) fn seating_order(grid: Grid) -> Box<dyn Iterator<Item = usize>> {
    let side = grid.per_side();
    let all = side * usize::from(grid.sides);
    if grid.shared {
        Box::new((side..all).chain(0..side))
    } else {
        Box::new(0..all)
    }
}
