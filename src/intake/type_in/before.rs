//! The empty pockets before a card that was typed in, and which cards they are kept for.

use super::said::{self, Said};
use crate::intake::number::Parted;
use crate::model::{Binder, Collection, Place, PocketState, PrintingId, Set};

/// So many empty pockets before a card are looked back over.
const LOOKED_BACK: usize = 80;

/// The empty pockets straight before this one, with the numbers that they are kept for: where a
/// card of the same finish lies before them, and exactly as many numbers are left out between.
pub(super) fn before(
    collection: &Collection,
    binder: &Binder,
    place: Place,
    said: &Said,
) -> Vec<(Place, Box<str>)> {
    let mut free = Vec::new();
    let mut at = place;
    let last = loop {
        let Some(earlier) = pocket_before(binder, at) else {
            return Vec::new();
        };
        at = earlier;
        match collection.pocket(at) {
            PocketState::Unassigned if free.len() < LOOKED_BACK => free.push(at),
            PocketState::InPlace(printing)
            | PocketState::Gap(printing)
            | PocketState::Waiting(printing) => {
                break printing;
            }
            _ => return Vec::new(),
        }
    };
    let set = collection.set(last.set());
    let same_finish = set.is_some_and(|set| {
        let name = set.finishes().get(usize::from(last.finish()));
        binder.spec().set == Some(last.set()) && name.is_some_and(|name| name.name == said.finish)
    });
    if free.is_empty() || !same_finish {
        return Vec::new();
    }
    let mut number: Box<str> = collection
        .card(last)
        .map_or("".into(), |card| card.number.as_str().into());
    let mut kept = Vec::new();
    for place in free.into_iter().rev() {
        match following(&number) {
            Some(next) => number = next.into(),
            None => return Vec::new(),
        }
        kept.push((place, number.clone()));
    }
    // A card that has its pocket elsewhere is not kept another one for.
    let has_pocket = |number: &str| {
        let card = set.and_then(|set| set.card_by_number(number));
        let printing = card.map(|card| PrintingId::new(last.set(), card, last.finish()));
        printing.is_some_and(|p| collection.tally(p).meant > 0)
    };
    let fits = following(&number).as_deref() == Some(&*said.number);
    if !fits || kept.iter().any(|(_, number)| has_pocket(number)) {
        return Vec::new();
    }
    kept
}

/// What may lie in a free pocket, in words to be typed: the number that follows the card before it,
/// in its finish. For free pockets between a number each is passed over; what is left empty on
/// purpose, or holds a keepsake, has none.
#[must_use]
pub fn next_in_row(collection: &Collection, place: Place) -> Option<String> {
    let binder = collection.binder(place.binder)?;
    let (mut at, mut passed) = (place, 0);
    let before = loop {
        at = pocket_before(binder, at)?;
        let state = collection.pocket(at);
        if let Some(printing) = state.held().or_else(|| state.wanted()) {
            break printing;
        }
        passed += usize::from(state == PocketState::Unassigned);
        if passed > LOOKED_BACK {
            return None;
        }
    };
    if binder.spec().set != Some(before.set()) {
        return None;
    }
    let mut number = collection.card(before)?.number.to_string();
    for _ in 0..=passed {
        number = following(&number)?;
    }
    let finish = collection.set(before.set())?.finishes();
    let finish = finish.get(usize::from(before.finish()))?;
    Some(said::words(&number, &finish.name))
}

/// The number as the others of the set are written, where this one lacks their zeros or what they
/// have behind a slash: `002` for `2` beside `001`, `008/064` for `8` beside `007/064`. Those that
/// begin with the same letters are the others; where they differ among themselves nothing is said.
#[must_use]
pub fn as_the_others(set: &Set, number: &str) -> Option<String> {
    let with_digits = |number| Some(Parted::of(number)).filter(|of| !of.digits.is_empty());
    let Parted {
        letters,
        digits,
        tail,
    } = with_digits(number)?;
    let others = (set.cards().iter()).filter_map(|card| with_digits(&card.number));
    let others = || {
        others
            .clone()
            .filter(|other| other.letters.eq_ignore_ascii_case(letters))
    };
    let zeros = others().filter(|other| other.digits.starts_with('0'));
    let width = zeros.map(|other| other.digits.len()).min();
    let least = others().map(|other| other.digits.len()).min();
    let width = width.filter(|width| Some(*width) == least).unwrap_or(0);
    let slash = |tail: &str| {
        tail.find('/')
            .map_or(String::new(), |at| tail[at..].to_owned())
    };
    let mut slashes = others().map(|other| slash(other.tail));
    let first = slashes.next()?;
    let all_alike = slashes.all(|other| other == first);
    let more = match slash(tail).is_empty() && all_alike {
        true => first,
        false => String::new(),
    };
    let whole = format!("{letters}{digits:0>width$}{tail}{more}");
    (whole != number).then_some(whole)
}

/// The pocket before, also on the page before, as far as pages stand as the layout has them. Pages
/// that are still to come are like the last one.
fn pocket_before(binder: &Binder, at: Place) -> Option<Place> {
    let pages = binder.pages();
    let (page, pocket) = match at.pocket.checked_sub(1) {
        Some(pocket) => (at.page, pocket),
        None => {
            let page = at.page.checked_sub(1)?;
            let pockets = pages.get(page).or(pages.last())?.format().pockets();
            (page, pockets.checked_sub(1)?)
        }
    };
    let earlier = Place { page, pocket, ..at };
    (page >= pages.len() || binder.comparable(page)).then_some(earlier)
}

/// The number that follows in a set: `12` after `11`, `P2` after `P1`, `013` after `012`, `13/120`
/// after `12/120`, `13` after `12a`.
pub(super) fn following(number: &str) -> Option<String> {
    let (head, tail) = number.split_at(number.find('/').unwrap_or(number.len()));
    let end = head.rfind(|c: char| c.is_ascii_digit())? + 1;
    let start = head[..end]
        .rfind(|c: char| !c.is_ascii_digit())
        .map_or(0, |at| {
            at + head[at..].chars().next().map_or(1, char::len_utf8)
        });
    let digits = &head[start..end];
    let next = digits.parse::<u64>().ok()?.checked_add(1)?;
    // What stands behind the digits, as in 12a, is of this card alone.
    let width = digits.len();
    Some(format!("{}{next:0width$}{tail}", &head[..start]))
}
