//! Pages made anew by rules, with what a hand had done to those before; and what becomes of a
//! layout when its set grows.

use std::collections::{HashMap, HashSet};

use super::by_hand::{ByHand, known_to};
use super::gather::{Gathered, Known, gather};
use super::later::{Before, before};
use super::lay_out::LaidOut;
use super::run::run;
use super::section::Section;
use super::template::Template;
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
    let stood = gather(collection, own, &old.sections, &Known::First(known));
    let after = gather(collection, own, rules, &Known::All);
    let is_same = old.sections == *rules && stood.items == after.items;
    let (hand, given_up) = match by_rules(&stood, old, &old.pages) {
        Ok(hand) => (hand, 0),
        Err(many) => (ByHand::default(), many),
    };
    // Where something stands otherwise, a later list may have put it there and no hand.
    let is_grown = hand.count() > 0;
    let before = is_grown.then(|| before(collection, own, old)).flatten();
    let (hand, stood) = before.map_or((hand, stood), |before| (before.hand, before.gathered));
    let mut renewed = carry(&hand, &stood, &after);
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
pub(super) fn by_rules(
    before: &Gathered,
    old: &Layout,
    pages: &[LayoutPage],
) -> Result<ByHand, usize> {
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

/// In order, with the exceptions of before the set grew.
fn in_order(
    collection: &Collection,
    own: Option<SetId>,
    layout: &Layout,
    after: &Gathered,
) -> Renewed {
    match before(collection, own, layout) {
        Some(Before { gathered, hand }) => carry(&hand, &gathered, after),
        None => carry(&ByHand::default(), &Gathered::default(), after),
    }
}

/// The first of these lists of sections by which the layout stands exactly so, cards of later lists
/// aside.
#[must_use]
pub fn followed<'t>(
    collection: &Collection,
    own: Option<SetId>,
    pages: &[LayoutPage],
    templates: &'t [Template],
) -> Option<&'t Template> {
    templates.iter().find(|template| {
        let layout = Layout {
            pages: pages.to_vec(),
            sections: template.rules.clone(),
        };
        before(collection, own, &layout).is_some_and(|before| before.hand.count() == 0)
    })
}
