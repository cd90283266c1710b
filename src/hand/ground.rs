//! The ground that deeds are done on: a real binder, or one of its drafts.

use crate::model::{
    Binder, BinderId, Change, Collection, Layout, LayoutPage, Meaning, Page, PageFormat, Place,
    PrintingId, Side,
};

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

    /// The printing that it is about: what is held, else what is meant.
    pub(super) fn printing(&self) -> Option<PrintingId> {
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
        collection.binder(self.binder).ok_or("the binder is gone")
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
                .ok_or("the draft is gone"),
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

    #[must_use]
    pub fn place(self, page: usize, pocket: usize) -> Place {
        Place {
            binder: self.binder,
            page,
            pocket,
        }
    }

    /// What a pocket holds and is for.
    #[must_use]
    pub fn unit(self, collection: &Collection, place: Place) -> Unit {
        if self.is_real() {
            return Unit {
                held: collection.held(place),
                meaning: collection.meaning(place),
            };
        }
        let layout = self.layout(collection).ok();
        let page = layout.and_then(|layout| layout.pages.get(place.page));
        Unit {
            held: None,
            meaning: page.map_or(Meaning::Nothing, |page| page.meaning(place.pocket)),
        }
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

    /// The changes that leave these units at these places, all others as they are. Cards come out
    /// before others go in, so that every copy is at hand when its turn comes.
    ///
    /// # Errors
    /// A place that is not there; a back pocket that shares its place with a filled front.
    pub(super) fn rewrite(
        self,
        collection: &Collection,
        wanted: &[(Place, Unit)],
    ) -> Result<Vec<Change>, Cannot> {
        let (mut lifts, mut means, mut seats) = (Vec::new(), Vec::new(), Vec::new());
        for (place, new) in wanted {
            let old = self.unit(collection, *place);
            if old == *new {
                continue;
            }
            if old.held != new.held {
                let binder = self.binder(collection)?;
                let page = binder.pages().get(place.page).ok_or("there is no page")?;
                ensure_reach(page, place.pocket, wanted)?;
                let (page, place) = (page.id(), *place);
                lifts.extend(old.held.map(|printing| Change::Lift {
                    place,
                    page,
                    printing,
                }));
                seats.extend(new.held.map(|printing| Change::Seat {
                    place,
                    page,
                    printing,
                }));
            }
            if old.meaning != new.meaning {
                means.push(self.change(Change::Mean {
                    place: *place,
                    old: old.meaning,
                    new: new.meaning.clone(),
                }));
            }
        }
        lifts.append(&mut means);
        lifts.append(&mut seats);
        Ok(lifts)
    }
}

/// A card behind another in a shared pocket cannot be moved without the one in front.
fn ensure_reach(page: &Page, pocket: usize, wanted: &[(Place, Unit)]) -> Result<(), Cannot> {
    let format = page.format();
    let behind = format.shared && format.at(pocket).is_some_and(|at| at.side == Side::Back);
    if !behind {
        return Ok(());
    }
    let front = pocket - format.per_side();
    let stays = page.cards()[front].is_some() && !wanted.iter().any(|(p, _)| p.pocket == front);
    if stays {
        Err("front and back share a pocket here: the card in front is in the way")
    } else {
        Ok(())
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
