//! What a hand has done to pages after the rules made them: derived by comparing the two, never
//! kept.
//!
//! An exception is a pocket of a draft that says something else than the rules gave for it, beyond
//! what follows from the other exceptions: where a card was carried to the front of its section,
//! that card is the exception, and not the many that were pushed along. It keeps to its section
//! (by name) and to the number of its pocket in it. A page put in by hand keeps to the page that
//! it stands behind. A card left out by hand stays out.
//!
//! Within a section the cards that stand in the rule's order, as many as there are, flow; the
//! others are exceptions: the longest increasing subsequence (Schensted 1961).

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::align::align;
use super::gather::{Gathered, Known, gather};
use super::pour::{Pins, Poured, Spot};
use crate::model::{Collection, Layout, LayoutPage, Meaning, PrintingId, SetId};

/// What was done by hand.
#[derive(Clone, Debug, Default)]
pub struct ByHand {
    pub(super) pins: Pins,
    /// Cards and keepsakes that the rules do not place: pinned, or left out.
    withheld: HashSet<Item>,
    /// How many of those were left out.
    pub(super) left_out: usize,
    /// Pages put in, each with the section and the page of it that it stands behind.
    pub(super) pages: Vec<(Option<(usize, usize)>, LayoutPage)>,
}

/// What is placed once: a printing or the words of a keepsake.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
enum Item {
    Printing(PrintingId),
    Keepsake(Arc<str>),
}

fn item(meaning: &Meaning) -> Option<Item> {
    match meaning {
        Meaning::Printing(printing) => Some(Item::Printing(*printing)),
        Meaning::Keepsake(words) => Some(Item::Keepsake(words.clone())),
        Meaning::Nothing | Meaning::Blank => None,
    }
}

fn items_on(page: &LayoutPage) -> impl Iterator<Item = Item> + '_ {
    (0..page.format().pockets()).filter_map(|pocket| item(&page.meaning(pocket)))
}

impl ByHand {
    pub(super) fn is_withheld(&self, meaning: &Meaning) -> bool {
        !self.withheld.is_empty() && item(meaning).is_some_and(|item| self.withheld.contains(&item))
    }

    /// How many exceptions there are: pockets, cards left out, pages put in.
    #[must_use]
    pub fn count(&self) -> usize {
        self.pins.len() + self.left_out + self.pages.len()
    }

    /// How many of what the rules place stand elsewhere, or nowhere.
    pub(super) fn weight(&self, gathered: &Gathered) -> usize {
        let items = gathered.items.iter().flatten();
        items.filter(|item| self.is_withheld(item)).count()
    }

    /// What was done by hand to this layout since its own rules made it. Cards that joined the
    /// checklist since are not counted as left out.
    #[must_use]
    pub fn of(collection: &Collection, own: Option<SetId>, layout: &Layout) -> Self {
        let known = Known::Some(known_to(&layout.pages));
        let gathered = gather(collection, own, &layout.sections, &known);
        Self::between(&gathered, &layout.pages)
    }

    pub(super) fn between(gathered: &Gathered, draft: &[LayoutPage]) -> Self {
        let mut hand = Self::default();
        // A page that was put in or taken out takes its cards with it, and then other pages are
        // found to be what they were: at most a few rounds.
        for _ in 0..4 {
            let made = gathered.pour(|item| hand.is_withheld(item), &Pins::new());
            let pairs = align(&made.pages, draft);
            let (put_in, gone) = unpaired(&made, draft, &pairs);
            let before = hand.withheld.len();
            let put_in = put_in.iter().flat_map(|at| items_on(&draft[*at]));
            let gone = gone.iter().flat_map(|at| items_on(&made.pages[*at]));
            hand.withheld.extend(put_in.chain(gone));
            if hand.withheld.len() == before {
                break;
            }
        }
        let made = gathered.pour(|item| hand.is_withheld(item), &Pins::new());
        let pairs = align(&made.pages, draft);
        hand.take_pages(&made, draft, &pairs);
        hand.take_pockets(gathered, &made, draft, &pairs);
        let there: HashSet<Item> = draft.iter().flat_map(items_on).collect();
        let all = gathered.items.iter().flatten().filter_map(item);
        for item in all.filter(|item| !there.contains(item)) {
            hand.left_out += 1;
            hand.withheld.insert(item);
        }
        hand
    }

    fn take_pages(&mut self, made: &Poured, draft: &[LayoutPage], pairs: &[(usize, usize)]) {
        let (put_in, _) = unpaired(made, draft, pairs);
        let ordinals = ordinals(made);
        for at in put_in {
            let before = pairs.iter().rev().find(|(_, draft)| *draft < at);
            let behind = before.map(|(made, _)| ordinals[*made]);
            self.pages.push((behind, draft[at].clone()));
        }
    }

    fn take_pockets(
        &mut self,
        gathered: &Gathered,
        made: &Poured,
        draft: &[LayoutPage],
        pairs: &[(usize, usize)],
    ) {
        // Each section's spots, with what the draft has there.
        let mut found: Vec<Vec<(usize, Meaning)>> = vec![Vec::new(); gathered.items.len()];
        for (from, to) in pairs {
            for (pocket, spot) in made.spots[*from].iter().enumerate() {
                let meaning = draft[*to].meaning(pocket);
                if !spot.is_left {
                    found[spot.section].push((spot.nth, meaning));
                } else if meaning != Meaning::Blank {
                    self.pin(*spot, meaning);
                }
            }
        }
        for (section, mut found) in found.into_iter().enumerate() {
            let last = found.iter().rposition(|(_, is)| *is != Meaning::Nothing);
            found.truncate(last.map_or(0, |last| last + 1));
            let order: HashMap<Item, usize> = (gathered.items[section].iter())
                .filter_map(item)
                .filter(|item| !self.withheld.contains(item))
                .enumerate()
                .map(|(at, item)| (item, at))
                .collect();
            let places: Vec<Option<usize>> = (found.iter())
                .map(|(_, is)| item(is).and_then(|item| order.get(&item).copied()))
                .collect();
            let flows = longest_rise(&places);
            // Behind the last that flows the rules leave pockets free by themselves.
            let end = flows.iter().rposition(|flows| *flows).unwrap_or(0);
            for (at, (nth, meaning)) in found.into_iter().enumerate() {
                if !flows[at] && (at < end || meaning != Meaning::Nothing) {
                    let is_left = false;
                    let spot = Spot {
                        section,
                        is_left,
                        nth,
                    };
                    self.pin(spot, meaning);
                }
            }
        }
    }

    fn pin(&mut self, spot: Spot, meaning: Meaning) {
        self.withheld.extend(item(&meaning));
        self.pins.insert(spot, meaning);
    }

    /// Keeps to other rules: sections are found again by name, else by place. What has no section
    /// any more is given back.
    pub(super) fn carried_over(&self, from: &Gathered, to: &Gathered) -> (Self, Vec<Meaning>) {
        let map = matching(from, to);
        let mut over = Self {
            left_out: self.left_out,
            withheld: self.withheld.clone(),
            ..Self::default()
        };
        let mut lost = Vec::new();
        let mut pins: Vec<_> = self.pins.iter().collect();
        pins.sort_by_key(|(spot, _)| **spot);
        for (spot, meaning) in pins {
            match map.get(spot.section).copied().flatten() {
                Some(section) => {
                    over.pins.insert(Spot { section, ..*spot }, meaning.clone());
                }
                None => {
                    lost.push(meaning.clone());
                    over.release(meaning);
                }
            }
        }
        for (behind, page) in &self.pages {
            let behind = behind.and_then(|(section, at)| {
                let section = map.get(section).copied().flatten()?;
                Some((section, at))
            });
            over.pages.push((behind, page.clone()));
        }
        (over, lost)
    }

    /// The rules may place it again.
    pub(super) fn release(&mut self, meaning: &Meaning) {
        if let Some(item) = item(meaning) {
            self.withheld.remove(&item);
        }
    }

    /// The pages that these rules and exceptions make, and the exceptions for which there was no
    /// pocket.
    pub(super) fn pages(mut self, gathered: &Gathered) -> (Poured, Vec<Meaning>) {
        let mut lost = Vec::new();
        loop {
            let mut poured = gathered.pour(|item| self.is_withheld(item), &self.pins);
            if poured.lost.is_empty() {
                self.put_pages(&mut poured);
                return (poured, lost);
            }
            for spot in std::mem::take(&mut poured.lost) {
                if let Some(meaning) = self.pins.remove(&spot) {
                    self.release(&meaning);
                    lost.push(meaning);
                }
            }
        }
    }

    fn put_pages(&self, poured: &mut Poured) {
        let ordinals = ordinals(poured);
        let place = |behind: &Option<(usize, usize)>| match behind {
            None => 0,
            // Behind that page; where the section has fewer now, behind its last.
            Some((section, nth)) => {
                let is_near = |(of, at): &(usize, usize)| of == section && at <= nth;
                let found = ordinals.iter().rposition(is_near);
                found.map_or(ordinals.len(), |at| at + 1)
            }
        };
        let mut pages: Vec<_> = (self.pages.iter())
            .map(|(behind, page)| (place(behind), page))
            .collect();
        pages.sort_by_key(|(at, _)| *at);
        for (at, page) in pages.into_iter().rev() {
            poured.pages.insert(at, page.clone());
            poured.spots.insert(at, Vec::new());
        }
    }
}

/// For each page the section of its first pocket, and which of that section's pages it is.
fn ordinals(poured: &Poured) -> Vec<(usize, usize)> {
    let mut counts: HashMap<usize, usize> = HashMap::new();
    let each = poured.spots.iter().map(|spots| {
        let section = spots.first().map_or(0, |spot| spot.section);
        let count = counts.entry(section).or_default();
        *count += 1;
        (section, *count - 1)
    });
    each.collect()
}

/// Pages of the draft that the rules did not make, and pages that the draft does not have.
fn unpaired(
    made: &Poured,
    draft: &[LayoutPage],
    pairs: &[(usize, usize)],
) -> (Vec<usize>, Vec<usize>) {
    let has = |at: &usize| pairs.iter().any(|(_, draft)| draft == at);
    let stays = |at: &usize| pairs.iter().any(|(made, _)| made == at);
    let put_in = (0..draft.len()).filter(|at| !has(at)).collect();
    let gone = (0..made.pages.len()).filter(|at| !stays(at)).collect();
    (put_in, gone)
}

/// For each section of the old rules, the one of the new rules that it is now.
fn matching(from: &Gathered, to: &Gathered) -> Vec<Option<usize>> {
    let name = |gathered: &Gathered, at: usize| -> Option<Box<str>> {
        let section = gathered.sections.get(at)?.as_ref()?;
        Some(section.name.to_lowercase().into())
    };
    let mut free: Vec<bool> = vec![true; to.sections.len()];
    let mut map = vec![None; from.sections.len()];
    for (at, found) in map.iter_mut().enumerate() {
        let Some(named) = name(from, at) else {
            continue;
        };
        let mut others = 0..to.sections.len();
        *found = others.find(|other| free[*other] && name(to, *other).as_ref() == Some(&named));
        if let Some(found) = found {
            free[*found] = false;
        }
    }
    // One that was only named anew stands where it stood.
    for (at, found) in map.iter_mut().enumerate() {
        if found.is_none() && free.get(at) == Some(&true) {
            free[at] = false;
            *found = Some(at);
        }
    }
    map
}

/// Of the places that are there, a longest run that rises: true for each that is part of it.
fn longest_rise(places: &[Option<usize>]) -> Vec<bool> {
    // The last element of the best run of each length, and before each element the one before it.
    let mut ends: Vec<usize> = Vec::new();
    let mut before = vec![usize::MAX; places.len()];
    for (at, place) in places.iter().enumerate() {
        let Some(place) = place else {
            continue;
        };
        let length = ends.partition_point(|end| places[*end] < Some(*place));
        if length > 0 {
            before[at] = ends[length - 1];
        }
        match ends.get_mut(length) {
            Some(end) => *end = at,
            None => ends.push(at),
        }
    }
    let mut flows = vec![false; places.len()];
    let mut at = ends.last().copied();
    while let Some(here) = at {
        flows[here] = true;
        at = Some(before[here]).filter(|before| *before != usize::MAX);
    }
    flows
}

/// The cards that the draft can have known: up to the last one that has a pocket in it.
pub(super) fn known_to(pages: &[LayoutPage]) -> HashMap<SetId, u32> {
    let mut known = HashMap::new();
    let printings = pages.iter().flat_map(LayoutPage::printings);
    for (_, printing) in printings {
        let count: &mut u32 = known.entry(printing.set()).or_default();
        *count = (*count).max(printing.card() + 1);
    }
    known
}
