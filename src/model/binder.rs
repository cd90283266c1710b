//! Binders: their physical pages with what lies in them, and the layout that says what should.

use std::sync::Arc;

use super::format::PageFormat;
use super::id::{BinderId, PageId, PrintingId, SetId};
use super::tally::BinderTally;
use crate::text::Choice;

/// The shape of a ring, which decides how much of its size is of use.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RingShape {
    Round,
    D,
}

impl Choice for RingShape {
    const WORDS: &'static [(&'static str, Self)] = &[("round", Self::Round), ("D", Self::D)];
}

/// How a binder holds its pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BinderKind {
    /// Pages move. `size` is the ring's in millimetres; 0 when not known.
    Rings { size: u16, shape: RingShape },
    /// Pages are bound in and stay where they are.
    Fixed,
}

impl BinderKind {
    /// Rings of which no more is known.
    pub const RINGS: Self = Self::Rings {
        size: 0,
        shape: RingShape::D,
    };

    #[must_use]
    pub fn pages_move(self) -> bool {
        matches!(self, Self::Rings { .. })
    }
}

/// What the collector says of a binder: everything but its pages and its place on the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BinderSpec {
    /// Unique in the collection, without spaces; what commands and files say.
    pub name: Box<str>,
    /// What stands on the spine.
    pub title: Box<str>,
    /// The set it is mostly for: gives the spine its symbol and number.
    pub set: Option<SetId>,
    pub kind: BinderKind,
    /// What lies before the first page (a contents sheet, a picture), a line each.
    pub front_matter: Vec<Box<str>>,
}

impl BinderSpec {
    /// What a person calls it: the title on its spine, or its name where there is none.
    #[must_use]
    pub fn called(&self) -> &str {
        match &*self.title {
            "" => &self.name,
            title => title,
        }
    }
}

/// One physical sheet of pockets and the copies in them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    pub(super) id: PageId,
    pub(super) format: PageFormat,
    pub(super) cards: Box<[Option<PrintingId>]>,
}

impl Page {
    pub(super) fn empty(id: PageId, format: PageFormat) -> Self {
        Self {
            id,
            format,
            cards: vec![None; format.pockets()].into(),
        }
    }

    #[must_use]
    pub fn id(&self) -> PageId {
        self.id
    }

    #[must_use]
    pub fn format(&self) -> PageFormat {
        self.format
    }

    /// The copies by pocket index: front row by row, then back.
    #[must_use]
    pub fn cards(&self) -> &[Option<PrintingId>] {
        &self.cards
    }
}

/// What a pocket of a layout is for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Meaning {
    /// Nothing yet.
    #[default]
    Nothing,
    /// Left empty on purpose.
    Blank,
    Printing(PrintingId),
    /// Something that is not a card of a checklist: pack art, a ticket, a note.
    Keepsake(Arc<str>),
}

/// [`Meaning`] in 8 bytes; a keepsake's words stand in the page's own list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slot {
    Nothing,
    Blank,
    Printing(PrintingId),
    Keepsake,
}

const _: () = assert!(size_of::<Slot>() == 8);

/// One page of a layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LayoutPage {
    pub(super) format: PageFormat,
    pub(super) slots: Box<[Slot]>,
    /// Words of the keepsakes, by pocket index, in order.
    pub(super) keepsakes: Vec<(u16, Arc<str>)>,
}

impl LayoutPage {
    /// A page on which no pocket is for anything yet.
    #[must_use]
    pub fn empty(format: PageFormat) -> Self {
        Self {
            format,
            slots: vec![Slot::Nothing; format.pockets()].into(),
            keepsakes: Vec::new(),
        }
    }

    /// A page whose first pockets are for these printings, `None` for nothing yet.
    #[must_use]
    pub fn of_printings(format: PageFormat, printings: &[Option<PrintingId>]) -> Self {
        let mut page = Self::empty(format);
        for (slot, printing) in page.slots.iter_mut().zip(printings) {
            *slot = printing.map_or(Slot::Nothing, Slot::Printing);
        }
        page
    }

    #[must_use]
    pub fn format(&self) -> PageFormat {
        self.format
    }

    /// What the `index`-th pocket is for; `Nothing` beyond the last.
    #[must_use]
    pub fn meaning(&self, index: usize) -> Meaning {
        match self.slots.get(index) {
            None | Some(Slot::Nothing) => Meaning::Nothing,
            Some(Slot::Blank) => Meaning::Blank,
            Some(&Slot::Printing(printing)) => Meaning::Printing(printing),
            Some(Slot::Keepsake) => self
                .keepsakes
                .iter()
                .find(|(at, _)| usize::from(*at) == index)
                .map_or(Meaning::Nothing, |(_, words)| {
                    Meaning::Keepsake(words.clone())
                }),
        }
    }

    /// The printing that the `index`-th pocket is meant for, if any.
    #[must_use]
    pub fn printing(&self, index: usize) -> Option<PrintingId> {
        match self.slots.get(index) {
            Some(&Slot::Printing(printing)) => Some(printing),
            _ => None,
        }
    }

    /// Says what the `index`-th pocket is for. An index beyond the last pocket changes nothing.
    pub fn set_meaning(&mut self, index: usize, meaning: Meaning) {
        let Some(slot) = self.slots.get_mut(index) else {
            return;
        };
        // A page has at most 20 x 20 x 2 pockets.
        let key = index as u16;
        if *slot == Slot::Keepsake {
            self.keepsakes.retain(|(at, _)| *at != key);
        }
        *slot = match meaning {
            Meaning::Nothing => Slot::Nothing,
            Meaning::Blank => Slot::Blank,
            Meaning::Printing(printing) => Slot::Printing(printing),
            Meaning::Keepsake(words) => {
                let at = self.keepsakes.partition_point(|(at, _)| *at < key);
                self.keepsakes.insert(at, (key, words));
                Slot::Keepsake
            }
        };
    }

    /// The pockets that are meant for a printing, with their index.
    pub fn printings(&self) -> impl Iterator<Item = (usize, PrintingId)> + '_ {
        (0..).zip(&self.slots).filter_map(|(at, slot)| match slot {
            &Slot::Printing(printing) => Some((at, printing)),
            _ => None,
        })
    }
}

/// The sections that a layout is made of: a rule each, in order, as text.
///
/// A rule names sets, finishes, rarities and numbers in words and not by id, so that it holds for
/// another set too. The model keeps the lines; `layout` reads them.
pub type Rules = Vec<Box<str>>;

/// What should stand in a binder: its pages in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Layout {
    pub pages: Vec<LayoutPage>,
    /// The rules that the pages were made by; none for a layout made by hand. They travel with
    /// the pages, from a draft into force and back.
    pub sections: Rules,
}

impl Layout {
    /// A layout made by hand, without rules.
    #[must_use]
    pub fn of_pages(pages: Vec<LayoutPage>) -> Self {
        Self {
            pages,
            sections: Rules::new(),
        }
    }
}

/// A layout that is not in force: to be tried out, costed and, if it pleases, adopted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// Unique among the drafts of its binder.
    pub name: Box<str>,
    pub layout: Layout,
}

/// A binder with its contents and its layout.
#[derive(Clone, Debug)]
pub struct Binder {
    pub(super) id: BinderId,
    pub(super) spec: BinderSpec,
    pub(super) pages: Vec<Page>,
    pub(super) layout: Layout,
    pub(super) drafts: Vec<Draft>,
    pub(super) tally: BinderTally,
}

impl Binder {
    pub(super) fn empty(id: BinderId, spec: BinderSpec) -> Self {
        Self {
            id,
            spec,
            pages: Vec::new(),
            layout: Layout::default(),
            drafts: Vec::new(),
            tally: BinderTally::default(),
        }
    }

    #[must_use]
    pub fn id(&self) -> BinderId {
        self.id
    }

    #[must_use]
    pub fn spec(&self) -> &BinderSpec {
        &self.spec
    }

    #[must_use]
    pub fn name(&self) -> &str {
        &self.spec.name
    }

    /// What a person calls it: the title on its spine, or its name where there is none.
    #[must_use]
    pub fn called(&self) -> &str {
        self.spec.called()
    }

    /// The physical pages in their order.
    #[must_use]
    pub fn pages(&self) -> &[Page] {
        &self.pages
    }

    #[must_use]
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// The drafts in the order in which they were begun.
    #[must_use]
    pub fn drafts(&self) -> &[Draft] {
        &self.drafts
    }

    #[must_use]
    pub fn tally(&self) -> BinderTally {
        self.tally
    }

    /// The copy in a pocket.
    #[must_use]
    pub fn held(&self, page: usize, pocket: usize) -> Option<PrintingId> {
        *self.pages.get(page)?.cards.get(pocket)?
    }

    /// What the layout says of a pocket; `Nothing` where it has no comparable page.
    #[must_use]
    pub fn meaning(&self, page: usize, pocket: usize) -> Meaning {
        let is_there = self.comparable(page) || page >= self.pages.len();
        let page = self.layout.pages.get(page).filter(|_| is_there);
        page.map_or(Meaning::Nothing, |page| page.meaning(pocket))
    }

    /// Whether page and layout page at this position have the same grid, so that their pockets
    /// can be compared one by one.
    #[must_use]
    pub fn comparable(&self, page: usize) -> bool {
        match (self.pages.get(page), self.layout.pages.get(page)) {
            (Some(real), Some(meant)) => real.format.same_grid(&meant.format),
            _ => false,
        }
    }
}
