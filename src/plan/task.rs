//! What there is to plan: what lies in the binders and what should, with printings as small
//! numbers, so that files and collections are planned by the same code.

use crate::model::PageFormat;
use crate::text::Choice;

/// A printing by its number from 1.
pub type Card = u32;

/// An empty pocket, or one that is for no printing.
pub const NONE: Card = 0;

/// What decides whether one page can stand for another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Grid {
    pub rows: u8,
    pub columns: u8,
    /// 1 when cards are put in from the front only, 2 when both sides are loaded.
    pub sides: u8,
    /// Front and back of a place are one pocket.
    pub shared: bool,
}

impl Grid {
    /// Places on one side.
    #[must_use]
    pub fn per_side(self) -> usize {
        usize::from(self.rows) * usize::from(self.columns)
    }

    /// The pocket that shares its place with this one: front and back of a shared pocket.
    #[must_use]
    pub fn partner(self, pocket: usize) -> Option<usize> {
        if !self.shared || self.sides < 2 {
            return None;
        }
        let side = self.per_side();
        Some(if pocket < side {
            pocket + side
        } else {
            pocket - side
        })
    }

    #[must_use]
    pub fn is_front(self, pocket: usize) -> bool {
        pocket < self.per_side()
    }
}

impl From<PageFormat> for Grid {
    fn from(format: PageFormat) -> Self {
        Self {
            rows: format.rows,
            columns: format.columns,
            sides: format.sides,
            shared: format.shared,
        }
    }
}

/// A binder by its place on the shelf, and a place in it, from 0.
pub type At = (usize, usize);

/// A page as it is, or as it should be. Pockets are counted as in [`PageFormat::index`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    pub grid: Grid,
    pub pockets: Box<[Card]>,
}

/// What may be done with the pages of a binder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pages {
    /// They come out of the rings and go anywhere, to another binder too.
    Move,
    /// They could, but are to stay where they are. Pages may be added and taken out.
    Stay,
    /// They are bound in.
    Fixed,
}

impl Pages {
    #[must_use]
    pub fn rings(rings: bool) -> Self {
        if rings { Self::Move } else { Self::Fixed }
    }
}

/// A binder as it is and as it should be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Binder {
    pub pages: Pages,
    pub before: Vec<Page>,
    pub after: Vec<Page>,
}

impl Binder {
    /// What a page becomes where pages are fixed: the page at its place, if it is of its kind.
    pub(super) fn in_layout(&self, at: usize) -> Option<&Page> {
        let meant = self.after.get(at)?;
        (self.before[at].grid == meant.grid).then_some(meant)
    }
}

/// Binders in shelf order, and the loose copies.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Task {
    pub binders: Vec<Binder>,
    /// Loose copies by printing; the entry of [`NONE`] says nothing. As long as there are
    /// printings, and one more.
    pub loose: Vec<u32>,
}

/// Two ways of working.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Working {
    /// Everything that moves is taken out front to back, and put in front to back.
    #[default]
    TwoPasses,
    /// A card goes straight from pocket to pocket; at most one lies aside.
    HandToHand,
}

impl Choice for Working {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("two-passes", Self::TwoPasses),
        ("hand-to-hand", Self::HandToHand),
    ];
}

/// How the work is to be done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Way {
    pub working: Working,
    /// No page is to be moved, so that more cards are.
    pub pages_stay: bool,
}

impl Way {
    /// Every way there is.
    pub const ALL: [Self; 4] = [
        Self::new(Working::TwoPasses, false),
        Self::new(Working::HandToHand, false),
        Self::new(Working::TwoPasses, true),
        Self::new(Working::HandToHand, true),
    ];

    #[must_use]
    pub const fn new(working: Working, pages_stay: bool) -> Self {
        Self {
            working,
            pages_stay,
        }
    }

    /// What may be done with the pages of a binder.
    #[must_use]
    pub fn pages(self, rings: bool) -> Pages {
        match Pages::rings(rings) {
            Pages::Move if self.pages_stay => Pages::Stay,
            pages => pages,
        }
    }
}

/// A page that can be anywhere: one of a binder whose pages move.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stand<'t> {
    pub(super) binder: usize,
    /// Its place in the binder, from 0.
    pub(super) at: usize,
    /// Pages of one kind can stand for each other.
    pub(super) kind: usize,
    pub(super) page: &'t Page,
}

/// The pages that can be anywhere, as they are (rows) and as they should be (columns), in shelf
/// order. Pages of a binder are neighbours.
#[derive(Debug)]
pub(super) struct Movable<'t> {
    pub(super) rows: Vec<Stand<'t>>,
    pub(super) columns: Vec<Stand<'t>>,
    pub(super) kinds: Vec<Grid>,
    /// For each binder where its rows and its columns begin; and the ends.
    pub(super) row_start: Vec<usize>,
    pub(super) column_start: Vec<usize>,
}

impl<'t> Movable<'t> {
    pub(super) fn new(task: &'t Task) -> Self {
        let mut movable = Self {
            rows: Vec::new(),
            columns: Vec::new(),
            kinds: Vec::new(),
            row_start: Vec::with_capacity(task.binders.len() + 1),
            column_start: Vec::with_capacity(task.binders.len() + 1),
        };
        for (number, binder) in task.binders.iter().enumerate() {
            movable.row_start.push(movable.rows.len());
            movable.column_start.push(movable.columns.len());
            let (before, after): (&[Page], &[Page]) = if binder.pages == Pages::Move {
                (&binder.before, &binder.after)
            } else {
                (&[], &[])
            };
            for (pages, is_row) in [(before, true), (after, false)] {
                for (at, page) in pages.iter().enumerate() {
                    let stand = Stand {
                        binder: number,
                        at,
                        kind: kind_of(&mut movable.kinds, page.grid),
                        page,
                    };
                    if is_row {
                        movable.rows.push(stand);
                    } else {
                        movable.columns.push(stand);
                    }
                }
            }
        }
        movable.row_start.push(movable.rows.len());
        movable.column_start.push(movable.columns.len());
        movable
    }
}

fn kind_of(kinds: &mut Vec<Grid>, grid: Grid) -> usize {
    // A handful of formats at most in any real shelf.
    kinds
        .iter()
        .position(|other| *other == grid)
        .unwrap_or_else(|| {
            kinds.push(grid);
            kinds.len() - 1
        })
}
