//! Swapping with another collector: what could go either way, and what goes for what.

mod pairing;
#[cfg(test)]
mod tests;

use pairing::pairing;

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, HashMap};

use super::gaps::Gap;
use super::wants::{WantFilter, wants_of};
use crate::model::{BinderId, Collection, PrintingId, SetId};
use crate::text::count;

/// How many copies of which printing.
pub type Stock = BTreeMap<PrintingId, u32>;

/// A card that I want and that the other has to spare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Get {
    /// The gap that it would fill.
    pub gap: Gap,
    /// Cards in place on its page, and pockets that are meant for one; 0 of 0 without a pocket.
    pub page: (u32, u32),
}

/// What could be swapped, and what is proposed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Swap {
    /// What the other has and I want, a gap each, those on the fullest pages first.
    pub could_get: Vec<Get>,
    /// What I have to spare and the other wants, in the order of the checklists.
    pub could_give: Vec<(PrintingId, u32)>,
    /// One for one: what I get, by its place in `could_get`, and what I give for it.
    pub pairs: Vec<(usize, PrintingId)>,
    /// Those that are not agreed on, by their place in `pairs`. At first none.
    pub left_out: BTreeSet<usize>,
}

impl Swap {
    /// What is agreed on: the pairs that were not left out.
    pub fn agreed(&self) -> impl Iterator<Item = (usize, PrintingId)> {
        let all = self.pairs.iter().enumerate();
        let kept = all.filter(|(at, _)| !self.left_out.contains(at));
        kept.map(|(_, pair)| *pair)
    }

    /// How many pairs that is.
    #[must_use]
    pub fn many_agreed(&self) -> usize {
        self.pairs.len() - self.left_out.len()
    }

    /// Leaves a pair out, or takes it in again; a place without a pair changes nothing.
    pub fn leave_out(&mut self, pair: usize) {
        if pair < self.pairs.len() && !self.left_out.remove(&pair) {
            self.left_out.insert(pair);
        }
    }

    /// Leaves out what was left out of this one: the same card for the same card, and as often.
    pub fn leave_out_as(&mut self, before: &Self) {
        let cards = |swap: &Self, at: usize| {
            let (get, give) = swap.pairs[at];
            (swap.could_get[get].gap.printing, give)
        };
        let mut out: BTreeMap<_, usize> = BTreeMap::new();
        for at in &before.left_out {
            *out.entry(cards(before, *at)).or_default() += 1;
        }
        let again = (0..self.pairs.len()).filter(|at| match out.get_mut(&cards(self, *at)) {
            Some(many) if *many > 0 => {
                *many -= 1;
                true
            }
            _ => false,
        });
        self.left_out = again.collect();
    }
}

/// What stands above each part of the sheet, or in its stead where there is nothing in it. What
/// goes one for one comes first, since that is what is talked over.
impl Swap {
    #[must_use]
    pub fn pairs_words(&self) -> String {
        let out = match self.left_out.len() {
            0 => String::new(),
            many => format!(", {many} left out"),
        };
        match self.many_agreed() {
            0 if self.pairs.is_empty() => "Nothing goes one for one.".into(),
            0 => format!("Nothing goes one for one{out}."),
            many => {
                let cards = count(many as u64, "card", "cards");
                format!("One for one, {cards} each way{out}:")
            }
        }
    }

    #[must_use]
    pub fn gets_words(&self) -> &'static str {
        match self.could_get[..] {
            [] => "They have nothing to spare that you want.",
            _ => "You could get, the fullest pages first:",
        }
    }

    #[must_use]
    pub fn gives_words(&self) -> &'static str {
        match self.could_give[..] {
            [] => "You have nothing to spare that they want.",
            _ => "You could give:",
        }
    }
}

/// Works out a swap. Cards go one for one, as many as possible; with `by_rarity` only for a card
/// of the same rarity, by its name in any case. A card of which no rarity is told goes with any.
/// Of all ways to swap as many, the fullest pages are filled first; and where any card goes for
/// any, like still goes for like as far as it can. `keep` spare copies of each printing are not
/// given.
#[must_use]
pub fn swap(
    collection: &Collection,
    their_wants: &Stock,
    their_spares: &Stock,
    keep: u32,
    by_rarity: bool,
) -> Swap {
    let could_get = could_get(collection, their_spares);
    let could_give: Vec<(PrintingId, u32)> = (their_wants.iter())
        .map(|(printing, wanted)| {
            let spare = collection.tally(*printing).spares().saturating_sub(keep);
            (*printing, spare.min(*wanted))
        })
        .filter(|(_, count)| *count > 0)
        .collect();
    let rarity = |printing: PrintingId| {
        let card = collection.card(printing);
        let set = collection.set(printing.set());
        let name = card.and_then(|card| Some(set?.rarity_name(card)));
        name.unwrap_or_default().to_lowercase()
    };
    // Cards of a rarity do for each other, so they make one group.
    let mut groups: Vec<(String, Vec<PrintingId>)> = Vec::new();
    for &(printing, count) in &could_give {
        let copies = std::iter::repeat_n(printing, count as usize);
        let rarity = rarity(printing);
        match groups.iter_mut().find(|(name, _)| *name == rarity) {
            Some((_, all)) => all.extend(copies),
            None => groups.push((rarity, copies.collect())),
        }
    }
    let wanted: Vec<String> = (could_get.iter())
        .map(|get| rarity(get.gap.printing))
        .collect();
    // Never more than there are gaps, so it fits.
    let room: Vec<u32> = groups.iter().map(|(_, all)| all.len() as u32).collect();
    let names: Vec<&str> = groups.iter().map(|(name, _)| &**name).collect();
    let with = match by_rarity {
        true => like_for_like(&wanted, &names, &room),
        false => any_for_any(&wanted, &names, room),
    };
    let mut next: Vec<_> = groups.iter().map(|(_, all)| all.iter().copied()).collect();
    let pairs = with.iter().enumerate().filter_map(|(get, group)| {
        let give = next[(*group)?].next()?;
        Some((get, give))
    });
    Swap {
        pairs: pairs.collect(),
        could_get,
        could_give,
        left_out: BTreeSet::new(),
    }
}

/// For each card that is wanted the group that it goes for, only of the same rarity or of none.
fn like_for_like(wanted: &[String], groups: &[&str], room: &[u32]) -> Vec<Option<usize>> {
    let does = |wanted: &str, given: &str| wanted == given || wanted.is_empty() || given.is_empty();
    let fit = |wanted: &String| {
        let fit = (0..groups.len()).filter(|at| does(wanted, groups[*at]));
        let mut fit: Vec<usize> = fit.collect();
        // Like for like before what goes with any.
        fit.sort_by_key(|at| groups[*at] != wanted);
        fit
    };
    let wanted: Vec<Vec<usize>> = wanted.iter().map(fit).collect();
    pairing(&wanted, room)
}

/// The same where any goes for any: like for like first, then what there is most of to spare, which
/// is seldom the rarest.
fn any_for_any(wanted: &[String], groups: &[&str], mut room: Vec<u32>) -> Vec<Option<usize>> {
    let all: u64 = room.iter().map(|room| u64::from(*room)).sum();
    let most = usize::try_from(all).unwrap_or(usize::MAX);
    let mut with = vec![None; wanted.len()];
    // The first ones are got, whatever for.
    for (with, wanted) in with.iter_mut().zip(wanted).take(most) {
        let like = (0..groups.len()).find(|at| groups[*at] == wanted && room[*at] > 0);
        if let Some(at) = like {
            room[at] -= 1;
            *with = Some(at);
        }
    }
    for with in with.iter_mut().take(most).filter(|with| with.is_none()) {
        let fullest = (0..groups.len()).max_by_key(|at| (room[*at], Reverse(*at)));
        if let Some(at) = fullest.filter(|at| room[*at] > 0) {
            room[at] -= 1;
            *with = Some(at);
        }
    }
    with
}

fn could_get(collection: &Collection, their_spares: &Stock) -> Vec<Get> {
    let mut left = their_spares.clone();
    let mut pages: HashMap<(BinderId, usize), (u32, u32)> = HashMap::new();
    let mut sets: Vec<SetId> = left.keys().map(|printing| printing.set()).collect();
    sets.dedup();
    let mut found: Vec<Get> = wants_of(collection, Some(&sets), WantFilter::default())
        .into_iter()
        .filter(|gap| match left.get_mut(&gap.printing) {
            Some(count) if *count > 0 => {
                *count -= 1;
                true
            }
            _ => false,
        })
        .map(|gap| Get {
            page: gap.place.map_or((0, 0), |place| {
                let page = (place.binder, place.page);
                let counted = || page_counts(collection, place.binder, place.page);
                *pages.entry(page).or_insert_with(counted)
            }),
            gap,
        })
        .collect();
    // Stable, so that pages that are as full stay in the order of the shelf. By shares of a
    // million: a page has at most 800 pockets.
    found.sort_by_key(|get| {
        let (there, meant) = get.page;
        let share = u64::from(there) * 1_000_000;
        Reverse(share.checked_div(u64::from(meant)).map(|share| share + 1))
    });
    found
}

fn page_counts(collection: &Collection, binder: BinderId, page: usize) -> (u32, u32) {
    let Some(binder) = collection.binder(binder) else {
        return (0, 0);
    };
    let Some(meant) = binder.layout().pages.get(page) else {
        return (0, 0);
    };
    let real = binder.comparable(page).then(|| &binder.pages()[page]);
    let there = |(at, printing): &(usize, PrintingId)| {
        real.is_some_and(|page| page.cards()[*at] == Some(*printing))
    };
    let in_place = meant.printings().filter(there).count();
    (in_place as u32, meant.printings().count() as u32)
}
