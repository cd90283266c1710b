//! Layouts of a set that has grown: which of its cards a later list brought, so that what this
//! program put at the end for them is not taken for a hand's doing. Derived, as what was done by
//! hand is, from the pages alone.

use std::collections::{HashMap, HashSet};

use super::by_hand::{ByHand, known_to};
use super::gather::{Gathered, Known, gather};
use super::renew::by_rules;
use crate::model::{Collection, Layout, LayoutPage, Meaning, PrintingId, SetId};

/// What the rules placed before a later list came, and what a hand had done until then.
pub(super) struct Before {
    pub(super) gathered: Gathered,
    pub(super) hand: ByHand,
}

/// Of the lengths that the checklist may have had, the one that leaves the fewest exceptions.
/// `None` where the layout hardly follows its rules, whichever it was.
pub(super) fn before(
    collection: &Collection,
    own: Option<SetId>,
    layout: &Layout,
) -> Option<Before> {
    let known = known_to(&layout.pages);
    let mut best: Option<((usize, usize), Before)> = None;
    let mut lengths = own.map_or_else(Vec::new, |own| lengths(collection, own));
    let mut next = 0;
    while let Some(length) = lengths.get(next).copied() {
        let mut known = known.clone();
        if let Some(own) = own {
            let cards = known.entry(own).or_default();
            *cards = (*cards).min(length);
        }
        let (pages, later) = without_later(&layout.pages, own, length);
        let gathered = gather(collection, own, &layout.sections, &Known::First(known));
        if next == 0
            && let Some(own) = own
        {
            let hand = ByHand::between(&gathered, &pages);
            lengths.extend(behind_all(own, &layout.pages, hand.printings()));
        }
        next += 1;
        let Ok(hand) = by_rules(&gathered, layout, &pages) else {
            continue;
        };
        // Where a later list explains what stands elsewhere, no hand has put it there.
        let cost = (hand.weight(&gathered), later);
        if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
            best = Some((cost, Before { gathered, hand }));
        }
    }
    best.map(|(_, before)| before)
}

/// So many lengths of each kind are tried.
const MOST: usize = 8;

/// How long the checklist may have been: all of it, and up to each of the last cards that stand
/// before others by their number, for with those a later list may have begun.
fn lengths(collection: &Collection, own: SetId) -> Vec<u32> {
    let cards = collection.set(own).map_or(&[][..], |set| set.cards());
    let falls = (1..cards.len()).rev().filter(|at| {
        let (before, here) = (&cards[at - 1].number, &cards[*at].number);
        crate::text::natural_cmp(before, here).is_gt()
    });
    let falls = falls.take(MOST).map(|at| at as u32);
    std::iter::once(cards.len() as u32).chain(falls).collect()
}

/// Lengths of a checklist whose later cards all stand behind the earlier ones of their finish, as
/// this program puts them: up to cards that stand otherwise than by the rules, first those with the
/// most others before them that do not.
fn behind_all(
    own: SetId,
    pages: &[LayoutPage],
    otherwise: impl Iterator<Item = PrintingId>,
) -> Vec<u32> {
    let placed: Vec<PrintingId> = (pages.iter().flat_map(LayoutPage::printings))
        .map(|(_, printing)| printing)
        .filter(|printing| printing.set() == own)
        .collect();
    let otherwise: Vec<PrintingId> = otherwise.filter(|of| of.set() == own).collect();
    let mut starts: Vec<u32> = otherwise.iter().map(|of| of.card()).collect();
    starts.sort_unstable();
    starts.dedup();
    let before = std::iter::once(None).chain(starts.iter().map(|start| Some(*start)));
    let gap = |(before, start): (Option<u32>, &u32)| (start - before.map_or(0, |b| b + 1), *start);
    let mut by_gap: Vec<_> = before.zip(&starts).map(gap).collect();
    by_gap.sort_unstable_by(|a, b| b.cmp(a));
    let starts = by_gap.into_iter().map(|(_, start)| start).take(MOST);
    starts
        .filter(|start| is_later(*start, &placed, &otherwise))
        .collect()
}

/// Whether the cards from this one on may be those of a later list: each has a pocket and only one,
/// of each finish they stand behind all others, and where any of a finish stands otherwise than by
/// the rules, no fewer than half of them do.
fn is_later(start: u32, placed: &[PrintingId], otherwise: &[PrintingId]) -> bool {
    #[derive(Default)]
    struct Run {
        pockets: usize,
        otherwise: usize,
    }
    let mut runs: HashMap<u8, Run> = HashMap::new();
    let mut later = HashSet::new();
    for printing in placed {
        let run = runs.entry(printing.finish()).or_default();
        match printing.card() >= start {
            true if !later.insert(*printing) => return false,
            true => run.pockets += 1,
            false if run.pockets > 0 => return false,
            false => {}
        }
    }
    for printing in otherwise.iter().filter(|of| of.card() >= start) {
        if !later.contains(printing) {
            return false;
        }
        runs.entry(printing.finish()).or_default().otherwise += 1;
    }
    let mut runs = runs.values();
    runs.all(|run| run.otherwise == 0 || run.pockets <= 2 * run.otherwise)
}

/// The pages as they were before the later cards came: without them, and without pages at the end
/// that held nothing else.
fn without_later(
    pages: &[LayoutPage],
    own: Option<SetId>,
    length: u32,
) -> (Vec<LayoutPage>, usize) {
    let mut pages = pages.to_vec();
    let mut later = 0;
    let mut emptied = vec![false; pages.len()];
    for (page, emptied) in pages.iter_mut().zip(&mut emptied) {
        let found: Vec<usize> = (page.printings())
            .filter(|(_, id)| Some(id.set()) == own && id.card() >= length)
            .map(|(pocket, _)| pocket)
            .collect();
        later += found.len();
        *emptied = !found.is_empty();
        for pocket in found {
            page.set_meaning(pocket, Meaning::Nothing);
        }
    }
    let is_free = |page: &LayoutPage| {
        let mut pockets = 0..page.format().pockets();
        pockets.all(|pocket| page.meaning(pocket) == Meaning::Nothing)
    };
    while pages.last().is_some_and(is_free) && emptied.last() == Some(&true) {
        pages.pop();
        emptied.pop();
    }
    (pages, later)
}
