//! Copies come, go, and are put into pockets and taken out.

use super::ensure::ensure;
use crate::model::collection::Collection;
use crate::model::id::{PageId, PrintingId};
use crate::model::pocket::Place;
use crate::model::refused::Refused;
use crate::model::set::limits;

impl Collection {
    pub(super) fn acquire(&mut self, printing: PrintingId, count: u32) -> Result<(), Refused> {
        self.ensure_printing(printing)?;
        let copies = self.tally(printing).copies();
        ensure(copies.saturating_add(count) <= limits::COPIES, || {
            Refused::TooManyCopies(printing)
        })?;
        self.count(printing, |tally| tally.loose += count);
        Ok(())
    }

    pub(super) fn part_with(&mut self, printing: PrintingId, count: u32) -> Result<(), Refused> {
        self.ensure_printing(printing)?;
        let loose = self.tally(printing).loose;
        ensure(loose >= count, || Refused::TooFewLoose {
            printing,
            loose,
            asked: count,
        })?;
        self.count(printing, |tally| tally.loose -= count);
        Ok(())
    }

    pub(super) fn seat(
        &mut self,
        place: Place,
        page: PageId,
        printing: PrintingId,
    ) -> Result<(), Refused> {
        self.ensure_printing(printing)?;
        self.ensure_page(place, page)?;
        if let Some(held) = self.held(place) {
            return Err(Refused::PocketFilled { place, held });
        }
        let loose = self.tally(printing).loose;
        ensure(loose > 0, || Refused::TooFewLoose {
            printing,
            loose,
            asked: 1,
        })?;
        self.put(place, Some(printing));
        self.count(printing, |tally| {
            tally.loose -= 1;
            tally.pocketed += 1;
        });
        Ok(())
    }

    pub(super) fn lift(
        &mut self,
        place: Place,
        page: PageId,
        printing: PrintingId,
    ) -> Result<(), Refused> {
        self.ensure_page(place, page)?;
        ensure(self.held(place) == Some(printing), || {
            Refused::PocketNotHolding {
                place,
                expected: printing,
            }
        })?;
        self.put(place, None);
        self.count(printing, |tally| {
            tally.loose += 1;
            tally.pocketed -= 1;
        });
        Ok(())
    }

    /// Writes a pocket and the counts that follow from it, all but the printing's own.
    fn put(&mut self, place: Place, card: Option<PrintingId>) {
        let Some(binder) = self.binder_to_alter(place.binder) else {
            return;
        };
        let matched = binder.comparable(place.page);
        let wanted = binder.layout.pages.get(place.page);
        let wanted = wanted.and_then(|page| page.printing(place.pocket));
        let pocket = &mut binder.pages[place.page].cards[place.pocket];
        let before = std::mem::replace(pocket, card);
        let hits = |card: Option<PrintingId>| matched && card.is_some() && card == wanted;
        binder.tally.filled -= u32::from(before.is_some());
        binder.tally.filled += u32::from(card.is_some());
        binder.tally.in_place -= u32::from(hits(before));
        binder.tally.in_place += u32::from(hits(card));
        if let Some(printing) = before {
            self.forget(printing.set(), place.binder);
        }
        if let Some(printing) = card {
            self.remember(printing.set(), place.binder);
        }
        for (printing, sign) in [(before, -1), (card, 1)] {
            if let Some(printing) = printing.filter(|p| hits(Some(*p))) {
                self.count(printing, |tally| {
                    tally.in_place = tally.in_place.wrapping_add_signed(sign);
                });
            }
        }
    }

    fn ensure_page(&self, place: Place, page: PageId) -> Result<(), Refused> {
        let binder = self.binder(place.binder);
        let binder = binder.ok_or(Refused::NoSuchBinder(place.binder))?;
        let real = binder.pages.get(place.page);
        let real = real.ok_or(Refused::NoSuchPage(page))?;
        ensure(real.id == page, || Refused::Stale("the page's place"))?;
        ensure(place.pocket < real.cards.len(), || {
            Refused::NoSuchPlace(place)
        })
    }
}
