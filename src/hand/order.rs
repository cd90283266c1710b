//! Runs are put in order.

use std::cmp::Ordering;

use super::Cannot;
use super::cards::{Foretold, several_words};
use super::ground::{Ground, Unit};
use super::rewrite::Front;
use super::row::Row;
use crate::layout::Order;
use crate::model::{Collection, Place};
use crate::text::Choice;

/// The cards of a run in the opposite order. Blanks, keepsakes and room stay where they are.
///
/// # Errors
/// Fewer than two cards, or pockets of different sizes.
pub fn turn_round(
    collection: &Collection,
    ground: Ground,
    run: &[Place],
) -> Result<Foretold, Cannot> {
    let deed = ("put", "put", "in the opposite order".to_owned());
    reordered(collection, ground, run, deed, |units| {
        units.reverse();
    })
}

/// The cards of a run in order, those of each set by themselves. Blanks, keepsakes and room stay
/// where they are. There is no list to go by: by one is as the checklist has them.
///
/// # Errors
/// Fewer than two cards, or pockets of different sizes.
pub fn sort(
    collection: &Collection,
    ground: Ground,
    run: &[Place],
    by: Order,
) -> Result<Foretold, Cannot> {
    let by_what = match by {
        Order::Checklist | Order::List => "the checklist",
        by => by.word(),
    };
    let deed = ("sort", "sorted", format!("by {by_what}"));
    reordered(collection, ground, run, deed, |units| {
        units.sort_by(|a, b| compare(collection, by, a, b));
    })
}

fn reordered(
    collection: &Collection,
    ground: Ground,
    run: &[Place],
    (deed, done, how): (&str, &str, String),
    order: impl FnOnce(&mut Vec<Unit>),
) -> Result<Foretold, Cannot> {
    let first = *run.first().ok_or(Cannot::MarkTwo)?;
    let mut row = Row::of(collection, ground, first);
    let slots: Vec<usize> = row
        .indices(run)?
        .into_iter()
        .filter(|at| row.units[*at].printing().is_some())
        .collect();
    if slots.len() < 2 {
        return Err(Cannot::MarkTwo);
    }
    let moved = several_words(collection, ground, slots.iter().map(|at| &row.units[*at]));
    // In a draft what is meant for a card stands for it.
    let has_gap = ground.is_real() && slots.iter().any(|at| row.units[*at].held.is_none());
    let what = match has_gap {
        false => format!("the {} marked cards", slots.len()),
        true => format!("what is marked, {moved},"),
    };
    let mut units: Vec<Unit> = slots.iter().map(|at| row.units[*at].clone()).collect();
    order(&mut units);
    for (at, unit) in slots.into_iter().zip(units) {
        row.units[at] = unit;
    }
    let changes = ground.rewrite(collection, &row.wanted(), Front::InTheWay)?;
    if changes.is_empty() {
        return Err(Cannot::InThisOrder);
    }
    Ok(Foretold {
        step: ground.step(collection, &format!("{moved} {done} {how}"), changes),
        words: format!("{deed} {what} {how}"),
    })
}

fn compare(collection: &Collection, by: Order, a: &Unit, b: &Unit) -> Ordering {
    let (Some(a), Some(b)) = (a.printing(), b.printing()) else {
        return Ordering::Equal;
    };
    let (Some(left), Some(right)) = (collection.card(a), collection.card(b)) else {
        return Ordering::Equal;
    };
    let order = by.compare(left, right);
    let set = a.set().cmp(&b.set());
    let card = a.card().cmp(&b.card());
    set.then(order).then(card).then(a.finish().cmp(&b.finish()))
}
