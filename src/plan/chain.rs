//! The longest chain of pages that can stay on the rings while the others move around them.
//!
//! Pages in order against pages of the layout in order, with a table that says which may become
//! which: a longest common subsequence, the increasing subsequence (Schensted 1961) where each
//! page may become one only. 64 columns are done at a time (Crochemore, Iliopoulos, Pinzon and
//! Reid, Inf. Process. Lett. 80, 2001), and all rows are kept, so that the length can be asked
//! from any place on.

/// Lengths of chains for one binder.
pub(super) struct Chain {
    columns: usize,
    words: usize,
    /// For each row, and one past the last: a 0 for each column, counted from the last, at which
    /// the chain of the rows from there on grows.
    state: Vec<u64>,
}

impl Chain {
    /// `mask(row, bits)` sets the bits of the columns that the row may become; the bit of a
    /// column is `columns - 1 - column`.
    pub(super) fn new(
        rows: usize,
        columns: usize,
        mut mask: impl FnMut(usize, &mut [u64]),
    ) -> Self {
        let words = columns.div_ceil(64);
        let mut state = vec![u64::MAX; (rows + 1) * words];
        let mut bits = vec![0; words];
        for row in (0..rows).rev() {
            bits.fill(0);
            mask(row, &mut bits);
            let (here, below) = state[row * words..].split_at_mut(words);
            let mut carry = false;
            for ((new, old), bits) in here.iter_mut().zip(below).zip(&bits) {
                let hits = *old & bits;
                let (sum, over) = old.overflowing_add(hits);
                let (sum, again) = sum.overflowing_add(u64::from(carry));
                carry = over || again;
                *new = sum | (*old & !bits);
            }
        }
        Self {
            columns,
            words,
            state,
        }
    }

    /// The length of the longest chain of the rows and columns from these on.
    pub(super) fn length(&self, row: usize, column: usize) -> usize {
        let bits = self.columns.saturating_sub(column);
        let state = &self.state[row * self.words..];
        let whole = bits / 64;
        let full: u32 = state[..whole].iter().map(|word| word.count_zeros()).sum();
        let rest = bits % 64;
        let part = if rest == 0 {
            0
        } else {
            (!state[whole] & ((1 << rest) - 1)).count_ones()
        };
        (full + part) as usize
    }
}
