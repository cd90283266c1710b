//! Which ranges go on which heap, pass by pass.
//!
//! The largest ranges come first: the first pass makes heaps of whole sets or long stretches,
//! each further pass deals one heap of the pass before after the other. So it does not matter
//! whether a card is put on top of its heap or below it, and a heap can be left for another day.

use std::ops::Range;

use super::passes;

/// A heap: the different cards that belong on it, as places in the right order.
pub type Heap = Range<usize>;

/// What is dealt out at one time: a heap of the pass before (in the first pass the whole stack),
/// onto as many heaps. They are picked up in this order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    pub whole: Heap,
    pub heaps: Vec<Heap>,
}

/// How a stack is sorted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sorting {
    pub cards: u64,
    pub places: u32,
    /// Each pass with what is dealt out in it, in order.
    pub passes: Vec<Vec<Group>>,
    /// Times that a card is put on a heap, at most.
    pub placements: u64,
    /// The most different cards that a heap of the last pass may hold. With 1 the stack is in
    /// order; with more, the few cards of such a heap are put in order in the hand.
    pub left_together: usize,
}

/// Ranges for a stack of `cards`, of which `breaks.len()` different ones may be in it.
/// `breaks[i]` says how natural a border before the i-th of these is: 0 for not at all, more for a
/// new page, finish or set. Borders are taken where they are natural, as long as this costs no
/// pass. `None` for fewer than two places where there is something to sort.
///
/// As many passes as the cards need, or the different ones where they are fewer. Where cards are
/// fewer than what may be in the stack, neighbours may stay together
/// ([`Sorting::left_together`]).
#[must_use]
pub fn sorting(breaks: &[u8], cards: u64, places: u32) -> Option<Sorting> {
    let kinds = breaks.len() as u64;
    let number = passes(if kinds == 0 { cards } else { cards.min(kinds) }, places)?;
    let told_apart = u64::from(places).saturating_pow(number);
    let leaf = kinds.div_ceil(told_apart.max(1)).max(1);
    let mut rounds = Vec::new();
    let stack: Heap = 0..breaks.len();
    let mut heaps: Vec<Heap> = vec![stack];
    for pass in (0..number).rev() {
        let most = leaf.saturating_mul(u64::from(places).saturating_pow(pass));
        let most = usize::try_from(most).unwrap_or(usize::MAX);
        let groups: Vec<Group> = (heaps.into_iter())
            .map(|whole| Group {
                heaps: split(&whole, breaks, places as usize, most),
                whole,
            })
            .collect();
        heaps = groups
            .iter()
            .flat_map(|group| group.heaps.clone())
            .collect();
        rounds.push(groups);
    }
    Some(Sorting {
        cards,
        places,
        placements: cards.saturating_mul(u64::from(number)),
        left_together: heaps.iter().map(Range::len).max().unwrap_or(0),
        passes: if kinds == 0 { Vec::new() } else { rounds },
    })
}

/// At most `places` heaps of at most `most` each. A heap is not made smaller than half or larger
/// than one and a half times its share for the sake of a natural border.
fn split(whole: &Heap, breaks: &[u8], places: usize, most: usize) -> Vec<Heap> {
    let mut heaps = Vec::new();
    let mut from = whole.start;
    for left in (1..=places.min(whole.len())).rev() {
        let rest = whole.end - from;
        if rest == 0 {
            break;
        }
        let share = rest.div_ceil(left);
        let least = rest.saturating_sub((left - 1).saturating_mul(most)).max(1);
        let low = least.max(share - share / 2).min(rest);
        let high = most.min(rest).min(share + share / 2).max(low);
        let better = |size: &usize| {
            let border = breaks.get(from + size).copied().unwrap_or(u8::MAX);
            (border, std::cmp::Reverse(size.abs_diff(share)))
        };
        let size = if left == 1 {
            rest
        } else {
            (low..=high).max_by_key(better).unwrap_or(share)
        };
        heaps.push(from..from + size);
        from += size;
    }
    heaps
}
