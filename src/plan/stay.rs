//! Pages that stay where they are: none is moved, and the cards do the work.
//!
//! Pages are only added where the layout has more of a format, and taken out where it has fewer.
//! So pages and pages of the layout are matched in their order: as many as possible, and of those
//! ways one in which most cards may stay. (An alignment without crossings, as for the longest
//! common subsequence: R. A. Wagner and M. J. Fischer, J. ACM 21, 1974.)
//!
//! Of ways as good, place by place of the layout, the one that gives it the first page it can
//! have. A page that is added comes right behind the one before it, so it is that first page, and
//! what was chosen stays chosen.

use super::overlap::edges;
use super::task::{Binder, Pages, Task};

/// For each page the page of the layout that it becomes, and how many cards may stay.
pub(super) fn stay(binder: &Binder, printings: usize) -> (Vec<Option<usize>>, u64) {
    let alone = Task {
        binders: vec![Binder {
            pages: Pages::Move,
            ..binder.clone()
        }],
        loose: vec![0; printings + 1],
    };
    let (edges, columns) = edges(&alone);
    let rows = binder.before.len();
    let mut ways = vec![Way::Add; rows * columns];
    // What the rows from one on and the columns from one on come to: pairs, then cards.
    let mut below = vec![(0u32, 0u64); columns + 1];
    let mut here = below.clone();
    let mut weights = vec![0u32; columns];
    for row in (0..rows).rev() {
        for (column, weight) in edges.of(row) {
            weights[*column as usize] = *weight;
        }
        for column in (0..columns).rev() {
            let both = (binder.before[row].grid == binder.after[column].grid).then(|| {
                let (pairs, cards) = below[column + 1];
                (pairs + 1, cards + u64::from(weights[column]))
            });
            let without = below[column].max(here[column + 1]);
            let best = both.map_or(without, |both| both.max(without));
            let later = ways.get((row + 1) * columns + column);
            here[column] = best;
            ways[row * columns + column] = if both == Some(best) {
                Way::Match
            } else if below[column] == best && later.is_some_and(|later| *later != Way::Add) {
                Way::TakeOut
            } else {
                Way::Add
            };
        }
        for (column, _) in edges.of(row) {
            weights[*column as usize] = 0;
        }
        std::mem::swap(&mut here, &mut below);
    }
    let mut becomes = vec![None; rows];
    let (mut row, mut column) = (0, 0);
    while row < rows && column < columns {
        match ways[row * columns + column] {
            Way::Match => {
                becomes[row] = Some(column);
                row += 1;
                column += 1;
            }
            Way::TakeOut => row += 1,
            Way::Add => column += 1,
        }
    }
    (becomes, below[0].1)
}

/// What becomes of the first page and the first page of the layout that are left. A page is taken
/// out only so that a later one becomes this page of the layout.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Match,
    TakeOut,
    Add,
}
