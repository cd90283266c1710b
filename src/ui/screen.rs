//! The screens, as a stack: the shelf at the bottom, an open binder on it, windows above.
//!
//! A screen is a type of its own that says by [`Screen`] what it does; the stack knows no more.

pub(super) mod anything;
pub(super) mod ask;
pub(super) mod binder;
pub(super) mod drafts;
pub(super) mod find;
pub(super) mod help;
pub(super) mod history;
pub(super) mod import;
pub(super) mod list;
pub(super) mod menu;
pub(super) mod new_set;
pub(super) mod pile;
pub(super) mod print;
pub(super) mod sections;
pub(super) mod shelf;
pub(super) mod spine;
pub(super) mod supplies;
pub(super) mod swap;
pub(super) mod type_in;
pub(super) mod work;

use std::fmt::Debug;

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;

use super::clipboard::Copied;
use super::desk::Desk;
use super::gallery::Pictured;
use super::intent::Intent;
use super::keymap::Context;
use super::message::Tone;
use crate::hand::Ground;
use crate::model::{Place, PrintingId};
use crate::report;

/// Lines that a step of the wheel goes on in lists that may be long.
const WHEEL: usize = 3;

/// One screen of the stack. What a screen does not say stays as it is here.
pub(crate) trait Screen: Debug {
    /// The part of the key table that holds here and now.
    fn context(&self) -> Context;

    /// Whether the screen fills the terminal; others are windows over one that does.
    fn is_full(&self) -> bool {
        false
    }

    /// Two or three words for the footer: what the intent does here.
    fn word(&self, intent: Intent) -> &'static str {
        intent.word(self.context())
    }

    /// Whether the footer tells the intent before all others: what is begun is gone on with by it.
    fn comes_first(&self, _: Intent) -> bool {
        false
    }

    /// Whether there is a field to type in.
    fn has_field(&self) -> bool {
        false
    }

    /// Whether keys that the table does not know are for this screen.
    fn takes_letters(&self) -> bool {
        self.has_field()
    }

    /// Whether the wheel goes up and down as the arrows do.
    fn is_stepped(&self) -> bool {
        false
    }

    /// Whether the intent can be carried out here and now.
    fn can(&self, _: &Desk, _: Intent) -> bool {
        true
    }

    /// Why the intent cannot be carried out here and now, as far as more can be said than that.
    fn why_not(&self, _: &Desk, _: Intent) -> Option<String> {
        None
    }

    fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next;

    /// A key that the table does not know here: text for a field, a letter of a list.
    fn key(&mut self, _: &mut Desk, _: &KeyEvent) -> Next {
        Next::Stay
    }

    /// Pasted text, for a field.
    fn paste(&mut self, _: &mut Desk, _: &str) {}

    /// What the screen has to say of its own on the message line.
    fn says(&self, _: &Desk) -> Option<(String, Tone)> {
        None
    }

    /// What is made for it beside the keys, how far that is and how it is stopped: told before all
    /// else on the message line.
    fn works(&self, _: &Desk) -> Option<String> {
        None
    }

    /// What is chosen, as words for the clipboard.
    fn copied(&self, _: &Desk) -> Option<Copied> {
        None
    }

    /// Something that works beside the loop has something to tell.
    fn hear(&mut self, _: &mut Desk) -> Next {
        Next::Stay
    }

    /// A button of the mouse, or the wheel where the screen is not stepped.
    fn mouse(&mut self, _: &mut Desk, _: Mouse, _: (u16, u16)) -> Next {
        Next::Stay
    }

    /// Whether taking back is the screen's own matter, because what it changes is not kept yet.
    fn has_own_undo(&self) -> bool {
        false
    }

    /// Takes back what was done on this screen alone; `false` leaves it to the collection.
    fn take_back(&mut self, _: &mut Desk) -> bool {
        false
    }

    /// A step of the collection was taken back while this screen was on top.
    fn taken_back(&mut self) {}

    /// And it was done again.
    fn done_again(&mut self) {}

    /// The collection has changed: what was told of it is taken anew.
    fn refresh(&mut self, _: &Desk) {}

    /// The pocket of the real binder that is shown here, and whether its binder is open.
    fn place(&self, _: &Desk) -> Option<(Place, bool)> {
        None
    }

    /// A place has been opened above this screen.
    fn follow(&mut self, _: &Desk, _: Place) {}

    /// Leafs to a place of what is open here; `false` where it is not open here.
    fn leaf_to(&mut self, _: &Desk, _: Ground, _: Place) -> bool {
        false
    }

    /// The binder shown here is shown on this ground from now on.
    fn stand_on(&mut self, _: &Desk, _: Ground) {}

    /// Whether a pointer rests at an edge with something in hand: then the loop wakes from time to
    /// time and calls [`Screen::turn`].
    fn turns(&self, _: &Desk) -> bool {
        false
    }

    /// Turns a page under a pointer that rests at an edge; whether one was turned.
    fn turn(&mut self, _: &mut Desk) -> bool {
        false
    }

    /// Whether something is left to do between keys: then the loop calls [`Screen::work_on`]
    /// whenever no key waits.
    fn is_at_work(&self, _: &Desk) -> bool {
        false
    }

    /// Does a part of it, short enough that no key waits for it; whether something else is to be
    /// shown.
    fn work_on(&mut self, _: &mut Desk) -> bool {
        false
    }

    /// Where the pictures of cards may stand, once the screen is drawn.
    fn pictures(&self, _: &Desk) -> Vec<Pictured> {
        Vec::new()
    }

    fn draw(&self, desk: &Desk, buf: &mut Buffer);
}

/// What follows from an intent or a click.
#[derive(Debug)]
pub(crate) enum Next {
    Stay,
    Close,
    Open(Box<dyn Screen>),
    /// Closes the window, and then as if this had been asked for.
    CloseAnd(Intent),
    /// As if this had been asked for.
    Now(Intent),
    /// Closes the window and does this, wherever it is done.
    Do(anything::Deed),
    /// Another screen in the place of this one.
    Instead(Box<dyn Screen>),
    /// Closes what is above the shelf and opens the binder or the draft there.
    GoTo(Ground, Place),
    /// Closes the window, and leafs to the place in the binder or the draft under it.
    LeafTo(Ground, Place),
    /// The same, and then as if this had been asked for there.
    GoToAnd(Ground, Place, Intent),
    /// The binder under this window is shown on this ground from now on.
    Under(Ground),
}

impl Next {
    pub(crate) fn open(screen: impl Screen + 'static) -> Self {
        Self::Open(Box::new(screen))
    }

    pub(crate) fn instead(screen: impl Screen + 'static) -> Self {
        Self::Instead(Box::new(screen))
    }

    /// To the pocket that is meant for a printing, if there is one.
    pub(crate) fn to_pocket(desk: &mut Desk, printing: PrintingId, place: Option<Place>) -> Self {
        match place {
            Some(place) => Self::GoTo(Ground::real(place.binder), place),
            None => {
                let words = report::printing_words(desk.collection(), printing);
                let key = desk.key(Context::Binder, Intent::Arrange);
                desk.warn(format!(
                    "No pocket is meant for {words}: {key} in a binder lays it out by sections"
                ));
                Self::Stay
            }
        }
    }
}

/// A mouse button or the wheel, at a cell of the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mouse {
    Left,
    Right,
    Drag,
    Release,
    WheelUp,
    WheelDown,
}
