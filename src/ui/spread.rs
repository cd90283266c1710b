//! What an open binder, or a draft of it, shows: one side or a spread, the strip of miniatures, and
//! the pocket under the cursor told in full.
//!
//! No screen of its own: one holds it to be worked on, others show it behind their windows. What is
//! marked and what is in hand is the screen's; it comes in as [`Hands`] when it is drawn.

mod binding;
mod cursor;
mod draw;
mod hands;
mod head;
mod named;
mod news;
mod pictured;
mod rooms;
mod telling;

use std::rc::Rc;

pub(super) use cursor::Cursor;
pub(super) use draw::draw_book;
pub(super) use hands::{Carried, Hands};
pub(super) use head::to_put_in;
pub(super) use rooms::Rooms;

use named::Named;

use super::book::{Book, Lifted};
use super::desk::Desk;
use super::intent::Intent;
use crate::hand::{self, Ground, OpenWork};
use crate::model::{Collection, Place};
use crate::plan::Cost;

/// A binder, or a draft of it, opened at a pocket.
#[derive(Clone, Debug)]
pub(super) struct Spread {
    pub(super) ground: Ground,
    pub(super) cursor: Cursor,
    /// What the draft would cost; for the real binder nothing is told.
    pub(super) cost: Option<Cost>,
    /// What is still to be done in the real binder, where cards lie elsewhere than they should. A
    /// draft has it for the real binder below it.
    work: Option<Rc<OpenWork>>,
    /// Loose copies that go into pockets of the real binder.
    to_put_in: usize,
    /// The page by which the strip is scrolled while the pointer works in it, so that it keeps
    /// still; else it goes with the cursor.
    pub(super) strip_held: Option<usize>,
    /// By its name a draft is found again when others have come and gone.
    named: Named,
}

impl Spread {
    /// Opens the real binder or a draft of it at this place, or as near to it as there is a pocket.
    pub(super) fn on(collection: &Collection, ground: Ground, place: Place) -> Self {
        let book = Book::open(collection, ground, None);
        let cursor = book.map(|book| Cursor::at(&book, place.page, place.pocket));
        let mut spread = Self {
            ground,
            cursor: cursor.unwrap_or_default(),
            cost: None,
            work: None,
            to_put_in: 0,
            strip_held: None,
            named: Named::of(collection, ground),
        };
        spread.weigh(collection, spread.cost_now(collection));
        spread
    }

    /// The pages as they stand, or would stand if those in hand were put down.
    pub(super) fn book<'d>(&self, desk: &'d Desk, lifted: Option<Lifted>) -> Option<Book<'d>> {
        let book = Book::open(desk.collection(), self.ground, lifted)?;
        Some(book.with_work(self.work.clone()))
    }

    /// What the draft would cost as it is kept.
    pub(super) fn cost_now(&self, collection: &Collection) -> Option<Cost> {
        match self.ground.is_real() {
            true => None,
            false => hand::cost(collection, self.ground),
        }
    }

    /// Tells how it is now: what the draft would cost, which is given, or what is still to be done
    /// in the real binder.
    pub(super) fn weigh(&mut self, collection: &Collection, cost: Option<Cost>) {
        self.cost = cost;
        let binder = collection.binder(self.ground.binder);
        self.work = binder.and_then(OpenWork::of).map(Rc::new);
        self.to_put_in = binder.map_or(0, |binder| head::to_put_in(collection, binder));
    }

    /// The collection has changed, and the real binder stays open where it is.
    pub(super) fn refresh(&mut self, collection: &Collection) {
        self.weigh(collection, self.cost_now(collection));
    }

    /// The draft is found again by its name; if it is gone, there is nothing here any more.
    pub(super) fn find_again(&mut self, collection: &Collection) {
        self.ground = self.named.find(collection, self.ground);
    }

    /// The page by which the strip is scrolled.
    pub(super) fn strip_at(&self) -> usize {
        self.strip_held.unwrap_or(self.cursor.page)
    }

    /// Where the cursor goes from here.
    pub(super) fn moved(&self, desk: &Desk, book: &Book<'_>, intent: Intent) -> Cursor {
        let spread = self.rooms(desk, book).is_spread();
        let cursor = self.cursor.within(book);
        match intent {
            Intent::Left => cursor.left(book),
            Intent::Right => cursor.right(book),
            Intent::Up => cursor.up(),
            Intent::Down => cursor.down(book),
            Intent::PageOn if spread => cursor.spread_on(book),
            Intent::PageBack if spread => cursor.spread_back(book),
            Intent::PageOn | Intent::PageBack => cursor.leafed(book, intent == Intent::PageOn),
            Intent::First => Cursor::default(),
            Intent::Last => Cursor::last(book),
            _ => cursor,
        }
        .within(book)
    }
}
