//! How thick pages are with the cards in them, in micrometres.

use super::item::Layer;
use crate::model::{Binder, Layout, LayoutPage, Meaning, Page, PageFormat};
use crate::text::Choice;

/// How cards are sleeved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sleeves {
    Bare,
    #[default]
    One,
    /// An inner and an outer one.
    Two,
}

impl Choice for Sleeves {
    const WORDS: &'static [(&'static str, Self)] =
        &[("none", Self::Bare), ("one", Self::One), ("two", Self::Two)];
}

impl Sleeves {
    #[must_use]
    pub fn count(self) -> u32 {
        self.layers().len() as u32
    }

    pub(super) fn layers(self) -> &'static [Layer] {
        match self {
            Self::Bare => &[],
            Self::One => &[Layer::Outer],
            Self::Two => &[Layer::Outer, Layer::Inner],
        }
    }

    #[must_use]
    pub fn told(self) -> &'static str {
        match self {
            Self::Bare => "cards without sleeves",
            Self::One => "a sleeve for each card",
            Self::Two => "an inner and an outer sleeve for each card",
        }
    }
}

/// What a page is made of, each in micrometres. The defaults are common practice, no source: they
/// differ from maker to maker, and a collector measures ten together and divides.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Thickness {
    pub card: u32,
    /// One layer of a page.
    pub film: u32,
    /// One layer of a sleeve, inner or outer; a card has one before it and one behind.
    pub sleeve: u32,
    pub sleeves: Sleeves,
    /// A leaf of the front matter.
    pub leaf: u32,
}

impl Default for Thickness {
    fn default() -> Self {
        Self {
            card: 300,
            film: 80,
            sleeve: 60,
            sleeves: Sleeves::One,
            leaf: 100,
        }
    }
}

impl Thickness {
    /// A page where at most `deep` cards lie behind each other: its films, two, or three where
    /// front and back have pockets of their own, and the cards with their sleeves.
    #[must_use]
    pub fn page(&self, format: PageFormat, deep: u32) -> u32 {
        let films = if format.sides == 2 && !format.shared {
            3
        } else {
            2
        };
        let card = self.card + 2 * self.sleeve * self.sleeves.count();
        films * self.film + deep * card
    }

    /// A page with a card in every pocket.
    #[must_use]
    pub fn full_page(&self, format: PageFormat) -> u32 {
        self.page(format, format.sides.into())
    }

    /// A page of a layout with all that is meant for it. A keepsake counts as a card: how thick it
    /// is nobody has said.
    #[must_use]
    pub fn meant(&self, page: &LayoutPage) -> u32 {
        let filled = |at: usize| {
            matches!(
                page.meaning(at),
                Meaning::Printing(_) | Meaning::Keepsake(_)
            )
        };
        self.page(page.format(), deep(page.format(), filled))
    }

    /// A page with the cards that lie in it.
    #[must_use]
    pub fn held(&self, page: &Page) -> u32 {
        self.page(
            page.format(),
            deep(page.format(), |at| page.cards()[at].is_some()),
        )
    }
}

/// Cards behind each other at the place where most are: 0 to 2.
fn deep(format: PageFormat, filled: impl Fn(usize) -> bool) -> u32 {
    let per_side = format.per_side();
    let at = |place: usize| {
        let back = format.sides == 2 && filled(place + per_side);
        u32::from(filled(place)) + u32::from(back)
    };
    (0..per_side).map(at).max().unwrap_or(0)
}

/// Which pages of a binder are looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LayoutOf {
    /// The physical pages with the cards that lie in them.
    Contents,
    /// The layout in force, when everything is there.
    #[default]
    InForce,
    /// The draft at this place among the binder's.
    Draft(usize),
}

impl LayoutOf {
    /// The layout; the one in force where contents are meant or a draft is gone.
    #[must_use]
    pub fn layout(self, binder: &Binder) -> &Layout {
        let draft = match self {
            Self::Draft(at) => binder.drafts().get(at),
            Self::Contents | Self::InForce => None,
        };
        draft.map_or(binder.layout(), |draft| &draft.layout)
    }

    /// Each page with its thickness.
    #[must_use]
    pub fn pages(self, binder: &Binder, thickness: Thickness) -> Vec<(PageFormat, u32)> {
        if self == Self::Contents {
            let pages = binder.pages().iter();
            return pages
                .map(|page| (page.format(), thickness.held(page)))
                .collect();
        }
        let pages = self.layout(binder).pages.iter();
        pages
            .map(|page| (page.format(), thickness.meant(page)))
            .collect()
    }
}

/// How many sheets of a thickness go into a stack; both in the same unit. `None` for sheets
/// without thickness.
#[must_use]
pub fn sheets(usable: u32, each: u32) -> Option<u32> {
    usable.checked_div(each)
}

/// Micrometres of a length in millimetres with at most three decimals, below 10 m.
#[must_use]
pub fn parse_micrometres(text: &str) -> Option<u32> {
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    if !digits(whole) || !digits(part) || whole.len() > 4 || part.len() > 3 {
        return None;
    }
    Some(whole.parse::<u32>().ok()? * 1_000 + format!("{part:0<3}").parse::<u32>().ok()?)
}

/// Micrometres as millimetres, rounded to the nearest tenth: `46.2`.
#[must_use]
pub fn millimetres(micrometres: u32) -> String {
    crate::text::tenths(micrometres.saturating_add(50) / 100)
}

/// The same for a column of a table, where points stand below each other: always with a tenth.
#[must_use]
pub fn millimetres_in_column(micrometres: u32) -> String {
    let tenths = micrometres.saturating_add(50) / 100;
    format!("{}.{}", tenths / 10, tenths % 10)
}
