//! Putting a whole collection together at once, as a snapshot is read.
//!
//! The result is what the changes would have made one by one: the same things are refused, and
//! the counts are taken in one pass at the end.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use super::apply::ensure::{
    ensure_card, ensure_finish, ensure_head, ensure_rarity, ensure_rules, ensure_spec,
};
use super::binder::{Binder, BinderSpec, Draft, Layout, Page, Rules, Slot};
use super::collection::Collection;
use super::format::PageFormat;
use super::id::{BinderId, PageId, PrintingId, SetId};
use super::refused::Refused;
use super::set::{Card, Finish, Set, SetHead, limits};
use super::tally::{BinderTally, Tally};

/// A set with its whole checklist.
#[derive(Clone, Debug, Default)]
pub struct SetParts {
    pub head: SetHead,
    pub finishes: Vec<Finish>,
    pub rarities: Vec<Box<str>>,
    pub cards: Vec<Card>,
}

/// A physical page: its id, its format, and the copy in each of its pockets.
pub type PageParts = (PageId, PageFormat, Box<[Option<PrintingId>]>);

/// A collection in the making.
#[derive(Debug, Default)]
pub struct Builder {
    made: Collection,
}

impl Builder {
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The sets so far, so that what comes later can be looked up in them.
    #[must_use]
    pub fn so_far(&self) -> &Collection {
        &self.made
    }

    /// # Errors
    /// What [`super::Change::AddSet`], `AddFinish`, `AddRarity` and `AddCards` refuse.
    pub fn set(&mut self, parts: SetParts) -> Result<SetId, Refused> {
        ensure_head(&parts.head)?;
        if self.made.sets.len() >= limits::SETS {
            return Err(Refused::Unfit("too many sets".into()));
        }
        if self.made.codes.contains_key(&parts.head.code) {
            return Err(Refused::CodeTaken(parts.head.code));
        }
        let id = SetId(self.made.sets.len() as u16);
        let mut set = Set::new(parts.head);
        for finish in parts.finishes {
            ensure_finish(&set, &finish)?;
            set.finishes.push(finish);
        }
        let mut named = HashSet::new();
        for (at, rarity) in parts.rarities.iter().enumerate() {
            ensure_rarity(rarity, at, || !named.insert(&**rarity))?;
        }
        set.rarities = parts.rarities;
        set.numbers = HashMap::with_capacity(parts.cards.len());
        for (at, card) in (0u32..).zip(&parts.cards) {
            ensure_card(&set, card)?;
            if set.numbers.insert(card.number.clone(), at).is_some() {
                return Err(Refused::NumberTaken(card.number.as_str().into()));
            }
        }
        set.tallies = vec![vec![Tally::default(); parts.cards.len()]; set.finishes.len()];
        set.cards = parts.cards;
        self.made.codes.insert(set.head.code.clone(), id);
        self.made.sets.push(Some(Arc::new(set)));
        self.made.order.push(id);
        Ok(id)
    }

    /// A finish of a set is not collected.
    ///
    /// # Errors
    /// What [`super::Change::LeaveOut`] refuses.
    pub fn leave_out(&mut self, set: SetId, finish: u8) -> Result<(), Refused> {
        self.made.leave_out(set, finish, true)
    }

    /// A binder as the last of the shelf. Every page has as many entries as it has pockets.
    ///
    /// # Errors
    /// An id or name that is taken, an impossible page, a printing that does not exist.
    pub fn binder(
        &mut self,
        id: BinderId,
        spec: BinderSpec,
        pages: Vec<PageParts>,
        layout: Layout,
    ) -> Result<(), Refused> {
        ensure_spec(&spec, &self.made)?;
        if id.0 == u32::MAX || self.made.binders.contains_key(&id) {
            return Err(Refused::BinderTaken(id));
        }
        if self.made.names.contains_key(&spec.name) {
            return Err(Refused::NameTaken(spec.name));
        }
        let mut binder = Binder::empty(id, spec);
        for (page, format, cards) in pages {
            if !format.is_possible() || cards.len() != format.pockets() {
                return Err(Refused::Unfit(format!(
                    "page {page} is not a possible page"
                )));
            }
            if page.0 == u32::MAX || self.made.page_binder.insert(page, id).is_some() {
                return Err(Refused::PageTaken(page));
            }
            self.made.next_page = self.made.next_page.max(page.0 + 1);
            binder.pages.push(Page {
                id: page,
                format,
                cards,
            });
        }
        if !layout.pages.iter().all(|page| page.format.is_possible()) {
            return Err(Refused::Unfit(
                "a page of the layout is not possible".into(),
            ));
        }
        ensure_rules(&layout.sections)?;
        binder.layout = layout;
        self.made.next_binder = self.made.next_binder.max(id.0 + 1);
        self.made.note_names(&binder.spec, id);
        self.made.shelf.push(id);
        self.made.binders.insert(id, Arc::new(binder));
        Ok(())
    }

    /// A draft, as the last of a binder that was named before.
    ///
    /// # Errors
    /// What [`super::Change::AddDraft`] refuses.
    pub fn draft(&mut self, binder: BinderId, draft: Draft) -> Result<(), Refused> {
        let at = self.made.binder(binder).map_or(0, |b| b.drafts.len());
        self.made.add_draft(binder, at, &draft)
    }

    /// A list of sections under a name of its own.
    ///
    /// # Errors
    /// What [`super::Change::SetTemplate`] refuses.
    pub fn template(&mut self, name: &str, rules: &Rules) -> Result<(), Refused> {
        self.made.set_template(name, None, Some(rules))
    }

    /// Loose copies, beyond those named before.
    ///
    /// # Errors
    /// A printing that does not exist, or too many copies of it.
    pub fn loose(&mut self, printing: PrintingId, count: u32) -> Result<(), Refused> {
        if !self.made.has_printing(printing) {
            return Err(Refused::NoSuchPrinting(printing));
        }
        let before = self.made.tally(printing).loose;
        if before.saturating_add(count) > limits::COPIES {
            return Err(Refused::TooManyCopies(printing));
        }
        self.made.count(printing, |tally| tally.loose += count);
        Ok(())
    }

    /// Takes all counts and hands the collection over.
    ///
    /// # Errors
    /// A pocket or a layout that names a printing which does not exist; more copies of one, those in
    /// pockets and loose ones together, than there may be.
    pub fn finish(mut self) -> Result<Collection, Refused> {
        // Nobody shares them yet, so that they are not asked for every pocket whether anybody does.
        let sets = std::mem::take(&mut self.made.sets).into_iter();
        let mut sets: Vec<Set> = sets.flatten().map(Arc::unwrap_or_clone).collect();
        for (id, binder) in &mut self.made.binders {
            count_binder(&mut sets, *id, Arc::make_mut(binder))?;
        }
        self.made.sets = sets.into_iter().map(|set| Some(Arc::new(set))).collect();
        self.ensure_printings()?;
        Ok(self.made)
    }

    /// Every printing that was counted exists, and there are not too many copies of it.
    fn ensure_printings(&self) -> Result<(), Refused> {
        for (id, set) in self.made.sets() {
            for (finish, column) in (0u8..).zip(&set.tallies) {
                for (card, (tally, of)) in (0u32..).zip(column.iter().zip(&set.cards)) {
                    if *tally == Tally::default() {
                        continue;
                    }
                    let printing = PrintingId::new(id, card, finish);
                    if !of.has_finish(finish) {
                        return Err(Refused::NoSuchPrinting(printing));
                    }
                    if tally.copies() > limits::COPIES {
                        return Err(Refused::TooManyCopies(printing));
                    }
                }
            }
        }
        Ok(())
    }
}

/// Contents and layout are gone through side by side, so that a card in its place is looked
/// up once.
fn count_binder(sets: &mut [Set], id: BinderId, binder: &mut Binder) -> Result<(), Refused> {
    let mut involved = Involved::default();
    let mut tally = BinderTally::default();
    let pages = binder.pages.len().max(binder.layout.pages.len());
    for at in 0..pages {
        let held = binder.pages.get(at).map_or(&[][..], |page| &page.cards);
        let meant = binder.layout.pages.get(at);
        let meant = meant.map_or(&[][..], |page| &page.slots);
        let comparable = binder.comparable(at);
        tally.pockets += held.len() as u32;
        for pocket in 0..held.len().max(meant.len()) {
            let held = held.get(pocket).copied().flatten();
            let meant = match meant.get(pocket) {
                Some(Slot::Printing(printing)) => Some(*printing),
                _ => None,
            };
            if let Some(printing) = held {
                let in_place = comparable && meant == held;
                let count = count_one(sets, printing)?;
                count.pocketed += 1;
                count.in_place += u32::from(in_place);
                count.meant += u32::from(in_place);
                tally.filled += 1;
                tally.in_place += u32::from(in_place);
                tally.meant += u32::from(in_place);
                involved.add(printing.set(), 1 + u32::from(in_place));
                if in_place {
                    continue;
                }
            }
            if let Some(printing) = meant {
                count_one(sets, printing)?.meant += 1;
                tally.meant += 1;
                involved.add(printing.set(), 1);
            }
        }
    }
    for (set, pockets) in involved.sets() {
        // Binders are gone through by id, so each list stays in order.
        sets[usize::from(set.0)].binders.push((id, pockets));
    }
    binder.tally = tally;
    Ok(())
}

/// The counts of a printing. Whether its card comes in that finish is seen at the end.
fn count_one(sets: &mut [Set], printing: PrintingId) -> Result<&mut Tally, Refused> {
    let set = sets.get_mut(usize::from(printing.set().0));
    set.and_then(|set| set.tally_mut(printing))
        .ok_or(Refused::NoSuchPrinting(printing))
}

/// How many pockets of a binder have to do with each set. Cards of one set mostly stand together,
/// so they are counted by the run.
#[derive(Default)]
struct Involved {
    sets: BTreeMap<SetId, u32>,
    run: Option<(SetId, u32)>,
}

impl Involved {
    fn add(&mut self, set: SetId, pockets: u32) {
        match &mut self.run {
            Some((of, count)) if *of == set => *count += pockets,
            run => {
                if let Some((of, count)) = run.replace((set, pockets)) {
                    *self.sets.entry(of).or_default() += count;
                }
            }
        }
    }

    fn sets(mut self) -> BTreeMap<SetId, u32> {
        if let Some((of, count)) = self.run {
            *self.sets.entry(of).or_default() += count;
        }
        self.sets
    }
}
