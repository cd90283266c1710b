//! Which pages stay on the rings: as many as any best assignment allows.
//!
//! The longest chain over all pairs of best assignments is a bound that no assignment can beat.
//! A chain of that length is looked for pair by pair, each time making sure that the pairs
//! together still belong to one best assignment; where pages that are alike are the only choice,
//! the first try succeeds. Where none is found the search goes on for the next shorter one, so a
//! number that was reached without giving up is proven.
//!
//! Of chains of one length the one is taken that keeps a page at the first place of the layout
//! where that is possible, and there the page that stands first, and so on; then the places left
//! over get the first page each that can be had. Doing the first step of a plan never changes
//! these choices: what was possible and is chosen stays possible, and nothing becomes possible
//! that was not.

use super::chain::Chain;
use super::equal::Equal;
use super::task::Movable;

/// How long to look for a better answer, in pairs looked at.
#[derive(Clone, Copy, Debug)]
pub(super) struct Effort(pub(super) u64);

impl Effort {
    /// For a question asked while a page is carried: below a millisecond.
    pub(super) const GLANCE: Self = Self(30_000);
    /// For a plan that is asked for once.
    pub(super) const THOROUGH: Self = Self(1_000_000);
}

/// What was decided about the pages.
pub(super) struct Kept {
    /// Rows that stay on the rings.
    pub(super) rows: Vec<bool>,
    pub(super) count: usize,
    /// No assignment of the same weight keeps more.
    pub(super) proven: bool,
}

/// Settles the assignment: afterwards `equal.take` is the one chosen.
pub(super) fn keep(movable: &Movable<'_>, equal: &mut Equal, effort: Effort) -> Kept {
    let Found {
        chain,
        bound,
        proven,
    } = found(movable, equal, effort);
    fill_others(movable, equal, &chain);
    let mut rows = vec![false; movable.rows.len()];
    if proven {
        for (row, _) in &chain {
            rows[*row] = true;
        }
        return Kept {
            rows,
            count: chain.len(),
            proven,
        };
    }
    // The pages left over may have come to stand well by chance.
    for row in 0..movable.rows.len() {
        equal.unlock(row, equal.take[row] as usize);
    }
    let mut search = Search::new(movable, equal, true);
    let most = search.bound(0, 0);
    let found = search.find(most, u64::MAX);
    debug_assert!(matches!(found, Tried::Yes), "an assignment has its chain");
    for (row, _) in &search.chain {
        rows[*row] = true;
    }
    Kept {
        rows,
        count: most,
        proven: proven || most == bound,
    }
}

/// How many pages can stay on the rings, and whether that is proven to be the most. A proven
/// number is that of [`keep`]; another is that of a way that was found, where [`keep`] may find a
/// better one: which page takes the places left over is not asked, since that takes longer than
/// all the rest.
pub(super) fn count(movable: &Movable<'_>, equal: &mut Equal, effort: Effort) -> (usize, bool) {
    let found = found(movable, equal, effort);
    if found.proven {
        return (found.chain.len(), true);
    }
    // With the pages left over as they happen to stand.
    let most = Search::new(movable, equal, true).bound(0, 0);
    (most, most == found.bound)
}

/// Pages that stay, locked to their places.
struct Found {
    chain: Vec<(usize, usize)>,
    /// More cannot stay, whatever the assignment.
    bound: usize,
    /// No assignment of the same weight keeps more.
    proven: bool,
}

fn found(movable: &Movable<'_>, equal: &mut Equal, effort: Effort) -> Found {
    let mut search = Search::new(movable, equal, false);
    let bound = search.bound(0, 0);
    let end = |equal: &Equal, share| equal.work + effort.0 / share;
    let mut proven = true;
    let mut target = bound;
    let limit = end(search.equal, 2);
    loop {
        match search.find(target, limit) {
            Tried::Yes => break,
            Tried::No => target -= 1,
            Tried::GaveUp => {
                proven = false;
                break;
            }
        }
    }
    if !proven {
        search.best_effort(target, effort.0 / 8);
    }
    Found {
        chain: std::mem::take(&mut search.chain),
        bound,
        proven,
    }
}

/// Fills each place that keeps no page.
fn fill_others(movable: &Movable<'_>, equal: &mut Equal, chain: &[(usize, usize)]) {
    let mut is_kept = vec![false; movable.columns.len()];
    for (_, column) in chain {
        is_kept[*column] = true;
    }
    let columns = (0..movable.columns.len()).filter(|column| !is_kept[*column]);
    fill(movable.rows.len(), equal, &columns.collect::<Vec<_>>());
}

/// Gives each of these places the first page that it can have. Nothing decides but what is
/// locked and the order of the pages.
pub(super) fn fill(rows: usize, equal: &mut Equal, columns: &[usize]) {
    for column in columns {
        let mut from = 0;
        while let Some(row) = equal.first_row(*column, from, rows) {
            if equal.lock(row, *column) {
                break;
            }
            from = row + 1;
        }
    }
}

enum Tried {
    Yes,
    No,
    GaveUp,
}

/// One place of the layout and how far its choices were tried.
struct Frame {
    column: usize,
    /// The rows before this one are used up.
    from: usize,
    next: usize,
    taken: Option<usize>,
    skipped: bool,
}

struct Search<'m, 'e> {
    movable: &'m Movable<'m>,
    equal: &'e mut Equal,
    chains: Vec<Chain>,
    /// The most that the binders after each one can keep.
    later: Vec<usize>,
    /// Only the assignment as it is counts, not its equals.
    settled: bool,
    chain: Vec<(usize, usize)>,
}

impl<'m, 'e> Search<'m, 'e> {
    fn new(movable: &'m Movable<'m>, equal: &'e mut Equal, settled: bool) -> Self {
        let binders = movable.row_start.len() - 1;
        let mut chains = Vec::with_capacity(binders);
        for binder in 0..binders {
            let rows = movable.row_start[binder]..movable.row_start[binder + 1];
            let columns = movable.column_start[binder]..movable.column_start[binder + 1];
            let last = columns.end;
            let mut alike_bits: Vec<Option<Vec<u64>>> = vec![None; movable.kinds.len()];
            let equal = &*equal;
            let chain = Chain::new(rows.len(), columns.len(), |row, bits| {
                let set = |bits: &mut [u64], column: usize| {
                    if columns.contains(&column) {
                        let bit = last - 1 - column;
                        bits[bit / 64] |= 1 << (bit % 64);
                    }
                };
                let row = rows.start + row;
                if settled {
                    set(bits, equal.take[row] as usize);
                    return;
                }
                let (listed, alike) = equal.choices(row);
                if !alike.is_empty() {
                    let kind = movable.rows[row].kind;
                    let known = alike_bits[kind].get_or_insert_with(|| {
                        let mut known = vec![0; bits.len()];
                        for column in alike {
                            set(&mut known, *column as usize);
                        }
                        known
                    });
                    bits.copy_from_slice(known);
                }
                listed.for_each(|column| set(bits, column));
            });
            chains.push(chain);
        }
        let mut later = vec![0; binders + 1];
        for binder in (0..binders).rev() {
            later[binder] = later[binder + 1] + chains[binder].length(0, 0);
        }
        later.remove(0);
        Self {
            movable,
            equal,
            chains,
            later,
            settled,
            chain: Vec::new(),
        }
    }

    /// The most that can be kept from this row and column on.
    fn bound(&self, row: usize, column: usize) -> usize {
        let Some(stand) = self.movable.columns.get(column) else {
            return 0;
        };
        let binder = stand.binder;
        let row = row.max(self.movable.row_start[binder]) - self.movable.row_start[binder];
        self.chains[binder].length(row, stand.at) + self.later[binder]
    }

    /// [`Search::bound`] where the next column may be another binder's.
    fn bound_after(&self, row: usize, column: usize) -> usize {
        let binder = self.movable.columns[column].binder;
        let row = row - self.movable.row_start[binder];
        let at = self.movable.columns[column].at + 1;
        self.chains[binder].length(row, at) + self.later[binder]
    }

    fn frame(&self, column: usize, from: usize) -> Frame {
        let begin = self.movable.columns.get(column);
        let begin = begin.map_or(0, |stand| self.movable.row_start[stand.binder]);
        let from = from.max(begin);
        Frame {
            column,
            from,
            next: from,
            taken: None,
            skipped: false,
        }
    }

    /// Looks for a chain of `target` pairs that belong to one best assignment.
    fn find(&mut self, target: usize, limit: u64) -> Tried {
        self.chain.clear();
        if self.bound(0, 0) < target {
            return Tried::No;
        }
        let mut frames = vec![self.frame(0, 0)];
        'next: while let Some(mut frame) = frames.pop() {
            if frame.column == self.movable.columns.len() {
                return Tried::Yes;
            }
            self.equal.work += 1;
            if self.equal.work > limit {
                self.release();
                return Tried::GaveUp;
            }
            if let Some(row) = frame.taken.take() {
                self.chain.pop();
                self.equal.unlock(row, frame.column);
            }
            if !frame.skipped {
                while let Some(row) = self.candidate(&frame) {
                    let bound = self.chain.len() + 1 + self.bound_after(row + 1, frame.column);
                    if bound < target {
                        break;
                    }
                    frame.next = row + 1;
                    if self.settled || self.equal.lock(row, frame.column) {
                        self.chain.push((row, frame.column));
                        frame.taken = Some(row);
                        let after = self.frame(frame.column + 1, row + 1);
                        frames.extend([frame, after]);
                        continue 'next;
                    }
                }
                frame.skipped = true;
                let bound = self.chain.len() + self.bound_after(frame.from, frame.column);
                if bound >= target {
                    let after = self.frame(frame.column + 1, frame.from);
                    frames.extend([frame, after]);
                }
            }
        }
        Tried::No
    }

    fn candidate(&self, frame: &Frame) -> Option<usize> {
        let binder = self.movable.columns[frame.column].binder;
        let end = self.movable.row_start[binder + 1];
        if self.settled {
            let row = self.equal.held[frame.column] as usize;
            return (frame.next..end).contains(&row).then_some(row);
        }
        self.equal.first_row(frame.column, frame.next, end)
    }

    fn release(&mut self) {
        for (row, column) in self.chain.drain(..) {
            self.equal.unlock(row, column);
        }
    }

    /// Takes what comes without ever going back, then tries a few lengths between that and the
    /// bound, each for a while.
    fn best_effort(&mut self, bound: usize, share: u64) {
        let mut from = 0;
        for column in 0..self.movable.columns.len() {
            let mut frame = self.frame(column, from);
            while let Some(row) = self.candidate(&frame) {
                let with = 1 + self.bound_after(row + 1, column);
                if with < self.bound_after(frame.from, column) {
                    break;
                }
                if self.equal.lock(row, column) {
                    self.chain.push((row, column));
                    from = row + 1;
                    break;
                }
                frame.next = row + 1;
            }
        }
        let (mut low, mut high) = (self.chain.len(), bound);
        let mut best = self.chain.clone();
        for _ in 0..4 {
            if low >= high {
                break;
            }
            let middle = (low + high).div_ceil(2);
            self.release();
            let limit = self.equal.work + share;
            match self.find(middle, limit) {
                Tried::Yes => {
                    low = middle;
                    best = self.chain.clone();
                }
                Tried::No | Tried::GaveUp => high = middle - 1,
            }
        }
        self.release();
        for (row, column) in &best {
            let locked = self.equal.lock(*row, *column);
            debug_assert!(locked, "these pairs went together before");
        }
        self.chain = best;
    }
}
