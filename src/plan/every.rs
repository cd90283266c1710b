//! Of all ways with as few lifts the best, by going through every one, where there are few.
//!
//! Ways that differ only in which of two pages with the same cards goes where are one way here.
//! Best is: fewest page moves; then fewest closed groups (see `hand_to_hand`), each of which costs
//! a handling; then the order of `keep`. So where this gives an answer, handlings are the least
//! that any way with as few lifts and page moves can do with.
//!
//! The ways are the same before and after a page is moved or added, so what is chosen stays
//! chosen: a way that leaves as many pages on the rings afterwards did so before, with one page
//! fewer, and came later in the order. With pages left over that would not hold to the end, since
//! they can still take a place while cards are carried; then there is no answer here.

use std::collections::HashMap;

use super::chain::Chain;
use super::equal::Equal;
use super::groups::Groups;
use super::keep::Kept;
use super::task::{Card, Movable, NONE, Task};

/// More ways are not gone through. Both numbers bound the time that a plan takes, and no plan is wrong
/// by them: beyond, its handlings are not told as proven least. (Chosen without a source.)
const WAYS: usize = 1_000;
/// More places with a choice are not looked at.
const PLACES: usize = 128;

/// Settles the assignment, if the ways are few: afterwards `equal.take` is the one chosen.
pub(super) fn fewest(task: &Task, movable: &Movable<'_>, equal: &mut Equal) -> Option<Kept> {
    if equal.held.len() > movable.columns.len() {
        return None;
    }
    let label = labels(movable, equal);
    // Looked at once a kind and not once a column: of empty pages there may be thousands.
    let alike: Vec<Alike> = (equal.alike_rows.iter())
        .map(|rows| Alike::of(rows, &label))
        .collect();
    let has_choice = |column: &usize| {
        let (mut listed, kind) = equal.rows_of(*column);
        let own = label[equal.held[*column] as usize];
        let other = listed.any(|row| label[row] != own);
        other || kind.is_some_and(|kind| alike[kind].has_other_than(own))
    };
    let columns = (0..movable.columns.len()).filter(has_choice);
    let places: Vec<usize> = columns.take(PLACES + 1).collect();
    if places.len() > PLACES {
        return None;
    }
    let mut every = Every {
        groups: Groups::new(task, movable, equal, &places, Vec::new()),
        movable,
        equal,
        label,
        places: &places,
        best: None,
        ways: 0,
    };
    if !every.go_through() {
        return None;
    }
    let best = every.best?;
    for (column, row) in best.rows.iter().enumerate() {
        equal.take[*row] = column as u32;
        equal.held[column] = *row as u32;
    }
    let mut kept = Kept {
        rows: vec![false; movable.rows.len()],
        count: best.stay,
        proven: true,
    };
    for (row, is_kept) in best.rows.iter().zip(&best.is_kept) {
        if *is_kept {
            kept.rows[*row] = true;
        }
    }
    Some(kept)
}

/// What the rows of a kind that are all alike are labelled.
enum Alike {
    None,
    One(u32),
    Several,
}

impl Alike {
    fn of(rows: &[u32], label: &[u32]) -> Self {
        let mut labels = rows.iter().map(|row| label[*row as usize]);
        match labels.next() {
            None => Self::None,
            Some(first) if labels.all(|label| label == first) => Self::One(first),
            Some(_) => Self::Several,
        }
    }

    fn has_other_than(&self, own: u32) -> bool {
        match self {
            Self::None => false,
            Self::One(label) => *label != own,
            Self::Several => true,
        }
    }
}

/// One number for all rows of a kind with the same cards. A stand-in is an empty page.
fn labels(movable: &Movable<'_>, equal: &Equal) -> Vec<u32> {
    let mut known: HashMap<(u32, Vec<Card>), u32> = HashMap::new();
    let rows = (0..equal.take.len()).map(|row| {
        let kind = equal.kind(row);
        let page = movable.rows.get(row).map(|row| row.page.pockets.to_vec());
        let cards = page.unwrap_or_else(|| {
            let grid = movable.kinds[kind as usize];
            vec![NONE; grid.per_side() * usize::from(grid.sides)]
        });
        let next = known.len() as u32;
        *known.entry((kind, cards)).or_insert(next)
    });
    rows.collect()
}

/// A way that was gone through, with its row for each column.
struct Assignment {
    stay: usize,
    groups: usize,
    rows: Vec<usize>,
    is_kept: Vec<bool>,
}

impl Assignment {
    /// The order of `keep`: place by place rather a page that stays, and rather the first page.
    /// Only then the pages that move: another order of the two would not outlast a step.
    fn order(&self) -> impl Iterator<Item = usize> {
        let both = self.is_kept.iter().zip(&self.rows);
        let stay = both.map(|(is_kept, row)| if *is_kept { *row } else { usize::MAX });
        stay.chain(self.rows.iter().copied())
    }
}

struct Every<'m, 'e> {
    movable: &'m Movable<'m>,
    equal: &'e mut Equal,
    label: Vec<u32>,
    places: &'m [usize],
    groups: Groups<'m>,
    best: Option<Assignment>,
    ways: usize,
}

/// A place under way: the rows from `next` on are still to be tried.
#[derive(Default)]
struct Try {
    next: usize,
    taken: Option<usize>,
    labels: Vec<u32>,
}

impl Every<'_, '_> {
    /// Whether it came to an end.
    fn go_through(&mut self) -> bool {
        let rows = self.equal.take.len();
        let mut tries: Vec<Try> = Vec::new();
        loop {
            if tries.len() == self.places.len() {
                self.ways += 1;
                if self.ways > WAYS {
                    self.release(&tries);
                    return false;
                }
                self.look_at();
            } else {
                tries.push(Try::default());
            }
            // On to the next choice, going back over places that have no more.
            loop {
                let Some(at) = tries.len().checked_sub(1) else {
                    return true;
                };
                let (column, here) = (self.places[at], &mut tries[at]);
                if let Some(row) = here.taken.take() {
                    self.equal.unlock(row, column);
                }
                let mut found = false;
                while let Some(row) = self.equal.first_row(column, here.next, rows) {
                    here.next = row + 1;
                    let label = self.label[row];
                    if here.labels.contains(&label) {
                        continue;
                    }
                    here.labels.push(label);
                    if self.equal.lock(row, column) {
                        here.taken = Some(row);
                        found = true;
                        break;
                    }
                }
                if found {
                    break;
                }
                tries.pop();
            }
        }
    }

    fn release(&mut self, tries: &[Try]) {
        for (column, here) in self.places.iter().zip(tries) {
            if let Some(row) = here.taken {
                self.equal.unlock(row, *column);
            }
        }
    }

    /// Takes the present way if it is better than the best so far.
    fn look_at(&mut self) {
        let labels: Vec<u32> = (self.equal.held.iter())
            .map(|row| self.label[*row as usize])
            .collect();
        let chains = self.chains(&labels);
        let stay = chains.iter().map(|chain| chain.length(0, 0)).sum();
        let best = self.best.as_ref().map(|best| (best.stay, best.groups));
        if best.is_some_and(|(most, _)| most > stay) {
            return;
        }
        let groups = self.groups.count(self.equal);
        if best.is_some_and(|(most, fewest)| most == stay && fewest < groups) {
            return;
        }
        let (rows, is_kept) = self.settle(&labels, &chains);
        let way = Assignment {
            stay,
            groups,
            rows,
            is_kept,
        };
        let is_better = best != Some((stay, groups))
            || (self.best.as_ref()).is_some_and(|best| way.order().lt(best.order()));
        if is_better {
            self.best = Some(way);
        }
    }

    /// For each binder how many pages can stay, if the columns get rows of these labels.
    fn chains(&self, labels: &[u32]) -> Vec<Chain> {
        let movable = self.movable;
        let binders = 0..movable.row_start.len() - 1;
        let chains = binders.map(|binder| {
            let rows = movable.row_start[binder]..movable.row_start[binder + 1];
            let columns = movable.column_start[binder]..movable.column_start[binder + 1];
            Chain::new(rows.len(), columns.len(), |row, bits| {
                let own = self.label[rows.start + row];
                for (bit, column) in columns.clone().rev().enumerate() {
                    if labels[column] == own {
                        bits[bit / 64] |= 1 << (bit % 64);
                    }
                }
            })
        });
        chains.collect()
    }

    /// The row of each column and whether it stays: the chain first, then the first page each.
    fn settle(&self, labels: &[u32], chains: &[Chain]) -> (Vec<usize>, Vec<bool>) {
        let movable = self.movable;
        let mut is_used = vec![false; self.label.len()];
        let mut rows = vec![None; labels.len()];
        for (binder, chain) in chains.iter().enumerate() {
            let begin = movable.row_start[binder];
            let end = movable.row_start[binder + 1];
            let columns = movable.column_start[binder]..movable.column_start[binder + 1];
            let mut from = begin;
            for (at, column) in columns.enumerate() {
                let most = chain.length(from - begin, at);
                let leads_on = |row: &usize| {
                    self.label[*row] == labels[column]
                        && chain.length(row + 1 - begin, at + 1) + 1 == most
                };
                if let Some(row) = (from..end).find(leads_on) {
                    rows[column] = Some(row);
                    is_used[row] = true;
                    from = row + 1;
                }
            }
        }
        let is_kept: Vec<bool> = rows.iter().map(Option::is_some).collect();
        let mut free: HashMap<u32, Vec<usize>> = HashMap::new();
        for row in (0..self.label.len()).rev().filter(|row| !is_used[*row]) {
            free.entry(self.label[row]).or_default().push(row);
        }
        let all = rows.into_iter().zip(labels).map(|(row, label)| {
            let first = || free.get_mut(label).and_then(Vec::pop);
            row.or_else(first).unwrap_or_default()
        });
        (all.collect(), is_kept)
    }
}
