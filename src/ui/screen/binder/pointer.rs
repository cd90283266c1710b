//! The mouse in an open binder: choosing, leafing, and dragging cards and pages.

use ratatui::layout::Rect;

use super::OpenBinder;
use super::carry::Load;
use crate::model::{PocketAt, Side};
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::screen::{Mouse, Next, Screen};
use crate::ui::spread::{Cursor, Rooms};

/// What the button went down on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Press {
    Pocket(Cursor),
    Page(usize),
}

/// Cells from the edge within which a resting pointer turns pages.
const EDGE: u16 = 2;

impl OpenBinder {
    pub(crate) fn point(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        match mouse {
            Mouse::WheelUp => return self.act(desk, Intent::PageBack),
            Mouse::WheelDown => return self.act(desk, Intent::PageOn),
            Mouse::Drag => self.drag(desk, at),
            Mouse::Release => self.release(desk, at),
            Mouse::Left if self.hand.is_some() => {
                // The release was lost, or it is carried by keys: a click puts it down here.
                self.follow(desk, at);
                if self.is_target(desk, at) {
                    self.put_down(desk);
                }
            }
            Mouse::Left | Mouse::Right => return self.click(desk, mouse, at),
        }
        Next::Stay
    }

    pub(super) fn rooms(&self, desk: &Desk) -> Option<Rooms> {
        Some(self.spread.rooms(desk, &self.book(desk)?))
    }

    fn click(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let Some((book, rooms)) = self.book(desk).zip(self.rooms(desk)) else {
            return Next::Stay;
        };
        if let Some((page, side)) = rooms.miniature_under(at) {
            let place = PocketAt {
                side,
                row: 0,
                column: 0,
            };
            self.spread.cursor = Cursor { page, at: place }.within(&book);
            self.press = (mouse == Mouse::Left).then_some(Press::Page(page));
            return Next::Stay;
        }
        if let Some(cursor) = rooms.pocket_under(at) {
            let again = cursor == self.spread.cursor.within(&book);
            self.spread.cursor = cursor;
            self.press = (mouse == Mouse::Left).then_some(Press::Pocket(cursor));
            let held = self
                .at_cursor(desk)
                .and_then(|place| desk.collection().held(place));
            let press = self.press;
            let next = match (mouse, held) {
                _ if !self.ground().is_real() => Next::Stay,
                (Mouse::Right, Some(_)) => self.act(desk, Intent::Take),
                (Mouse::Right, None) => self.act(desk, Intent::Put),
                (_, None) if again => self.act(desk, Intent::Put),
                _ => Next::Stay,
            };
            self.press = press;
            return next;
        }
        if let Some(page) = rooms.page_edge_under(at) {
            self.press = (mouse == Mouse::Left).then_some(Press::Page(page));
            return Next::Stay;
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
                Press::Page(page) if rooms.miniature_under(at).map(|m| m.0) != Some(page) => {
                    self.spread.cursor.page = page;
                    self.pick_up_pages(desk);
                }
                Press::Pocket(_) | Press::Page(_) => return,
            }
            self.press = None;
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
        hand.pointer = Some(at);
        match &hand.load {
            Load::Cards { .. } => {
                if let Some(cursor) = rooms.pocket_under(at) {
                    self.spread.cursor = cursor;
                } else if let Some((page, side)) = rooms.miniature_under(at) {
                    let place = PocketAt {
                        side,
                        row: 0,
                        column: 0,
                    };
                    self.spread.cursor = Cursor { page, at: place }.within(&book);
                }
            }
            Load::Pages(lifted) => {
                let last = book.len() - lifted.run.len();
                let over = rooms.miniature_under(at).map(|(page, _)| page);
                if let Some(page) = over.or_else(|| rooms.side_under(at)) {
                    self.hold_pages_at(page.min(last));
                }
            }
        }
        self.think(desk);
    }

    /// Whether something can be put down at this cell.
    fn is_target(&self, desk: &Desk, at: (u16, u16)) -> bool {
        let Some((rooms, hand)) = self.rooms(desk).zip(self.hand.as_ref()) else {
            return false;
        };
        match hand.load {
            // Over a miniature the view has leafed there, and says what would happen.
            Load::Cards { .. } => {
                rooms.pocket_under(at).is_some() || rooms.miniature_under(at).is_some()
            }
            Load::Pages(_) => rooms.miniature_under(at).is_some() || rooms.side_under(at).is_some(),
        }
    }

    fn release(&mut self, desk: &mut Desk, at: (u16, u16)) {
        self.press = None;
        let dragged = self
            .hand
            .as_ref()
            .is_some_and(|hand| hand.pointer.is_some());
        if !dragged {
            return;
        }
        if self.is_target(desk, at) {
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
        if let Some(strip) = rooms.strip.as_ref().filter(|strip| x >= strip.area.x) {
            let bottom = strip.area.bottom().saturating_sub(1);
            return match y {
                y if y <= strip.area.y => Some(Intent::PageBack),
                y if y >= bottom => Some(Intent::PageOn),
                _ => None,
            };
        }
        let right = rooms.strip.map_or(body.right(), |strip| strip.area.x);
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
        let Some(intent) = self.turn_under(desk) else {
            return false;
        };
        let before = self.spread.cursor;
        let pointer = self.hand.as_ref().and_then(|hand| hand.pointer);
        self.carry(desk, intent);
        if let Some(hand) = &mut self.hand {
            hand.pointer = pointer;
        }
        self.spread.cursor != before
    }
}
