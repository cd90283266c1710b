//! All cards of a rarity come together in front.

use std::collections::HashSet;

use super::Cannot;
use super::ground::{Ground, Unit};
use super::rewrite::Front;
use super::row::Row;
use crate::model::{Change, Collection, LayoutPage, Meaning, Place, PrintingId, SetId, Step};
use crate::text::count;

/// What becomes of the pockets that were gathered from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Behind {
    /// They are for nothing, and the others keep their pockets.
    LeftFree,
    /// What stood behind them moves up, as far as the next room: a run that begins behind room
    /// begins there still. Pages on which nothing is left are taken out.
    ClosedUp,
}

/// All pockets for cards of a rarity (a place in the set's list) come together on pages of their
/// own in front, in the order in which they stood; each pocket size on its own pages. Where pages
/// are fixed they go to the first pockets of their size, and the others are pushed along. Only in
/// drafts: on the real binder it is work for a sheet.
///
/// # Errors
/// Not a draft; no card of that rarity has a pocket; they stand in front already.
pub fn gather(
    collection: &Collection,
    ground: Ground,
    set: SetId,
    rarity: u16,
    behind: Behind,
) -> Result<Step, Cannot> {
    if ground.is_real() {
        return Err(Cannot::GatherInDraft);
    }
    let is_of = |printing: PrintingId| {
        let card = collection.card(printing);
        printing.set() == set && card.is_some_and(|card| card.rarity == Some(rarity))
    };
    let rows = rows(collection, ground, |unit| {
        unit.printing().is_some_and(is_of)
    });
    let cards: usize = rows.iter().map(|(_, run)| run.len()).sum();
    if cards == 0 {
        return Err(Cannot::NoneOfRarity);
    }
    let changes = if ground.binder(collection)?.spec().kind.pages_move() {
        on_own_pages(collection, ground, rows, behind)?
    } else {
        to_first_pockets(collection, ground, rows)?
    };
    if changes.is_empty() {
        return Err(Cannot::GatheredAlready);
    }
    let name = collection.set(set).and_then(|set| {
        let name = set.rarities().get(usize::from(rarity));
        name.map(|name| format!(" ({name})"))
    });
    let cards = count(cards as u64, "card", "cards");
    let words = format!("{cards}{} gathered in front", name.unwrap_or_default());
    Ok(ground.step(collection, &words, changes))
}

/// The pockets of each size that has a card of the kind, and where those cards are.
fn rows(
    collection: &Collection,
    ground: Ground,
    is_of: impl Fn(&Unit) -> bool,
) -> Vec<(Row, Vec<usize>)> {
    let mut rows = Vec::new();
    // A page of unknown pocket size may fit several sizes; it counts to the first.
    let mut seen = HashSet::new();
    for page in 0..ground.formats(collection).len() {
        if seen.contains(&page) {
            continue;
        }
        let row = Row::without(collection, ground, ground.place(page, 0), &seen);
        seen.extend(row.places.iter().map(|place| place.page));
        let run: Vec<usize> = (0..row.units.len())
            .filter(|at| is_of(&row.units[*at]))
            .collect();
        if !run.is_empty() {
            rows.push((row, run));
        }
    }
    rows
}

fn to_first_pockets(
    collection: &Collection,
    ground: Ground,
    rows: Vec<(Row, Vec<usize>)>,
) -> Result<Vec<Change>, Cannot> {
    let mut wanted = Vec::new();
    for (mut row, run) in rows {
        let hand = row.take_out(&run);
        row.push(hand, 0)?;
        wanted.extend(row.wanted());
    }
    ground.rewrite(collection, &wanted, Front::InTheWay)
}

fn on_own_pages(
    collection: &Collection,
    ground: Ground,
    rows: Vec<(Row, Vec<usize>)>,
    behind: Behind,
) -> Result<Vec<Change>, Cannot> {
    let formats = ground.formats(collection);
    let mut in_front = Vec::new();
    let mut wanted: Vec<(Place, Unit)> = Vec::new();
    for (mut row, run) in rows {
        let format = formats[row.places[run[0]].page];
        let room: Vec<bool> = (0..row.units.len()).map(|at| row.is_room(at)).collect();
        let gathered = row.take_out(&run);
        if behind == Behind::ClosedUp {
            row.close_up(&room);
        }
        in_front.extend(gathered.chunks(format.pockets()).map(|units| {
            let mut page = LayoutPage::empty(format);
            for (pocket, unit) in units.iter().enumerate() {
                page.set_meaning(pocket, unit.meaning.clone());
            }
            page
        }));
        wanted.extend(row.wanted());
    }
    let pages = &ground.layout(collection)?.pages;
    if pages.starts_with(&in_front) {
        return Ok(Vec::new());
    }
    let mut changes = ground.rewrite(collection, &wanted, Front::InTheWay)?;
    if behind == Behind::ClosedUp {
        changes.extend(without_empty(ground, pages, &wanted));
    }
    let adds = in_front.into_iter().enumerate();
    changes.extend(adds.map(|(at, page)| ground.add_layout_page(at, page)));
    Ok(changes)
}

/// The changes that take out the pages on which something stood and nothing is wanted any more.
fn without_empty(ground: Ground, pages: &[LayoutPage], wanted: &[(Place, Unit)]) -> Vec<Change> {
    let is_empty = |at: usize, page: &LayoutPage| {
        let mut mine = wanted
            .iter()
            .filter(|(place, _)| place.page == at)
            .peekable();
        let stood = (0..page.format().pockets()).any(|p| page.meaning(p) != Meaning::Nothing);
        stood && mine.peek().is_some() && mine.all(|(_, unit)| unit.is_room())
    };
    let last_first = pages.iter().enumerate().rev();
    last_first
        .filter(|(at, page)| is_empty(*at, page))
        .map(|(at, page)| {
            ground.change(Change::RemoveLayoutPage {
                binder: ground.binder,
                at,
                page: Box::new(LayoutPage::empty(page.format())),
            })
        })
        .collect()
}

impl Row {
    /// What stands in each stretch between pockets that were `room` before moves up in it.
    fn close_up(&mut self, room: &[bool]) {
        let slots = self.slots();
        for stretch in slots.split(|at| room[*at]) {
            let units: Vec<Unit> = stretch
                .iter()
                .map(|at| std::mem::take(&mut self.units[*at]))
                .filter(|unit| !unit.is_room())
                .collect();
            for (at, unit) in stretch.iter().zip(units) {
                self.units[*at] = unit;
            }
        }
    }
}
