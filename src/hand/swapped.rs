//! A swap with another collector, done.

use crate::model::{Change, Step};
use crate::report::{Stock, Swap};
use crate::text::count;

/// What is agreed on as one step: what is given leaves, what is got comes in loose.
#[must_use]
pub fn swapped(swap: &Swap) -> Step {
    let (mut give, mut get) = (Stock::new(), Stock::new());
    for (at, given) in swap.agreed() {
        *give.entry(given).or_default() += 1;
        *get.entry(swap.could_get[at].gap.printing).or_default() += 1;
    }
    let part = give
        .into_iter()
        .map(|(printing, count)| Change::PartWith { printing, count });
    let acquire = get
        .into_iter()
        .map(|(printing, count)| Change::Acquire { printing, count });
    let cards = count(swap.many_agreed() as u64, "card", "cards");
    Step::new(
        format!("{cards} swapped; what came is loose"),
        part.chain(acquire).collect(),
    )
}
