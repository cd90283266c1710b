//! Small numbers that name things. They stay the same for as long as the thing exists.

use std::fmt;

/// A set. What has a lower one came in earlier, as a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SetId(pub u16);

/// A binder. Written `b3` in files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BinderId(pub u32);

/// A physical page. Written `p12` in files; it keeps its id wherever it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PageId(pub u32);

impl fmt::Display for BinderId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "b{}", self.0)
    }
}

impl fmt::Display for PageId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "p{}", self.0)
    }
}

/// A byte that is always zero. Its 255 unused values let `Option<PrintingId>` and a pocket's
/// meaning stay at 8 bytes, which at a million pockets is what fits the cache.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
enum Zero {
    Zero = 0,
}

/// A card in one finish: the thing that is collected.
///
/// It is named by set, place in the set's checklist and finish, not by a running number over the
/// whole collection: so it stays true when another set grows, and across a restart.
/// The order is by set, then checklist, then finish.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PrintingId {
    set: u16,
    card: u32,
    finish: u8,
    zero: Zero,
}

impl PrintingId {
    /// The printing of the `card`-th card of `set` in its `finish`-th finish, both from 0.
    #[must_use]
    pub fn new(set: SetId, card: u32, finish: u8) -> Self {
        Self {
            set: set.0,
            card,
            finish,
            zero: Zero::Zero,
        }
    }

    #[must_use]
    pub fn set(self) -> SetId {
        SetId(self.set)
    }

    /// Place of the card in the set's checklist, from 0.
    #[must_use]
    pub fn card(self) -> u32 {
        self.card
    }

    /// Place of the finish in the set's list of finishes, from 0.
    #[must_use]
    pub fn finish(self) -> u8 {
        self.finish
    }
}

const _: () = assert!(size_of::<Option<PrintingId>>() == 8);
