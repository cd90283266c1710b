//! The layout is given its shape: pages come, go and change; pockets get a meaning or lose it.

use super::Cannot;
use super::cards::Row;
use super::ground::{Ground, Unit};
use crate::model::{
    Change, Collection, LayoutPage, Meaning, PageFormat, PageId, Place, PrintingId, Step,
};
use crate::report::place_words;
use crate::text::natural_cmp;

/// A page without meaning is put in as the `at`-th, from 0.
///
/// # Errors
/// The pages of the real binder are fixed, or there is no such place.
pub fn insert_page(
    collection: &Collection,
    ground: Ground,
    at: usize,
    format: PageFormat,
) -> Result<Step, Cannot> {
    ensure_pages_move(collection, ground)?;
    if at > ground.formats(collection).len() {
        return Err("there is no such place for a page");
    }
    let mut changes = Vec::new();
    let layout = ground.layout(collection)?.pages.len();
    if ground.is_real() {
        changes.push(Change::AddPage {
            binder: ground.binder,
            at,
            page: collection.fresh_page(),
            format,
        });
    }
    if at <= layout {
        changes.push(ground.change(Change::AddLayoutPage {
            binder: ground.binder,
            at,
            page: Box::new(LayoutPage::empty(format)),
        }));
    }
    let words = format!("a page put in as page {}", at + 1);
    Ok(Step::new(words, changes))
}

/// The `at`-th page goes. Cards on it become loose, and lose the pockets that were meant for them.
///
/// # Errors
/// The pages of the real binder are fixed, or there is no such page.
pub fn remove_page(collection: &Collection, ground: Ground, at: usize) -> Result<Step, Cannot> {
    ensure_pages_move(collection, ground)?;
    let (changes, cards) = removed(collection, ground, at)?;
    let words = format!("page {} taken out{}", at + 1, lost(ground, cards));
    Ok(Step::new(words, changes))
}

/// The `at`-th page becomes one of another format. What stood on it keeps its order; what finds
/// no pocket becomes loose.
///
/// # Errors
/// The pages of the real binder are fixed, or there is no such page.
pub fn change_format(
    collection: &Collection,
    ground: Ground,
    at: usize,
    format: PageFormat,
) -> Result<Step, Cannot> {
    ensure_pages_move(collection, ground)?;
    let formats = ground.formats(collection);
    let old = *formats.get(at).ok_or("there is no such page")?;
    if old == format {
        return Err("the page is of this format already");
    }
    let units = (0..old.pockets()).map(|pocket| ground.unit(collection, ground.place(at, pocket)));
    let mut kept: Vec<Unit> = units.filter(|unit| !unit.is_room()).collect();
    let over = kept.split_off(kept.len().min(format.pockets()));
    let (mut changes, _) = removed(collection, ground, at)?;
    let mut page = LayoutPage::empty(format);
    for (pocket, unit) in kept.iter().enumerate() {
        page.set_meaning(pocket, unit.meaning.clone());
    }
    let fresh: PageId = collection.fresh_page();
    if ground.is_real() {
        changes.push(Change::AddPage {
            binder: ground.binder,
            at,
            page: fresh,
            format,
        });
    }
    if at < ground.layout(collection)?.pages.len() {
        changes.push(ground.change(Change::AddLayoutPage {
            binder: ground.binder,
            at,
            page: Box::new(page),
        }));
    }
    for (pocket, unit) in kept.iter().enumerate() {
        changes.extend(unit.held.map(|printing| Change::Seat {
            place: ground.place(at, pocket),
            page: fresh,
            printing,
        }));
    }
    let cards = over.iter().filter(|unit| unit.printing().is_some()).count();
    let grid = format!("{} x {}", format.rows, format.columns);
    let words = format!("page {} becomes {grid}{}", at + 1, lost(ground, cards));
    Ok(Step::new(words, changes))
}

/// Lifts what is on the page and takes it out of contents and layout; counts what loses its pocket.
fn removed(
    collection: &Collection,
    ground: Ground,
    at: usize,
) -> Result<(Vec<Change>, usize), Cannot> {
    let formats = ground.formats(collection);
    let format = *formats.get(at).ok_or("there is no such page")?;
    let units =
        (0..format.pockets()).map(|pocket| ground.unit(collection, ground.place(at, pocket)));
    let cards = units.filter(|unit| unit.printing().is_some()).count();
    let mut changes = Vec::new();
    let binder = ground.binder(collection)?;
    if ground.is_real() {
        let page = &binder.pages()[at];
        for (pocket, held) in page.cards().iter().enumerate() {
            changes.extend(held.map(|printing| Change::Lift {
                place: ground.place(at, pocket),
                page: page.id(),
                printing,
            }));
        }
        changes.push(Change::RemovePage {
            binder: ground.binder,
            at,
            page: page.id(),
            format,
        });
    }
    if let Some(page) = ground.layout(collection)?.pages.get(at) {
        changes.push(ground.change(Change::RemoveLayoutPage {
            binder: ground.binder,
            at,
            page: Box::new(page.clone()),
        }));
    }
    Ok((changes, cards))
}

fn lost(ground: Ground, cards: usize) -> String {
    match (cards, ground.is_real()) {
        (0, _) => String::new(),
        (1, true) => ", 1 card becomes loose".into(),
        (many, true) => format!(", {many} cards become loose"),
        (1, false) => ", 1 card has no pocket then".into(),
        (many, false) => format!(", {many} cards have no pocket then"),
    }
}

fn ensure_pages_move(collection: &Collection, ground: Ground) -> Result<(), Cannot> {
    let kind = ground.binder(collection)?.spec().kind;
    if kind.pages_move() {
        Ok(())
    } else {
        Err("the pages of this binder are fixed")
    }
}

/// The pocket is left empty on purpose.
///
/// # Errors
/// It holds a card, or is blank already.
pub fn blank(collection: &Collection, ground: Ground, place: Place) -> Result<Step, Cannot> {
    let words = format!("{} left empty", place_words(collection, place));
    given(collection, ground, place, Meaning::Blank, words)
}

/// The pocket is for a keepsake, in the collector's words.
///
/// # Errors
/// It holds a card, or there are no words.
pub fn keepsake(
    collection: &Collection,
    ground: Ground,
    place: Place,
    words: &str,
) -> Result<Step, Cannot> {
    let words = words.trim();
    if words.is_empty() {
        return Err("say what the keepsake is");
    }
    let told = format!("{words} in {}", place_words(collection, place));
    given(
        collection,
        ground,
        place,
        Meaning::Keepsake(words.into()),
        told,
    )
}

/// The pocket is for nothing yet.
///
/// # Errors
/// It holds a card, or is for nothing already.
pub fn clear(collection: &Collection, ground: Ground, place: Place) -> Result<Step, Cannot> {
    let words = format!("{} meant for nothing", place_words(collection, place));
    given(collection, ground, place, Meaning::Nothing, words)
}

fn given(
    collection: &Collection,
    ground: Ground,
    place: Place,
    meaning: Meaning,
    words: String,
) -> Result<Step, Cannot> {
    let old = ground.unit(collection, place);
    if old.held.is_some() {
        return Err("the pocket holds a card; take it out first");
    }
    if old.meaning == meaning {
        return Err("the pocket is so already");
    }
    let unit = Unit {
        held: None,
        meaning,
    };
    let changes = ground.rewrite(collection, &[(place, unit)])?;
    Ok(Step::new(words, changes))
}

/// `pockets` pockets of room are made from this place on; what stands there moves along.
///
/// # Errors
/// There is no room further on to take what moves.
pub fn leave_room(
    collection: &Collection,
    ground: Ground,
    place: Place,
    pockets: usize,
) -> Result<Step, Cannot> {
    let mut row = Row::of(collection, ground, place);
    let start = row.index(place)?;
    let free = |unit: &Unit| !unit.stays();
    let slots: Vec<usize> = (start..row.units.len())
        .filter(|at| free(&row.units[*at]))
        .collect();
    if pockets == 0 || pockets > slots.len() {
        return Err("there are not as many pockets from here on");
    }
    // What stands here moves along until the rooms on the way have taken it up.
    let mut hand: std::collections::VecDeque<Unit> = vec![Unit::default(); pockets].into();
    for at in slots {
        let Some(next) = hand.pop_front() else {
            break;
        };
        let before = std::mem::replace(&mut row.units[at], next);
        if !before.is_room() {
            hand.push_back(before);
        }
    }
    if hand.iter().any(|unit| !unit.is_room()) {
        return Err("there is no room further on; put in a page first");
    }
    let changes = ground.rewrite(collection, &row.wanted())?;
    let words = format!("room for {pockets} from {}", place_words(collection, place));
    Ok(Step::new(words, changes))
}

/// The cards of the binder's set that have no pocket in this layout get the pockets that are for
/// nothing, from this place on, in natural order, finish by finish.
///
/// # Errors
/// The binder is for no set, every card has its pocket, or no pocket is free.
pub fn fill(collection: &Collection, ground: Ground, place: Place) -> Result<Step, Cannot> {
    let binder = ground.binder(collection)?;
    let id = binder.spec().set.ok_or("the binder is for no set")?;
    let set = collection.set(id).ok_or("the binder is for no set")?;
    let placed: std::collections::HashSet<PrintingId> = ground
        .layout(collection)?
        .pages
        .iter()
        .flat_map(|page| page.printings().map(|(_, printing)| printing))
        .collect();
    let mut missing: Vec<PrintingId> = set.printings(id).filter(|p| !placed.contains(p)).collect();
    if missing.is_empty() {
        return Err("every card of the set has its pocket");
    }
    let number = |p: &PrintingId| set.card(p.card()).map_or("", |card| &card.number);
    missing.sort_by(|a, b| {
        let by_finish = a.finish().cmp(&b.finish());
        by_finish.then_with(|| natural_cmp(number(a), number(b)))
    });
    let mut row = Row::of(collection, ground, place);
    let start = row.index(place)?;
    let mut cards = missing.iter();
    let mut filled = 0;
    for unit in row
        .units
        .iter_mut()
        .skip(start)
        .filter(|unit| unit.is_room())
    {
        let Some(printing) = cards.next() else {
            break;
        };
        unit.meaning = Meaning::Printing(*printing);
        filled += 1;
    }
    if filled == 0 {
        return Err("no pocket is free from here on; put in a page first");
    }
    let changes = ground.rewrite(collection, &row.wanted())?;
    let left = missing.len() - filled;
    let rest = if left == 0 {
        String::new()
    } else {
        format!(", {left} still without")
    };
    Ok(Step::new(
        format!("pockets for {filled} cards{rest}"),
        changes,
    ))
}
