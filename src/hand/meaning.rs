//! Pockets get a meaning or lose it; room is made and filled.

use std::collections::HashSet;

use super::Cannot;
use super::cards::Foretold;
use super::ground::{Ground, Unit, meant_elsewhere};
use super::rewrite::Front;
use super::row::Row;
use crate::model::{Change, Collection, Meaning, Place, PrintingId, limits};
use crate::report::printing_words;
use crate::text::{count, natural_cmp};

/// The pocket is left empty on purpose.
///
/// # Errors
/// It holds a card, or is blank already.
pub fn blank(collection: &Collection, ground: Ground, place: Place) -> Result<Foretold, Cannot> {
    let pocket = ground.words(collection, place);
    let told = format!("{pocket} left empty on purpose");
    let words = format!("leave {pocket} empty on purpose");
    given(collection, ground, place, Meaning::Blank, told, words)
}

/// The pocket is for a keepsake, in the collector's words.
///
/// # Errors
/// It holds a card, or there are no words, or too many.
pub fn keepsake(
    collection: &Collection,
    ground: Ground,
    place: Place,
    words: &str,
) -> Result<Foretold, Cannot> {
    let words = words.trim();
    if words.is_empty() {
        return Err(Cannot::NoKeepsakeWords);
    }
    if words.len() > limits::TEXT {
        return Err(Cannot::KeepsakeTooLong);
    }
    let told = format!("{words} in {}", ground.words(collection, place));
    let meaning = Meaning::Keepsake(words.into());
    let words = format!("put {told}");
    given(collection, ground, place, meaning, told, words)
}

/// The pocket is free: for nothing yet.
///
/// # Errors
/// It holds a card, or is free already.
pub fn make_free(
    collection: &Collection,
    ground: Ground,
    place: Place,
) -> Result<Foretold, Cannot> {
    let pocket = ground.words(collection, place);
    let told = format!("{pocket} made free");
    let words = format!("make {pocket} free");
    given(collection, ground, place, Meaning::Nothing, told, words)
}

fn given(
    collection: &Collection,
    ground: Ground,
    place: Place,
    meaning: Meaning,
    mut told: String,
    mut words: String,
) -> Result<Foretold, Cannot> {
    let old = ground.unit(collection, place);
    if old.held.is_some() {
        return Err(Cannot::TakeOutFirst);
    }
    if old.meaning == meaning {
        return Err(Cannot::MeansSo);
    }
    if let Meaning::Printing(printing) = old.meaning {
        let card = printing_words(collection, printing);
        let without = format!(", {card} without a pocket then");
        told.push_str(&without);
        words.push_str(&without);
    }
    let unit = Unit {
        held: None,
        meaning,
    };
    let changes = ground.rewrite(collection, &[(place, unit)], Front::InTheWay)?;
    Ok(Foretold {
        step: ground.step(collection, &told, changes),
        words,
    })
}

/// `pockets` pockets of room are made from this place on; what stands there moves along, past
/// blanks and keepsakes. Beforehand is told how many cards go further on, and how far.
///
/// # Errors
/// There is that much room already, or none further on to take what moves.
pub fn leave_room(
    collection: &Collection,
    ground: Ground,
    place: Place,
    pockets: usize,
) -> Result<Foretold, Cannot> {
    let mut row = Row::of(collection, ground, place);
    let start = row.index(place)?;
    if pockets == 0 {
        return Err(Cannot::NoNumberOfPockets);
    }
    let from = row.slots().partition_point(|at| *at < start);
    let moved = row.open(from, pockets)?;
    if moved == 0 {
        return Err(Cannot::RoomAlready);
    }
    let wanted = row.wanted();
    let altered = |(to, unit): &&(Place, Unit)| {
        unit.printing().is_some() && ground.unit(collection, *to) != *unit
    };
    let last = wanted.iter().rfind(altered).map_or(place, |(to, _)| *to);
    let changes = ground.rewrite(collection, &wanted, Front::InTheWay)?;
    let lifts = changes.iter();
    let cards = lifts.filter(|change| matches!(change, Change::Lift { .. }));
    let cards = cards.count() as u64;
    let further = |one: &str, many: &str| match cards {
        0 => "no card lies further on".into(),
        _ => {
            let cards = count(cards, one, many);
            format!("{cards} further on, as far as page {}", last.page + 1)
        }
    };
    let (words, behind) = if ground.is_real() {
        let behind = format!("; {}", further("card lies", "cards lie"));
        (further("card goes", "cards go"), behind)
    } else {
        let moved = count(moved as u64, "card goes", "cards go");
        let words = format!("{moved} further on, as far as page {}", last.page + 1);
        (words, String::new())
    };
    let room = count(pockets as u64, "card", "cards");
    let from = ground.words(collection, place);
    let label = format!("room made for {room} from {from}{behind}");
    Ok(Foretold {
        step: ground.step(collection, &label, changes),
        words,
    })
}

/// The cards of the binder's set that have a pocket neither in this layout nor in that of another
/// binder get the pockets that are for nothing, from this place on, in natural order, finish by
/// finish.
///
/// # Errors
/// The binder is for no set, every card has its pocket, or no pocket is free.
pub fn fill(collection: &Collection, ground: Ground, place: Place) -> Result<Foretold, Cannot> {
    let binder = ground.binder(collection)?;
    let id = binder.spec().set.ok_or(Cannot::NoSet)?;
    let set = collection.set(id).ok_or(Cannot::NoSet)?;
    let placed: HashSet<PrintingId> = ground
        .layout(collection)?
        .pages
        .iter()
        .flat_map(|page| page.printings().map(|(_, printing)| printing))
        .collect();
    let elsewhere = meant_elsewhere(collection, binder);
    let mut missing: Vec<PrintingId> = set
        .printings(id)
        .filter(|printing| !placed.contains(printing) && !elsewhere(*printing))
        .collect();
    if missing.is_empty() {
        return Err(Cannot::EveryCardHasItsPocket);
    }
    let number = |p: &PrintingId| set.card(p.card()).map_or("", |card| &card.number);
    missing.sort_by(|a, b| {
        let by_finish = a.finish().cmp(&b.finish());
        by_finish.then_with(|| natural_cmp(number(a), number(b)))
    });
    let mut row = Row::of(collection, ground, place);
    let start = row.index(place)?;
    let free: Vec<usize> = (start..row.units.len())
        .filter(|at| row.is_room(*at))
        .collect();
    let filled = free.len().min(missing.len());
    if filled == 0 {
        return Err(Cannot::NoneFree);
    }
    for (at, printing) in free.into_iter().zip(&missing) {
        row.units[at].meaning = Meaning::Printing(*printing);
    }
    let changes = ground.rewrite(collection, &row.wanted(), Front::InTheWay)?;
    let pockets = if filled == 1 { "a pocket" } else { "pockets" };
    let cards = count(filled as u64, "card", "cards");
    let rest = match missing.len() - filled {
        0 => String::new(),
        left => format!(", {left} still without"),
    };
    let words = format!("{pockets} for {cards}{rest}");
    Ok(Foretold {
        step: ground.step(collection, &words, changes),
        words: format!("from here on {words}"),
    })
}
