//! How many cards could stay where they are, if a page became a page of the layout: for all pairs
//! in which that is at least one.

use super::task::{Movable, NONE, Task};

/// Pairs of a row and a column with a weight above 0, row by row.
#[derive(Clone, Debug, Default)]
pub struct Edges {
    /// Where the pairs of each row begin; and the end.
    start: Vec<usize>,
    pairs: Vec<(u32, u32)>,
}

impl Edges {
    /// Rows as lists of (column, weight); no column twice in a row, no weight of 0.
    #[must_use]
    pub fn new(rows: impl IntoIterator<Item = Vec<(u32, u32)>>) -> Self {
        let mut edges = Self {
            start: vec![0],
            pairs: Vec::new(),
        };
        for row in rows {
            edges.pairs.extend(row);
            edges.start.push(edges.pairs.len());
        }
        edges
    }

    #[must_use]
    pub fn rows(&self) -> usize {
        self.start.len().saturating_sub(1)
    }

    #[must_use]
    pub fn of(&self, row: usize) -> &[(u32, u32)] {
        &self.pairs[self.start[row]..self.start[row + 1]]
    }

    #[must_use]
    pub fn count(&self) -> usize {
        self.pairs.len()
    }

    /// The same with each column by another number.
    pub(super) fn renamed(&self, number: &[u32]) -> Self {
        let pairs = self.pairs.iter();
        Self {
            start: self.start.clone(),
            pairs: pairs
                .map(|(column, weight)| (number[*column as usize], *weight))
                .collect(),
        }
    }
}

/// The pairs of the pages of a task that can be anywhere, and the number of columns.
#[must_use]
pub fn edges(task: &Task) -> (Edges, usize) {
    let movable = Movable::new(task);
    let edges = overlaps(&movable, task.loose.len().saturating_sub(1));
    (edges, movable.columns.len())
}

/// Counts, for each page and each page of the layout of its kind, the pockets in which the page
/// holds what the layout wants there. Each such card is one that may stay, so no card counts
/// twice, however few copies there are.
///
/// Takes about as long as the pages are big and the pairs are many: a card is looked up by its
/// number, not searched for.
pub(super) fn overlaps(movable: &Movable<'_>, printings: usize) -> Edges {
    let mut first_slot = Vec::with_capacity(movable.kinds.len());
    let mut slots = 0;
    for grid in &movable.kinds {
        first_slot.push(slots);
        slots += grid.per_side() as u32 * u32::from(grid.sides);
    }
    // Counting sort of the wanted cards by printing, as (slot, column).
    let mut start = vec![0u32; printings + 2];
    for column in &movable.columns {
        for card in &column.page.pockets {
            start[*card as usize + 1] += 1;
        }
    }
    start[1] = 0;
    for at in 1..start.len() {
        start[at] += start[at - 1];
    }
    let mut next = start.clone();
    let mut wanted = vec![(0u32, 0u32); start[printings + 1] as usize];
    for (number, column) in (0u32..).zip(&movable.columns) {
        let slots = first_slot[column.kind]..;
        for (slot, card) in slots.zip(&column.page.pockets) {
            if *card != NONE {
                wanted[next[*card as usize] as usize] = (slot, number);
                next[*card as usize] += 1;
            }
        }
    }
    for card in 1..=printings {
        let (from, to) = (start[card] as usize, start[card + 1] as usize);
        if to - from > 1 {
            wanted[from..to].sort_unstable();
        }
    }
    let mut edges = Edges {
        start: Vec::with_capacity(movable.rows.len() + 1),
        pairs: Vec::new(),
    };
    edges.start.push(0);
    let mut weight = vec![0u32; movable.columns.len()];
    for row in &movable.rows {
        let begin = edges.pairs.len();
        let slots = first_slot[row.kind]..;
        for (slot, card) in slots.zip(&row.page.pockets) {
            if *card == NONE {
                continue;
            }
            let card = *card as usize;
            let of_card = &wanted[start[card] as usize..start[card + 1] as usize];
            let from = of_card.partition_point(|(other, _)| *other < slot);
            for (_, column) in of_card[from..].iter().take_while(|(at, _)| *at == slot) {
                let weight = &mut weight[*column as usize];
                if *weight == 0 {
                    edges.pairs.push((*column, 0));
                }
                *weight += 1;
            }
        }
        for (column, count) in &mut edges.pairs[begin..] {
            *count = std::mem::take(&mut weight[*column as usize]);
        }
        edges.start.push(edges.pairs.len());
    }
    edges
}
