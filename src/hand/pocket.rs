//! What hands do at one pocket: put a card in, take one out, add one, give one away.
//!
//! What a pocket is comes in as it is told: while pages are still to be moved that is not what the
//! layout says of the place (see [`super::by_pages()`]), and to find it out takes a plan.

use super::Cannot;
use crate::model::{Change, Collection, Page, PageId, Place, PocketState, PrintingId, Step};
use crate::report::{place_words, printing_words};

fn page_at(collection: &Collection, place: Place) -> Result<PageId, Cannot> {
    collection
        .binder(place.binder)
        .and_then(|binder| binder.pages().get(place.page))
        .map(Page::id)
        .ok_or(Cannot::NoPageHere)
}

/// The card with its set's code, since the list of steps is one for all sets; and a bare number
/// before "came in" reads like a count.
#[must_use]
pub fn named(collection: &Collection, printing: PrintingId) -> String {
    let code = collection.set(printing.set()).map_or("", |set| set.code());
    format!("{code} {}", printing_words(collection, printing))
}

/// The card that lies before this pocket, in the front of a shared one: it comes out before
/// anything behind it can be moved, and goes back.
#[must_use]
pub fn in_front(collection: &Collection, place: Place) -> Option<PrintingId> {
    let page = collection.binder(place.binder)?.pages().get(place.page)?;
    let format = page.format();
    let front = place.pocket.checked_sub(format.per_side())?;
    page.cards()
        .get(front)
        .copied()
        .flatten()
        .filter(|_| format.shared)
}

/// A place in words, with the card that lies before it.
fn where_words(collection: &Collection, place: Place) -> String {
    let words = place_words(collection, place);
    match in_front(collection, place) {
        Some(front) => format!("{words}, behind {}", printing_words(collection, front)),
        None => words,
    }
}

/// A loose copy of what the pocket is meant for goes into it.
///
/// # Errors
/// The pocket is filled, or meant for no card, or no loose copy is there.
pub fn put(collection: &Collection, place: Place, state: &PocketState) -> Result<Step, Cannot> {
    let page = page_at(collection, place)?;
    if state.held().is_some() {
        return Err(Cannot::PocketFilled);
    }
    let printing = state.wanted().ok_or(Cannot::MeantForNoCard)?;
    if collection.tally(printing).loose == 0 {
        return Err(Cannot::NoLooseCopy);
    }
    Ok(Step::new(
        format!(
            "{} into {}",
            named(collection, printing),
            where_words(collection, place)
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
    let printing = collection.held(place).ok_or(Cannot::PocketEmpty)?;
    Ok(Step::new(
        format!(
            "{} out of {}",
            named(collection, printing),
            where_words(collection, place)
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
pub fn acquire(collection: &Collection, place: Place, state: &PocketState) -> Result<Step, Cannot> {
    let page = page_at(collection, place)?;
    let printing = subject(state).ok_or(Cannot::MeantForNoCard)?;
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
    let to = where_words(collection, place);
    Ok(Step::new(
        format!("{words} came in, into {to}"),
        vec![came, seat],
    ))
}

/// One loose copy of the pocket's card leaves the collection.
///
/// # Errors
/// No loose copy is there.
pub fn part_with(collection: &Collection, state: &PocketState) -> Result<Step, Cannot> {
    let printing = subject(state).ok_or(Cannot::MeantForNoCard)?;
    if collection.tally(printing).loose == 0 {
        return Err(Cannot::NoLooseCopy);
    }
    Ok(Step::new(
        format!("{} left the collection", named(collection, printing)),
        vec![Change::PartWith { printing, count: 1 }],
    ))
}

/// The printing that a pocket is about: what it holds, else what it is meant for.
fn subject(state: &PocketState) -> Option<PrintingId> {
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
        type Deed = fn(&Collection, Place, &PocketState) -> Result<Step, Cannot>;
        let take: Deed = |of, place, _| take(of, place);
        let part_with: Deed = |of, _, state| part_with(of, state);
        let deeds: [Deed; 6] = [acquire, take, part_with, put, take, put];
        for deed in deeds {
            let state = collection.pocket(place);
            let step = deed(&collection, place, &state).unwrap();
            Change::apply_all(&step.changes, &mut collection).unwrap();
            told.push(step.label);
        }
        assert_eq!(
            told,
            [
                "WOOD 1 Acorn Warden came in, loose",
                "WOOD 1 Acorn Warden out of page 1, front, row 1, pocket 1",
                "WOOD 1 Acorn Warden left the collection",
                "WOOD 1 Acorn Warden into page 1, front, row 1, pocket 1",
                "WOOD 1 Acorn Warden out of page 1, front, row 1, pocket 1",
                "WOOD 1 Acorn Warden into page 1, front, row 1, pocket 1",
            ]
        );
    }
    #[test]
    fn behind_a_card_of_a_shared_pocket_that_card_is_named() {
        use crate::model::random::places;
        let mut collection = demo::collection();
        let shared = |place: &Place| {
            let binder = collection.binder(place.binder).unwrap();
            binder.pages()[place.page].format().shared
        };
        let behind = places(&collection)
            .filter(|place| place.page < collection.binder(place.binder).unwrap().pages().len())
            .find(|place| shared(place) && in_front(&collection, *place).is_some());
        let behind = behind.expect("the demo has shared pockets");
        let front = in_front(&collection, behind).unwrap();
        let words = printing_words(&collection, front);
        let state = collection.pocket(behind);
        let step = acquire(&collection, behind, &state)
            .or_else(|_| take(&collection, behind))
            .unwrap();
        let take_out = take(&collection, behind).or_else(|_| {
            Change::apply_all(&step.changes, &mut collection).unwrap();
            take(&collection, behind)
        });
        let label = take_out.unwrap().label;
        assert!(label.ends_with(&format!("behind {words}")), "{label}");
        // Of the front itself nothing is said.
        let format = collection.binder(behind.binder).unwrap().pages()[behind.page].format();
        let place = Place {
            pocket: behind.pocket - format.per_side(),
            ..behind
        };
        assert!(!take(&collection, place).unwrap().label.contains("behind"));
    }
}
