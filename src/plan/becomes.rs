//! Which page becomes which page of the layout.

use super::assign::assign;
use super::equal::Equal;
use super::every::fewest;
use super::groups::fewer_groups;
use super::keep::{Effort, keep};
use super::overlap::overlaps;
use super::stay::stay;
use super::task::{At, Movable, NONE, Page, Pages, Task, Working};

/// What becomes of the pages.
#[derive(Clone, Debug)]
pub(super) struct Becomes {
    /// For each binder and page of its layout, the page that it is made of; `None` for one that
    /// has to be added (or that cannot be, in a binder with fixed pages).
    pub(super) from: Vec<Vec<Option<At>>>,
    /// For each binder and page, the page of the layout that it becomes; `None` for one that has
    /// to be taken out, or that fixed pages leave without a meaning.
    pub(super) to: Vec<Vec<Option<At>>>,
    /// Pages that stay on their rings.
    pub(super) stays: Vec<Vec<bool>>,
    /// Cards that are where they should be.
    pub(super) in_place: u64,
    pub(super) page_moves: usize,
    pub(super) proven: bool,
}

/// The assignment that lets most cards stay, and of those one with fewest page moves.
pub(super) fn becomes(task: &Task, effort: Effort) -> Becomes {
    settle(task, effort, false)
}

/// [`becomes`] for a way of working: hand to hand, of ways as good the one with fewest handlings,
/// or one with fewer, where there are too many to go through. Lifts and page moves are the same
/// for both, but not always which pages stay.
pub(super) fn becomes_working(task: &Task, effort: Effort, working: Working) -> Becomes {
    settle(task, effort, working == Working::HandToHand)
}

fn settle(task: &Task, effort: Effort, by_hand: bool) -> Becomes {
    let movable = Movable::new(task);
    let edges = overlaps(&movable, task.loose.len().saturating_sub(1));
    let assigned = assign(&edges, movable.columns.len());
    let in_place = assigned.weight();
    let mut equal = Equal::new(&movable, &edges, &assigned);
    let every = by_hand
        .then(|| fewest(task, &movable, &mut equal))
        .flatten();
    let kept = every.unwrap_or_else(|| {
        let kept = keep(&movable, &mut equal, effort);
        if by_hand {
            fewer_groups(task, &movable, &mut equal, &kept);
        }
        kept
    });
    let mut becomes = Becomes {
        from: (task.binders.iter())
            .map(|binder| vec![None; binder.after.len()])
            .collect(),
        to: (task.binders.iter())
            .map(|binder| vec![None; binder.before.len()])
            .collect(),
        stays: (task.binders.iter())
            .map(|binder| vec![binder.pages != Pages::Move; binder.before.len()])
            .collect(),
        in_place,
        page_moves: 0,
        proven: kept.proven,
    };
    let mut matched = 0;
    for (row, stand) in movable.rows.iter().enumerate() {
        becomes.stays[stand.binder][stand.at] = kept.rows[row];
        let column = equal.take[row] as usize;
        if let Some(meant) = movable.columns.get(column) {
            matched += 1;
            becomes.to[stand.binder][stand.at] = Some((meant.binder, meant.at));
            becomes.from[meant.binder][meant.at] = Some((stand.binder, stand.at));
        }
    }
    becomes.page_moves = matched - kept.count;
    for (number, binder) in task.binders.iter().enumerate() {
        if binder.pages == Pages::Move {
            continue;
        }
        if binder.pages == Pages::Stay {
            let (found, cards) = stay(binder, task.loose.len().saturating_sub(1));
            becomes.in_place += cards;
            for (at, meant) in found.into_iter().enumerate() {
                let Some(meant) = meant else { continue };
                becomes.to[number][at] = Some((number, meant));
                becomes.from[number][meant] = Some((number, at));
            }
            continue;
        }
        for (at, real) in binder.before.iter().enumerate() {
            if let Some(meant) = binder.in_layout(at) {
                becomes.to[number][at] = Some((number, at));
                becomes.from[number][at] = Some((number, at));
                becomes.in_place += in_place_on(real, meant);
            }
        }
    }
    becomes
}

fn in_place_on(real: &Page, meant: &Page) -> u64 {
    let both = real.pockets.iter().zip(&meant.pockets);
    both.filter(|(real, meant)| **real != NONE && real == meant)
        .count() as u64
}
