//! The pockets of one size in reading order: what is carried and pushed along in a binder.

use std::collections::{BTreeSet, HashSet, VecDeque};

use super::Cannot;
use super::ground::{Ground, Unit, same_pocket};
use crate::model::{Collection, Place};

/// The pockets of one size in reading order, with what stands in each.
pub(super) struct Row {
    pub(super) places: Vec<Place>,
    pub(super) units: Vec<Unit>,
    /// Pockets of pages that the layout has another page format for.
    closed: Vec<bool>,
}

/// How others made way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Direction {
    Along,
    Back,
}

impl Row {
    /// All pockets of the size that this place has.
    pub(super) fn of(collection: &Collection, ground: Ground, like: Place) -> Self {
        Self::without(collection, ground, like, &HashSet::new())
    }

    /// [`Row::of`] but for these pages.
    pub(super) fn without(
        collection: &Collection,
        ground: Ground,
        like: Place,
        pages: &HashSet<usize>,
    ) -> Self {
        let formats = ground.formats(collection);
        let size = formats.get(like.page).copied();
        let size = size.filter(|_| like.binder == ground.binder);
        let mut row = Self {
            places: Vec::new(),
            units: Vec::new(),
            closed: Vec::new(),
        };
        let pockets = ground.pockets(collection);
        for (page, format) in formats.iter().enumerate() {
            let fits = size.is_some_and(|size| same_pocket(size, *format));
            if !fits || pages.contains(&page) {
                continue;
            }
            let closed = ground.is_closed(collection, page);
            for pocket in 0..format.pockets() {
                let place = ground.place(page, pocket);
                row.places.push(place);
                row.units.push(pockets.unit(page, pocket));
                row.closed.push(closed);
            }
        }
        row
    }

    pub(super) fn index(&self, place: Place) -> Result<usize, Cannot> {
        self.places
            .binary_search(&place)
            .map_err(|_| Cannot::OtherSize)
    }

    /// The places of a run, each once and in reading order.
    pub(super) fn indices(&self, run: &[Place]) -> Result<Vec<usize>, Cannot> {
        let run: BTreeSet<Place> = run.iter().copied().collect();
        run.into_iter().map(|place| self.index(place)).collect()
    }

    /// Whether others are pushed past it.
    pub(super) fn stays(&self, at: usize) -> bool {
        self.closed[at] || self.units[at].stays()
    }

    /// Free to be given a meaning.
    pub(super) fn is_room(&self, at: usize) -> bool {
        !self.closed[at] && self.units[at].is_room()
    }

    /// The units that differ from those of the collection are what is to be written.
    pub(super) fn wanted(self) -> Vec<(Place, Unit)> {
        self.places.into_iter().zip(self.units).collect()
    }

    /// Takes the run out. A misplaced card comes alone: what its pocket is for stays there.
    pub(super) fn take_out(&mut self, run: &[usize]) -> Vec<Unit> {
        let taken = run.iter().map(|&at| {
            let unit = &mut self.units[at];
            if unit.is_misplaced() {
                Unit {
                    held: unit.held.take(),
                    ..Unit::default()
                }
            } else {
                std::mem::take(unit)
            }
        });
        taken.collect()
    }

    /// The pockets that give way, in order.
    pub(super) fn slots(&self) -> Vec<usize> {
        (0..self.units.len())
            .filter(|at| !self.stays(*at))
            .collect()
    }

    /// Puts units that were taken out into the slots from the `from`-th on. What stands there is
    /// pushed to the nearest room, along or back, whichever moves fewer others. Gives how many.
    pub(super) fn push(
        &mut self,
        hand: Vec<Unit>,
        from: usize,
    ) -> Result<(usize, Direction), Cannot> {
        let slots = self.slots();
        let Some(targets) = slots.get(from..from + hand.len()) else {
            return Err(Cannot::TooFewPockets);
        };
        let mut displaced = Vec::new();
        for (at, unit) in targets.iter().zip(hand) {
            let before = std::mem::replace(&mut self.units[*at], unit);
            if !before.is_room() {
                displaced.push(before);
            }
        }
        let (before, after) = (&slots[..from], &slots[from + targets.len()..]);
        let along = self.shifted(after.iter(), displaced.iter());
        let back = self.shifted(before.iter().rev(), displaced.iter().rev());
        let (written, way) = match (along, back) {
            (Some(along), Some(back)) if back.len() < along.len() => (back, Direction::Back),
            (Some(along), _) => (along, Direction::Along),
            (None, Some(back)) => (back, Direction::Back),
            (None, None) => return Err(Cannot::NoRoomToPush),
        };
        let others = written.len();
        for (at, unit) in written {
            self.units[at] = unit;
        }
        Ok((others, way))
    }

    /// Makes room of so many slots from the `from`-th on; what stands there is pushed along. Gives
    /// how many units move.
    pub(super) fn open(&mut self, from: usize, pockets: usize) -> Result<usize, Cannot> {
        let slots = self.slots();
        let Some(targets) = slots.get(from..from.saturating_add(pockets)) else {
            return Err(Cannot::TooFewPockets);
        };
        let taken = targets
            .iter()
            .map(|at| std::mem::take(&mut self.units[*at]));
        let displaced: Vec<Unit> = taken.filter(|unit| !unit.is_room()).collect();
        let after = &slots[from + pockets..];
        let written = self.shifted(after.iter(), displaced.iter());
        let written = written.ok_or(Cannot::NoRoomFurtherOn)?;
        let moved = written.len();
        for (at, unit) in written {
            self.units[at] = unit;
        }
        Ok(moved)
    }

    /// What these slots come to hold when the displaced are pushed into them one by one, up to
    /// where room has taken the last; `None` when there is not enough.
    fn shifted<'u>(
        &self,
        slots: impl Iterator<Item = &'u usize>,
        displaced: impl Iterator<Item = &'u Unit>,
    ) -> Option<Vec<(usize, Unit)>> {
        let mut hand: VecDeque<Unit> = displaced.cloned().collect();
        let mut written = Vec::new();
        for &at in slots {
            let Some(next) = hand.pop_front() else {
                break;
            };
            if !self.units[at].is_room() {
                hand.push_back(self.units[at].clone());
            }
            written.push((at, next));
        }
        hand.is_empty().then_some(written)
    }
}
