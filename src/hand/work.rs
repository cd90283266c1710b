//! The work sheet as hands go through it: what each deed says, and whether it can be done now.

use crate::model::{BinderId, Change, Collection, PageId, Place, PrintingId, Step};
use crate::plan::{Deed, Sheet, Target, Way, in_force, sheet};
use crate::report::{pocket_words, printing_words};

/// The sheet of one binder, or of the whole shelf: from what lies there to the layouts in force.
#[must_use]
pub fn work_sheet(collection: &Collection, binder: Option<BinderId>, way: Way) -> Sheet {
    let mut targets: Vec<Target<'_>> = in_force(collection);
    if let Some(only) = binder {
        targets.retain(|target| target.binder == only);
    }
    sheet(collection, &targets, way)
}

/// Where a deed is done: the pocket that a card comes from or goes to, or the first of a page.
#[must_use]
pub fn deed_place(deed: &Deed) -> Option<Place> {
    let change = deed.changes.last()?;
    let page = |binder, page| Place {
        binder,
        page,
        pocket: 0,
    };
    Some(match change {
        Change::Lift { place, .. } | Change::Seat { place, .. } => *place,
        Change::MovePage { from, .. } => page(from.0, from.1),
        Change::AddPage { binder, at, .. } | Change::RemovePage { binder, at, .. } => {
            page(*binder, *at)
        }
        _ => return None,
    })
}

/// A deed as one would say it. `whole_shelf` names the binder too. What lies in the front of a
/// shared pocket is named where the deed is done behind it.
#[must_use]
pub fn deed_words(
    collection: &Collection,
    sheet: &Sheet,
    deed: &Deed,
    whole_shelf: bool,
) -> String {
    let words = bare_words(collection, sheet, deed, whole_shelf);
    let before = deed.in_front.iter().map(|of| card_number(collection, *of));
    let before: Vec<_> = before.collect();
    if before.is_empty() {
        return words;
    }
    format!("{words}, behind {}", before.join(" and "))
}

fn card_number(collection: &Collection, printing: PrintingId) -> String {
    let card = collection.card(printing);
    card.map_or_else(String::new, |card| card.number.to_string())
}

fn bare_words(collection: &Collection, sheet: &Sheet, deed: &Deed, whole_shelf: bool) -> String {
    let says = Says {
        collection,
        sheet,
        whole_shelf,
    };
    match deed.changes.as_slice() {
        [
            Change::Lift {
                place,
                page,
                printing,
            },
        ] => {
            format!(
                "Take out {}: {}",
                says.card(*printing),
                says.pocket(*place, *page)
            )
        }
        [
            Change::Seat {
                place,
                page,
                printing,
            },
        ] => {
            format!(
                "Put in {}: {}",
                says.card(*printing),
                says.pocket(*place, *page)
            )
        }
        [
            Change::Lift {
                place,
                page,
                printing,
            },
            Change::Seat {
                place: to,
                page: other,
                ..
            },
        ] => format!(
            "Carry {} from {} to {}",
            says.card(*printing),
            says.pocket(*place, *page),
            says.pocket(*to, *other)
        ),
        [Change::MovePage { from, to, .. }] => format!(
            "Move page {}{} to place {}{}",
            from.1 + 1,
            says.of(from.0),
            to.1 + 1,
            if from.0 == to.0 {
                String::new()
            } else {
                says.of(to.0)
            }
        ),
        [
            Change::AddPage {
                binder, at, format, ..
            },
        ] => format!(
            "Put in an empty page of {} x {} as page {}{}",
            format.rows,
            format.columns,
            at + 1,
            says.of(*binder)
        ),
        [Change::RemovePage { binder, at, .. }] => {
            format!("Take page {} out{}, it is empty", at + 1, says.of(*binder))
        }
        changes => format!("{} changes", changes.len()),
    }
}

struct Says<'s> {
    collection: &'s Collection,
    sheet: &'s Sheet,
    whole_shelf: bool,
}

impl Says<'_> {
    fn card(&self, printing: PrintingId) -> String {
        printing_words(self.collection, printing)
    }

    /// The page stands where the deeds before this one have left it, so its format is asked by id.
    fn pocket(&self, place: Place, page: PageId) -> String {
        let format = self.sheet.format(page);
        let at = format.and_then(|format| format.at(place.pocket));
        let words = at.map_or_else(
            || format!("page {}", place.page + 1),
            |at| pocket_words(place.page, at),
        );
        format!("{words}{}", self.of(place.binder))
    }

    fn of(&self, binder: BinderId) -> String {
        let named = self.collection.binder(binder).filter(|_| self.whole_shelf);
        named.map_or_else(String::new, |binder| format!(" of {}", binder.spec().title))
    }
}

/// The step that records these deeds as done, in their order.
#[must_use]
pub fn deeds_done(collection: &Collection, sheet: &Sheet, deeds: &[Deed]) -> Step {
    let changes = deeds.iter().flat_map(|deed| deed.changes.clone());
    let label = match deeds {
        [one] => deed_words(collection, sheet, one, false),
        many => format!("{} lines of the work sheet", many.len()),
    };
    Step::new(label, changes.collect())
}
