//! An open binder, or a draft of it, to be worked on: what lies under the cursor is put, taken,
//! marked, carried. What of it is shown is its [`Spread`].

mod carry;
mod further;
mod pointer;
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
use crate::hand::{self, Ground};
use crate::model::{Collection, Place, PocketState, Step};
use crate::plan::Cost;
use crate::text;
use crate::ui::book::Book;
use crate::ui::clipboard::Copied;
use crate::ui::desk::Desk;
use crate::ui::gallery::Pictured;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::message::Tone;
use crate::ui::spread::{Cursor, Hands, Spread};
use carry::Hand;
use ratatui::buffer::Buffer;
use why::NoDeed;

/// A binder opened at a pocket.
#[derive(Debug)]
pub(crate) struct OpenBinder {
    spread: Spread,
    /// Where a marked run begins; it ends at the cursor.
    mark: Option<Cursor>,
    hand: Option<Hand>,
    /// A mouse button went down here and has not moved yet.
    press: Option<pointer::Press>,
    /// The revision of the collection that the mark is for.
    marked_at: u64,
}

impl OpenBinder {
    /// Opens the real binder or a draft of it at this place, or as near to it as there is a pocket.
    pub(crate) fn on(collection: &Collection, ground: Ground, place: Place) -> Self {
        Self {
            spread: Spread::on(collection, ground, place),
            mark: None,
            hand: None,
            press: None,
            marked_at: 0,
        }
    }

    pub(crate) fn is_carrying(&self) -> bool {
        self.hand.is_some()
    }

    fn ground(&self) -> Ground {
        self.spread.ground
    }

    /// What is marked and in hand, for who draws it.
    fn hands(&self) -> Hands<'_> {
        Hands {
            mark: self.mark,
            carried: self.hand.as_ref().map(Hand::carried),
        }
    }

    fn book<'a>(&self, desk: &'a Desk) -> Option<Book<'a>> {
        self.spread.book(desk, self.hands().lifted())
    }

    /// The pocket under the cursor; `None` when there are no pages.
    fn at_cursor(&self, desk: &Desk) -> Option<Place> {
        self.spread.cursor.place(&self.book(desk)?)
    }

    /// What the draft would cost with what is in hand put down here.
    fn cost(&self, collection: &Collection) -> Option<Cost> {
        match self.pages_in_hand() {
            Some((pages, lifted)) => Some(pages.cost(lifted.run.clone(), lifted.to)),
            None => self.spread.cost_now(collection),
        }
    }

    /// What the draft would cost, or what is still to be done in the real binder.
    fn weigh(&mut self, collection: &Collection) {
        let cost = self.cost(collection);
        self.spread.weigh(collection, cost);
    }

    fn deed(&self, desk: &Desk, intent: Intent) -> Result<Step, NoDeed> {
        if !self.ground().is_real() {
            return Err(NoDeed::InDraft);
        }
        let book = self.book(desk).ok_or(hand::Cannot::BinderGone)?;
        let place = self.spread.cursor.place(&book);
        let place = place.ok_or(NoDeed::NoPages)?;
        let state = &book.state_of(place.page, place.pocket);
        if matches!(state, PocketState::Keepsake(_)) {
            return Err(NoDeed::Keepsake);
        }
        let collection = desk.collection();
        let step = match intent {
            Intent::Put => hand::put(collection, place, state),
            Intent::Take => hand::take(collection, place),
            Intent::Acquire => hand::acquire(collection, place, state),
            Intent::PartWith => hand::part_with(collection, state),
            _ => return Err(NoDeed::NoneOfThese),
        };
        Ok(step?)
    }

    /// The binder, and its drafts, are opened here again.
    fn leave_mark(&self, desk: &mut Desk) {
        if let Some(place) = self.at_cursor(desk) {
            desk.bookmarks.insert(self.ground().binder, place);
        }
    }

    fn leave(&mut self, desk: &mut Desk) -> Next {
        if self.ground().is_real() {
            self.leave_mark(desk);
            return Next::Close;
        }
        let draft = self.book(desk).and_then(|book| book.draft());
        desk.left_draft = draft.map(|draft| (self.ground().binder, draft.name.clone()));
        // From a draft back to the binder that it is of.
        let place = self.ground().place(self.spread.cursor.page, 0);
        Next::GoTo(Ground::real(self.ground().binder), place)
    }

    /// Why nothing is carried here and no pocket gets another meaning, where pages are still to be
    /// moved: it would be done to the pocket that will stand here, and not to the one that is seen.
    fn pages_first(&self, desk: &Desk) -> Option<String> {
        let moves = self.book(desk).is_some_and(|book| book.moves_pages());
        moves.then(|| {
            let key = desk.key(Context::Binder, Intent::Work);
            format!("pages are still to be moved here: the work sheet comes first ({key})")
        })
    }

    /// The deeds that can be done here, as a list to choose from.
    fn arrange(&mut self, desk: &mut Desk) -> Next {
        if let Some(why) = self.pages_first(desk) {
            desk.warn(text::sentence(&why));
            return Next::open(Menu::of_binder(desk, self.ground()));
        }
        let run = self.run(desk);
        let place = self.at_cursor(desk);
        let place = place.unwrap_or_else(|| self.ground().place(0, 0));
        Next::open(Menu::of(desk, self.ground(), place, run))
    }

    fn move_cursor(&mut self, desk: &Desk, intent: Intent) {
        if let Some(book) = self.book(desk) {
            self.spread.cursor = self.spread.moved(desk, &book, intent);
        }
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
        let pages_stand = !book.as_ref().is_some_and(Book::moves_pages);
        match intent {
            Intent::Put | Intent::Take | Intent::Acquire | Intent::PartWith => {
                writable && self.deed(desk, intent).is_ok()
            }
            Intent::Carry => {
                let place = self.at_cursor(desk);
                let is_room = book.as_ref().zip(place).is_none_or(|(book, place)| {
                    book.state_of(place.page, place.pocket) == PocketState::Unassigned
                });
                writable && pages_stand && (self.mark.is_some() || !is_room)
            }
            Intent::TypeIn => writable && self.ground().is_real() && self.set(desk).is_some(),
            Intent::CarryPages => writable && pages_stand && has_pages,
            Intent::Mark => writable && has_pages,
            Intent::Arrange | Intent::Pile => writable,
            Intent::SwapOrPush => {
                let hand = self.hand.as_ref().map(|hand| &hand.load);
                matches!(hand, Some(carry::Load::Cards { .. }))
            }
            Intent::NextGap | Intent::PreviousGap => {
                let gaps = book.map_or(0, |book| desk.tally(book.binder).gaps());
                self.ground().is_real() && gaps > 0 && self.hands().lifted().is_none()
            }
            Intent::GoToPage => has_pages,
            Intent::PageOn | Intent::PageBack => book.is_some_and(|book| {
                let here = self.spread.cursor.within(&book);
                self.spread.moved(desk, &book, intent) != here
            }),
            _ => true,
        }
    }

    /// From a draft one comes back to the binder that it is of.
    fn word(&self, intent: Intent) -> &'static str {
        match intent {
            Intent::Leave if self.mark.is_some() => "let go",
            Intent::Leave if !self.is_carrying() && !self.ground().is_real() => "real binder",
            _ => intent.word(self.context()),
        }
    }

    /// What is marked is gone on with, or let go.
    fn comes_first(&self, intent: Intent) -> bool {
        let goes_on = [Intent::Carry, Intent::Arrange, Intent::Leave];
        self.mark.is_some() && goes_on.contains(&intent)
    }

    fn why_not(&self, desk: &Desk, intent: Intent) -> Option<String> {
        self.reason(desk, intent)
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        self.press = None;
        self.spread.strip_held = None;
        if let Some(hand) = &mut self.hand {
            // From here on keys carry it; how others make way is chosen under the pointer too.
            hand.pointer = hand.pointer.filter(|_| intent == Intent::SwapOrPush);
            hand.over = hand.over.filter(|_| intent == Intent::SwapOrPush);
            self.carry(desk, intent);
            return Next::Stay;
        }
        match intent {
            Intent::Leave if self.mark.take().is_some() => {}
            Intent::Leave => return self.leave(desk),
            Intent::Find => return Next::open(Find::open(desk)),
            Intent::GoToPage if self.can(desk, intent) => {
                return Next::open(Ask::page(self.ground()));
            }
            Intent::Drafts => {
                self.leave_mark(desk);
                return Next::open(Drafts::of(desk, self.ground()));
            }
            Intent::History => return Next::open(History::default()),
            Intent::Pile => return Next::open(Pile::of(desk, self.set(desk))),
            Intent::Work => {
                let work = Work::of(desk, Some(self.ground().binder));
                return Next::open(work.beside_draft(!self.ground().is_real()));
            }
            Intent::Lists => {
                let list = List::open(desk, Some(self.ground().binder));
                return Next::open(list);
            }
            Intent::Print => {
                let page = self.at_cursor(desk).map_or(0, |place| place.page);
                let print = Print::of(desk, self.ground().binder, page, false);
                return Next::open(print);
            }
            Intent::Arrange => return self.arrange(desk),
            Intent::TypeIn if self.can(desk, intent) => {
                let place = self.at_cursor(desk);
                let place = place.unwrap_or_else(|| self.ground().place(0, 0));
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
                    Err(why) => {
                        let instead = self.instead(desk, intent, &why);
                        desk.warn(instead);
                    }
                }
            }
            Intent::Mark => {
                self.mark = match self.mark {
                    None => Some(self.spread.cursor),
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
        self.spread.find_again(desk.collection());
        self.weigh_pages(desk);
        self.weigh(desk.collection());
        // A window that was opened and closed again has changed nothing.
        if self.marked_at != desk.session.revision() {
            self.mark = None;
        }
    }

    fn says(&self, desk: &Desk) -> Option<(String, Tone)> {
        // On a low screen the keys tell it, and the pockets are seen.
        if self.mark.is_some() && desk.chrome() > 1 {
            return Some((why::marking(desk, &self.run(desk)), Tone::Done));
        }
        let told = self.in_hand(desk)?;
        if let Some(words) = self.opens(desk).or_else(|| self.falls_back(desk)) {
            return Some((words, Tone::Done));
        }
        Some(match told {
            Ok(words) => (words, Tone::Done),
            Err(why) => (format!("Still in hand. Not here: {why}"), Tone::Amiss),
        })
    }

    fn copied(&self, desk: &Desk) -> Option<Copied> {
        match self.hand {
            Some(_) => None,
            None => self.spread.copied(desk),
        }
    }

    fn place(&self, desk: &Desk) -> Option<(Place, bool)> {
        let here = self.at_cursor(desk);
        Some((here.unwrap_or_else(|| self.ground().place(0, 0)), true))
    }

    fn leaf_to(&mut self, desk: &Desk, ground: Ground, place: Place) -> bool {
        let book = self.book(desk).filter(|_| self.ground() == ground);
        let to = book.map(|book| Cursor::at(&book, place.page, place.pocket));
        if let Some(cursor) = to {
            self.spread.cursor = cursor;
        }
        to.is_some()
    }

    fn stand_on(&mut self, desk: &Desk, ground: Ground) {
        if self.ground() != ground {
            *self = Self::on(desk.collection(), ground, ground.place(0, 0));
        }
    }

    fn turns(&self, desk: &Desk) -> bool {
        let opens = self.hand.as_ref().is_some_and(|hand| hand.over.is_some());
        opens || self.turn_under(desk).is_some()
    }

    fn turn(&mut self, desk: &mut Desk) -> bool {
        self.turn_on(desk)
    }

    /// While something is in hand there are none: it is drawn over the pockets.
    fn pictures(&self, desk: &Desk) -> Vec<Pictured> {
        match self.hand {
            Some(_) => Vec::new(),
            None => self.spread.pictured(desk),
        }
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        self.spread.draw(desk, self.hands(), buf);
    }
}
