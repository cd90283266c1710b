//! From what pockets are to hold and be for, to the changes that make it so.

use std::collections::BTreeMap;

use super::Cannot;
use super::ground::{Ground, Unit};
use crate::model::{Change, Collection, Place, PrintingId, Side};

/// What becomes of a card that lies before another in a shared pocket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Front {
    /// It stays, and is in the way.
    InTheWay,
    /// It is taken out too, and put back.
    TakenOut,
}

impl Ground {
    /// The changes that leave these units at these places, all others as they are. Cards come out
    /// before others go in, so that every copy is at hand when its turn comes.
    ///
    /// # Errors
    /// A place that is not there; a page that the layout has no such page for; a back pocket that
    /// shares its place with a filled front.
    pub(super) fn rewrite(
        self,
        collection: &Collection,
        wanted: &[(Place, Unit)],
        front: Front,
    ) -> Result<Vec<Change>, Cannot> {
        let (mut held, mut means) = (BTreeMap::new(), Vec::new());
        let mut pages = 0;
        let pockets = self.pockets(collection);
        for (place, new) in wanted {
            let old = pockets.unit(place.page, place.pocket);
            if old == *new {
                continue;
            }
            let format = self.format(collection, place.page);
            format
                .and_then(|format| format.at(place.pocket))
                .ok_or(Cannot::NoSuchPocket)?;
            if old.held != new.held {
                held.insert(*place, (old.held, new.held));
            }
            if old.meaning != new.meaning {
                if self.is_closed(collection, place.page) {
                    return Err(Cannot::OtherFormat);
                }
                pages = pages.max(place.page + 1);
                means.push(self.change(Change::Mean {
                    place: *place,
                    old: old.meaning,
                    new: new.meaning.clone(),
                }));
            }
        }
        self.reach_behind(collection, &mut held, front)?;
        let mut changes = self.lifts(collection, &held)?;
        if self.is_real() {
            changes.extend(self.extended(collection, pages));
        }
        changes.append(&mut means);
        changes.extend(self.seats(collection, &held)?);
        Ok(changes)
    }

    /// A card behind another in a shared pocket cannot be moved without the one in front.
    fn reach_behind(
        self,
        collection: &Collection,
        held: &mut BTreeMap<Place, Moved>,
        front: Front,
    ) -> Result<(), Cannot> {
        let behind: Vec<Place> = held.keys().copied().collect();
        for place in behind {
            let Some(before) = self.in_front(collection, place) else {
                continue;
            };
            let card = collection.held(before);
            if card.is_none() || held.contains_key(&before) {
                continue;
            }
            match front {
                Front::TakenOut => held.insert(before, (card, card)),
                Front::InTheWay => {
                    return Err(Cannot::CardInFront);
                }
            };
        }
        Ok(())
    }

    /// The front of a back pocket that shares its place with it.
    fn in_front(self, collection: &Collection, place: Place) -> Option<Place> {
        let format = self.format(collection, place.page)?;
        let behind = format.shared && format.at(place.pocket)?.side == Side::Back;
        behind.then(|| self.place(place.page, place.pocket - format.per_side()))
    }

    fn lifts(self, collection: &Collection, held: &Held) -> Result<Vec<Change>, Cannot> {
        let binder = self.binder(collection)?;
        let mut lifts = Vec::new();
        for (place, (old, _)) in held {
            let page = binder.pages().get(place.page).ok_or(Cannot::NoPage)?;
            lifts.extend(old.map(|printing| Change::Lift {
                place: *place,
                page: page.id(),
                printing,
            }));
        }
        Ok(lifts)
    }

    /// Page by page, the back of each before its front: so that none goes in behind another.
    fn seats(self, collection: &Collection, held: &Held) -> Result<Vec<Change>, Cannot> {
        let binder = self.binder(collection)?;
        let mut order: Vec<(&Place, &Moved)> = held.iter().collect();
        order.sort_by_key(|(place, _)| {
            let shared = self.in_front(collection, **place).is_some();
            (place.page, !shared, place.pocket)
        });
        let mut seats = Vec::new();
        for (place, (_, new)) in order {
            let page = binder.pages().get(place.page).ok_or(Cannot::NoPage)?;
            seats.extend(new.map(|printing| Change::Seat {
                place: *place,
                page: page.id(),
                printing,
            }));
        }
        Ok(seats)
    }
}

/// What a pocket holds before and afterwards.
type Moved = (Option<PrintingId>, Option<PrintingId>);
type Held = BTreeMap<Place, Moved>;
