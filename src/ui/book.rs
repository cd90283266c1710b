//! A binder as it is leafed through: the real one or a draft of it, its pages in the order in which
//! they would stand if those in hand were put down.

use std::ops::Range;
use std::rc::Rc;

use crate::hand::{Ground, OpenWork, PageGoes};
use crate::model::{
    Binder, Collection, Draft, Layout, LayoutPage, Meaning, Page, PageFormat, Place, PocketState,
};
use crate::plan::Cost;

/// Pages in hand: the run that was picked up, and the place where it would be put down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Lifted {
    pub(super) run: Range<usize>,
    pub(super) to: usize,
}

/// Whose pages they are.
#[derive(Clone, Copy, Debug)]
enum Whose<'a> {
    Real,
    Draft(&'a Draft),
    /// Of nothing that is kept.
    Proposed,
}

/// What is leafed through. Positions are those on the screen; [`Book::page`] gives the page that
/// stands there.
#[derive(Clone, Debug)]
pub(super) struct Book<'a> {
    pub(super) collection: &'a Collection,
    pub(super) binder: &'a Binder,
    whose: Whose<'a>,
    layout: &'a Layout,
    lifted: Option<Lifted>,
    /// What is still to be done here, where the real binder has not come to its layout yet.
    work: Option<Rc<OpenWork>>,
}

impl<'a> Book<'a> {
    /// `None` when the binder or the draft is gone.
    pub(super) fn open(
        collection: &'a Collection,
        ground: Ground,
        lifted: Option<Lifted>,
    ) -> Option<Self> {
        let binder = collection.binder(ground.binder)?;
        let (whose, layout) = match ground.draft {
            None => (Whose::Real, binder.layout()),
            Some(at) => {
                let draft = binder.drafts().get(at)?;
                (Whose::Draft(draft), &draft.layout)
            }
        };
        Some(Self {
            collection,
            binder,
            whose,
            layout,
            lifted,
            work: None,
        })
    }

    /// With the work that is still to be done in the real binder.
    pub(super) fn with_work(mut self, work: Option<Rc<OpenWork>>) -> Self {
        self.work = work.filter(|_| self.is_real());
        self
    }

    /// Whether they are the pages that there are, with the cards that lie in them.
    pub(super) fn is_real(&self) -> bool {
        matches!(self.whose, Whose::Real)
    }

    /// The draft that they are of.
    pub(super) fn draft(&self) -> Option<&'a Draft> {
        match self.whose {
            Whose::Draft(draft) => Some(draft),
            Whose::Real | Whose::Proposed => None,
        }
    }

    /// What is still to be done, in all.
    pub(super) fn to_do(&self) -> Option<Cost> {
        self.work.as_ref().map(|work| work.cost)
    }

    /// Whether pages are still to be moved, put in or taken out, so that they count otherwise then.
    pub(super) fn pages_count_otherwise(&self) -> bool {
        let work = self.work.as_ref();
        work.is_some_and(|work| work.cost.pages() > 0)
    }

    /// Whether pages stand elsewhere than they are to: what is told of their pockets is then not
    /// what the layout has for the place where they stand.
    pub(super) fn moves_pages(&self) -> bool {
        self.work.as_ref().is_some_and(|work| work.moves_pages())
    }

    /// Where a page (not a position) is when the work is done, if that is another place.
    pub(super) fn goes_to(&self, page: usize) -> Option<PageGoes> {
        self.work.as_ref()?.page_goes_to(page)
    }

    /// Whether the card in this pocket of a page goes to its place with it.
    pub(super) fn rides(&self, page: usize, pocket: usize) -> bool {
        let work = self.work.as_ref();
        work.is_some_and(|work| work.rides(self.binder, page, pocket))
    }

    /// A layout that is not kept, as a draft would show it.
    pub(super) fn proposed(
        collection: &'a Collection,
        binder: &'a Binder,
        layout: &'a Layout,
    ) -> Self {
        Self {
            collection,
            binder,
            whose: Whose::Proposed,
            layout,
            lifted: None,
            work: None,
        }
    }

    /// Whether no pocket of the draft is meant for anything yet.
    pub(super) fn is_for_nothing(&self) -> bool {
        let mut pages = self.layout.pages.iter();
        !self.is_real()
            && pages.all(|page| {
                (0..page.format().pockets()).all(|pocket| page.meaning(pocket) == Meaning::Nothing)
            })
    }

    pub(super) fn len(&self) -> usize {
        if self.is_real() {
            self.binder.pages().len()
        } else {
            self.layout.pages.len()
        }
    }

    /// The page that stands at this position.
    pub(super) fn page(&self, at: usize) -> usize {
        let Some(Lifted { run, to }) = &self.lifted else {
            return at;
        };
        if (*to..to + run.len()).contains(&at) {
            return run.start + at - to;
        }
        let rest = if at < *to { at } else { at - run.len() };
        if rest < run.start {
            rest
        } else {
            rest + run.len()
        }
    }

    /// Whether the page at this position is in hand.
    pub(super) fn is_lifted(&self, at: usize) -> bool {
        let run = self.lifted.as_ref().map(|lifted| &lifted.run);
        run.is_some_and(|run| run.contains(&self.page(at)))
    }

    pub(super) fn format(&self, at: usize) -> Option<PageFormat> {
        let page = self.page(at);
        if self.is_real() {
            self.binder.pages().get(page).map(Page::format)
        } else {
            self.layout.pages.get(page).map(LayoutPage::format)
        }
    }

    pub(super) fn place(&self, at: usize, pocket: usize) -> Place {
        Place {
            binder: self.binder.id(),
            page: self.page(at),
            pocket,
        }
    }

    /// Pockets that are meant for a card, and those of them in which one is shown.
    pub(super) fn filled(&self) -> (u32, u32) {
        let (mut meant, mut filled) = (0, 0);
        for (at, page) in self.layout.pages.iter().enumerate() {
            for pocket in 0..page.format().pockets() {
                let state = self.state_of(at, pocket);
                meant += u32::from(state.wanted().is_some());
                filled += u32::from(matches!(state, PocketState::InPlace(_)));
            }
        }
        (meant, filled)
    }

    /// What a pocket shows. In a draft a planned card is shown as there when a copy lies in a
    /// pocket, wherever that is, and as waiting when there are only loose ones.
    pub(super) fn state(&self, at: usize, pocket: usize) -> PocketState {
        self.state_of(self.page(at), pocket)
    }

    /// The same of a page, wherever it stands. A page that is still to be moved keeps what it is
    /// meant for.
    pub(super) fn state_of(&self, page: usize, pocket: usize) -> PocketState {
        if !self.is_real() {
            return match self.meant(page, pocket) {
                Meaning::Printing(printing) => {
                    let tally = self.collection.tally(printing);
                    match (tally.pocketed, tally.loose) {
                        (0, 0) => PocketState::Gap(printing),
                        (0, _) => PocketState::Waiting(printing),
                        _ => PocketState::InPlace(printing),
                    }
                }
                Meaning::Blank => PocketState::Blank,
                Meaning::Keepsake(words) => PocketState::Keepsake(words),
                Meaning::Nothing => PocketState::Unassigned,
            };
        }
        let real = self.binder.pages().get(page);
        let held = real.and_then(|real| real.cards().get(pocket).copied().flatten());
        let work = self.work.as_ref().and_then(|work| work.layout());
        let meant = work.unwrap_or(self.layout).pages.get(page);
        let meant =
            meant.filter(|meant| real.is_some_and(|real| real.format().same_grid(&meant.format())));
        let meant = meant.map_or(Meaning::Nothing, |meant| meant.meaning(pocket));
        self.collection.compared(held, meant)
    }

    /// Whether a pocket of a draft is meant for something else than in the layout in force.
    pub(super) fn differs(&self, at: usize, pocket: usize) -> bool {
        if self.is_real() {
            return false;
        }
        let page = self.page(at);
        let now = self.binder.layout().pages.get(page);
        let same_grid = now
            .zip(self.layout.pages.get(page))
            .is_some_and(|(now, new)| now.format().same_grid(&new.format()));
        let now = now.filter(|_| same_grid);
        now.map_or(Meaning::Nothing, |now| now.meaning(pocket)) != self.meant(page, pocket)
    }

    fn meant(&self, page: usize, pocket: usize) -> Meaning {
        let page = self.layout.pages.get(page);
        page.map_or(Meaning::Nothing, |page| page.meaning(pocket))
    }
}
