//! What hands do at one pocket: put a card in, take one out, add one, give one away.

use super::Cannot;
use crate::model::{Change, Collection, Page, PageId, Place, PrintingId, Step};
use crate::report::{place_words, printing_words};

fn page_at(collection: &Collection, place: Place) -> Result<PageId, Cannot> {
    collection
        .binder(place.binder)
        .and_then(|binder| binder.pages().get(place.page))
        .map(Page::id)
        .ok_or("there is no page here")
}

/// The card with its set's code, since the list of steps is one for all sets; and a bare number
/// before "came in" reads like a count.
pub(super) fn named(collection: &Collection, printing: PrintingId) -> String {
    let code = collection.set(printing.set()).map_or("", |set| set.code());
    format!("{code} {}", printing_words(collection, printing))
}

/// A loose copy of what the pocket is meant for goes into it.
///
/// # Errors
/// The pocket is filled, or meant for no card, or no loose copy is there.
pub fn put(collection: &Collection, place: Place) -> Result<Step, Cannot> {
    let page = page_at(collection, place)?;
    let state = collection.pocket(place);
    if state.held().is_some() {
        return Err("the pocket holds a card already");
    }
    let printing = state.wanted().ok_or("the pocket is meant for no card")?;
    if collection.tally(printing).loose == 0 {
        return Err("there is no loose copy of this card; + adds one that came in");
    }
    Ok(Step::new(
        format!(
            "{} into {}",
            named(collection, printing),
            place_words(collection, place)
        ),
        vec![Change::Seat {
            place,
            page,
            printing,
        }],
    ))
}

/// The copy in the pocket becomes loose.
///
/// # Errors
/// The pocket is empty.
pub fn take(collection: &Collection, place: Place) -> Result<Step, Cannot> {
    let page = page_at(collection, place)?;
    let printing = collection.held(place).ok_or("the pocket is empty")?;
    Ok(Step::new(
        format!(
            "{} out of {}",
            named(collection, printing),
            place_words(collection, place)
        ),
        vec![Change::Lift {
            place,
            page,
            printing,
        }],
    ))
}

/// A copy that is new to the collection: into the pocket if it is a gap, otherwise loose.
///
/// # Errors
/// The pocket neither holds a card nor is meant for one.
pub fn acquire(collection: &Collection, place: Place) -> Result<Step, Cannot> {
    let page = page_at(collection, place)?;
    let state = collection.pocket(place);
    let printing = subject(collection, place).ok_or("the pocket is meant for no card")?;
    let came = Change::Acquire { printing, count: 1 };
    let words = named(collection, printing);
    if state.held().is_some() {
        return Ok(Step::new(format!("{words} came in, loose"), vec![came]));
    }
    let seat = Change::Seat {
        place,
        page,
        printing,
    };
    let to = place_words(collection, place);
    Ok(Step::new(
        format!("{words} came in, into {to}"),
        vec![came, seat],
    ))
}

/// One loose copy of the pocket's card leaves the collection.
///
/// # Errors
/// No loose copy is there.
pub fn part_with(collection: &Collection, place: Place) -> Result<Step, Cannot> {
    let printing = subject(collection, place).ok_or("the pocket is meant for no card")?;
    if collection.tally(printing).loose == 0 {
        return Err("there is no loose copy of this card; take one out first");
    }
    Ok(Step::new(
        format!("{} given away", named(collection, printing)),
        vec![Change::PartWith { printing, count: 1 }],
    ))
}

/// The printing that a pocket is about: what it holds, else what it is meant for.
#[must_use]
pub fn subject(collection: &Collection, place: Place) -> Option<PrintingId> {
    let state = collection.pocket(place);
    state.held().or_else(|| state.wanted())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    #[test]
    fn every_deed_tells_the_set_the_card_and_where() {
        let mut collection = demo::collection();
        let binder = collection.binder_by_name("wood").unwrap();
        let place = Place {
            binder,
            page: 0,
            pocket: 0,
        };
        let mut told = Vec::new();
        let deeds = [acquire, take, part_with, put, take, put];
        for deed in deeds {
            let step = deed(&collection, place).unwrap();
            Change::apply_all(&step.changes, &mut collection).unwrap();
            told.push(step.label);
        }
        assert_eq!(
            told,
            [
                "WOOD 1 Acorn Warden came in, loose",
                "WOOD 1 Acorn Warden out of page 1, front, row 1, pocket 1",
                "WOOD 1 Acorn Warden given away",
                "WOOD 1 Acorn Warden into page 1, front, row 1, pocket 1",
                "WOOD 1 Acorn Warden out of page 1, front, row 1, pocket 1",
                "WOOD 1 Acorn Warden into page 1, front, row 1, pocket 1",
            ]
        );
    }
}
