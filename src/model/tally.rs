//! Running counts, kept beside the state so that no key stroke has to walk the collection.

/// What is known of one printing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Copies that lie in no pocket.
    pub loose: u32,
    /// Copies that lie in pockets, whatever those are meant for.
    pub pocketed: u32,
    /// Pockets of the layouts that are meant for it.
    pub meant: u32,
    /// Copies in a pocket that is meant for them.
    pub in_place: u32,
    /// The collector leaves its run out: said of the set's finish, and told here with the counts.
    pub left_out: bool,
}

impl Tally {
    /// All copies, wherever they are.
    #[must_use]
    pub fn copies(&self) -> u32 {
        self.loose + self.pocketed
    }

    /// Pockets meant for it that do not hold it.
    #[must_use]
    pub fn gaps(&self) -> u32 {
        self.meant - self.in_place
    }

    /// Whether the printing is collected: a pocket is meant for it, or its run is not left out.
    /// What a pocket is meant for stays collected, whatever is said of the run.
    #[must_use]
    pub fn is_collected(&self) -> bool {
        self.meant > 0 || !self.left_out
    }

    /// Loose copies that have somewhere to go: a gap; or, where no pocket is meant for the
    /// printing and no other copy is in a pocket, the one copy that still lacks a pocket, unless
    /// the printing is not collected.
    #[must_use]
    pub fn waiting(&self) -> u32 {
        let room = if self.meant == 0 && self.pocketed == 0 {
            u32::from(self.is_collected())
        } else {
            self.gaps()
        };
        self.loose.min(room)
    }

    /// Loose copies beyond those that wait. Waiting and spare copies are all the loose ones.
    #[must_use]
    pub fn spares(&self) -> u32 {
        self.loose - self.waiting()
    }
}

/// What is known of one binder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BinderTally {
    /// Pockets on its physical pages.
    pub pockets: u32,
    /// Pockets that hold a card.
    pub filled: u32,
    /// Pockets of its layout that are meant for a printing.
    pub meant: u32,
    /// Cards that lie in the pocket meant for them.
    pub in_place: u32,
}

impl std::iter::Sum for BinderTally {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), |sum, of| Self {
            pockets: sum.pockets + of.pockets,
            filled: sum.filled + of.filled,
            meant: sum.meant + of.meant,
            in_place: sum.in_place + of.in_place,
        })
    }
}

impl BinderTally {
    /// Whether so many cards lie elsewhere than is meant, more than one in ten, that how far the
    /// binder is says less than what is left to be done: after a draft was adopted.
    #[must_use]
    pub fn is_under_way(&self) -> bool {
        (self.filled - self.in_place) * 10 > self.filled
    }

    #[must_use]
    pub fn gaps(&self) -> u32 {
        self.meant - self.in_place
    }
}
