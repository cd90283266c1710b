//! Runs are put in order, and all of a rarity is gathered in front.

use std::cmp::Ordering;

use super::Cannot;
use super::cards::Row;
use super::ground::{Ground, Unit};
use crate::model::{Change, Collection, LayoutPage, Place, Step};
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
pub fn reverse(collection: &Collection, ground: Ground, run: &[Place]) -> Result<Step, Cannot> {
    let words = format!("{} pockets in the opposite order", run.len());
    reordered(collection, ground, run, words, |units| {
        units.reverse();
    })
}

/// The cards of a run in order. Blanks, keepsakes and room stay where they are.
///
/// # Errors
/// Fewer than two cards, or pockets of different sizes.
pub fn sort(
    collection: &Collection,
    ground: Ground,
    run: &[Place],
    by: SortBy,
) -> Result<Step, Cannot> {
    let words = format!("{} pockets sorted by {}", run.len(), by.word());
    reordered(collection, ground, run, words, |units| {
        units.sort_by(|a, b| compare(collection, by, a, b));
    })
}

fn reordered(
    collection: &Collection,
    ground: Ground,
    run: &[Place],
    words: String,
    order: impl FnOnce(&mut Vec<Unit>),
) -> Result<Step, Cannot> {
    let first = *run.first().ok_or("mark a run first")?;
    let mut row = Row::of(collection, ground, first);
    let mut slots = Vec::new();
    for place in run {
        let at = row.index(*place)?;
        if row.units[at].printing().is_some() {
            slots.push(at);
        }
    }
    if slots.len() < 2 {
        return Err("mark a run of two cards or more first");
    }
    let mut units: Vec<Unit> = slots.iter().map(|at| row.units[*at].clone()).collect();
    order(&mut units);
    for (at, unit) in slots.into_iter().zip(units) {
        row.units[at] = unit;
    }
    let changes = ground.rewrite(collection, &row.wanted())?;
    if changes.is_empty() {
        return Err("the run is in this order already");
    }
    Ok(Step::new(words, changes))
}

fn compare(collection: &Collection, by: SortBy, a: &Unit, b: &Unit) -> Ordering {
    let (Some(a), Some(b)) = (a.printing(), b.printing()) else {
        return Ordering::Equal;
    };
    let (Some(left), Some(right)) = (collection.card(a), collection.card(b)) else {
        return Ordering::Equal;
    };
    let number = || natural_cmp(&left.number, &right.number);
    let rarity = |card: &crate::model::Card| card.rarity.map_or(u32::MAX, u32::from);
    let order = match by {
        SortBy::Number => number(),
        SortBy::Name => {
            let (left, right) = (left.name.to_lowercase(), right.name.to_lowercase());
            left.cmp(&right).then_with(number)
        }
        SortBy::Rarity => rarity(left).cmp(&rarity(right)).then_with(number),
        SortBy::Checklist => a.card().cmp(&b.card()),
    };
    order.then(a.finish().cmp(&b.finish()))
}

/// All pockets for cards of a rarity (a place in the set's list) come together on pages of their
/// own at the front; the others keep their pockets. Only drafts: on the real binder it is work
/// for a sheet.
///
/// # Errors
/// Not a draft, or no card of that rarity has a pocket.
pub fn gather(collection: &Collection, ground: Ground, rarity: u16) -> Result<Step, Cannot> {
    if ground.is_real() {
        return Err("gather in a draft; adopting it gives the work sheet");
    }
    let layout = ground.layout(collection)?;
    let is_of = |unit: &Unit| {
        let card = unit
            .printing()
            .and_then(|printing| collection.card(printing));
        card.is_some_and(|card| card.rarity == Some(rarity))
    };
    let mut wanted = Vec::new();
    let mut gathered = Vec::new();
    let mut format = None;
    for (page, meant) in layout.pages.iter().enumerate() {
        for pocket in 0..meant.format().pockets() {
            let place = ground.place(page, pocket);
            let unit = ground.unit(collection, place);
            if is_of(&unit) {
                format = format.or(Some(meant.format()));
                wanted.push((place, Unit::default()));
                gathered.push(unit);
            }
        }
    }
    let format = format.ok_or("no card of that rarity has a pocket here")?;
    let mut changes = ground.rewrite(collection, &wanted)?;
    let cards = gathered.len();
    for (at, units) in gathered.chunks(format.pockets()).enumerate() {
        let mut page = LayoutPage::empty(format);
        for (pocket, unit) in units.iter().enumerate() {
            page.set_meaning(pocket, unit.meaning.clone());
        }
        changes.push(ground.change(Change::AddLayoutPage {
            binder: ground.binder,
            at,
            page: Box::new(page),
        }));
    }
    Ok(Step::new(
        format!("{cards} cards gathered in front"),
        changes,
    ))
}
