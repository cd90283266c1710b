//! What can be done to the pages and pockets here, or to a binder as a whole, line by line.

use std::collections::HashSet;

use super::{Deed, Item};
use crate::hand::{self, Behind, Cannot, Foretold, Ground};
use crate::layout::{self, Order};
use crate::model::{BinderId, Change, Collection, Place, Step};
use crate::text;
use crate::ui::screen::ask::Question;

/// A line for a step that can be done; it says what it would do.
fn offer(items: &mut Vec<Item>, key: impl Into<Option<char>>, put: Result<Foretold, Cannot>) {
    if let Ok(put) = put {
        items.push(Item {
            key: key.into(),
            words: text::sentence(&put.words),
            deed: Deed::Step(Box::new(put.step)),
        });
    }
}

fn ask(
    items: &mut Vec<Item>,
    ground: Ground,
    key: char,
    words: &str,
    question: Question,
    begin: &str,
) {
    items.push(Item {
        key: Some(key),
        words: words.into(),
        deed: Deed::Ask(ground, question, begin.into()),
    });
}

/// The ways in which a binder leaves the shelf.
pub(super) fn leaving(collection: &Collection, binder: BinderId, items: &mut Vec<Item>) {
    let Some(found) = collection.binder(binder) else {
        return;
    };
    let set = found.spec().set;
    offer(items, 'b', hand::take_off_shelf(collection, binder));
    if let Some(set) = set {
        offer(items, 's', hand::give_up(collection, set));
    }
}

/// Sets without a binder that are listed; how many more there are is told.
const MOST_SETS: usize = 99;

/// Sets for which no binder stands on the shelf, the first nine of them with a figure.
pub(super) fn without_binder(collection: &Collection, items: &mut Vec<Item>) {
    let shelved: HashSet<_> = collection.shelf().filter_map(|b| b.spec().set).collect();
    let sets = collection.sets().map(|(id, _)| id);
    let without: Vec<_> = sets.filter(|id| !shelved.contains(id)).collect();
    let figures = ('1'..='9').map(Some).chain(std::iter::repeat(None));
    for (key, set) in figures.zip(without.iter().take(MOST_SETS)) {
        offer(items, key, hand::give_up(collection, *set));
    }
    let more = without.len().saturating_sub(MOST_SETS) as u64;
    if more > 0 {
        let sets = text::count(more, "more set", "more sets");
        items.push(Item {
            key: None,
            words: format!("and {sets} without a binder"),
            deed: Deed::More,
        });
    }
}

pub(super) fn pages(collection: &Collection, ground: Ground, place: Place, items: &mut Vec<Item>) {
    let formats = ground.formats(collection);
    let here = formats.get(place.page).copied();
    let usual = here.unwrap_or_else(layout::default_format);
    let fixed = hand::insert_page(collection, ground, 0, usual).is_err();
    if fixed {
        return;
    }
    let grid = layout::grid_word(&usual);
    if formats.is_empty() {
        offer(items, 'i', hand::insert_page(collection, ground, 0, usual));
        ask(
            items,
            ground,
            'f',
            "Put in a page of another format\u{2026}",
            Question::InsertPage(0),
            &grid,
        );
        return;
    }
    let (at, after) = (place.page, place.page + 1);
    offer(items, 'i', hand::insert_page(collection, ground, at, usual));
    offer(
        items,
        'j',
        hand::insert_page(collection, ground, after, usual),
    );
    ask(
        items,
        ground,
        'f',
        "Put in a page of another format\u{2026}",
        Question::InsertPage(after),
        &grid,
    );
    ask(
        items,
        ground,
        'g',
        "Give this page another format\u{2026}",
        Question::ChangeFormat(at),
        &grid,
    );
    offer(items, 'x', hand::remove_page(collection, ground, at));
    let others = collection
        .shelf()
        .filter(|binder| binder.id() != ground.binder && binder.spec().kind.pages_move());
    if ground.is_real() && others.count() > 0 {
        let words = "Carry this page into another binder\u{2026}";
        ask(items, ground, 'h', words, Question::PageOver(at), "");
    }
}

pub(super) fn pocket(collection: &Collection, ground: Ground, place: Place, items: &mut Vec<Item>) {
    offer(items, 'b', hand::blank(collection, ground, place));
    offer(items, 'c', hand::make_free(collection, ground, place));
    let there = hand::keepsake(collection, ground, place, "something").is_ok();
    if there {
        ask(
            items,
            ground,
            'k',
            "Put a keepsake into this pocket\u{2026}",
            Question::Keepsake(place),
            "",
        );
    }
    if hand::leave_room(collection, ground, place, 1).is_ok() {
        ask(
            items,
            ground,
            'o',
            "Leave room from this pocket on\u{2026}",
            Question::Room(place),
            "1",
        );
    }
    offer(items, 'l', hand::fill(collection, ground, place));
}

pub(super) fn runs(collection: &Collection, ground: Ground, run: &[Place], items: &mut Vec<Item>) {
    offer(items, 'r', hand::turn_round(collection, ground, run));
    for (key, by) in [
        ('1', Order::Number),
        ('2', Order::Name),
        ('3', Order::Rarity),
        ('4', Order::Checklist),
    ] {
        offer(items, key, hand::sort(collection, ground, run, by));
    }
    let carry = |put: Result<Foretold, Cannot>| {
        put.map(|put| Foretold {
            words: format!("carry {}", put.words),
            ..put
        })
    };
    offer(items, '<', carry(hand::to_front(collection, ground, run)));
    offer(items, '>', carry(hand::to_back(collection, ground, run)));
    let words = "Carry the marked cards to a page\u{2026}";
    ask(
        items,
        ground,
        'p',
        words,
        Question::RunToPage(run.to_vec()),
        "",
    );
}

/// Gathering a rarity in front, for each rarity of the binder's set, in both ways.
pub(super) fn rarities(collection: &Collection, ground: Ground, items: &mut Vec<Item>) {
    let id = collection
        .binder(ground.binder)
        .and_then(|binder| binder.spec().set);
    let Some((id, set)) = id.and_then(|id| Some((id, collection.set(id)?))) else {
        return;
    };
    let mut keys = ('A'..='Z').map(Some).chain(std::iter::repeat(None));
    for (behind, how) in [
        (Behind::LeftFree, "their pockets stay free"),
        (Behind::ClosedUp, "the others close up"),
    ] {
        for (at, name) in (0u16..).zip(set.rarities()) {
            let gathered = hand::gather(collection, ground, id, at, behind);
            let (Ok(step), Some(key)) = (gathered, keys.next()) else {
                continue;
            };
            items.push(Item {
                key,
                words: format!("Gather in front: {name}; {how}{}", carried(&step)),
                deed: Deed::Step(Box::new(step)),
            });
        }
    }
}

/// How many cards a step has one carry by hand.
fn carried(step: &Step) -> String {
    let lifts = step.changes.iter();
    let lifts = lifts.filter(|change| matches!(change, Change::Lift { .. }));
    match lifts.count() as u64 {
        0 => String::new(),
        many => format!("; {} to take out", text::count(many, "card", "cards")),
    }
}

/// For each finish of the binder's set, that it is not collected or is again.
pub(super) fn collected(collection: &Collection, ground: Ground, items: &mut Vec<Item>) {
    let id = collection
        .binder(ground.binder)
        .and_then(|binder| binder.spec().set);
    let Some((id, set)) = id.and_then(|id| Some((id, collection.set(id)?))) else {
        return;
    };
    // Where there is one finish, leaving it out would leave nothing.
    let finishes = set.finishes().len();
    if finishes < 2 || !ground.is_real() {
        return;
    }
    let keys = "nmqtuvwyz".chars().map(Some).chain(std::iter::repeat(None));
    for (finish, key) in (0u8..finishes as u8).zip(keys) {
        let put = if set.is_left_out(finish) {
            hand::collect(collection, id, finish)
        } else {
            hand::leave_out(collection, id, finish)
        };
        offer(items, key, put);
    }
}
