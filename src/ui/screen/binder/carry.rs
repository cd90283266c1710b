//! Picking up and putting down: a card, a marked run of cards, a page, a marked run of pages.
//!
//! What is in hand is told with what putting it down here would do. It stays in hand until it is
//! put down or put back: a refused place, or a mouse button whose release was lost outside the
//! window, loses nothing.

use std::rc::Rc;

use super::OpenBinder;
use crate::hand::{self, Cannot, Foretold, Manner, PagesInHand, PutDown};
use crate::model::{Place, Side};
use crate::text;
use crate::ui::book::Lifted;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::spread::{Carried, Cursor};

/// What is carried.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Load {
    Cards { from: Vec<Place>, manner: Manner },
    Pages(Lifted),
}

/// Something in hand.
#[derive(Clone, Debug)]
pub(super) struct Hand {
    pub(super) load: Load,
    /// Where the cursor was when it was picked up.
    home: Cursor,
    /// The mouse button that holds it is down; where the pointer is.
    pub(super) pointer: Option<(u16, u16)>,
    /// The page, and its side, over whose miniature the pointer came just now: it opens when the
    /// pointer rests there.
    pub(super) over: Option<(usize, Side)>,
    /// Every miniature opens its page at once.
    pub(super) leafs_at_once: bool,
    /// What putting it down here would do, or why it cannot be.
    pub(super) words: Result<String, Cannot>,
    /// Whether others make way for it.
    meets: bool,
    /// What is carried, for the label that travels with it.
    pub(super) label: String,
    /// Of pages of a draft, what it would cost wherever they are put down.
    pages: Option<Rc<PagesInHand>>,
}

impl Hand {
    pub(super) fn carried(&self) -> Carried<'_> {
        let (from, pages) = match &self.load {
            Load::Cards { from, .. } => (&from[..], None),
            Load::Pages(lifted) => (&[][..], Some(lifted)),
        };
        Carried {
            label: &self.label,
            from,
            pages,
            pointer: self.pointer,
            is_here: self.over.is_none(),
        }
    }

    /// Whether the cursor is where it was picked up.
    fn is_home(&self, cursor: Cursor) -> bool {
        match &self.load {
            Load::Cards { .. } => cursor == self.home,
            Load::Pages(lifted) => lifted.to == lifted.run.start,
        }
    }

    /// Whether it is one card or page.
    fn is_one(&self) -> bool {
        match &self.load {
            Load::Cards { from, .. } => from.len() == 1,
            Load::Pages(lifted) => lifted.run.len() == 1,
        }
    }
}

impl OpenBinder {
    /// The pages of a draft in hand, with what they cost.
    pub(super) fn pages_in_hand(&self) -> Option<(&PagesInHand, &Lifted)> {
        let hand = self.hand.as_ref()?;
        match &hand.load {
            Load::Pages(lifted) => Some((hand.pages.as_deref()?, lifted)),
            Load::Cards { .. } => None,
        }
    }

    /// Makes ready for asking what a draft costs with the pages in hand at one place or another.
    pub(super) fn weigh_pages(&mut self, desk: &Desk) {
        let ground = self.ground();
        if let Some(hand) = &mut self.hand
            && matches!(hand.load, Load::Pages(_))
            && !ground.is_real()
        {
            let pages = PagesInHand::new(desk.collection(), ground);
            hand.pages = pages.map(Rc::new);
        }
    }

    /// Picks up the card under the cursor or the marked run.
    pub(super) fn pick_up_cards(&mut self, desk: &mut Desk) {
        if let Some(why) = self.pages_first(desk) {
            return desk.warn(text::sentence(&why));
        }
        let run = self.run(desk);
        let collection = desk.collection();
        if run
            .iter()
            .all(|place| self.ground().unit(collection, *place).is_room())
        {
            return desk.warn("There is nothing to carry in this pocket: choose one with a card");
        }
        let load = Load::Cards {
            from: run,
            manner: Manner::Swap,
        };
        self.take_in_hand(desk, load);
    }

    /// Picks up the page under the cursor or the marked run of pages.
    pub(super) fn pick_up_pages(&mut self, desk: &mut Desk) {
        if let Some(why) = self.pages_first(desk) {
            return desk.warn(text::sentence(&why));
        }
        let Some(book) = self.book(desk) else {
            return;
        };
        let here = self.spread.cursor.within(&book).page;
        if book.len() == 0 {
            let key = desk.key(Context::Binder, Intent::Arrange);
            return desk.warn(format!("The binder has no pages: {key} puts one in"));
        }
        let other = self.mark.map_or(here, |mark| mark.within(&book).page);
        let run = here.min(other)..here.max(other) + 1;
        let to = run.start;
        self.take_in_hand(desk, Load::Pages(Lifted { run, to }));
    }

    fn take_in_hand(&mut self, desk: &mut Desk, load: Load) {
        let label = match &load {
            Load::Cards { from, .. } => hand::carried(desk.collection(), self.ground(), from),
            Load::Pages(lifted) if lifted.run.len() == 1 => {
                format!("page {}", lifted.run.start + 1)
            }
            Load::Pages(lifted) => {
                format!("pages {} to {}", lifted.run.start + 1, lifted.run.end)
            }
        };
        self.hand = Some(Hand {
            load,
            home: self.spread.cursor,
            pointer: None,
            over: None,
            leafs_at_once: false,
            words: Err(Cannot::NothingInHand),
            meets: false,
            label,
            pages: None,
        });
        self.mark = None;
        self.weigh_pages(desk);
        self.think(desk);
    }

    /// Thinks through what putting down here would do.
    pub(super) fn think(&mut self, desk: &Desk) {
        let put = self.put(desk);
        if let Some(hand) = &mut self.hand {
            hand.meets = put.as_ref().is_ok_and(|down| down.meets_others);
            hand.words = put.map(|down| down.deed.words);
        }
        self.spread.cost = self.cost(desk.collection());
    }

    /// Putting down here, thought through.
    fn put(&self, desk: &Desk) -> Result<PutDown, Cannot> {
        let hand = self.hand.as_ref().ok_or(Cannot::NothingInHand)?;
        let collection = desk.collection();
        match &hand.load {
            Load::Cards { from, manner } => {
                let to = self.at_cursor(desk).ok_or(Cannot::NoSuchPocket)?;
                hand::put_down_among(collection, self.ground(), from, to, *manner)
            }
            Load::Pages(lifted) => {
                let (run, to) = (lifted.run.clone(), lifted.to);
                let moved = hand::move_pages(collection, self.ground(), run, to)?;
                let (step, words) = (moved.step, moved.words);
                Ok(PutDown {
                    deed: Foretold { step, words },
                    meets_others: false,
                })
            }
        }
    }

    /// What putting down here would do, or why it cannot be; `None` with empty hands.
    pub(crate) fn in_hand(&self, desk: &Desk) -> Option<Result<String, Cannot>> {
        let hand = self.hand.as_ref()?;
        let manner = match &hand.load {
            Load::Cards { manner, .. } if hand.meets => match manner {
                Manner::Swap => "Swap: ",
                Manner::Push => "Push along: ",
            },
            Load::Cards { .. } | Load::Pages(_) => "",
        };
        if hand.is_home(self.spread.cursor) && hand.words.is_err() {
            let (label, key) = (&hand.label, desk.key(Context::Carry, Intent::Accept));
            let words = format!("{label} in hand: carry it on, {key} puts it down");
            return Some(Ok(text::sentence(&words)));
        }
        let words = hand.words.clone();
        Some(words.map(|words| text::sentence(format!("{manner}{words}"))))
    }

    /// That it goes back when the button is let go where the pointer is.
    pub(super) fn falls_back(&self, desk: &Desk) -> Option<String> {
        let hand = self.hand.as_ref()?;
        hand.pointer.filter(|at| !self.is_target(desk, *at))?;
        let it = if hand.is_one() { "it" } else { "them" };
        let label = &hand.label;
        let words = match self.turn_under(desk) {
            None => format!("{label} in hand: letting go here puts {it} back"),
            Some(_) => {
                format!("{label} in hand: held here it leafs on, letting go puts {it} back")
            }
        };
        Some(text::sentence(&words))
    }

    /// That a page opens when the button is held where the pointer is.
    pub(super) fn opens(&self, desk: &Desk) -> Option<String> {
        let hand = self.hand.as_ref()?;
        let page = self.book(desk)?.page(hand.over?.0);
        let it = if hand.is_one() { "it" } else { "them" };
        let (label, page) = (&hand.label, page + 1);
        let words =
            format!("{label} in hand: held here page {page} opens, letting go puts {it} there");
        Some(text::sentence(&words))
    }

    /// An intent while something is in hand.
    pub(super) fn carry(&mut self, desk: &mut Desk, intent: Intent) {
        match intent {
            Intent::Leave => return self.put_back(desk),
            Intent::Accept => return self.put_down(desk),
            Intent::SwapOrPush => {
                if let Some(Hand {
                    load: Load::Cards { manner, .. },
                    ..
                }) = &mut self.hand
                {
                    *manner = match manner {
                        Manner::Swap => Manner::Push,
                        Manner::Push => Manner::Swap,
                    };
                }
            }
            Intent::NextGap | Intent::PreviousGap if self.hands().lifted().is_none() => {
                self.go_to_gap(desk, intent == Intent::NextGap);
            }
            _ => match self.hands().lifted() {
                Some(lifted) => self.shift_pages(desk, &lifted, intent),
                None => self.move_cursor(desk, intent),
            },
        }
        self.think(desk);
    }

    /// Pages in hand go from place to place; the view goes with them.
    fn shift_pages(&mut self, desk: &Desk, lifted: &Lifted, intent: Intent) {
        let Some(book) = self.book(desk) else {
            return;
        };
        let last = book.len() - lifted.run.len();
        let to = match intent {
            Intent::Left | Intent::Up | Intent::PageBack => lifted.to.saturating_sub(1),
            Intent::Right | Intent::Down | Intent::PageOn => (lifted.to + 1).min(last),
            Intent::First => 0,
            Intent::Last => last,
            _ => lifted.to,
        };
        self.hold_pages_at(to, self.spread.cursor.at.side);
    }

    /// The side is the one that is seen of the first of them.
    pub(super) fn hold_pages_at(&mut self, to: usize, side: Side) {
        if let Some(Hand {
            load: Load::Pages(lifted),
            ..
        }) = &mut self.hand
        {
            lifted.to = to;
            self.spread.cursor.page = to;
            self.spread.cursor.at.side = side;
        }
    }

    pub(super) fn put_down(&mut self, desk: &mut Desk) {
        // Where it was picked up, putting it down is putting it back.
        let cursor = self.spread.cursor;
        let at_home = self.hand.as_ref().is_some_and(|hand| hand.is_home(cursor));
        if at_home && self.put(desk).is_err() {
            return self.put_back(desk);
        }
        match self.put(desk) {
            Ok(down) => {
                if desk.commit(down.deed.step) {
                    self.hand = None;
                }
            }
            Err(why) => desk.warn(format!("{}; it stays in hand", text::sentence(why))),
        }
        self.weigh(desk.collection());
    }

    pub(super) fn put_back(&mut self, desk: &mut Desk) {
        if let Some(hand) = self.hand.take() {
            self.spread.cursor = hand.home;
            desk.say(text::sentence(format!("{} put back", hand.label)));
        }
        self.weigh(desk.collection());
    }

    /// The pockets from the mark to the cursor in reading order, or the one under the cursor.
    pub(super) fn run(&self, desk: &Desk) -> Vec<Place> {
        let (Some(book), Some(here)) = (self.book(desk), self.at_cursor(desk)) else {
            return Vec::new();
        };
        let mark = self.mark.and_then(|mark| mark.place(&book));
        let other = mark.unwrap_or(here);
        let (low, high) = (here.min(other), here.max(other));
        let mut run = Vec::new();
        for page in low.page..=high.page {
            let pockets = book.format(page).map_or(0, |format| format.pockets());
            let first = if page == low.page { low.pocket } else { 0 };
            let end = if page == high.page {
                high.pocket + 1
            } else {
                pockets
            };
            run.extend((first..end).map(|pocket| self.ground().place(page, pocket)));
        }
        run
    }
}
