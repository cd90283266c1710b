//! The layout is given its shape: pages come, go and become others.

use super::Cannot;
use super::cards::Foretold;
use super::ground::{Ground, Unit};
use crate::model::{Change, Collection, LayoutPage, Meaning, PageFormat, Step};

/// A page is put in as the `at`-th, from 0. It is meant for nothing; but behind the last page of
/// a real binder whose layout has such a page to come, it is that page.
///
/// # Errors
/// The pages of the binder are fixed, there is no such place, or no such format.
pub fn insert_page(
    collection: &Collection,
    ground: Ground,
    at: usize,
    format: PageFormat,
) -> Result<Foretold, Cannot> {
    ensure_pages_move(collection, ground)?;
    ensure_possible(format)?;
    let pages = ground.formats(collection).len();
    if at > pages {
        return Err(Cannot::NoSuchPagePlace);
    }
    let mut changes = Vec::new();
    let layout = &ground.layout(collection)?.pages;
    let to_come = layout.get(at).filter(|_| ground.is_real() && at == pages);
    let comes = to_come.is_some_and(|page| page.format().same_grid(&format));
    if ground.is_real() {
        changes.push(Change::AddPage {
            binder: ground.binder,
            at,
            page: collection.fresh_page(),
            format,
        });
    }
    if !comes && (at < layout.len() || !ground.is_real() || at == pages && at == layout.len()) {
        changes.push(ground.add_layout_page(at, LayoutPage::empty(format)));
    }
    let told = format!(
        "as page {}{}",
        at + 1,
        if comes { ", as the layout has it" } else { "" }
    );
    Ok(Foretold {
        step: ground.step(collection, &format!("a page put in {told}"), changes),
        words: format!("put an empty page in {told}"),
    })
}

/// The `at`-th page goes. Cards on it become loose, and lose the pockets that were meant for them.
///
/// # Errors
/// The pages of the binder are fixed, or there is no such page.
pub fn remove_page(collection: &Collection, ground: Ground, at: usize) -> Result<Foretold, Cannot> {
    ensure_pages_move(collection, ground)?;
    let lost = Lost::of(&on_page(collection, ground, at)?);
    let meant = ground.layout(collection)?.pages.get(at).is_some();
    let changes = removed(collection, ground, at, meant)?;
    let (page, lost) = (at + 1, lost.words());
    let told = format!("page {page} taken out{lost}");
    Ok(Foretold {
        step: ground.step(collection, &told, changes),
        words: format!("take page {page} out{lost}"),
    })
}

/// The `at`-th page becomes one of another format. What stood on it keeps its order, and the room
/// between as far as there is enough; what finds no pocket becomes loose.
///
/// Where the layout already has another page format than the one that stands there, only the
/// physical page changes.
///
/// # Errors
/// The pages of the binder are fixed, there is no such page, or no such format.
pub fn change_format(
    collection: &Collection,
    ground: Ground,
    at: usize,
    format: PageFormat,
) -> Result<Step, Cannot> {
    ensure_pages_move(collection, ground)?;
    ensure_possible(format)?;
    let old = *ground
        .formats(collection)
        .get(at)
        .ok_or(Cannot::NoSuchPage)?;
    if old == format {
        return Err(Cannot::OfFormat);
    }
    let closed = ground.is_closed(collection, at);
    let meant = at < ground.layout(collection)?.pages.len() && !closed;
    let places = (0..old.pockets()).map(|pocket| ground.place(at, pocket));
    let mut kept: Vec<Unit> = places.map(|p| ground.unit(collection, p)).collect();
    let used = kept.iter().rposition(|unit| !unit.is_room());
    kept.truncate(used.map_or(0, |last| last + 1));
    if kept.len() > format.pockets() {
        kept.retain(|unit| !unit.is_room());
    }
    let over = kept.split_off(kept.len().min(format.pockets()));
    let mut changes = removed(collection, ground, at, meant)?;
    let fresh = collection.fresh_page();
    if ground.is_real() {
        changes.push(Change::AddPage {
            binder: ground.binder,
            at,
            page: fresh,
            format,
        });
    }
    if meant {
        let mut page = LayoutPage::empty(format);
        for (pocket, unit) in kept.iter().enumerate() {
            page.set_meaning(pocket, unit.meaning.clone());
        }
        changes.push(ground.add_layout_page(at, page));
    }
    // The back pockets first, so that none goes in behind another.
    for (pocket, unit) in kept.iter().enumerate().rev() {
        changes.extend(unit.held.map(|printing| Change::Seat {
            place: ground.place(at, pocket),
            page: fresh,
            printing,
        }));
    }
    let sides = match format.sides {
        1 => "front only",
        _ => "front and back",
    };
    let grid = format!("{}x{}, {sides}", format.rows, format.columns);
    let words = format!("page {} becomes {grid}{}", at + 1, Lost::of(&over).words());
    Ok(ground.step(collection, &words, changes))
}

/// What stands on a page and what the layout's page at this place is for, whether or not the two
/// can be compared.
fn on_page(collection: &Collection, ground: Ground, at: usize) -> Result<Vec<Unit>, Cannot> {
    let format = ground.formats(collection).get(at).copied();
    let format = format.ok_or(Cannot::NoSuchPage)?;
    let meant = ground.layout(collection)?.pages.get(at);
    let pockets = meant.map_or(0, |page| page.format().pockets());
    let units = (0..format.pockets().max(pockets)).map(|pocket| Unit {
        held: ground.unit(collection, ground.place(at, pocket)).held,
        meaning: meant.map_or(Meaning::Nothing, |page| page.meaning(pocket)),
    });
    Ok(units.collect())
}

/// Lifts what is on the page and takes it out of the contents, and out of the layout if it is
/// `meant`.
fn removed(
    collection: &Collection,
    ground: Ground,
    at: usize,
    meant: bool,
) -> Result<Vec<Change>, Cannot> {
    let mut changes = Vec::new();
    if ground.is_real() {
        let pages = ground.binder(collection)?.pages();
        let page = pages.get(at).ok_or(Cannot::NoSuchPage)?;
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
            format: page.format(),
        });
    }
    let layout = ground.layout(collection)?.pages.get(at);
    if let Some(page) = layout.filter(|_| meant) {
        changes.push(ground.change(Change::RemoveLayoutPage {
            binder: ground.binder,
            at,
            page: Box::new(page.clone()),
        }));
    }
    Ok(changes)
}

/// What loses its pocket, to be told.
#[derive(Default)]
struct Lost {
    /// Cards that come out of their pockets.
    loose: usize,
    /// Cards that were not there, and have no pocket to come to.
    without: usize,
    keepsakes: usize,
}

impl Lost {
    fn of(units: &[Unit]) -> Self {
        let mut lost = Self::default();
        for unit in units {
            let meant = matches!(unit.meaning, Meaning::Printing(_));
            lost.loose += usize::from(unit.held.is_some());
            lost.without += usize::from(meant && !unit.is_in_place());
            lost.keepsakes += usize::from(matches!(unit.meaning, Meaning::Keepsake(_)));
        }
        lost
    }

    fn words(&self) -> String {
        let told = |many: usize, one: &str, more: &str| match many {
            0 => String::new(),
            1 => format!(", 1 {one}"),
            many => format!(", {many} {more}"),
        };
        told(self.loose, "card becomes loose", "cards become loose")
            + &match (self.loose, self.without) {
                (1.., 1..) => format!(", {} more without a pocket", self.without),
                (_, without) => told(
                    without,
                    "card without a pocket then",
                    "cards without a pocket then",
                ),
            }
            + &told(
                self.keepsakes,
                "keepsake to put elsewhere",
                "keepsakes to put elsewhere",
            )
    }
}

fn ensure_possible(format: PageFormat) -> Result<(), Cannot> {
    if format.is_possible() {
        Ok(())
    } else {
        Err(Cannot::ImpossibleFormat)
    }
}

fn ensure_pages_move(collection: &Collection, ground: Ground) -> Result<(), Cannot> {
    let kind = ground.binder(collection)?.spec().kind;
    if kind.pages_move() {
        Ok(())
    } else {
        Err(Cannot::PagesFixed)
    }
}
