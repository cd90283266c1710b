//! The ground that deeds are done on: a real binder, or one of its drafts.

use std::collections::HashMap;

use crate::model::{
    Binder, BinderId, Change, Collection, Layout, LayoutPage, Meaning, Page, PageFormat, Place,
    PrintingId, Step,
};
use crate::report::pocket_words;
use crate::text;

use super::Cannot;

/// A binder as it stands (`draft` is `None`), or the draft at this place among its drafts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Ground {
    pub binder: BinderId,
    pub draft: Option<usize>,
}

/// What a pocket holds and what it is for: the thing that is carried. In a draft nothing is held.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Unit {
    pub held: Option<PrintingId>,
    pub meaning: Meaning,
}

impl Unit {
    /// Nothing in it and meant for nothing: room.
    #[must_use]
    pub fn is_room(&self) -> bool {
        self.held.is_none() && self.meaning == Meaning::Nothing
    }

    /// Blanks and keepsakes stay where they are when others are pushed along.
    pub(super) fn stays(&self) -> bool {
        self.held.is_none() && matches!(self.meaning, Meaning::Blank | Meaning::Keepsake(_))
    }

    /// A card in the pocket that is meant for it.
    pub(super) fn is_in_place(&self) -> bool {
        self.held
            .is_some_and(|held| self.meaning == Meaning::Printing(held))
    }

    /// A card in a pocket that is not meant for it. What the pocket is for is not the card's, and
    /// does not travel with it.
    pub(super) fn is_misplaced(&self) -> bool {
        self.held.is_some() && !self.is_in_place()
    }

    /// The printing that it is about: what is held, else what is meant.
    #[must_use]
    pub fn printing(&self) -> Option<PrintingId> {
        self.held.or(match self.meaning {
            Meaning::Printing(printing) => Some(printing),
            _ => None,
        })
    }
}

impl Ground {
    #[must_use]
    pub fn real(binder: BinderId) -> Self {
        Self {
            binder,
            draft: None,
        }
    }

    #[must_use]
    pub fn is_real(self) -> bool {
        self.draft.is_none()
    }

    pub(super) fn binder(self, collection: &Collection) -> Result<&Binder, Cannot> {
        collection.binder(self.binder).ok_or(Cannot::BinderGone)
    }

    /// The layout that deeds here alter.
    ///
    /// # Errors
    /// The binder or the draft is gone.
    pub fn layout(self, collection: &Collection) -> Result<&Layout, Cannot> {
        let binder = self.binder(collection)?;
        match self.draft {
            None => Ok(binder.layout()),
            Some(at) => binder
                .drafts()
                .get(at)
                .map(|draft| &draft.layout)
                .ok_or(Cannot::DraftGone),
        }
    }

    /// The formats of the pages in their order: the physical ones, or those of the draft.
    #[must_use]
    pub fn formats(self, collection: &Collection) -> Vec<PageFormat> {
        if self.is_real() {
            let binder = collection.binder(self.binder);
            let pages = binder.map_or(&[][..], Binder::pages);
            return pages.iter().map(Page::format).collect();
        }
        let layout = self.layout(collection);
        let pages = layout.map_or(&[][..], |layout| &layout.pages);
        pages.iter().map(LayoutPage::format).collect()
    }

    /// The format of one page; of the layout's page where no physical one stands yet.
    pub(super) fn format(self, collection: &Collection, page: usize) -> Option<PageFormat> {
        let binder = collection.binder(self.binder)?;
        let real = binder.pages().get(page).filter(|_| self.is_real());
        real.map(Page::format).or_else(|| {
            let layout = self.layout(collection).ok()?;
            layout.pages.get(page).map(LayoutPage::format)
        })
    }

    #[must_use]
    pub fn place(self, page: usize, pocket: usize) -> Place {
        Place {
            binder: self.binder,
            page,
            pocket,
        }
    }

    /// A pocket of this ground in words: `page 4, back, row 1, pocket 2`. The pages of a draft are
    /// its own, so [`crate::report::place_words`] does not do for them.
    #[must_use]
    pub fn words(self, collection: &Collection, place: Place) -> String {
        let format = self.format(collection, place.page);
        match format.and_then(|format| format.at(place.pocket)) {
            Some(at) => pocket_words(place.page, at),
            None => format!("page {}, pocket {}", place.page + 1, place.pocket + 1),
        }
    }

    /// A step under these words; in a draft its name stands beside them.
    pub(super) fn step(self, collection: &Collection, words: &str, changes: Vec<Change>) -> Step {
        let drafts = collection.binder(self.binder).map(Binder::drafts);
        let draft = self.draft.and_then(|at| drafts?.get(at));
        match draft {
            Some(draft) => {
                let name = quoted(&draft.name);
                Step::new(format!("{words}, in draft {name}"), changes)
            }
            None => Step::new(words, changes),
        }
    }

    /// What a pocket holds and is for.
    #[must_use]
    pub fn unit(self, collection: &Collection, place: Place) -> Unit {
        let ground = match self.is_real() {
            true => Self::real(place.binder),
            false => self,
        };
        let pockets = ground.pockets(collection);
        pockets.unit(place.page, place.pocket)
    }

    /// The pockets of this ground, found once for as many as are asked for.
    pub(super) fn pockets(self, collection: &Collection) -> Pockets<'_> {
        Pockets {
            real: collection.binder(self.binder).filter(|_| self.is_real()),
            layout: self.layout(collection).ok(),
        }
    }

    /// Whether the layout has another page format where this physical one stands, so that its
    /// pockets cannot be given a meaning.
    pub(super) fn is_closed(self, collection: &Collection, page: usize) -> bool {
        let Some(binder) = collection.binder(self.binder).filter(|_| self.is_real()) else {
            return false;
        };
        let both = binder.pages().len().min(binder.layout().pages.len());
        page < both && !binder.comparable(page)
    }

    /// A change of the layout, made where this ground keeps it.
    pub(super) fn change(self, change: Change) -> Change {
        match self.draft {
            None => change,
            Some(draft) => Change::InDraft {
                draft,
                change: Box::new(change),
            },
        }
    }

    pub(super) fn add_layout_page(self, at: usize, page: LayoutPage) -> Change {
        self.change(Change::AddLayoutPage {
            binder: self.binder,
            at,
            page: Box::new(page),
        })
    }

    /// The changes after which the layout has a page, if only an empty one, for each of the first
    /// `pages` physical ones.
    pub(super) fn extended(self, collection: &Collection, pages: usize) -> Vec<Change> {
        let layout = self.layout(collection).map_or(0, |all| all.pages.len());
        let formats = self.formats(collection);
        let missing = formats.iter().enumerate().take(pages).skip(layout);
        missing
            .map(|(at, format)| self.add_layout_page(at, LayoutPage::empty(*format)))
            .collect()
    }
}

/// Whether a card in a pocket of the one fits a pocket of the other: the same inner size where
/// both are known, else the same grid.
pub(super) fn same_pocket(a: PageFormat, b: PageFormat) -> bool {
    let known = |format: PageFormat| format.pocket_width > 0 && format.pocket_height > 0;
    if known(a) && known(b) {
        (a.pocket_width, a.pocket_height) == (b.pocket_width, b.pocket_height)
    } else {
        (a.rows, a.columns) == (b.rows, b.columns)
    }
}

/// Tells whether a printing has a pocket in the layout in force of a binder other than this one. The
/// pockets are counted, not gone through once more for each printing.
pub(super) fn meant_elsewhere(
    collection: &Collection,
    binder: &Binder,
) -> impl Fn(PrintingId) -> bool {
    let mut here: HashMap<PrintingId, u32> = HashMap::new();
    for page in &binder.layout().pages {
        for (_, printing) in page.printings() {
            *here.entry(printing).or_default() += 1;
        }
    }
    move |printing| {
        let here = here.get(&printing).copied().unwrap_or(0);
        collection.tally(printing).meant > here
    }
}

/// Columns of a draft's name in a sentence, so that the rest of it has room beside it.
const NAME: usize = 32;

/// The name of a draft as it stands in a sentence.
pub(super) fn quoted(name: &str) -> String {
    format!("\u{201c}{}\u{201d}", text::fit(name, NAME, '…'))
}

/// What the pockets of a ground hold and are for.
#[derive(Clone, Copy)]
pub(super) struct Pockets<'c> {
    /// The binder, where it is the real one that is asked about.
    real: Option<&'c Binder>,
    layout: Option<&'c Layout>,
}

impl Pockets<'_> {
    pub(super) fn unit(&self, page: usize, pocket: usize) -> Unit {
        if let Some(binder) = self.real {
            return Unit {
                held: binder.held(page, pocket),
                meaning: binder.meaning(page, pocket),
            };
        }
        let page = self.layout.and_then(|layout| layout.pages.get(page));
        Unit {
            held: None,
            meaning: page.map_or(Meaning::Nothing, |page| page.meaning(pocket)),
        }
    }
}
