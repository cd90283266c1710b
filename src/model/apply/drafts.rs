//! Changes of drafts. A draft is counted nowhere: only the layout in force says what is a gap.

use super::ensure::{ensure, ensure_rules, ensure_text};
use super::sections::stale;
use crate::model::binder::{Draft, Layout, LayoutPage};
use crate::model::change::Change;
use crate::model::collection::Collection;
use crate::model::id::{BinderId, PrintingId};
use crate::model::refused::Refused;
use crate::model::set::limits;

impl Collection {
    pub(in crate::model) fn add_draft(
        &mut self,
        id: BinderId,
        at: usize,
        draft: &Draft,
    ) -> Result<(), Refused> {
        let binder = self.binder(id).ok_or(Refused::NoSuchBinder(id))?;
        ensure(at <= binder.drafts.len(), || {
            Refused::Stale("the number of drafts")
        })?;
        ensure_draft_name(&binder.drafts, &draft.name)?;
        for page in &draft.layout.pages {
            self.ensure_layout_page(page)?;
        }
        ensure_rules(&draft.layout.sections)?;
        self.binder_mut(id)?.drafts.insert(at, draft.clone());
        Ok(())
    }

    pub(super) fn drop_draft(
        &mut self,
        id: BinderId,
        at: usize,
        draft: &Draft,
    ) -> Result<(), Refused> {
        let binder = self.binder_mut(id)?;
        ensure(binder.drafts.get(at) == Some(draft), || {
            Refused::Stale("the draft")
        })?;
        binder.drafts.remove(at);
        Ok(())
    }

    pub(super) fn rename_draft(
        &mut self,
        id: BinderId,
        at: usize,
        old: &str,
        new: &str,
    ) -> Result<(), Refused> {
        let binder = self.binder_mut(id)?;
        let there = binder
            .drafts
            .get(at)
            .is_some_and(|draft| &*draft.name == old);
        ensure(there, || Refused::Stale("the draft"))?;
        if old != new {
            ensure_draft_name(&binder.drafts, new)?;
        }
        binder.drafts[at].name = new.into();
        Ok(())
    }

    pub(super) fn swap_layout(&mut self, id: BinderId, at: usize) -> Result<(), Refused> {
        let binder = self.binder_mut(id)?;
        ensure(at < binder.drafts.len(), || Refused::Stale("the draft"))?;
        self.count_layout(id, -1);
        let binder = self.binder_mut(id)?;
        std::mem::swap(&mut binder.layout, &mut binder.drafts[at].layout);
        self.count_layout(id, 1);
        Ok(())
    }

    /// The collection as it would be told if this were the layout in force of a binder. To answer
    /// from, not to be kept: nothing of it is checked, and no change leads there.
    #[must_use]
    pub(crate) fn with_layout(mut self, id: BinderId, layout: Layout) -> Self {
        self.count_layout(id, -1);
        if let Ok(binder) = self.binder_mut(id) {
            binder.layout = layout;
        }
        self.count_layout(id, 1);
        self
    }

    /// Counts the layout in force in (`sign` 1) or out (-1), as a whole.
    fn count_layout(&mut self, id: BinderId, sign: i32) {
        if sign < 0 {
            self.matches(id, .., sign);
        }
        let layout = self.binder(id).map(|binder| &binder.layout);
        let meant: Vec<PrintingId> = layout.map_or_else(Vec::new, |layout| {
            let pages = layout.pages.iter();
            pages
                .flat_map(|page| page.printings().map(|(_, printing)| printing))
                .collect()
        });
        for printing in meant {
            self.count_meant(id, printing, sign);
        }
        if sign > 0 {
            self.matches(id, .., sign);
        }
    }

    pub(super) fn in_draft(&mut self, draft: usize, change: &Change) -> Result<(), Refused> {
        match change {
            Change::AddLayoutPage { binder, at, page } => {
                self.ensure_layout_page(page)?;
                let layout = self.draft_mut(*binder, draft)?;
                ensure(*at <= layout.pages.len(), || {
                    Refused::Stale("the number of pages in the draft")
                })?;
                layout.pages.insert(*at, (**page).clone());
            }
            Change::RemoveLayoutPage { binder, at, page } => {
                let layout = self.draft_mut(*binder, draft)?;
                ensure(layout.pages.get(*at) == Some(&**page), || {
                    Refused::Stale("the page of the draft")
                })?;
                layout.pages.remove(*at);
            }
            Change::MoveLayoutPage { binder, from, to } => {
                let layout = self.draft_mut(*binder, draft)?;
                let pages = layout.pages.len();
                ensure(*from < pages && *to < pages, || {
                    Refused::Stale("the number of pages in the draft")
                })?;
                let moved = layout.pages.remove(*from);
                layout.pages.insert(*to, moved);
            }
            Change::Mean { place, old, new } => {
                self.ensure_meaning(new)?;
                let layout = self.draft_mut(place.binder, draft)?;
                let page = layout.pages.get_mut(place.page);
                let page = page.filter(|page| place.pocket < page.slots.len());
                let page = page.ok_or(Refused::NoSuchPlace(*place))?;
                ensure(page.meaning(place.pocket) == *old, || {
                    Refused::Stale("what the pocket is for")
                })?;
                page.set_meaning(place.pocket, new.clone());
            }
            Change::SetSections { binder, old, new } => {
                ensure_rules(new)?;
                let layout = self.draft_mut(*binder, draft)?;
                ensure(layout.sections == *old, stale)?;
                layout.sections.clone_from(new);
            }
            _ => {
                return Err(Refused::Unfit(
                    "a draft takes changes of a layout only".into(),
                ));
            }
        }
        Ok(())
    }

    fn draft_mut(&mut self, id: BinderId, at: usize) -> Result<&mut Layout, Refused> {
        let draft = self.binder_mut(id)?.drafts.get_mut(at);
        draft
            .map(|draft| &mut draft.layout)
            .ok_or(Refused::Stale("the draft"))
    }

    /// Whether a draft has a pocket for a printing of this kind. Walks every draft.
    pub(super) fn is_drafted(&self, like: impl Fn(PrintingId) -> bool) -> bool {
        let drafts = self.binders.values().flat_map(|binder| &binder.drafts);
        let pages = drafts.flat_map(|draft| &draft.layout.pages);
        pages
            .flat_map(LayoutPage::printings)
            .any(|(_, printing)| like(printing))
    }
}

fn ensure_draft_name(drafts: &[Draft], name: &str) -> Result<(), Refused> {
    ensure_text("a draft's name", name, limits::TEXT)?;
    ensure(!name.trim().is_empty(), || {
        Refused::Unfit("a draft needs a name".into())
    })?;
    ensure(drafts.iter().all(|draft| &*draft.name != name), || {
        Refused::Unfit("a draft of this name is there already".into())
    })
}
