//! Changes of a binder's layout.

use super::ensure::{ensure, ensure_text};
use crate::model::binder::{LayoutPage, Meaning};
use crate::model::collection::Collection;
use crate::model::id::BinderId;
use crate::model::pocket::Place;
use crate::model::refused::Refused;
use crate::model::set::limits;

impl Collection {
    pub(super) fn add_layout_page(
        &mut self,
        id: BinderId,
        at: usize,
        page: &LayoutPage,
    ) -> Result<(), Refused> {
        self.ensure_layout_page(page)?;
        let binder = self.binder(id).ok_or(Refused::NoSuchBinder(id))?;
        ensure(at <= binder.layout.pages.len(), || {
            Refused::Stale("the number of pages in the layout")
        })?;
        self.matches(id, at.., -1);
        for (_, printing) in page.printings() {
            self.count_meant(id, printing, 1);
        }
        self.binder_mut(id)?.layout.pages.insert(at, page.clone());
        self.matches(id, at.., 1);
        Ok(())
    }

    pub(super) fn remove_layout_page(
        &mut self,
        id: BinderId,
        at: usize,
        page: &LayoutPage,
    ) -> Result<(), Refused> {
        let binder = self.binder_mut(id)?;
        ensure(binder.layout.pages.get(at) == Some(page), || {
            Refused::Stale("the page of the layout")
        })?;
        self.matches(id, at.., -1);
        for (_, printing) in page.printings() {
            self.count_meant(id, printing, -1);
        }
        self.binder_mut(id)?.layout.pages.remove(at);
        self.matches(id, at.., 1);
        Ok(())
    }

    pub(super) fn move_layout_page(
        &mut self,
        id: BinderId,
        from: usize,
        to: usize,
    ) -> Result<(), Refused> {
        let pages = self.binder_mut(id)?.layout.pages.len();
        ensure(from < pages && to < pages, || {
            Refused::Stale("the number of pages in the layout")
        })?;
        let (low, high) = (from.min(to), from.max(to) + 1);
        self.matches(id, low..high, -1);
        let layout = &mut self.binder_mut(id)?.layout;
        let moved = layout.pages.remove(from);
        layout.pages.insert(to, moved);
        self.matches(id, low..high, 1);
        Ok(())
    }

    pub(super) fn mean(
        &mut self,
        place: Place,
        old: &Meaning,
        new: &Meaning,
    ) -> Result<(), Refused> {
        let binder = self.binder(place.binder);
        let binder = binder.ok_or(Refused::NoSuchBinder(place.binder))?;
        let page = binder.layout.pages.get(place.page);
        let page = page.filter(|page| place.pocket < page.slots.len());
        let page = page.ok_or(Refused::NoSuchPlace(place))?;
        ensure(page.meaning(place.pocket) == *old, || {
            Refused::Stale("what the pocket is for")
        })?;
        self.ensure_meaning(new)?;
        let pocket = place.pocket..place.pocket + 1;
        self.matches_within(place.binder, place.page..place.page + 1, pocket.clone(), -1);
        for (meaning, sign) in [(old, -1), (new, 1)] {
            if let Meaning::Printing(printing) = meaning {
                self.count_meant(place.binder, *printing, sign);
            }
        }
        let page = &mut self.binder_mut(place.binder)?.layout.pages[place.page];
        page.set_meaning(place.pocket, new.clone());
        self.matches_within(place.binder, place.page..place.page + 1, pocket, 1);
        Ok(())
    }

    /// A page that any layout takes.
    pub(super) fn ensure_layout_page(&self, page: &LayoutPage) -> Result<(), Refused> {
        ensure(page.format.is_possible(), || {
            Refused::Unfit("the page of the layout is not a possible page".into())
        })?;
        for (_, printing) in page.printings() {
            self.ensure_printing(printing)?;
        }
        for (_, words) in &page.keepsakes {
            ensure_text("a keepsake", words, limits::TEXT)?;
        }
        Ok(())
    }

    pub(super) fn ensure_meaning(&self, meaning: &Meaning) -> Result<(), Refused> {
        match meaning {
            Meaning::Printing(printing) => self.ensure_printing(*printing),
            Meaning::Keepsake(words) => ensure_text("a keepsake", words, limits::TEXT),
            Meaning::Nothing | Meaning::Blank => Ok(()),
        }
    }
}
