//! A section: one rule of a layout, as it is edited and as it is written.

mod read;
mod token;
mod write;

use crate::model::PageFormat;
use crate::text::Choice;

pub use token::SectionError;

/// One rule: which cards or keepsakes, in which order, on which pages, and where they begin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// What stands before the colon. Exceptions made by hand keep to a section by its name.
    pub name: Box<str>,
    pub what: What,
    pub page: PageFormat,
    /// Backs are left empty on purpose.
    pub fronts_only: bool,
    /// The top row of each side is left empty on purpose: for packaging that is taller than a
    /// pocket and stands out of it.
    pub top_empty: bool,
    pub begin: Begin,
    pub room: Room,
}

/// What fills the pockets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    Cards(Pick),
    /// So many of each, with the words for it.
    Keepsakes(Vec<(u32, Box<str>)>),
}

/// Which printings of a set, and in which order. An empty list does not narrow anything down.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pick {
    /// The code; the binder's own set where it is not said.
    pub set: Option<Box<str>>,
    /// Names or marks of finishes; `main` and `others` where the set names none so.
    pub finishes: Vec<Box<str>>,
    pub rarities: Vec<Box<str>>,
    /// All rarities but those.
    pub but: bool,
    /// From, to; both included, in natural order.
    pub numbers: Vec<(Box<str>, Box<str>)>,
    /// Numbers of cards picked by hand.
    pub list: Vec<Box<str>>,
    pub size: Size,
    /// Only what no section before it has; without being told as matched twice.
    pub rest: bool,
    pub by: Order,
    /// The finishes of a card stand side by side, not in runs apart.
    pub together: bool,
}

/// Which sizes of cards.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Size {
    #[default]
    Any,
    /// Not larger than the usual card, 63.5 x 88.9 mm.
    Usual,
    Oversize,
}

/// In which order the cards stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    #[default]
    Number,
    Name,
    /// The set's own order of rarities, then by number.
    Rarity,
    /// As the checklist has them.
    Checklist,
    /// As the list picked by hand has them.
    List,
}

/// Where a section begins. What is not possible behind a page of another format is a new page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Begin {
    #[default]
    Page,
    Side,
    Row,
    /// In the next pocket.
    On,
}

/// What is left free behind the last card, for cards to come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Room {
    #[default]
    None,
    Pockets(u32),
    Pages(u32),
}

impl Room {
    /// More is a slip of the hand.
    pub const MOST: u32 = 1_000;
}

impl Choice for Order {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("number", Self::Number),
        ("name", Self::Name),
        ("rarity", Self::Rarity),
        ("checklist", Self::Checklist),
        ("list", Self::List),
    ];
}

impl Choice for Begin {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("new page", Self::Page),
        ("new side", Self::Side),
        ("new row", Self::Row),
        ("flowing on", Self::On),
    ];
}

impl Section {
    /// A section of all cards, by number, that begins on a new page of this format.
    #[must_use]
    pub fn of_cards(name: &str, page: PageFormat, pick: Pick) -> Self {
        Self::new(name, page, What::Cards(pick))
    }

    #[must_use]
    pub fn new(name: &str, page: PageFormat, what: What) -> Self {
        Self {
            name: name.into(),
            what,
            page,
            fronts_only: false,
            top_empty: false,
            begin: Begin::default(),
            room: Room::default(),
        }
    }

    /// The name of a section as it is written and what stands behind its colon; also of a line that
    /// is no section for something that comes later. `None` without a name and a colon.
    #[must_use]
    pub fn parted(line: &str) -> Option<(String, &str)> {
        token::parted(line)
    }

    #[must_use]
    pub fn pick(&self) -> Option<&Pick> {
        match &self.what {
            What::Cards(pick) => Some(pick),
            What::Keepsakes(_) => None,
        }
    }

    /// Whether the rule leaves this pocket empty on purpose, on every page.
    #[must_use]
    pub(super) fn leaves(&self, pocket: usize) -> bool {
        let side = self.page.per_side();
        let back = pocket >= side;
        let top = side > 0 && pocket % side < usize::from(self.page.columns);
        (self.fronts_only && back) || (self.top_empty && top)
    }

    /// Pockets that a page of the section has for cards.
    #[must_use]
    pub fn pockets_a_page(&self) -> usize {
        (0..self.page.pockets())
            .filter(|pocket| !self.leaves(*pocket))
            .count()
    }
}
/// The rule with the set's new code where it names the set by its old one; as it is otherwise, and
/// also where it cannot be read.
#[must_use]
pub fn recoded(rule: &str, old: &str, new: &str) -> Box<str> {
    let old = old.to_lowercase();
    let Ok(mut section) = rule.parse::<Section>() else {
        return rule.into();
    };
    match &mut section.what {
        What::Cards(Pick { set: Some(set), .. }) if set.to_lowercase() == old => *set = new.into(),
        _ => return rule.into(),
    }
    section.to_string().into()
}
