//! Putting a whole collection together at once, as a snapshot is read.
//!
//! The result is what the changes would have made one by one: the same things are refused, and
//! the counts are taken in one pass at the end.

use std::collections::HashMap;

use super::apply::ensure::{ensure_card, ensure_finish, ensure_head, ensure_spec};
use super::binder::{Binder, BinderSpec, Layout, Page};
use super::collection::Collection;
use super::format::PageFormat;
use super::id::{BinderId, PageId, PrintingId, SetId};
use super::refused::Refused;
use super::set::{Card, Finish, Set, SetHead, limits};
use super::tally::Tally;

/// A set with its whole checklist.
#[derive(Clone, Debug, Default)]
pub struct SetParts {
    pub head: SetHead,
    pub finishes: Vec<Finish>,
    pub rarities: Vec<Box<str>>,
    pub cards: Vec<Card>,
}

/// A physical page: its id, its format, and the copy in each pocket by pocket index.
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
        for (at, rarity) in parts.rarities.iter().enumerate() {
            if rarity.is_empty() || parts.rarities[..at].contains(rarity) {
                return Err(Refused::Unfit("a set names each rarity once".into()));
            }
        }
        set.rarities = parts.rarities;
        set.numbers = HashMap::with_capacity(parts.cards.len());
        for (at, card) in (0u32..).zip(&parts.cards) {
            ensure_card(&set, card)?;
            if set.numbers.insert(card.number.clone(), at).is_some() {
                return Err(Refused::NumberTaken(card.number.clone()));
            }
        }
        set.tallies = vec![vec![Tally::default(); parts.cards.len()]; set.finishes.len()];
        set.cards = parts.cards;
        self.made.codes.insert(set.head.code.clone(), id);
        self.made.sets.push(set);
        Ok(id)
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
        ensure_spec(&spec, self.made.sets.len())?;
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
        binder.layout = layout;
        self.made.next_binder = self.made.next_binder.max(id.0 + 1);
        self.made.names.insert(binder.spec.name.clone(), id);
        self.made.shelf.push(id);
        self.made.binders.insert(id, binder);
        Ok(())
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
    /// A pocket or a layout that names a printing which does not exist.
    pub fn finish(mut self) -> Result<Collection, Refused> {
        let binders = std::mem::take(&mut self.made.binders);
        let result = binders
            .into_iter()
            .try_for_each(|(id, binder)| self.count_binder(id, binder));
        result.map(|()| self.made)
    }

    fn count_binder(&mut self, id: BinderId, mut binder: Binder) -> Result<(), Refused> {
        let missing = |made: &Collection, printing| {
            (!made.has_printing(printing)).then_some(Refused::NoSuchPrinting(printing))
        };
        let pages = std::mem::take(&mut binder.pages);
        for page in &pages {
            binder.tally.pockets += page.cards.len() as u32;
            for printing in page.cards.iter().flatten() {
                if let Some(refused) = missing(&self.made, *printing) {
                    return Err(refused);
                }
                self.made.count(*printing, |tally| tally.pocketed += 1);
                binder.tally.filled += 1;
                binder.remember(printing.set());
            }
        }
        binder.pages = pages;
        let layout = std::mem::take(&mut binder.layout);
        for page in &layout.pages {
            for (_, printing) in page.printings() {
                if let Some(refused) = missing(&self.made, printing) {
                    return Err(refused);
                }
                self.made.count(printing, |tally| tally.meant += 1);
                binder.tally.meant += 1;
                binder.remember(printing.set());
            }
        }
        binder.layout = layout;
        self.made.binders.insert(id, binder);
        self.made.matches(id, .., 1);
        Ok(())
    }
}
