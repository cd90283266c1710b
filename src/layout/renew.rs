//! Pages made anew by rules, with what a hand had done to those before; and what becomes of a
//! layout when its set grows.

use std::collections::{HashMap, HashSet};

use super::by_hand::{ByHand, known_to};
use super::gather::{Gathered, Known, gather};
use super::lay_out::LaidOut;
use super::run::run;
use super::section::Section;
use crate::model::{Collection, Layout, LayoutPage, Meaning, PrintingId, Rules, SetId};

/// Pages made anew.
#[derive(Clone, Debug, Default)]
pub struct Renewed {
    pub laid: LaidOut,
    /// Exceptions made by hand that are still there.
    pub kept: usize,
    /// What stood in pockets that there are no longer, or whose section is gone.
    pub lost: Vec<Meaning>,
    /// Exceptions that were given up because there were too many of them: the layout before
    /// hardly followed its rules.
    pub given_up: usize,
}

/// Makes the pages by these rules; exceptions from the old layout's own rules are kept as far as
/// their section and their pocket are still there.
#[must_use]
pub fn renew(collection: &Collection, own: Option<SetId>, old: &Layout, rules: &Rules) -> Renewed {
    let known = known_to(&old.pages);
    let before = gather(collection, own, &old.sections, &Known::Some(known));
    let after = gather(collection, own, rules, &Known::All);
    let is_same = old.sections == *rules && before.items == after.items;
    let hand = by_rules(&before, old, &old.pages);
    let (hand, given_up) = match hand {
        Ok(hand) => (hand, 0),
        Err(many) => (ByHand::default(), many),
    };
    let mut renewed = carry(&hand, &before, &after);
    renewed.given_up = given_up;
    if is_same && given_up == 0 && !old.sections.is_empty() {
        // Nothing has changed, so nothing is to be made anew.
        renewed.laid.pages.clone_from(&old.pages);
        renewed.kept = hand.count();
        renewed.lost.clear();
    }
    renewed
}

/// What was done by hand; how much, where that is more than half of all.
fn by_rules(before: &Gathered, old: &Layout, pages: &[LayoutPage]) -> Result<ByHand, usize> {
    if old.sections.is_empty() {
        return Ok(ByHand::default());
    }
    let hand = ByHand::between(before, pages);
    let all: usize = before.items.iter().map(Vec::len).sum();
    let weight = hand.weight(before);
    // A layout of which the rules made nothing is not theirs.
    if weight * 2 > all || all == 0 && !pages.is_empty() {
        return Err(weight.max(pages.len()));
    }
    Ok(hand)
}

fn carry(hand: &ByHand, before: &Gathered, after: &Gathered) -> Renewed {
    let (over, mut lost) = hand.carried_over(before, after);
    let kept = over.count();
    let (poured, more) = over.pages(after);
    let kept = kept - more.len();
    lost.extend(more);
    lost.retain(|meaning| *meaning != Meaning::Nothing);
    Renewed {
        laid: after.finish(poured),
        kept,
        lost,
        given_up: 0,
    }
}

/// What becomes of a layout when its set has grown.
#[derive(Clone, Debug, Default)]
pub struct Growth {
    /// Cards that no pocket of the layout is meant for.
    pub new: usize,
    /// What is there keeps its place; new cards go into the room of their section, else onto pages
    /// at the end.
    pub keep_places: Vec<LayoutPage>,
    /// All in the order of the rules.
    pub in_order: Renewed,
}

/// Both ways for a layout and rules, which may be its own.
#[must_use]
pub fn growth(
    collection: &Collection,
    own: Option<SetId>,
    layout: &Layout,
    rules: &Rules,
) -> Growth {
    let after = gather(collection, own, rules, &Known::All);
    let placed: HashSet<PrintingId> = (layout.pages.iter())
        .flat_map(LayoutPage::printings)
        .map(|(_, printing)| printing)
        .collect();
    let mut pages = layout.pages.clone();
    let mut new = 0;
    let mut at_end = Vec::new();
    for (section, items) in after.sections.iter().zip(&after.items) {
        let Some(section) = section else {
            continue;
        };
        let printings: Vec<PrintingId> = items.iter().filter_map(printing).collect();
        let missing: Vec<PrintingId> = (printings.iter().copied())
            .filter(|printing| !placed.contains(printing))
            .collect();
        new += missing.len();
        let left = into_room(&mut pages, &printings, missing);
        at_end.extend(on_pages(section, &left));
    }
    pages.extend(at_end);
    Growth {
        new,
        keep_places: pages,
        in_order: in_order(collection, own, layout, &after),
    }
}

fn printing(meaning: &Meaning) -> Option<PrintingId> {
    match meaning {
        Meaning::Printing(printing) => Some(*printing),
        _ => None,
    }
}

/// Puts cards into the free pockets behind the last card of their section, up to the next pocket
/// that is for something; gives back those for which there was no room.
fn into_room(
    pages: &mut [LayoutPage],
    section: &[PrintingId],
    missing: Vec<PrintingId>,
) -> Vec<PrintingId> {
    let of: HashSet<_> = section.iter().collect();
    let last = (0..pages.len()).rev().find_map(|page| {
        let mut meant = pages[page].printings();
        let last = meant
            .by_ref()
            .filter(|(_, found)| of.contains(found))
            .last();
        last.map(|(pocket, _)| (page, pocket))
    });
    let Some((first_page, pocket)) = last else {
        return missing;
    };
    let mut missing = missing.into_iter().peekable();
    let mut from = pocket + 1;
    for page in &mut pages[first_page..] {
        for pocket in from..page.format().pockets() {
            if missing.peek().is_none() || page.meaning(pocket) != Meaning::Nothing {
                return missing.collect();
            }
            if let Some(printing) = missing.next() {
                page.set_meaning(pocket, Meaning::Printing(printing));
            }
        }
        from = 0;
    }
    missing.collect()
}

fn on_pages(section: &Section, printings: &[PrintingId]) -> Vec<LayoutPage> {
    if !section.fronts_only && !section.top_empty {
        return run(section.page, printings);
    }
    let items = printings.iter().map(|id| Meaning::Printing(*id)).collect();
    super::pour::pour(&[(section, items)], &HashMap::new()).pages
}

/// In order, with the exceptions of before the set grew: of the lengths that the checklist may
/// have had, the one that leaves the fewest.
fn in_order(
    collection: &Collection,
    own: Option<SetId>,
    layout: &Layout,
    after: &Gathered,
) -> Renewed {
    let known = known_to(&layout.pages);
    let lengths = own.map_or_else(Vec::new, |own| lengths(collection, own));
    let mut best: Option<((usize, usize), Gathered, ByHand)> = None;
    for length in lengths {
        let mut known = known.clone();
        if let Some(own) = own {
            let cards = known.entry(own).or_default();
            *cards = (*cards).min(length);
        }
        let (pages, later) = without_later(&layout.pages, own, length);
        let before = gather(collection, own, &layout.sections, &Known::Some(known));
        let Ok(hand) = by_rules(&before, layout, &pages) else {
            continue;
        };
        // Where a later list explains what stands elsewhere, no hand has put it there.
        let cost = (hand.weight(&before), later);
        if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
            best = Some((cost, before, hand));
        }
    }
    match best {
        Some((_, before, hand)) => carry(&hand, &before, after),
        None => carry(&ByHand::default(), &Gathered::default(), after),
    }
}

/// How long the checklist may have been: all of it, and up to each of the last cards that stand
/// before others by their number, for with those a later list may have begun.
fn lengths(collection: &Collection, own: SetId) -> Vec<u32> {
    const MOST: usize = 8;
    let cards = collection.set(own).map_or(&[][..], |set| set.cards());
    let falls = (1..cards.len()).rev().filter(|at| {
        let (before, here) = (&cards[at - 1].number, &cards[*at].number);
        crate::text::natural_cmp(before, here).is_gt()
    });
    let falls = falls.take(MOST).map(|at| at as u32);
    std::iter::once(cards.len() as u32).chain(falls).collect()
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
