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

mod item;
mod rise;

use std::collections::{HashMap, HashSet};

use super::align::align;
use super::gather::{Gathered, Known, gather};
use super::pour::{Pins, Poured, SectionPocket};
use crate::model::{Collection, Layout, LayoutPage, Meaning, PrintingId, SetId};
use item::{Item, Numbering, counts, first, items_on, numbered};
use rise::{Places, longest_rise};

/// What was done by hand.
#[derive(Clone, Debug, Default)]
pub struct ByHand {
    pub(super) pins: Pins,
    /// Cards and keepsakes that the rules do not place: pinned, or left out. What stands twice and
    /// is withheld once is placed once.
    withheld: HashSet<Item>,
    /// How many of those were left out.
    pub(super) left_out: usize,
    /// Pages put in, each with the section and the page of it that it stands behind.
    pub(super) pages: Vec<(Option<(usize, usize)>, LayoutPage)>,
}

impl ByHand {
    /// Asked of all that the rules place, in their order: whether it is withheld.
    fn withholds(&self) -> impl FnMut(&Meaning) -> bool + '_ {
        let mut numbering = Numbering::default();
        move |meaning| {
            let is_withheld = |item: Item| self.withheld.contains(&item);
            !self.withheld.is_empty() && numbering.item(meaning).is_some_and(is_withheld)
        }
    }

    /// How many exceptions there are: pockets, cards left out, pages put in.
    #[must_use]
    pub fn count(&self) -> usize {
        self.pins.len() + self.left_out + self.pages.len()
    }

    /// How many of what the rules place stand elsewhere, or nowhere.
    pub(super) fn weight(&self, gathered: &Gathered) -> usize {
        let mut withholds = self.withholds();
        let items = gathered.items.iter().flatten();
        items.filter(|item| withholds(item)).count()
    }

    /// The cards that the rules do not place.
    pub(super) fn printings(&self) -> impl Iterator<Item = PrintingId> + '_ {
        self.withheld.iter().filter_map(|item| match item {
            Item::Printing(printing) => Some(*printing),
            Item::Keepsake(..) => None,
        })
    }

    /// What was done by hand to this layout since its own rules made it. Cards that joined the
    /// checklist since are not counted as left out.
    #[must_use]
    pub fn of(collection: &Collection, own: Option<SetId>, layout: &Layout) -> Self {
        let known = Known::First(known_to(&layout.pages));
        let gathered = gather(collection, own, &layout.sections, &known);
        Self::between(&gathered, &layout.pages)
    }

    pub(super) fn between(gathered: &Gathered, draft: &[LayoutPage]) -> Self {
        let mut hand = Self::default();
        let rules = numbered(gathered);
        let by_rule = counts(gathered.items.iter().flatten().filter_map(first));
        // A page that was put in or taken out takes its cards with it, and then other pages are
        // found to be what they were. Each round only adds to what is withheld. One finds most,
        // the second what that uncovers; four bound what it costs, and where it has not settled
        // by then, a page more is told as put in by hand and nothing is lost.
        for _ in 0..4 {
            let made = gathered.pour(hand.withholds(), &Pins::new());
            let pairs = align(&made.pages, draft);
            if !hand.withhold(&rules, &by_rule, &made, draft, &pairs) {
                break;
            }
        }
        let made = gathered.pour(hand.withholds(), &Pins::new());
        let pairs = align(&made.pages, draft);
        hand.take_pages(&made, draft, &pairs);
        let flowing = hand.take_pockets(&rules, &made, draft, &pairs);
        let there = counts(draft.iter().flat_map(items_on));
        let has = |item: &Item| match item {
            Item::Printing(_) => there.contains_key(item),
            Item::Keepsake(words, nth) => {
                let first = Item::Keepsake(words.clone(), 0);
                there.get(&first).is_some_and(|many| nth < many)
            }
        };
        let all = || rules.iter().flatten();
        hand.left_out = all().filter(|item| !has(item)).count();
        hand.withheld = all()
            .filter(|item| !flowing.contains(item))
            .cloned()
            .collect();
        // What there is more of than the rules placed, a hand has put in: other rules that place
        // more of it do not put it in again.
        for (item, many) in &there {
            let placed = by_rule.get(item).copied().unwrap_or(0);
            let more = (placed..*many).map_while(|nth| item.nth(nth));
            hand.withheld.extend(more);
        }
        hand
    }

    /// Withholds what is on pages that were put in and on none of the others, and what was on
    /// pages that are gone. Whether that is more than before.
    fn withhold(
        &mut self,
        rules: &[Vec<Item>],
        by_rule: &HashMap<Item, usize>,
        made: &Poured,
        draft: &[LayoutPage],
        pairs: &[(usize, usize)],
    ) -> bool {
        let (put_in, gone) = unpaired(made, draft, pairs);
        if put_in.is_empty() && gone.is_empty() {
            return false;
        }
        let before = self.withheld.len();
        // Without pins the pages hold what the rules place, in that order.
        let placed = rules.iter().flatten();
        let mut placed = placed.filter(|item| !self.withheld.contains(item));
        let mut more = Vec::new();
        for (at, page) in made.pages.iter().enumerate() {
            let on_page = placed.by_ref().take(items_on(page).count());
            match gone.binary_search(&at) {
                Ok(_) => more.extend(on_page.cloned()),
                Err(_) => on_page.for_each(drop),
            }
        }
        let others = pairs.iter().flat_map(|(_, at)| items_on(&draft[*at]));
        let others = counts(others);
        for item in put_in.iter().flat_map(|at| items_on(&draft[*at])) {
            let of = |counts: &HashMap<Item, usize>| counts.get(&item).copied().unwrap_or(0);
            more.extend((of(&others)..of(by_rule)).filter_map(|nth| item.nth(nth)));
        }
        self.withheld.extend(more);
        self.withheld.len() > before
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

    /// Gives back what stands where the rules put it, or is only pushed along.
    fn take_pockets(
        &mut self,
        rules: &[Vec<Item>],
        made: &Poured,
        draft: &[LayoutPage],
        pairs: &[(usize, usize)],
    ) -> HashSet<Item> {
        // Each section's spots, with what the draft has there.
        let mut found: Vec<Vec<(usize, Meaning)>> = vec![Vec::new(); rules.len()];
        for (from, to) in pairs {
            for (pocket, spot) in made.spots[*from].iter().enumerate() {
                let meaning = draft[*to].meaning(pocket);
                if !spot.is_left {
                    found[spot.section].push((spot.nth, meaning));
                } else if meaning != Meaning::Blank {
                    self.pins.insert(*spot, meaning);
                }
            }
        }
        let mut flowing = HashSet::new();
        for (section, mut found) in found.into_iter().enumerate() {
            let last = found.iter().rposition(|(_, is)| *is != Meaning::Nothing);
            found.truncate(last.map_or(0, |last| last + 1));
            let order = self.order(&rules[section]);
            let places: Vec<&[usize]> = (found.iter())
                .map(|(_, is)| first(is).and_then(|item| order.get(&item)))
                .map(|places| places.map_or(&[][..], Places::all))
                .collect();
            let flows = longest_rise(&places);
            flowing.extend(flows.iter().flatten().map(|at| rules[section][*at].clone()));
            // Behind the last that flows the rules leave pockets free by themselves.
            let end = flows.iter().rposition(Option::is_some).unwrap_or(0);
            for (at, (nth, meaning)) in found.into_iter().enumerate() {
                if flows[at].is_none() && (at < end || meaning != Meaning::Nothing) {
                    let is_left = false;
                    let spot = SectionPocket {
                        section,
                        is_left,
                        nth,
                    };
                    self.pins.insert(spot, meaning);
                }
            }
        }
        flowing
    }

    /// Where each stands in the rule's order, under the first of those that say the same.
    fn order(&self, rule: &[Item]) -> HashMap<Item, Places> {
        let mut order: HashMap<Item, Places> = HashMap::with_capacity(rule.len());
        let placed = rule.iter().enumerate();
        for (at, item) in placed.filter(|(_, item)| !self.withheld.contains(item)) {
            if let Some(first) = item.nth(0) {
                order.entry(first).or_default().add(at);
            }
        }
        order
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
                    over.pins
                        .insert(SectionPocket { section, ..*spot }, meaning.clone());
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

    /// The rules may place it again, once.
    fn release(&mut self, meaning: &Meaning) {
        let Some(item) = first(meaning) else {
            return;
        };
        let same = |held: &&Item| held.nth(0).as_ref() == Some(&item);
        let held = match &item {
            Item::Printing(_) => Some(item),
            Item::Keepsake(..) => self.withheld.iter().filter(same).min().cloned(),
        };
        if let Some(held) = held {
            self.withheld.remove(&held);
        }
    }

    /// The pages that these rules and exceptions make, and the exceptions for which there was no
    /// pocket.
    pub(super) fn pages(mut self, gathered: &Gathered) -> (Poured, Vec<Meaning>) {
        let mut lost = Vec::new();
        loop {
            let mut poured = gathered.pour(self.withholds(), &self.pins);
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
    // Both rise.
    let others = |many: usize, of: fn(&(usize, usize)) -> usize| {
        (0..many).filter(move |at| pairs.binary_search_by_key(at, of).is_err())
    };
    let put_in = others(draft.len(), |pair| pair.1).collect();
    let gone = others(made.pages.len(), |pair| pair.0).collect();
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
