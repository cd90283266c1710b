//! The assignment of greatest weight between rows and columns, of which few pairs have a weight.
//!
//! Shortest augmenting paths with prices, a row at a time (Kuhn 1955, Munkres 1957; in this form
//! Crouse, IEEE TAES 52(4), 2016). Weights are small whole numbers, so the paths are found with a
//! bucket for each distance (Dial 1969). Distances tie all the time: of equal ones a column that
//! is still free ends the search, which is what makes it fast.

use super::overlap::Edges;

/// Not matched.
pub const NO: u32 = u32::MAX;

/// An assignment of greatest weight, and prices that prove it: every pair's weight is at most its
/// row's price and its column's price together, exactly so for matched pairs, and what is not
/// matched has the price 0.
#[derive(Clone, Debug)]
pub struct Assigned {
    /// The column of each row, or [`NO`].
    pub column: Vec<u32>,
    /// The row of each column, or [`NO`].
    pub row: Vec<u32>,
    pub row_price: Vec<u32>,
    pub column_price: Vec<u32>,
}

impl Assigned {
    /// The sum of weights: by duality the sum of all prices.
    #[must_use]
    pub fn weight(&self) -> u64 {
        let prices = self.row_price.iter().chain(&self.column_price);
        prices.map(|price| u64::from(*price)).sum()
    }
}

/// Finds an assignment of greatest weight. Pairs that are not among the edges weigh 0.
#[must_use]
pub fn assign(edges: &Edges, columns: usize) -> Assigned {
    let rows = edges.rows();
    let mut search = Search {
        edges,
        done: Assigned {
            column: vec![NO; rows],
            row: vec![NO; columns],
            row_price: vec![0; rows],
            column_price: vec![0; columns],
        },
        distance: vec![NO; columns],
        parent: vec![NO; columns],
        seen: Vec::new(),
        tree: Vec::new(),
        buckets: Vec::new(),
        best: 0,
        end: End::Row(0),
    };
    let mut left = Vec::new();
    for row in 0..rows {
        let most = edges.of(row).iter().map(|(_, weight)| *weight).max();
        let most = most.unwrap_or(0);
        search.done.row_price[row] = most;
        let best = edges.of(row).iter();
        let mut best = best
            .filter(|(column, weight)| *weight == most && search.done.row[*column as usize] == NO);
        match best.next() {
            Some((column, _)) => {
                search.done.column[row] = *column;
                search.done.row[*column as usize] = row as u32;
            }
            None if most > 0 => left.push(row),
            None => {}
        }
    }
    let most = search.done.row_price.iter().max().map_or(0, |most| *most);
    search.buckets = vec![Vec::new(); most as usize + 1];
    for row in left {
        search.augment(row);
    }
    search.done
}

#[derive(Clone, Copy)]
enum End {
    /// This free column is taken.
    Column(u32),
    /// This row goes without a column.
    Row(usize),
}

struct Search<'e> {
    edges: &'e Edges,
    done: Assigned,
    /// Of columns reached; [`NO`] otherwise.
    distance: Vec<u32>,
    parent: Vec<u32>,
    seen: Vec<u32>,
    /// Rows reached, with their distance.
    tree: Vec<(usize, u32)>,
    /// Columns reached and still to be gone on from, by distance.
    buckets: Vec<Vec<u32>>,
    best: u32,
    end: End,
}

impl Search<'_> {
    fn augment(&mut self, root: usize) {
        let price = self.done.row_price[root] as usize;
        self.best = self.done.row_price[root];
        self.end = End::Row(root);
        let mut at = 0;
        if !self.scan(root, 0) {
            'search: while at < self.best {
                while let Some(column) = self.buckets[at as usize].pop() {
                    // A shorter way was found since.
                    if self.distance[column as usize] != at {
                        continue;
                    }
                    let row = self.done.row[column as usize] as usize;
                    if self.scan(row, at) {
                        break 'search;
                    }
                }
                at += 1;
            }
        }
        let best = self.best;
        for (row, distance) in self.tree.drain(..) {
            self.done.row_price[row] -= best.saturating_sub(distance);
        }
        for column in &self.seen {
            let distance = self.distance[*column as usize];
            self.done.column_price[*column as usize] += best.saturating_sub(distance);
        }
        self.turn(root);
        for column in self.seen.drain(..) {
            self.distance[column as usize] = NO;
        }
        self.buckets[..price].iter_mut().for_each(Vec::clear);
    }

    /// Goes on from a row; says whether nothing nearer can be found.
    fn scan(&mut self, row: usize, at: u32) -> bool {
        self.tree.push((row, at));
        let price = self.done.row_price[row];
        if at + price < self.best {
            self.best = at + price;
            self.end = End::Row(row);
        }
        for (column, weight) in self.edges.of(row) {
            let to = *column as usize;
            let distance = at + (price + self.done.column_price[to] - weight);
            if distance >= self.best || distance >= self.distance[to] {
                continue;
            }
            if self.distance[to] == NO {
                self.seen.push(*column);
            }
            self.distance[to] = distance;
            self.parent[to] = row as u32;
            if self.done.row[to] != NO {
                self.buckets[distance as usize].push(*column);
                continue;
            }
            self.best = distance;
            self.end = End::Column(*column);
            if distance == at {
                return true;
            }
        }
        false
    }

    /// Gives each row along the path the next column.
    fn turn(&mut self, root: usize) {
        let mut column = match self.end {
            End::Column(column) => column,
            End::Row(row) if row == root => return,
            End::Row(row) => std::mem::replace(&mut self.done.column[row], NO),
        };
        loop {
            let row = self.parent[column as usize] as usize;
            let next = std::mem::replace(&mut self.done.column[row], column);
            self.done.row[column as usize] = row as u32;
            if row == root {
                return;
            }
            column = next;
        }
    }
}
