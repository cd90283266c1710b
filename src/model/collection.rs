//! The whole collection as one value, and the questions it answers.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use super::binder::{Binder, BinderSpec, Meaning, Rules};
use super::id::{BinderId, PageId, PrintingId, SetId};
use super::pocket::{Place, PocketState};
use super::set::{Card, Set};
use super::tally::Tally;

/// Sets, binders and copies. Altered by [`super::Change::apply`] only.
///
/// A clone shares every set and every binder until one of the two alters it, so that work beside
/// the keys can have the collection as it is at the moment, at next to no cost.
#[derive(Clone, Debug, Default)]
pub struct Collection {
    /// By id; free where a set has gone.
    pub(super) sets: Vec<Option<Arc<Set>>>,
    /// The sets in the order in which they came in.
    pub(super) order: Vec<SetId>,
    pub(super) codes: HashMap<Box<str>, SetId>,
    pub(super) binders: BTreeMap<BinderId, Arc<Binder>>,
    pub(super) names: HashMap<Box<str>, BinderId>,
    /// How many binders are called so; kept, since every line of a list asks for it.
    pub(super) called: HashMap<Box<str>, u32>,
    pub(super) shelf: Vec<BinderId>,
    /// The collector's own lists of sections, by name.
    pub(super) templates: BTreeMap<Box<str>, Rules>,
    /// Where each page is; the position in the binder is found there.
    pub(super) page_binder: HashMap<PageId, BinderId>,
    /// Above every id in use. Not part of the state: it only ever grows.
    pub(super) next_page: u32,
    pub(super) next_binder: u32,
}

impl Collection {
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Every set in the order in which they came in, with its id.
    pub fn sets(&self) -> impl ExactSizeIterator<Item = (SetId, &Set)> {
        let standing = |id: &SetId| {
            let set = self.set(*id);
            (*id, set.expect("an id of the order is that of a set"))
        };
        self.order.iter().map(standing)
    }

    #[must_use]
    pub fn set(&self, id: SetId) -> Option<&Set> {
        self.sets.get(usize::from(id.0))?.as_deref()
    }

    /// Whether a set can come in under this id.
    #[must_use]
    pub fn is_free_set(&self, id: SetId) -> bool {
        let slot = usize::from(id.0);
        slot == self.sets.len() || matches!(self.sets.get(slot), Some(None))
    }

    /// Place among the sets, from 0.
    #[must_use]
    pub fn set_place(&self, id: SetId) -> Option<usize> {
        self.order.iter().position(|other| *other == id)
    }

    /// Ids that no set has, for sets that come in as the `at`-th and behind it, each as long as
    /// the ids before it are taken. Wherever there are such they lie between those of the
    /// neighbours, so that printings in their order are also in the order of the sets.
    ///
    /// The ids end with those that a collection can have.
    pub fn fresh_sets(&self, at: usize) -> impl Iterator<Item = SetId> + '_ {
        let place = |id: &SetId| usize::from(id.0);
        let before = at.checked_sub(1).and_then(|at| self.order.get(at));
        let low = before.map_or(0, |id| place(id) + 1);
        let high = self.order.get(at).map_or(usize::MAX, place);
        let free = |slot: &usize| matches!(self.sets.get(*slot), None | Some(None));
        let between = (low..high.min(self.sets.len())).filter(free);
        let beyond = self.sets.len()..;
        let elsewhere = (0..self.sets.len()).filter(move |slot| !(low..high).contains(slot));
        (between
            .chain(beyond)
            .take_while(|slot| *slot <= usize::from(u16::MAX)))
        .chain(elsewhere.filter(free))
        .map(|slot| SetId(slot as u16))
    }

    /// The set of this code; if none has it as written, the one that has it in another case.
    #[must_use]
    pub fn set_by_code(&self, code: &str) -> Option<SetId> {
        self.codes.get(code).copied().or_else(|| {
            let folded = code.to_lowercase();
            self.sets()
                .find(|(_, set)| set.code().to_lowercase() == folded)
                .map(|(id, _)| id)
        })
    }

    #[must_use]
    pub fn card(&self, printing: PrintingId) -> Option<&Card> {
        self.set(printing.set())?.card(printing.card())
    }

    /// Whether the card exists in this finish.
    #[must_use]
    pub fn has_printing(&self, printing: PrintingId) -> bool {
        self.set(printing.set()).is_some_and(|set| {
            usize::from(printing.finish()) < set.finishes().len()
                && set
                    .card(printing.card())
                    .is_some_and(|card| card.has_finish(printing.finish()))
        })
    }

    /// Copies, pockets and matches of one printing; zero for one that does not exist.
    #[must_use]
    pub fn tally(&self, printing: PrintingId) -> Tally {
        self.set(printing.set())
            .map(|set| set.tally(printing))
            .unwrap_or_default()
    }

    /// The binders in the order in which they stand on the shelf.
    pub fn shelf(&self) -> impl ExactSizeIterator<Item = &Binder> + DoubleEndedIterator {
        self.shelf.iter().map(|id| &*self.binders[id])
    }

    /// How many binders a person calls so.
    #[must_use]
    pub fn binders_called(&self, words: &str) -> usize {
        self.called.get(words).map_or(0, |many| *many as usize)
    }

    /// A binder is named so from now on.
    pub(super) fn note_names(&mut self, spec: &BinderSpec, id: BinderId) {
        self.names.insert(spec.name.clone(), id);
        *self.called.entry(spec.called().into()).or_default() += 1;
    }

    /// A binder is named so no longer.
    pub(super) fn forget_names(&mut self, spec: &BinderSpec) {
        self.names.remove(&spec.name);
        if let Some(many) = self.called.get_mut(spec.called()) {
            *many -= 1;
            if *many == 0 {
                self.called.remove(spec.called());
            }
        }
    }

    /// The binder that stands at this place of the shelf, from 0.
    #[must_use]
    pub fn binder_at(&self, place: usize) -> Option<&Binder> {
        self.shelf.get(place).and_then(|id| self.binder(*id))
    }

    #[must_use]
    pub fn binder(&self, id: BinderId) -> Option<&Binder> {
        self.binders.get(&id).map(|binder| &**binder)
    }

    /// The binder of this name; if none has it as written, the one that has it in another case.
    #[must_use]
    pub fn binder_by_name(&self, name: &str) -> Option<BinderId> {
        self.names.get(name).copied().or_else(|| {
            let folded = name.to_lowercase();
            self.shelf()
                .find(|binder| binder.name().to_lowercase() == folded)
                .map(Binder::id)
        })
    }

    /// The collector's own lists of sections, for any set, in the order of their names.
    pub fn templates(&self) -> impl ExactSizeIterator<Item = (&str, &Rules)> {
        self.templates
            .iter()
            .map(|(name, rules)| (name.as_ref(), rules))
    }

    #[must_use]
    pub fn template(&self, name: &str) -> Option<&Rules> {
        self.templates.get(name)
    }

    /// Place on the shelf, from 0.
    #[must_use]
    pub fn shelf_place(&self, id: BinderId) -> Option<usize> {
        self.shelf.iter().position(|other| *other == id)
    }

    /// An id that no page has.
    #[must_use]
    pub fn fresh_page(&self) -> PageId {
        self.fresh_pages().next().unwrap_or(PageId(u32::MAX))
    }

    /// Ids that no page has, for several that come at once: above all that are in use, and where the
    /// highest there can be is in use, as in a file that was edited by hand, the lowest that are
    /// free.
    pub fn fresh_pages(&self) -> impl Iterator<Item = PageId> + use<'_> {
        let ids = fresh(self.next_page).map(PageId);
        ids.filter(|id| !self.page_binder.contains_key(id))
    }

    /// An id that no binder has.
    #[must_use]
    pub fn fresh_binder(&self) -> BinderId {
        self.fresh_binders().next().unwrap_or(BinderId(u32::MAX))
    }

    /// Ids that no binder has, as [`Collection::fresh_pages`].
    pub fn fresh_binders(&self) -> impl Iterator<Item = BinderId> + use<'_> {
        let ids = fresh(self.next_binder).map(BinderId);
        ids.filter(|id| !self.binders.contains_key(id))
    }

    /// The copy in a pocket.
    #[must_use]
    pub fn held(&self, place: Place) -> Option<PrintingId> {
        self.binder(place.binder)?.held(place.page, place.pocket)
    }

    /// What the layout says of a pocket; `Nothing` where it has no comparable page.
    #[must_use]
    pub fn meaning(&self, place: Place) -> Meaning {
        let binder = self.binder(place.binder);
        binder.map_or(Meaning::Nothing, |binder| {
            binder.meaning(place.page, place.pocket)
        })
    }

    /// Contents and layout of one pocket compared.
    #[must_use]
    pub fn pocket(&self, place: Place) -> PocketState {
        let Some(binder) = self.binder(place.binder) else {
            return PocketState::Unassigned;
        };
        let (page, pocket) = (place.page, place.pocket);
        self.compared(binder.held(page, pocket), binder.meaning(page, pocket))
    }

    /// What a pocket is that holds this and is meant for that.
    #[must_use]
    pub fn compared(&self, held: Option<PrintingId>, meaning: Meaning) -> PocketState {
        match (held, meaning) {
            (Some(held), Meaning::Printing(wanted)) if held == wanted => PocketState::InPlace(held),
            (Some(held), Meaning::Printing(wanted)) => PocketState::Misplaced {
                held,
                wanted: Some(wanted),
            },
            (Some(held), _) => PocketState::Misplaced { held, wanted: None },
            (None, Meaning::Printing(wanted)) => {
                if self.tally(wanted).loose > 0 {
                    PocketState::Waiting(wanted)
                } else {
                    PocketState::Gap(wanted)
                }
            }
            (None, Meaning::Blank) => PocketState::Blank,
            (None, Meaning::Keepsake(words)) => PocketState::Keepsake(words),
            (None, Meaning::Nothing) => PocketState::Unassigned,
        }
    }

    /// Binders in which a card of the set lies or is meant to, in shelf order.
    pub fn binders_of(&self, set: SetId) -> impl Iterator<Item = &Binder> {
        let binders = self.set(set).map_or(&[][..], |set| &set.binders);
        let mut found: Vec<_> = binders
            .iter()
            .filter_map(|(id, _)| self.binder(*id))
            .collect();
        // Nearly every set is in one binder, and then the shelf need not be walked.
        if found.len() > 1 {
            found.sort_by_cached_key(|binder| self.shelf_place(binder.id));
        }
        found.into_iter()
    }

    /// The pockets in which a copy of the printing lies, in shelf order. Walks only the binders
    /// that have to do with its set.
    pub fn places_holding(&self, printing: PrintingId) -> impl Iterator<Item = Place> + '_ {
        self.binders_of(printing.set()).flat_map(move |binder| {
            binder
                .pages
                .iter()
                .enumerate()
                .flat_map(move |(page, real)| {
                    let cards = real.cards.iter().enumerate();
                    cards.filter(move |(_, card)| **card == Some(printing)).map(
                        move |(pocket, _)| Place {
                            binder: binder.id,
                            page,
                            pocket,
                        },
                    )
                })
        })
    }

    /// The pockets that are meant for the printing, in shelf order.
    pub fn places_meant(&self, printing: PrintingId) -> impl Iterator<Item = Place> + '_ {
        self.binders_of(printing.set()).flat_map(move |binder| {
            let pages = binder.layout.pages.iter().enumerate();
            pages.flat_map(move |(page, meant)| {
                meant
                    .printings()
                    .filter(move |(_, other)| *other == printing)
                    .map(move |(pocket, _)| Place {
                        binder: binder.id,
                        page,
                        pocket,
                    })
            })
        })
    }
}

/// From the next one upwards, then those below. The highest number of all is no id, so that there is
/// a next one to each.
fn fresh(next: u32) -> impl Iterator<Item = u32> {
    let next = next.max(1);
    (next..u32::MAX).chain(1..next)
}

#[cfg(test)]
mod tests {
    use crate::model::{BinderId, BinderKind, BinderSpec, Change, Collection, PageFormat, PageId};

    fn add(made: &mut Collection, binder: BinderId, page: PageId) {
        let spec = Box::new(BinderSpec {
            name: format!("B{}", binder.0).into(),
            title: "".into(),
            set: None,
            kind: BinderKind::RINGS,
            front_matter: Vec::new(),
        });
        Change::AddBinder {
            binder,
            at: 0,
            spec,
        }
        .apply(made)
        .unwrap();
        let format = PageFormat::new(1, 1, 1);
        Change::AddPage {
            binder,
            at: 0,
            page,
            format,
        }
        .apply(made)
        .unwrap();
    }

    #[test]
    fn where_the_highest_id_is_in_use_the_lowest_that_is_free_comes_next() {
        let mut made = Collection::new();
        add(&mut made, BinderId(1), PageId(2));
        add(&mut made, BinderId(u32::MAX - 1), PageId(u32::MAX - 1));
        for (binder, page) in [(2, 1), (3, 3), (4, 4)] {
            let fresh = (made.fresh_binder(), made.fresh_page());
            assert_eq!(fresh, (BinderId(binder), PageId(page)));
            add(&mut made, fresh.0, fresh.1);
        }
    }
}
