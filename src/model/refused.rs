//! Why a change is refused.

use crate::text;
use std::fmt;

use super::id::{BinderId, PageId, PrintingId, SetId};
use super::pocket::Place;

/// Why a change does not fit the collection as it is now. Nothing has been altered, but for
/// [`Refused::NotTakenBack`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refused {
    NoSuchSet(SetId),
    CodeTaken(Box<str>),
    /// Not the last set, finish, rarity or cards, or still in use.
    InUse(&'static str),
    /// What the change says was there is not what is there.
    Stale(&'static str),
    FinishTaken(Box<str>),
    NumberTaken(Box<str>),
    NoSuchCard {
        set: SetId,
        card: u32,
    },
    NoSuchPrinting(PrintingId),
    TooFewLoose {
        printing: PrintingId,
        loose: u32,
        asked: u32,
    },
    TooManyCopies(PrintingId),
    NoSuchBinder(BinderId),
    BinderTaken(BinderId),
    NameTaken(Box<str>),
    NoSuchPage(PageId),
    PageTaken(PageId),
    NoSuchPlace(Place),
    PocketFilled {
        place: Place,
        held: PrintingId,
    },
    PocketNotHolding {
        place: Place,
        expected: PrintingId,
    },
    PageNotEmpty(PageId),
    PagesFixed(BinderId),
    /// A text or number that the model does not take, and what would be right.
    Unfit(String),
    /// What was done before the change that was refused could not be taken back either: the
    /// collection is not as it was.
    NotTakenBack(String),
}

impl Refused {
    /// Of what stood in the way when something was to be taken back.
    #[must_use]
    pub(crate) fn not_taken_back(self) -> Self {
        match self {
            Self::NotTakenBack(_) => self,
            other => Self::NotTakenBack(other.to_string()),
        }
    }
}

impl std::error::Error for Refused {}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoSuchSet(set) => write!(f, "there is no set number {}", set.0),
            Self::CodeTaken(code) => write!(f, "a set with the code {code} is there already"),
            Self::InUse(what) => write!(f, "{what} is still in use"),
            Self::Stale(what) => write!(f, "{what} is no longer as it was"),
            Self::FinishTaken(name) => write!(f, "the set has a finish {name} already"),
            Self::NumberTaken(number) => write!(f, "the set has a card {number} already"),
            Self::NoSuchCard { card, .. } => {
                write!(f, "the checklist has no entry {}", u64::from(*card) + 1)
            }
            Self::NoSuchPrinting(_) => f.write_str("the card does not exist in this finish"),
            Self::TooFewLoose { loose, asked, .. } => {
                let asked = text::count((*asked).into(), "loose copy was", "loose copies were");
                let are = if *loose == 1 { "is" } else { "are" };
                write!(f, "{asked} asked for, there {are} {loose}")
            }
            Self::TooManyCopies(_) => write!(
                f,
                "more than {} copies of one printing",
                super::limits::COPIES
            ),
            Self::NoSuchBinder(binder) => write!(f, "there is no binder {binder}"),
            Self::BinderTaken(binder) => write!(f, "there is a binder {binder} already"),
            Self::NameTaken(name) => write!(f, "a binder named {name} is there already"),
            Self::NoSuchPage(page) => write!(f, "page {page} is not there"),
            Self::PageTaken(page) => write!(f, "there is a page {page} already"),
            Self::NoSuchPlace(place) => write!(
                f,
                "binder {} has no pocket {} on page {}",
                place.binder,
                place.pocket + 1,
                place.page + 1
            ),
            Self::PocketFilled { .. } => f.write_str("the pocket already holds a card"),
            Self::PocketNotHolding { .. } => f.write_str("the pocket does not hold that card"),
            Self::PageNotEmpty(_) => f.write_str("the page still holds cards"),
            Self::PagesFixed(_) => f.write_str("the pages of this binder are fixed"),
            Self::Unfit(why) => f.write_str(why),
            Self::NotTakenBack(why) => {
                write!(f, "what was done before could not be taken back: {why}")
            }
        }
    }
}
