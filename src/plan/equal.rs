//! All assignments that are as good as the one found, and changing from one to another.
//!
//! A pair can be part of a best assignment only where its weight is exactly what the prices say
//! (a tight pair), and it can be exchanged for the pairs now chosen only along a closed walk over
//! tight pairs: row and present row of the column lie in one strongly connected part. Pages that
//! stay without a card in place are all tight with each other; they are not listed pair by pair.

use super::assign::{Assigned, NO};
use super::overlap::Edges;
use super::task::Movable;

/// A complete best assignment: every row has a column and every column a row, with stand-ins
/// where a kind has fewer pages than the layout (rows: pages to be added) or more (columns: pages
/// to be taken out). And the pairs by which it can be exchanged for other best ones.
pub(super) struct Equal {
    /// The column of each row, the row of each column. Numbers past those of real pages are
    /// stand-ins.
    pub(super) take: Vec<u32>,
    pub(super) held: Vec<u32>,
    row_locked: Vec<bool>,
    column_locked: Vec<bool>,
    row_kind: Vec<u32>,
    column_kind: Vec<u32>,
    /// Whether the row, the column belongs to the pages of its kind that are all alike: each such
    /// row can take each such column.
    row_alike: Vec<bool>,
    column_alike: Vec<bool>,
    /// The other pairs: columns of a row, rows of a column, each ascending.
    by_row: Lists,
    by_column: Lists,
    /// Alike rows and columns by kind, ascending; stand-ins last.
    pub(super) alike_rows: Vec<Vec<u32>>,
    alike_columns: Vec<Vec<u32>>,
    /// How much was looked at so far, as a measure of time that is the same on every machine.
    pub(super) work: u64,
    seen: Vec<u32>,
    from: Vec<u32>,
    round: u32,
}

/// Lists of numbers one after the other.
#[derive(Default)]
struct Lists {
    start: Vec<usize>,
    items: Vec<u32>,
}

impl Lists {
    fn of(&self, at: usize) -> &[u32] {
        match (self.start.get(at), self.start.get(at + 1)) {
            (Some(from), Some(to)) => &self.items[*from..*to],
            _ => &[],
        }
    }

    /// Lists from pairs (list, item), items in the order in which they come.
    fn new(lists: usize, pairs: &[(u32, u32)]) -> Self {
        let mut start = vec![0; lists + 1];
        for (list, _) in pairs {
            start[*list as usize + 1] += 1;
        }
        for at in 0..lists {
            start[at + 1] += start[at];
        }
        let mut next = start.clone();
        let mut items = vec![0; pairs.len()];
        for (list, item) in pairs {
            items[next[*list as usize]] = *item;
            next[*list as usize] += 1;
        }
        Self { start, items }
    }
}

impl Equal {
    pub(super) fn new(movable: &Movable<'_>, edges: &Edges, assigned: &Assigned) -> Self {
        let (rows, columns) = (movable.rows.len(), movable.columns.len());
        let kinds = movable.kinds.len();
        let mut take = assigned.column.clone();
        let mut held = assigned.row.clone();
        let mut row_kind: Vec<u32> = movable.rows.iter().map(|row| row.kind as u32).collect();
        let columns_of = movable.columns.iter();
        let mut column_kind: Vec<u32> = columns_of.map(|column| column.kind as u32).collect();
        for kind in 0..kinds as u32 {
            let of_kind = |list: &[u32], all: &[u32]| -> Vec<usize> {
                let free = (0..list.len()).filter(|at| list[*at] == NO && all[*at] == kind);
                free.collect()
            };
            let free_rows = of_kind(&take[..rows], &row_kind);
            let free_columns = of_kind(&held[..columns], &column_kind);
            for at in 0..free_rows.len().max(free_columns.len()) {
                let row = free_rows.get(at).copied().unwrap_or_else(|| {
                    take.push(NO);
                    row_kind.push(kind);
                    take.len() - 1
                });
                let column = free_columns.get(at).copied().unwrap_or_else(|| {
                    held.push(NO);
                    column_kind.push(kind);
                    held.len() - 1
                });
                take[row] = column as u32;
                held[column] = row as u32;
            }
        }
        let price = |prices: &[u32], at: usize| prices.get(at).map_or(0, |price| *price);
        let row_alike = (0..take.len()).map(|row| price(&assigned.row_price, row) == 0);
        let column_alike = (0..held.len()).map(|at| price(&assigned.column_price, at) == 0);
        let mut equal = Self {
            row_locked: vec![false; take.len()],
            column_locked: vec![false; held.len()],
            row_alike: row_alike.collect(),
            column_alike: column_alike.collect(),
            by_row: Lists::default(),
            by_column: Lists::default(),
            alike_rows: vec![Vec::new(); kinds],
            alike_columns: vec![Vec::new(); kinds],
            work: 0,
            seen: vec![0; held.len()],
            from: vec![NO; held.len()],
            round: 0,
            take,
            held,
            row_kind,
            column_kind,
        };
        equal.gather_alike();
        let mut tight = Vec::new();
        for row in 0..rows {
            let own = assigned.row_price[row];
            for (column, weight) in edges.of(row) {
                if own + assigned.column_price[*column as usize] == *weight {
                    tight.push((row as u32, *column));
                }
            }
        }
        equal.by_row = Lists::new(equal.take.len(), &tight);
        let part = equal.parts();
        let hub = |kind: u32| part[equal.take.len() + kind as usize];
        tight.retain(|(row, column)| {
            part[*row as usize] == part[equal.held[*column as usize] as usize]
        });
        let row_stays: Vec<bool> = (0..equal.take.len())
            .map(|row| equal.row_alike[row] && part[row] == hub(equal.row_kind[row]))
            .collect();
        let column_stays: Vec<bool> = (0..equal.held.len())
            .map(|column| {
                let holder = equal.held[column] as usize;
                equal.column_alike[column] && part[holder] == hub(equal.column_kind[column])
            })
            .collect();
        equal.row_alike = row_stays;
        equal.column_alike = column_stays;
        equal.gather_alike();
        equal.by_row = Lists::new(equal.take.len(), &tight);
        for pair in &mut tight {
            *pair = (pair.1, pair.0);
        }
        equal.by_column = Lists::new(equal.held.len(), &tight);
        equal
    }

    fn gather_alike(&mut self) {
        for (lists, alike, kinds) in [
            (&mut self.alike_rows, &self.row_alike, &self.row_kind),
            (
                &mut self.alike_columns,
                &self.column_alike,
                &self.column_kind,
            ),
        ] {
            lists.iter_mut().for_each(Vec::clear);
            for (at, kind) in (0u32..).zip(kinds) {
                if alike[at as usize] {
                    lists[*kind as usize].push(at);
                }
            }
        }
    }

    /// The strongly connected part of each row, and of one hub a kind through which alike rows
    /// reach alike columns. (R. E. Tarjan, SIAM J. Comput. 1, 1972; without recursion.)
    fn parts(&self) -> Vec<u32> {
        let rows = self.take.len();
        let nodes = rows + self.alike_rows.len();
        let mut index = vec![0u32; nodes];
        let mut low = vec![0u32; nodes];
        let mut part = vec![NO; nodes];
        let (mut open, mut path) = (Vec::new(), Vec::new());
        let (mut next, mut parts) = (1, 0);
        // The `at`-th node that can be gone to from `node`.
        let neighbour = |node: usize, at: usize| -> Option<usize> {
            if node >= rows {
                let column = self.alike_columns[node - rows].get(at)?;
                return Some(self.held[*column as usize] as usize);
            }
            let listed = self.by_row.of(node);
            match listed.get(at) {
                Some(column) => Some(self.held[*column as usize] as usize),
                None if at == listed.len() && self.row_alike[node] => {
                    Some(rows + self.row_kind[node] as usize)
                }
                None => None,
            }
        };
        for root in 0..nodes {
            if index[root] != 0 {
                continue;
            }
            path.push((root, 0));
            while let Some((node, at)) = path.last_mut() {
                let node = *node;
                if *at == 0 {
                    index[node] = next;
                    low[node] = next;
                    next += 1;
                    open.push(node);
                }
                if let Some(to) = neighbour(node, *at) {
                    *at += 1;
                    if index[to] == 0 {
                        path.push((to, 0));
                    } else if part[to] == NO {
                        low[node] = low[node].min(index[to]);
                    }
                    continue;
                }
                path.pop();
                if let Some((above, _)) = path.last() {
                    low[*above] = low[*above].min(low[node]);
                }
                if low[node] == index[node] {
                    while let Some(member) = open.pop() {
                        part[member] = parts;
                        if member == node {
                            break;
                        }
                    }
                    parts += 1;
                }
            }
        }
        part
    }

    /// The kind of a row, stand-ins included.
    pub(super) fn kind(&self, row: usize) -> u32 {
        self.row_kind[row]
    }

    /// About how much is to be looked at, at most, to change to another assignment.
    pub(super) fn pairs(&self) -> usize {
        self.by_row.items.len() + self.take.len()
    }

    /// Whether some best assignment gives the row this column.
    pub(super) fn may(&self, row: usize, column: usize) -> bool {
        self.take[row] == column as u32
            || (self.row_alike[row]
                && self.column_alike[column]
                && self.row_kind[row] == self.column_kind[column])
            || self.by_row.of(row).contains(&(column as u32))
    }

    /// The columns that some best assignment gives the row: those listed, and whether also all
    /// alike columns of its kind.
    pub(super) fn choices(&self, row: usize) -> (impl Iterator<Item = usize>, &[u32]) {
        let alike: &[u32] = if self.row_alike[row] {
            &self.alike_columns[self.row_kind[row] as usize]
        } else {
            &[]
        };
        let listed = self.by_row.of(row).iter().chain([&self.take[row]]);
        (listed.map(|column| *column as usize), alike)
    }

    /// The rows that some best assignment gives the column: those listed, and the kind whose alike
    /// rows come besides.
    pub(super) fn rows_of(&self, column: usize) -> (impl Iterator<Item = usize>, Option<usize>) {
        let listed = self.by_column.of(column).iter().map(|row| *row as usize);
        let kind = self.column_alike[column].then(|| self.column_kind[column] as usize);
        (listed, kind)
    }

    /// The first unlocked row from `from` on, below `to`, that some best assignment gives the
    /// column.
    pub(super) fn first_row(&self, column: usize, from: usize, to: usize) -> Option<usize> {
        let open = |row: &usize| *row < to && !self.row_locked[*row];
        let after = |list: &[u32]| {
            let begin = list.partition_point(|row| (*row as usize) < from);
            let mut rest = list[begin..].iter().map(|row| *row as usize);
            rest.find(|row| *row >= to || !self.row_locked[*row])
                .filter(open)
        };
        let own = Some(self.held[column] as usize).filter(|row| *row >= from);
        let own = own.filter(open);
        let listed = after(self.by_column.of(column));
        let alike = if self.column_alike[column] {
            after(&self.alike_rows[self.column_kind[column] as usize])
        } else {
            None
        };
        [own, listed, alike].into_iter().flatten().min()
    }

    /// Changes to a best assignment that gives the row this column, leaving locked pairs alone;
    /// then locks the two. `false`, and nothing is changed, where there is none.
    pub(super) fn lock(&mut self, row: usize, column: usize) -> bool {
        self.work += 1;
        let (other, own) = (self.held[column] as usize, self.take[row] as usize);
        if other != row {
            if self.may(other, own) {
                self.take[other] = own as u32;
                self.held[own] = other as u32;
            } else if !self.reroute(other, own, row, column) {
                return false;
            }
            self.take[row] = column as u32;
            self.held[column] = row as u32;
        }
        self.row_locked[row] = true;
        self.column_locked[column] = true;
        true
    }

    pub(super) fn unlock(&mut self, row: usize, column: usize) {
        self.row_locked[row] = false;
        self.column_locked[column] = false;
    }

    /// Finds the row another column, one row after the other giving way, until one takes `free`.
    fn reroute(&mut self, row: usize, free: usize, not_row: usize, not_column: usize) -> bool {
        self.round += 1;
        let mut alike_done = vec![false; self.alike_columns.len()];
        let mut queue = vec![row as u32];
        let mut at = 0;
        while at < queue.len() {
            let from = queue[at] as usize;
            at += 1;
            let kind = self.row_kind[from] as usize;
            let mut alike: &[u32] = &[];
            if self.row_alike[from] && !std::mem::replace(&mut alike_done[kind], true) {
                alike = &self.alike_columns[kind];
            }
            for column in self.by_row.of(from).iter().chain(alike) {
                self.work += 1;
                let to = *column as usize;
                if to == not_column || self.column_locked[to] || self.seen[to] == self.round {
                    continue;
                }
                self.seen[to] = self.round;
                self.from[to] = from as u32;
                if to == free {
                    self.shift(row, free);
                    return true;
                }
                let holder = self.held[to] as usize;
                if holder != not_row && !self.row_locked[holder] {
                    queue.push(holder as u32);
                }
            }
        }
        false
    }

    fn shift(&mut self, first: usize, free: usize) {
        let mut column = free as u32;
        loop {
            let row = self.from[column as usize];
            let next = std::mem::replace(&mut self.take[row as usize], column);
            self.held[column as usize] = row;
            if row as usize == first {
                return;
            }
            column = next;
        }
    }
}
