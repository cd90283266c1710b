//! Runs are put in order.

use std::cmp::Ordering;

use super::Cannot;
use super::cards::Put;
use super::ground::{Ground, Unit};
use super::rewrite::Front;
use super::row::Row;
use crate::model::{Card, Collection, Place};
use crate::text::natural_cmp;

/// What a run is sorted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SortBy {
    Number,
    Name,
    /// In the set's own order of rarities, then by number.
    Rarity,
    /// As the checklist lists them.
    Checklist,
}

impl SortBy {
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Number => "number",
            Self::Name => "name",
            Self::Rarity => "rarity",
            Self::Checklist => "the checklist",
        }
    }
}

/// The cards of a run in the opposite order. Blanks, keepsakes and room stay where they are.
///
/// # Errors
/// Fewer than two cards, or pockets of different sizes.
pub fn turn_round(collection: &Collection, ground: Ground, run: &[Place]) -> Result<Put, Cannot> {
    let deed = ("turn", "turned", "round".to_owned());
    reordered(collection, ground, run, deed, |units| {
        units.reverse();
    })
}

/// The cards of a run in order, those of each set by themselves. Blanks, keepsakes and room stay
/// where they are.
///
/// # Errors
/// Fewer than two cards, or pockets of different sizes.
pub fn sort(
    collection: &Collection,
    ground: Ground,
    run: &[Place],
    by: SortBy,
) -> Result<Put, Cannot> {
    let deed = ("sort", "sorted", format!("by {}", by.word()));
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
) -> Result<Put, Cannot> {
    let first = *run.first().ok_or("mark two cards or more first")?;
    let mut row = Row::of(collection, ground, first);
    let slots: Vec<usize> = row
        .indices(run)?
        .into_iter()
        .filter(|at| row.units[*at].printing().is_some())
        .collect();
    if slots.len() < 2 {
        return Err("mark two cards or more first");
    }
    let mut units: Vec<Unit> = slots.iter().map(|at| row.units[*at].clone()).collect();
    order(&mut units);
    let many = slots.len();
    for (at, unit) in slots.into_iter().zip(units) {
        row.units[at] = unit;
    }
    let changes = ground.rewrite(collection, &row.wanted(), Front::InTheWay)?;
    if changes.is_empty() {
        return Err("the cards are in this order already");
    }
    Ok(Put {
        step: ground.step(collection, &format!("{many} cards {done} {how}"), changes),
        words: format!("{deed} the {many} marked cards {how}"),
    })
}

fn compare(collection: &Collection, by: SortBy, a: &Unit, b: &Unit) -> Ordering {
    let (Some(a), Some(b)) = (a.printing(), b.printing()) else {
        return Ordering::Equal;
    };
    let (Some(left), Some(right)) = (collection.card(a), collection.card(b)) else {
        return Ordering::Equal;
    };
    let number = || natural_cmp(&left.number, &right.number);
    // A card of no rarity comes last.
    let rarity = |card: &Card| card.rarity.map_or(u32::MAX, u32::from);
    let order = match by {
        SortBy::Number => number(),
        SortBy::Name => {
            let (left, right) = (left.name.to_lowercase(), right.name.to_lowercase());
            left.cmp(&right).then_with(number)
        }
        SortBy::Rarity => rarity(left).cmp(&rarity(right)).then_with(number),
        SortBy::Checklist => a.card().cmp(&b.card()),
    };
    let set = a.set().cmp(&b.set());
    set.then(order).then(a.finish().cmp(&b.finish()))
}
