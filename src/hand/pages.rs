//! Whole pages go to another place, with all that is on them.

use std::ops::Range;

use super::Cannot;
use super::ground::{Ground, Unit, same_pocket};
use super::rewrite::Front;
use crate::model::{BinderId, Change, Collection, LayoutPage, PageFormat, PagePlace, Place, Step};
use crate::report::binder_words;
use crate::text;

/// A page move that has been thought through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageMove {
    pub step: Step,
    /// What it does, said beforehand.
    pub words: String,
    /// Cards that have to be touched: none where pages move, all of them where they are fixed. In
    /// a draft of a fixed binder, the pockets that come to be meant for something else.
    pub cards: usize,
}

/// The pages `run` (positions from 0) go to where `to` is their first position, counted when they
/// have been taken out.
///
/// # Errors
/// No such pages, no change of place, or fixed pages of different grids.
pub fn move_pages(
    collection: &Collection,
    ground: Ground,
    run: Range<usize>,
    to: usize,
) -> Result<PageMove, Cannot> {
    let formats = ground.formats(collection);
    if run.is_empty() || run.end > formats.len() || to > formats.len() - run.len() {
        return Err(Cannot::NoSuchPages);
    }
    if to == run.start {
        return Err(Cannot::PageThere);
    }
    let what = page_words(&run);
    let now = page_words(&(to..to + run.len()));
    let becomes = if run.len() == 1 { "becomes" } else { "become" };
    let whither = format!("{what} {becomes} {now}");
    let rings = ground.binder(collection)?.spec().kind.pages_move();
    let touched = run.start.min(to)..run.end.max(to + run.len());
    if !rings && !all_alike(&formats[touched.clone()]) {
        return Err(Cannot::FixedOtherPockets);
    }
    let (changes, cards, words, told) = match (rings, ground.is_real()) {
        (true, _) => {
            let words = format!("{whither}: no card comes out");
            let told = format!("{what} moved, now {now}");
            (moved(collection, ground, run, to)?, 0, words, told)
        }
        (false, true) => {
            let wanted = reseated(collection, ground, run.clone(), to);
            let changes = ground.rewrite(collection, &wanted, Front::TakenOut)?;
            let lifts = changes
                .iter()
                .filter(|change| matches!(change, Change::Lift { .. }));
            let cards = lifts.count();
            let come = if cards < 2 { "comes" } else { "come" };
            let words = format!(
                "{whither}: the pages are fixed, {} {come} out",
                counted(cards)
            );
            let told = format!("{} carried: {}", counted(cards), stands(&run, to));
            (changes, cards, words, told)
        }
        (false, false) => {
            let wanted = reseated(collection, ground, run.clone(), to);
            let pockets = ground.pockets(collection);
            let altered = wanted
                .iter()
                .filter(|(place, unit)| pockets.unit(place.page, place.pocket) != *unit);
            let cards = altered
                .filter(|(_, unit)| unit.printing().is_some())
                .count();
            let cards_to_take = format!("{} to take out", counted(cards));
            let words = format!("{whither}: the pages are fixed, {cards_to_take}");
            let told = format!("{cards_to_take}: {}", stands(&run, to));
            (moved(collection, ground, run, to)?, cards, words, told)
        }
    };
    if changes.is_empty() {
        return Err(Cannot::SameThere);
    }
    Ok(PageMove {
        step: ground.step(collection, &told, changes),
        words,
        cards,
    })
}

/// The pages `run` of a real ring binder go into another one, with what is in them and what it is
/// meant for; `to` is the first position they have there.
///
/// # Errors
/// A draft, no such pages or place, the same binder, fixed pages, or a page that the layout has
/// another page format for.
pub fn move_pages_over(
    collection: &Collection,
    ground: Ground,
    run: Range<usize>,
    other: BinderId,
    to: usize,
) -> Result<PageMove, Cannot> {
    if !ground.is_real() {
        return Err(Cannot::DraftOfOneBinder);
    }
    if other == ground.binder {
        return Err(Cannot::SameBinder);
    }
    let there = Ground::real(other);
    let (source, target) = (ground.binder(collection)?, there.binder(collection)?);
    for binder in [source, target] {
        if !binder.spec().kind.pages_move() {
            return Err(Cannot::FixedInAndOut);
        }
    }
    if run.is_empty() || run.end > source.pages().len() || to > target.pages().len() {
        return Err(Cannot::NoSuchPages);
    }
    if run.clone().any(|page| ground.is_closed(collection, page)) {
        return Err(Cannot::OtherFormat);
    }
    let meant = source.layout().pages.get(run.clone());
    let meant = meant.unwrap_or_else(|| source.layout().pages.get(run.start..).unwrap_or(&[]));
    let mut changes = Vec::new();
    // Pages keep step with those of the layout on both sides; where a layout ends before, it
    // needs pages only if some with a meaning come behind.
    let needed = to < target.layout().pages.len() || !meant.is_empty();
    if needed {
        changes.extend(there.extended(collection, to));
    }
    for (at, page) in source.pages()[run.clone()].iter().enumerate() {
        changes.push(Change::MovePage {
            page: page.id(),
            from: PagePlace::new(ground.binder, run.start),
            to: PagePlace::new(other, to + at),
        });
        let along = meant.get(at);
        if let Some(along) = along {
            changes.push(Change::RemoveLayoutPage {
                binder: ground.binder,
                at: run.start,
                page: Box::new(along.clone()),
            });
        }
        if needed {
            let empty = || LayoutPage::empty(page.format());
            let page = along.cloned().unwrap_or_else(empty);
            changes.push(there.add_layout_page(to + at, page));
        }
    }
    let (what, title) = (page_words(&run), binder_words(collection, other));
    let place = to + 1;
    Ok(PageMove {
        step: Step::new(
            format!("{what} moved into {title}, as page {place}"),
            changes,
        ),
        words: format!("{what} into {title}, as page {place}: no card comes out"),
        cards: 0,
    })
}

/// Whether cards of the one fit all others, pocket by pocket.
fn all_alike(formats: &[PageFormat]) -> bool {
    formats
        .windows(2)
        .all(|pair| pair[0].same_grid(&pair[1]) && same_pocket(pair[0], pair[1]))
}

fn page_words(run: &Range<usize>) -> String {
    match run.len() {
        1 => format!("page {}", run.start + 1),
        many => format!("pages {} to {}", run.start + 1, run.start + many),
    }
}

/// What a move of fixed pages comes to: the pages stay, what was on them is elsewhere.
fn stands(run: &Range<usize>, to: usize) -> String {
    let there = page_words(&(to..to + run.len()));
    format!("what was on {} is on {there} now", page_words(run))
}

fn counted(cards: usize) -> String {
    match cards {
        0 => "no card".into(),
        cards => text::count(cards as u64, "card", "cards"),
    }
}

/// Page by page; the layout's pages go along with the physical ones.
fn moved(
    collection: &Collection,
    ground: Ground,
    run: Range<usize>,
    to: usize,
) -> Result<Vec<Change>, Cannot> {
    let binder = ground.binder(collection)?;
    let layout = ground.layout(collection)?.pages.len();
    let mut changes = Vec::new();
    // A layout that ends before some of these pages needs as many to keep step with them; if it
    // ends before all of them, it has nothing to do with the move.
    let meant = run.start.min(to) < layout;
    if meant {
        changes.extend(ground.extended(collection, run.end.max(to + run.len())));
    }
    for at in 0..run.len() {
        // Going on, each page in turn is the first of the run and lands behind those before it.
        let (from, target) = if to > run.start {
            (run.start, to + run.len() - 1)
        } else {
            (run.start + at, to + at)
        };
        if ground.is_real() {
            let page = binder.pages()[run.start + at].id();
            let here = ground.binder;
            changes.push(Change::MovePage {
                page,
                from: PagePlace::new(here, from),
                to: PagePlace::new(here, target),
            });
        }
        if meant {
            changes.push(ground.change(Change::MoveLayoutPage {
                binder: ground.binder,
                from,
                to: target,
            }));
        }
    }
    Ok(changes)
}

/// In a fixed binder the cards are carried instead: each pocket of the pages in between gets what
/// the page had that comes to stand there.
fn reseated(
    collection: &Collection,
    ground: Ground,
    run: Range<usize>,
    to: usize,
) -> Vec<(Place, Unit)> {
    let formats = ground.formats(collection);
    let touched = run.start.min(to)..run.end.max(to + run.len());
    let mut order: Vec<usize> = touched.clone().filter(|page| !run.contains(page)).collect();
    let at = to - touched.start;
    order.splice(at..at, run);
    let mut wanted: Vec<(Place, Unit)> = Vec::new();
    for (page, source) in touched.zip(order) {
        for pocket in 0..formats[page].pockets() {
            let unit = ground.unit(collection, ground.place(source, pocket));
            wanted.push((ground.place(page, pocket), unit));
        }
    }
    wanted
}
