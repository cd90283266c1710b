//! An open binder, or a draft of it: one side or a spread, the strip of miniatures, and the pocket
//! under the cursor told in full.

mod carry;
mod cursor;
mod draw;
mod further;
mod head;
mod pictured;
mod pointer;
mod rooms;
mod telling;
mod why;

use super::ask::Ask;
use super::drafts::Drafts;
use super::find::Find;
use super::history::History;
use super::list::List;
use super::menu::Menu;
use super::pile::Pile;
use super::print::Print;
use super::type_in::TypeIn;
use super::work::Work;
use super::{Mouse, Next, Screen};
use crate::hand::{self, Cost, Ground, OpenWork};
use crate::model::{BinderId, Collection, Place, Side, Step};
use crate::ui::book::Book;
use crate::ui::clipboard::Copied;
use crate::ui::desk::{Desk, Tone};
use crate::ui::gallery::Pictured;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use carry::Hand;
use cursor::Cursor;
use ratatui::buffer::Buffer;
use rooms::Rooms;
use std::rc::Rc;

/// A binder opened at a pocket.
#[derive(Clone, Debug)]
pub(crate) struct OpenBinder {
    ground: Ground,
    cursor: Cursor,
    /// Where a marked run begins; it ends at the cursor.
    mark: Option<Cursor>,
    hand: Option<Hand>,
    /// A mouse button went down here and has not moved yet.
    press: Option<pointer::Press>,
    /// What the draft would cost; for the real binder nothing is told.
    cost: Option<Cost>,
    /// What is still to be done in the real binder, where cards lie elsewhere than they should.
    work: Option<Rc<OpenWork>>,
    /// The revision of the collection that the mark is for.
    marked_at: u64,
}

impl OpenBinder {
    /// Opens the real binder at this place, or as near to it as there is a pocket.
    pub(crate) fn at(collection: &Collection, place: Place) -> Self {
        Self::on(collection, Ground::real(place.binder), place)
    }

    /// Opens the real binder or a draft of it.
    pub(crate) fn on(collection: &Collection, ground: Ground, place: Place) -> Self {
        let book = Book::open(collection, ground, None);
        let cursor = book.map(|book| Cursor::at(&book, place.page, place.pocket));
        let mut open = Self {
            ground,
            cursor: cursor.unwrap_or_default(),
            mark: None,
            hand: None,
            press: None,
            cost: None,
            work: None,
            marked_at: 0,
        };
        open.weigh(collection);
        open
    }

    /// Pages that are not kept; they are handed over as a book whenever they are drawn.
    pub(crate) fn preview(binder: BinderId) -> Self {
        Self {
            ground: Ground {
                binder,
                draft: Some(usize::MAX),
            },
            cursor: Cursor::default(),
            mark: None,
            hand: None,
            press: None,
            cost: None,
            work: None,
            marked_at: 0,
        }
    }

    /// Leafs to a side of a page of this book.
    pub(crate) fn show_page(&mut self, book: &Book<'_>, page: usize, side: Side) {
        let at = book.format(page).map_or(0, |format| match side {
            Side::Front => 0,
            Side::Back => format.per_side(),
        });
        self.cursor = Cursor::at(book, page, at);
    }

    /// One side on or back.
    pub(crate) fn leaf(&mut self, book: &Book<'_>, on: bool) {
        let cursor = self.cursor.within(book);
        let to = if on {
            cursor.side_on(book)
        } else {
            cursor.side_back(book)
        };
        self.cursor = to.unwrap_or(cursor);
    }

    /// The side that is shown.
    pub(crate) fn shown(&self) -> (usize, Side) {
        (self.cursor.page, self.cursor.at.side)
    }

    pub(crate) fn is_carrying(&self) -> bool {
        self.hand.is_some()
    }

    fn book<'a>(&self, desk: &'a Desk) -> Option<Book<'a>> {
        let book = Book::open(desk.collection(), self.ground, self.lifted())?;
        Some(book.with_work(self.work.clone()))
    }

    /// The pocket under the cursor; `None` when there are no pages.
    fn at_cursor(&self, desk: &Desk) -> Option<Place> {
        let book = self.book(desk)?;
        let cursor = self.cursor.within(&book);
        let pocket = book.format(cursor.page)?.index(cursor.at)?;
        Some(book.place(cursor.page, pocket))
    }

    fn cost_of(&self, collection: &Collection) -> Option<Cost> {
        if self.ground.is_real() {
            return None;
        }
        match self.pages_in_hand() {
            Some((pages, lifted)) => Some(pages.cost(lifted.run.clone(), lifted.to)),
            None => hand::cost(collection, self.ground),
        }
    }

    /// What the draft would cost, or what is still to be done in the real binder.
    fn weigh(&mut self, collection: &Collection) {
        self.cost = self.cost_of(collection);
        let binder = collection.binder(self.ground.binder);
        let binder = binder.filter(|_| self.ground.is_real());
        self.work = binder.and_then(OpenWork::of).map(Rc::new);
    }

    fn deed(&self, desk: &Desk, intent: Intent) -> Result<Step, hand::Cannot> {
        if !self.ground.is_real() {
            return Err("this is a draft; the cards lie in the real binder");
        }
        let place = self.at_cursor(desk).ok_or("the binder has no pages")?;
        let collection = desk.collection();
        match intent {
            Intent::Put => hand::put(collection, place),
            Intent::Take => hand::take(collection, place),
            Intent::Acquire => hand::acquire(collection, place),
            Intent::PartWith => hand::part_with(collection, place),
            _ => Err("that cannot be done here"),
        }
    }

    fn leave(&mut self, desk: &mut Desk) -> Next {
        if self.ground.is_real() {
            if let Some(place) = self.at_cursor(desk) {
                desk.bookmarks.insert(self.ground.binder, place);
            }
            return Next::Close;
        }
        // From a draft back to the binder that it is of.
        let place = self.ground.place(self.cursor.page, 0);
        Next::GoTo(Ground::real(self.ground.binder), place)
    }

    /// The deeds that can be done here, as a list to choose from.
    fn arrange(&mut self, desk: &mut Desk) -> Next {
        let run = self.run(desk);
        let place = self.at_cursor(desk);
        let place = place.unwrap_or_else(|| self.ground.place(0, 0));
        Next::open(Menu::of(desk, self.ground, place, run))
    }

    fn move_cursor(&mut self, desk: &Desk, intent: Intent) {
        let Some(book) = self.book(desk) else {
            return;
        };
        let spread = Rooms::fit(desk, &book, self.cursor).is_spread();
        let cursor = self.cursor.within(&book);
        self.cursor = match intent {
            Intent::Left => cursor.left(&book),
            Intent::Right => cursor.right(&book),
            Intent::Up => cursor.up(),
            Intent::Down => cursor.down(&book),
            Intent::PageOn if spread => cursor.spread_on(&book),
            Intent::PageBack if spread => cursor.spread_back(&book),
            Intent::PageOn => cursor.side_on(&book).unwrap_or(cursor),
            Intent::PageBack => cursor.side_back(&book).unwrap_or(cursor),
            Intent::First => Cursor::default(),
            Intent::Last => Cursor::last(&book),
            _ => cursor,
        }
        .within(&book);
    }
}

impl Screen for OpenBinder {
    fn context(&self) -> Context {
        if self.is_carrying() {
            Context::Carry
        } else {
            Context::Binder
        }
    }

    fn is_full(&self) -> bool {
        true
    }

    fn can(&self, desk: &Desk, intent: Intent) -> bool {
        let writable = desk.can_write();
        let book = self.book(desk);
        let has_pages = book.as_ref().is_some_and(|book| book.len() > 0);
        match intent {
            Intent::Put | Intent::Take | Intent::Acquire | Intent::PartWith => {
                writable && self.deed(desk, intent).is_ok()
            }
            Intent::Carry => {
                let place = self.at_cursor(desk);
                let unit = place.map(|place| self.ground.unit(desk.collection(), place));
                writable && (self.mark.is_some() || unit.is_some_and(|unit| !unit.is_room()))
            }
            Intent::TypeIn => writable && self.ground.is_real() && self.set(desk).is_some(),
            Intent::CarryPages | Intent::Mark => writable && has_pages,
            Intent::Arrange | Intent::Pile => writable,
            Intent::SwapOrPush => {
                let hand = self.hand.as_ref().map(|hand| &hand.load);
                matches!(hand, Some(carry::Load::Cards { .. }))
            }
            Intent::NextGap | Intent::PreviousGap => {
                self.ground.is_real() && book.is_some_and(|book| book.binder.tally().gaps() > 0)
            }
            Intent::GoToPage => has_pages,
            Intent::PageOn | Intent::PageBack => book.is_some_and(|book| {
                let mut there = self.clone();
                there.move_cursor(desk, intent);
                there.cursor.within(&book) != self.cursor.within(&book)
            }),
            _ => true,
        }
    }

    fn why_not(&self, desk: &Desk, intent: Intent) -> Option<String> {
        self.reason(desk, intent)
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        self.press = None;
        if self.hand.is_some() {
            self.carry(desk, intent);
            return Next::Stay;
        }
        match intent {
            Intent::Leave if self.mark.take().is_some() => {}
            Intent::Leave => return self.leave(desk),
            Intent::Find => return Next::open(Find::open(desk)),
            Intent::GoToPage => return Next::open(Ask::page(self.ground)),
            Intent::Drafts => return Next::open(Drafts::of(desk, self.ground)),
            Intent::History => return Next::open(History::default()),
            Intent::Pile => return Next::open(Pile::of(desk, self.set(desk))),
            Intent::Work => {
                let work = Work::of(desk, Some(self.ground.binder));
                return Next::open(work);
            }
            Intent::Lists => {
                let list = List::open(desk, Some(self.ground.binder));
                return Next::open(list);
            }
            Intent::Print => {
                let page = self.at_cursor(desk).map_or(0, |place| place.page);
                let print = Print::of(desk, self.ground.binder, page, false);
                return Next::open(print);
            }
            Intent::Arrange => return self.arrange(desk),
            Intent::TypeIn if self.can(desk, intent) => {
                let place = self.at_cursor(desk);
                let place = place.unwrap_or_else(|| self.ground.place(0, 0));
                return Next::open(TypeIn::at(desk.collection(), place));
            }
            Intent::NextBinder | Intent::PreviousBinder => {
                return self.beside(desk, intent == Intent::NextBinder);
            }
            Intent::Put | Intent::Take | Intent::Acquire | Intent::PartWith => {
                match self.deed(desk, intent) {
                    Ok(step) => {
                        desk.commit(step);
                        self.marked_at = desk.session.revision();
                        self.weigh(desk.collection());
                    }
                    Err(why) => desk.warn(why::instead(desk, intent, why)),
                }
            }
            Intent::Mark => {
                self.mark = match self.mark {
                    None => Some(self.cursor),
                    Some(_) => None,
                };
                self.marked_at = desk.session.revision();
                desk.say(why::marked(desk, self.mark.is_some()));
            }
            Intent::Carry => self.pick_up_cards(desk),
            Intent::CarryPages => self.pick_up_pages(desk),
            Intent::NextGap | Intent::PreviousGap => {
                self.go_to_gap(desk, intent == Intent::NextGap);
            }
            _ => self.move_cursor(desk, intent),
        }
        Next::Stay
    }

    fn mouse(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        self.point(desk, mouse, at)
    }

    /// After a deed from elsewhere, what is told here is told anew.
    fn refresh(&mut self, desk: &Desk) {
        self.weigh_pages(desk);
        self.weigh(desk.collection());
        // A window that was opened and closed again has changed nothing.
        if self.marked_at != desk.session.revision() {
            self.mark = None;
        }
    }

    fn says(&self, desk: &Desk) -> Option<(String, Tone)> {
        Some(match self.in_hand(desk)? {
            Ok(words) => (words, Tone::Done),
            Err(why) => (format!("In hand. Not here: {why}"), Tone::Amiss),
        })
    }

    fn copied(&self, desk: &Desk) -> Option<Copied> {
        let (book, place) = (self.book(desk)?, self.at_cursor(desk)?);
        (self.hand.is_none()).then(|| telling::copied(desk, &book, place))
    }

    fn place(&self, desk: &Desk) -> Option<(Place, bool)> {
        let here = self.at_cursor(desk);
        Some((here.unwrap_or_else(|| self.ground.place(0, 0)), true))
    }

    fn stand_on(&mut self, desk: &Desk, ground: Ground) {
        if self.ground != ground {
            *self = Self::on(desk.collection(), ground, ground.place(0, 0));
        }
    }

    fn turns(&self, desk: &Desk) -> bool {
        self.turn_under(desk).is_some()
    }

    fn turn(&mut self, desk: &mut Desk) -> bool {
        self.turn_on(desk)
    }

    fn pictures(&self, desk: &Desk) -> Vec<Pictured> {
        self.pictured(desk)
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.paint(desk, buf);
    }
}
