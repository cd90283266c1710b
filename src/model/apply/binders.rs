//! Changes of the shelf and of the physical pages of binders.

use std::sync::Arc;

use super::ensure::{ensure, ensure_spec};
use crate::model::binder::{Binder, BinderSpec, Layout, Page};
use crate::model::collection::Collection;
use crate::model::format::PageFormat;
use crate::model::id::{BinderId, PageId};
use crate::model::pocket::PagePlace;
use crate::model::refused::Refused;

impl Collection {
    pub(super) fn binder_mut(&mut self, id: BinderId) -> Result<&mut Binder, Refused> {
        self.binder_to_alter(id).ok_or(Refused::NoSuchBinder(id))
    }

    pub(super) fn add_binder(
        &mut self,
        id: BinderId,
        at: usize,
        spec: &BinderSpec,
    ) -> Result<(), Refused> {
        ensure_spec(spec, self)?;
        ensure(!self.binders.contains_key(&id) && id.0 != u32::MAX, || {
            Refused::BinderTaken(id)
        })?;
        ensure(!self.names.contains_key(&spec.name), || {
            Refused::NameTaken(spec.name.clone())
        })?;
        ensure(at <= self.shelf.len(), || Refused::Stale("the shelf"))?;
        self.shelf.insert(at, id);
        self.note_names(spec, id);
        self.next_binder = self.next_binder.max(id.0 + 1);
        let binder = Binder::empty(id, spec.clone());
        self.binders.insert(id, Arc::new(binder));
        Ok(())
    }

    pub(super) fn remove_binder(
        &mut self,
        id: BinderId,
        at: usize,
        spec: &BinderSpec,
    ) -> Result<(), Refused> {
        let binder = self.binder_mut(id)?;
        ensure(binder.spec == *spec, || Refused::Stale("the binder"))?;
        let empty = binder.pages.is_empty()
            && binder.layout == Layout::default()
            && binder.drafts.is_empty();
        ensure(empty, || Refused::InUse("the binder"))?;
        ensure(self.shelf.get(at) == Some(&id), || {
            Refused::Stale("the binder's place on the shelf")
        })?;
        self.shelf.remove(at);
        self.forget_names(spec);
        self.binders.remove(&id);
        Ok(())
    }

    pub(super) fn edit_binder(
        &mut self,
        id: BinderId,
        old: &BinderSpec,
        new: &BinderSpec,
    ) -> Result<(), Refused> {
        ensure_spec(new, self)?;
        let taken = self.names.get(&new.name).is_some_and(|other| *other != id);
        ensure(!taken, || Refused::NameTaken(new.name.clone()))?;
        let binder = self.binder_mut(id)?;
        ensure(binder.spec == *old, || Refused::Stale("the binder"))?;
        binder.spec = new.clone();
        self.forget_names(old);
        self.note_names(new, id);
        Ok(())
    }

    pub(super) fn move_binder(
        &mut self,
        id: BinderId,
        from: usize,
        to: usize,
    ) -> Result<(), Refused> {
        ensure(
            self.shelf.get(from) == Some(&id) && to < self.shelf.len(),
            || Refused::Stale("the binder's place on the shelf"),
        )?;
        self.shelf.remove(from);
        self.shelf.insert(to, id);
        Ok(())
    }

    pub(super) fn add_page(
        &mut self,
        id: BinderId,
        at: usize,
        page: PageId,
        format: PageFormat,
    ) -> Result<(), Refused> {
        ensure(format.is_possible(), || {
            Refused::Unfit(format!(
                "a page has 1 to {} rows and columns and 1 or 2 sides",
                PageFormat::MOST
            ))
        })?;
        ensure(
            !self.page_binder.contains_key(&page) && page.0 != u32::MAX,
            || Refused::PageTaken(page),
        )?;
        let binder = self.binder_mut(id)?;
        ensure(at <= binder.pages.len(), || {
            Refused::Stale("the number of pages")
        })?;
        self.matches(id, at.., -1);
        let binder = self.binder_mut(id)?;
        binder.tally.pockets += format.pockets() as u32;
        binder.pages.insert(at, Page::empty(page, format));
        self.page_binder.insert(page, id);
        self.next_page = self.next_page.max(page.0 + 1);
        self.matches(id, at.., 1);
        Ok(())
    }

    pub(super) fn remove_page(
        &mut self,
        id: BinderId,
        at: usize,
        page: PageId,
        format: PageFormat,
    ) -> Result<(), Refused> {
        let binder = self.binder_mut(id)?;
        let real = binder.pages.get(at).ok_or(Refused::NoSuchPage(page))?;
        ensure(real.id == page && real.format == format, || {
            Refused::Stale("the page")
        })?;
        ensure(real.cards.iter().all(Option::is_none), || {
            Refused::PageNotEmpty(page)
        })?;
        self.matches(id, at.., -1);
        let binder = self.binder_mut(id)?;
        binder.tally.pockets -= format.pockets() as u32;
        binder.pages.remove(at);
        self.page_binder.remove(&page);
        self.matches(id, at.., 1);
        Ok(())
    }

    pub(super) fn move_page(
        &mut self,
        page: PageId,
        from: PagePlace,
        to: PagePlace,
    ) -> Result<(), Refused> {
        let (at, place) = (from.page, to.page);
        let (from, to) = (from.binder, to.binder);
        let source = self.binder(from).ok_or(Refused::NoSuchBinder(from))?;
        let target = self.binder(to).ok_or(Refused::NoSuchBinder(to))?;
        for binder in [source, target] {
            ensure(binder.spec.kind.pages_move(), || {
                Refused::PagesFixed(binder.id)
            })?;
        }
        let real = source.pages.get(at).ok_or(Refused::NoSuchPage(page))?;
        ensure(real.id == page, || Refused::Stale("the page's place"))?;
        let room = target.pages.len() - usize::from(from == to);
        ensure(place <= room, || Refused::Stale("the number of pages"))?;
        if from == to {
            let (low, high) = (at.min(place), at.max(place) + 1);
            self.matches(from, low..high, -1);
            let binder = self.binder_mut(from)?;
            let moved = binder.pages.remove(at);
            binder.pages.insert(place, moved);
            self.matches(from, low..high, 1);
            return Ok(());
        }
        self.matches(from, at.., -1);
        self.matches(to, place.., -1);
        let source = self.binder_mut(from)?;
        let moved = source.pages.remove(at);
        let pockets = moved.cards.len() as u32;
        let filled = moved.cards.iter().flatten().count() as u32;
        source.tally.pockets -= pockets;
        source.tally.filled -= filled;
        let target = self.binder_mut(to)?;
        target.tally.pockets += pockets;
        target.tally.filled += filled;
        for card in moved.cards.iter().flatten() {
            self.forget(card.set(), from);
            self.remember(card.set(), to);
        }
        self.binder_mut(to)?.pages.insert(place, moved);
        self.page_binder.insert(page, to);
        self.matches(from, at.., 1);
        self.matches(to, place.., 1);
        Ok(())
    }
}
