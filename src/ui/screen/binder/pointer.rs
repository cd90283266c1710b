//! The mouse in an open binder: choosing, leafing, and dragging cards and pages.

use ratatui::layout::Rect;

use super::OpenBinder;
use super::carry::Load;
use crate::hand::Ground;
use crate::model::Side;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::screen::{Mouse, Next, Screen};
use crate::ui::spread::{Cursor, Rooms};

/// What the button went down on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Press {
    Pocket(Cursor),
    /// By its edge or its miniature: the page, the side that was seen, and whether it is the
    /// miniature.
    Page(usize, Side, bool),
}

/// Cells from the edge within which a resting pointer turns pages.
const EDGE: u16 = 2;

impl OpenBinder {
    pub(crate) fn point(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        match mouse {
            Mouse::WheelUp => return self.wheel(desk, Intent::PageBack),
            Mouse::WheelDown => return self.wheel(desk, Intent::PageOn),
            Mouse::Drag => self.drag(desk, at),
            Mouse::Release => self.release(desk, at),
            Mouse::Left if self.hand.is_some() => {
                // The release was lost, or it is carried by keys: a click puts it down here.
                self.follow(desk, at);
                self.open_over(desk);
                if self.is_target(desk, at) {
                    self.put_down(desk);
                }
            }
            // With the hands full nothing is put in or taken out.
            Mouse::Right if self.hand.is_some() => {}
            Mouse::Left | Mouse::Right => return self.click(desk, mouse, at),
        }
        Next::Stay
    }

    pub(super) fn rooms(&self, desk: &Desk) -> Option<Rooms> {
        Some(self.spread.rooms(desk, &self.book(desk)?))
    }

    /// Leafs; what the button holds stays under the pointer.
    fn wheel(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        let pointer = self.hand.as_ref().and_then(|hand| hand.pointer);
        let next = self.act(desk, intent);
        if let Some(hand) = &mut self.hand {
            hand.pointer = pointer;
        }
        next
    }

    fn click(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let Some((book, rooms)) = self.book(desk).zip(self.rooms(desk)) else {
            return Next::Stay;
        };
        if let Some((page, side)) = rooms.miniature_under(at) {
            if mouse == Mouse::Left {
                // The miniature stays under the pointer, which may be about to drag it.
                self.spread.strip_held = Some(self.spread.strip_at());
            }
            self.spread.cursor = Cursor::on(page, side).within(&book);
            let side = self.spread.cursor.at.side;
            self.press = (mouse == Mouse::Left).then_some(Press::Page(page, side, true));
            return Next::Stay;
        }
        if let Some(cursor) = rooms.pocket_under(at) {
            self.spread.cursor = cursor;
            self.press = (mouse == Mouse::Left).then_some(Press::Pocket(cursor));
            let held = self
                .at_cursor(desk)
                .and_then(|place| desk.collection().held(place));
            let press = self.press;
            let next = match (mouse, held) {
                (Mouse::Right, Some(_)) => self.act(desk, Intent::Take),
                (Mouse::Right, None) => self.act(desk, Intent::Put),
                _ => Next::Stay,
            };
            self.press = press;
            return next;
        }
        if let Some((page, side)) = rooms.page_edge_under(at) {
            self.press = (mouse == Mouse::Left).then_some(Press::Page(page, side, false));
            return Next::Stay;
        }
        if mouse == Mouse::Left {
            if let Some(cursor) = self.spread.told_under(desk, at) {
                self.spread.cursor = cursor;
                return Next::Stay;
            }
            if let Some(place) = self.spread.real_under(desk, at) {
                return Next::GoTo(Ground::real(self.ground().binder), place);
            }
        }
        match rooms.edge_under(at) {
            Some(Side::Front) => self.act(desk, Intent::PageOn),
            Some(Side::Back) => self.act(desk, Intent::PageBack),
            None => Next::Stay,
        }
    }

    /// The pointer moves with the button down: what was pressed is picked up and travels with it.
    fn drag(&mut self, desk: &mut Desk, at: (u16, u16)) {
        if self.hand.is_none() {
            let Some((press, rooms)) = self.press.zip(self.rooms(desk)) else {
                return;
            };
            let held = self.spread.strip_at();
            // A page that was taken from the strip has its places there.
            let from_strip = matches!(press, Press::Page(.., true));
            match press {
                Press::Pocket(cursor) if rooms.pocket_under(at) != Some(cursor) => {
                    let (hands, end) = (self.hands(), self.spread.cursor);
                    let marked = self
                        .book(desk)
                        .is_some_and(|book| hands.marks(&book, end, cursor));
                    if !marked {
                        self.mark = None;
                        self.spread.cursor = cursor;
                    }
                    self.pick_up_cards(desk);
                }
                Press::Page(page, side, _)
                    if rooms.miniature_under(at).map(|m| m.0) != Some(page) =>
                {
                    // The same side as before, so that the view keeps still.
                    self.spread.cursor.page = page;
                    self.spread.cursor.at.side = side;
                    self.pick_up_pages(desk);
                }
                Press::Pocket(_) | Press::Page(..) => return,
            }
            self.press = None;
            self.spread.strip_held = Some(held);
            if let Some(hand) = &mut self.hand {
                hand.leafs_at_once = from_strip;
            }
        }
        self.follow(desk, at);
    }

    /// What is in hand is held over this cell.
    fn follow(&mut self, desk: &Desk, at: (u16, u16)) {
        let Some((book, rooms)) = self.book(desk).zip(self.rooms(desk)) else {
            return;
        };
        let Some(hand) = &mut self.hand else {
            return;
        };
        // On the way across the strip no page opens: it does where the pointer rests.
        let rests = hand.pointer.replace(at) == Some(at);
        let cursor = self.spread.cursor;
        let over = rooms.miniature_under(at);
        let over = over.filter(|over| *over != (cursor.page, cursor.at.side));
        hand.over = over.filter(|_| !rests && !hand.leafs_at_once);
        if hand.over.is_some() {
            return;
        }
        // What is aimed at does not move away under the pointer.
        let held = self.spread.strip_at();
        self.spread.strip_held = Some(held);
        match &hand.load {
            Load::Cards { .. } => {
                if let Some(cursor) = rooms.pocket_under(at) {
                    self.spread.cursor = cursor;
                } else if let Some((page, side)) = rooms.miniature_under(at) {
                    self.spread.cursor = Cursor::on(page, side).within(&book);
                }
            }
            Load::Pages(lifted) => {
                let last = book.len() - lifted.run.len();
                let strip = rooms.strip.as_ref();
                let beyond = strip.and_then(|strip| strip.end(strip.beyond(at)?));
                let side = self.spread.cursor.at.side;
                let over = rooms.miniature_under(at).map(|(page, _)| page).or(beyond);
                let over = over.map(|page| (page, side));
                // Over a page of the open spread it lands there, and the spread stays open.
                if let Some((page, side)) = over.or_else(|| rooms.side_under(at)) {
                    self.hold_pages_at(page.min(last), side);
                }
            }
        }
        self.think(desk);
    }

    /// Opens the page over whose miniature it is held, and tells whether there is one.
    fn open_over(&mut self, desk: &Desk) -> bool {
        let over = self.hand.as_mut().and_then(|hand| hand.over.take());
        let at = self.hand.as_ref().and_then(|hand| hand.pointer);
        match over.and(at) {
            Some(at) => {
                // The pointer rests.
                self.follow(desk, at);
                true
            }
            None => false,
        }
    }

    /// Whether something can be put down at this cell.
    pub(super) fn is_target(&self, desk: &Desk, at: (u16, u16)) -> bool {
        let Some((rooms, hand)) = self.rooms(desk).zip(self.hand.as_ref()) else {
            return false;
        };
        match hand.load {
            Load::Cards { .. } => rooms.takes_card(at),
            Load::Pages(_) => rooms.takes_page(at),
        }
    }

    fn release(&mut self, desk: &mut Desk, at: (u16, u16)) {
        self.press = None;
        self.let_go(desk, at);
        self.spread.strip_held = None;
    }

    fn let_go(&mut self, desk: &mut Desk, at: (u16, u16)) {
        let dragged = self
            .hand
            .as_ref()
            .is_some_and(|hand| hand.pointer.is_some());
        if !dragged {
            return;
        }
        if self.is_target(desk, at) {
            self.open_over(desk);
            self.put_down(desk);
        } else {
            self.put_back(desk);
        }
        if let Some(hand) = &mut self.hand {
            // Refused: it stays in hand, and the pointer lets go of it.
            hand.pointer = None;
        }
    }

    /// The way in which pages are to be turned, when the pointer rests at an edge with something in
    /// hand.
    pub(crate) fn turn_under(&self, desk: &Desk) -> Option<Intent> {
        let (x, y) = self.hand.as_ref()?.pointer?;
        let body: Rect = desk.body();
        let rooms = self.rooms(desk)?;
        let strip = rooms.strip.as_ref();
        if let Some(strip) =
            strip.filter(|strip| (strip.area.left()..strip.area.right()).contains(&x))
        {
            return strip.beyond((x, y)).map(|on| match on {
                true => Intent::PageOn,
                false => Intent::PageBack,
            });
        }
        let beside = strip.filter(|strip| x < strip.area.x);
        let right = beside.map_or(body.right(), |strip| strip.area.x);
        if x < body.x + EDGE {
            Some(Intent::PageBack)
        } else if x + EDGE >= right {
            Some(Intent::PageOn)
        } else {
            None
        }
    }

    /// Turns pages under a resting pointer; tells whether anything changed.
    pub(crate) fn turn_on(&mut self, desk: &mut Desk) -> bool {
        if self.open_over(desk) {
            return true;
        }
        let Some(intent) = self.turn_under(desk) else {
            return false;
        };
        let before = self.spread.cursor;
        let pointer = self.hand.as_ref().and_then(|hand| hand.pointer);
        self.spread.strip_held = None;
        self.carry(desk, intent);
        if let Some(hand) = &mut self.hand {
            hand.pointer = pointer;
        }
        self.spread.cursor != before
    }
}
