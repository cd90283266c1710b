//! To what lies further off: the next gap, the binder beside this one.

use super::{OpenBinder, why};
use crate::hand::{self, Ground};
use crate::report;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::screen::Next;
use crate::ui::spread::Cursor;

impl OpenBinder {
    pub(super) fn go_to_gap(&mut self, desk: &mut Desk, forward: bool) {
        let Some(place) = self.at_cursor(desk) else {
            return;
        };
        if !self.ground().is_real() {
            let key = desk.key(Context::Binder, Intent::Leave);
            return desk.say(format!(
                "A draft has no gaps; {key} leads to the real binder"
            ));
        }
        let book = self.book(desk);
        if book.is_some_and(|book| desk.tally(book.binder).gaps() == 0) {
            return desk.say("This binder has no gaps");
        }
        let told = hand::by_pages(desk.collection(), Some(place.binder));
        match report::next_gap(&told, place, forward) {
            Some(gap) => {
                if let Some(book) = self.book(desk) {
                    self.spread.cursor = Cursor::at(&book, gap.page, gap.pocket);
                }
            }
            None => desk.say(why::no_gap(desk, forward)),
        }
    }

    /// The binder at the right or left on the shelf.
    pub(super) fn beside(&self, desk: &mut Desk, right: bool) -> Next {
        let collection = desk.collection();
        let here = collection.shelf_place(self.ground().binder);
        let there = here.and_then(|here| {
            if right {
                Some(here + 1)
            } else {
                here.checked_sub(1)
            }
        });
        match there.and_then(|there| collection.binder_at(there)) {
            Some(binder) => {
                let ground = Ground::real(binder.id());
                Next::GoTo(ground, ground.place(0, 0))
            }
            None => {
                desk.say(why::no_binder(desk, right));
                Next::Stay
            }
        }
    }
}
