//! Whole pages go to another place, with all that is on them.

use std::ops::Range;

use super::Cannot;
use super::ground::{Ground, Unit};
use crate::model::{Change, Collection, Place, Step};

/// A page move that has been thought through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PageMove {
    pub step: Step,
    /// What it does, said beforehand.
    pub words: String,
    /// Cards that have to be touched: none where pages move, all of them where they are fixed.
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
    if run.is_empty() || run.end > formats.len() || to + run.len() > formats.len() {
        return Err("there are no such pages");
    }
    if to == run.start {
        return Err("the page is there already");
    }
    let binder = ground.binder(collection)?;
    let what = match run.len() {
        1 => format!("page {}", run.start + 1),
        many => format!("pages {} to {}", run.start + 1, run.start + many),
    };
    let whither = format!("{what} to place {}", to + 1);
    if binder.spec().kind.pages_move() || !ground.is_real() {
        ensure_fixed_formats(collection, ground, &run, to)?;
        let changes = moved(collection, ground, run, to)?;
        let words = format!("{whither}: no card is touched");
        return Ok(PageMove {
            step: Step::new(whither, changes),
            words,
            cards: 0,
        });
    }
    let (changes, cards) = reseated(collection, ground, run, to)?;
    let words = format!("{whither}: the pages are fixed, {cards} cards are touched");
    Ok(PageMove {
        step: Step::new(whither, changes),
        words,
        cards,
    })
}

/// In a draft of a fixed binder only pages of one grid can change places.
fn ensure_fixed_formats(
    collection: &Collection,
    ground: Ground,
    run: &Range<usize>,
    to: usize,
) -> Result<(), Cannot> {
    let binder = ground.binder(collection)?;
    let formats = ground.formats(collection);
    let touched = run.start.min(to)..run.end.max(to + run.len());
    let one = formats[touched]
        .windows(2)
        .all(|pair| pair[0].same_grid(&pair[1]));
    if binder.spec().kind.pages_move() || one {
        Ok(())
    } else {
        Err("the pages of this binder are fixed, and those in between have other pockets")
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
                from: (here, from),
                to: (here, target),
            });
        }
        if from < layout && target < layout {
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
) -> Result<(Vec<Change>, usize), Cannot> {
    let formats = ground.formats(collection);
    let touched = run.start.min(to)..run.end.max(to + run.len());
    let one = formats[touched.clone()]
        .windows(2)
        .all(|pair| pair[0].same_grid(&pair[1]));
    if !one {
        return Err("the pages of this binder are fixed, and those in between have other pockets");
    }
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
    let changes = ground.rewrite(collection, &wanted)?;
    let lifts = changes
        .iter()
        .filter(|change| matches!(change, Change::Lift { .. }));
    let cards = lifts.count();
    Ok((changes, cards))
}
