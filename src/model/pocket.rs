//! A pocket somewhere in the collection, and what contents and layout together say of it.

use std::sync::Arc;

use super::id::{BinderId, PrintingId};

/// A pocket: binder, position of the page in it, index of the pocket on the page, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    pub binder: BinderId,
    pub page: usize,
    pub pocket: usize,
}

/// Where a page stands: its position in a binder, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PagePlace {
    pub binder: BinderId,
    pub page: usize,
}

impl PagePlace {
    #[must_use]
    pub const fn new(binder: BinderId, page: usize) -> Self {
        Self { binder, page }
    }
}

/// Contents and layout of one pocket compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PocketState {
    /// Nothing in it, meant for nothing yet.
    Unassigned,
    /// Left empty on purpose.
    Blank,
    Keepsake(Arc<str>),
    /// Holds the printing that it is meant for.
    InPlace(PrintingId),
    /// Meant for a printing, empty, and no loose copy is there for it.
    Gap(PrintingId),
    /// Meant for a printing, empty, and a loose copy waits for it.
    Waiting(PrintingId),
    /// Holds a card that it is not meant for; `wanted` is what it is meant for, if a printing.
    Misplaced {
        held: PrintingId,
        wanted: Option<PrintingId>,
    },
}

impl PocketState {
    /// The copy that lies in the pocket.
    #[must_use]
    pub fn held(&self) -> Option<PrintingId> {
        match self {
            Self::InPlace(printing) | Self::Misplaced { held: printing, .. } => Some(*printing),
            _ => None,
        }
    }

    /// The printing that the pocket is meant for.
    #[must_use]
    pub fn wanted(&self) -> Option<PrintingId> {
        match self {
            Self::InPlace(printing) | Self::Gap(printing) | Self::Waiting(printing) => {
                Some(*printing)
            }
            Self::Misplaced { wanted, .. } => *wanted,
            _ => None,
        }
    }

    /// Meant for a printing and does not hold it.
    #[must_use]
    pub fn is_gap(&self) -> bool {
        match self {
            Self::Gap(_) | Self::Waiting(_) => true,
            Self::Misplaced { wanted, .. } => wanted.is_some(),
            _ => false,
        }
    }
}
