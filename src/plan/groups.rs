//! Of ways with as few lifts and page moves one with fewer handlings, where one is found: for when
//! there are too many to go through (see `every`).
//!
//! Hand to hand each closed group of arrows (see `hand_to_hand`) costs one handling more, and how
//! many there are depends on which page becomes which. All else that is handled does not.
//!
//! The pages that stay on the rings stay. The places left over get their pages anew, in the order
//! of the layout: each page that a place can have is tried, the places behind it get the first
//! page each that can be had, and the page with the fewest groups is taken, of equal ones the
//! first. (A rollout: D. P. Bertsekas, J. N. Tsitsiklis and C. Wu, J. Heuristics 3, 1997.) The
//! first page tried leads to what was there before, so it never gets worse. It is the best found
//! and not proven least: other pages could stay, and only so many places and pages are tried.
//!
//! A place is decided by what is decided before it and by nothing else: no effort is shared
//! between places, and it is the last places that are tried. So when the first page was moved the
//! others are found as before. Pages move before any card does; then no place is left over, and
//! nothing is decided here any more.

use super::equal::Equal;
use super::keep::{Kept, fill};
use super::task::{Card, Movable, NONE, Page, Pages, Task};

// All four bound the time that a plan takes; a smaller one finds fewer handlings less often, and none
// makes a plan wrong. (Chosen without a source.)

/// How many places are tried, the last ones.
const PLACES: usize = 24;
/// How many pages are tried for each.
const PAGES: usize = 24;
/// Where more is to be looked at for each try, nothing is tried. Both numbers stay the same while
/// pages are moved and added.
const MOST_LEFT_OVER: usize = 100;
const MOST_PAIRS: usize = 20_000;

/// Changes `equal.take` to another best assignment in which the same pages stay.
pub(super) fn fewer_groups(task: &Task, movable: &Movable<'_>, equal: &mut Equal, kept: &Kept) {
    let rows = movable.rows.len();
    let is_kept = |row: u32| kept.rows.get(row as usize).is_some_and(|kept| *kept);
    let columns = 0..movable.columns.len();
    let mut places: Vec<usize> = columns
        .filter(|column| !is_kept(equal.held[*column]))
        .collect();
    places.drain(..places.len().saturating_sub(PLACES));
    let left_over = (0..rows).filter(|row| equal.take[*row] as usize >= movable.columns.len());
    let left_over: Vec<usize> = left_over.collect();
    if !kept.proven
        || places.is_empty()
        || left_over.len() > MOST_LEFT_OVER
        || equal.pairs() > MOST_PAIRS
    {
        return;
    }
    let mut groups = Groups::new(task, movable, equal, &places, left_over);
    let mut fewest = groups.count(equal);
    release(equal, &places);
    for (number, column) in places.iter().enumerate() {
        let rest = &places[number + 1..];
        if fewest == 0 {
            // Nothing can be better, and this is how the best so far was completed.
            fill(rows, equal, &places[number..]);
            return;
        }
        let (mut from, mut tried, mut best) = (0, 0, None);
        while let Some(row) = equal.first_row(*column, from, rows) {
            from = row + 1;
            tried += 1;
            if tried > PAGES && best.is_some() {
                break;
            }
            if !equal.lock(row, *column) {
                continue;
            }
            fill(rows, equal, rest);
            let count = groups.count(equal);
            if best.is_none_or(|(fewest, _)| count < fewest) {
                best = Some((count, row));
            }
            release(equal, rest);
            equal.unlock(row, *column);
        }
        if let Some((count, row)) = best {
            debug_assert!(count <= fewest, "the first try leads to what was there");
            fewest = count;
            let locked = equal.lock(row, *column);
            debug_assert!(locked, "it could be had before");
        }
    }
}

fn release(equal: &mut Equal, columns: &[usize]) {
    for column in columns {
        equal.unlock(equal.held[*column] as usize, *column);
    }
}

/// Counts closed groups. What is not tried is gone through once: of it only those printings are
/// kept, as points, that pages to be tried hold or want, and which of them hang together.
pub(super) struct Groups<'m> {
    movable: &'m Movable<'m>,
    places: &'m [usize],
    /// Rows that can be tried, and those that are left over.
    rows: Vec<usize>,
    /// By printing: its point. The point 0 is that of everything open.
    point: Vec<u32>,
    /// By point: whether it has an arrow that is not tried.
    has_arrow: Vec<bool>,
    root: Vec<u32>,
    arrow_now: Vec<bool>,
}

impl<'m> Groups<'m> {
    pub(super) fn new(
        task: &Task,
        movable: &'m Movable<'m>,
        equal: &Equal,
        places: &'m [usize],
        left_over: Vec<usize>,
    ) -> Self {
        let mut root: Vec<u32> = (0..task.loose.len() as u32).collect();
        let mut has_arrow = vec![false; root.len()];
        let mut balance = vec![0i64; root.len()];
        let mut is_place = vec![false; movable.columns.len()];
        for column in places {
            is_place[*column] = true;
        }
        let mut arrow = |held: Card, wanted: Card, is_tried: bool| {
            balance[held as usize] += 1;
            balance[wanted as usize] -= 1;
            if held != wanted && !is_tried {
                has_arrow[held as usize] = true;
                join(&mut root, held, wanted);
            }
        };
        for (column, stand) in movable.columns.iter().enumerate() {
            let page = movable.rows.get(equal.held[column] as usize);
            for (pocket, wanted) in stand.page.pockets.iter().enumerate() {
                let held = page.map_or(NONE, |page| page.page.pockets[pocket]);
                arrow(held, *wanted, is_place[column]);
            }
        }
        for row in &left_over {
            let page = movable.rows[*row].page;
            page.pockets
                .iter()
                .for_each(|held| arrow(*held, NONE, true));
        }
        for binder in task
            .binders
            .iter()
            .filter(|binder| binder.pages == Pages::Fixed)
        {
            for (at, real) in binder.before.iter().enumerate() {
                let meant = binder.in_layout(at);
                for (pocket, held) in real.pockets.iter().enumerate() {
                    arrow(*held, wanted(meant, pocket), false);
                }
            }
        }
        for (card, balance) in (0..).zip(&balance) {
            if *balance != 0 {
                join(&mut root, card, NONE);
            }
        }
        let held = places.iter().map(|column| equal.held[*column] as usize);
        let held = held.filter(|row| *row < movable.rows.len());
        let rows: Vec<usize> = held.chain(left_over).collect();
        let mut arrow_at = vec![false; root.len()];
        for card in 0..root.len() as u32 {
            if has_arrow[card as usize] {
                let at = find(&mut root, card);
                arrow_at[at as usize] = true;
            }
        }
        let mut groups = Self {
            movable,
            places,
            rows,
            point: vec![0; root.len()],
            has_arrow: Vec::new(),
            root: Vec::new(),
            arrow_now: Vec::new(),
        };
        let mut point_of = vec![None; root.len()];
        let mut point = |card: Card| {
            let at = find(&mut root, card) as usize;
            let next = groups.has_arrow.len() as u32;
            let point = *point_of[at].get_or_insert_with(|| {
                groups.has_arrow.push(arrow_at[at]);
                next
            });
            groups.point[card as usize] = point;
        };
        point(NONE);
        for row in &groups.rows {
            let page = movable.rows[*row].page;
            page.pockets.iter().for_each(|card| point(*card));
        }
        for column in places {
            let page = movable.columns[*column].page;
            page.pockets.iter().for_each(|card| point(*card));
        }
        groups
    }

    /// The closed groups of the assignment as it is now, without those that are the same however
    /// it is.
    pub(super) fn count(&mut self, equal: &Equal) -> usize {
        self.root.clear();
        self.root.extend(0..self.has_arrow.len() as u32);
        self.arrow_now.clone_from(&self.has_arrow);
        for column in self.places {
            let meant = self.movable.columns[*column].page;
            let real = self.movable.rows.get(equal.held[*column] as usize);
            for (pocket, wanted) in meant.pockets.iter().enumerate() {
                let held = real.map_or(NONE, |real| real.page.pockets[pocket]);
                self.arrow(held, *wanted);
            }
        }
        for at in 0..self.rows.len() {
            let row = self.rows[at];
            if equal.take[row] as usize >= self.movable.columns.len() {
                let page = self.movable.rows[row].page;
                page.pockets.iter().for_each(|held| self.arrow(*held, NONE));
            }
        }
        let open = find(&mut self.root, 0);
        let mut closed = vec![false; self.root.len()];
        for point in 0..self.root.len() as u32 {
            let at = find(&mut self.root, point);
            closed[at as usize] |= self.arrow_now[point as usize] && at != open;
        }
        closed.into_iter().filter(|closed| *closed).count()
    }

    fn arrow(&mut self, held: Card, wanted: Card) {
        if held != wanted {
            let from = self.point[held as usize];
            self.arrow_now[from as usize] = true;
            join(&mut self.root, from, self.point[wanted as usize]);
        }
    }
}

fn wanted(meant: Option<&Page>, pocket: usize) -> Card {
    meant.map_or(NONE, |meant| meant.pockets[pocket])
}

fn find(root: &mut [u32], mut at: u32) -> u32 {
    while root[at as usize] != at {
        let above = root[root[at as usize] as usize];
        root[at as usize] = above;
        at = above;
    }
    at
}

fn join(root: &mut [u32], a: u32, b: u32) {
    let (a, b) = (find(root, a), find(root, b));
    root[a as usize] = b;
}
