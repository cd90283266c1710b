//! The mouse on the sections: a click chooses, a second one does.

use super::rooms::Rooms;
use super::{Mode, Sections};
use crate::ui::book::Book;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::screen::{Mouse, Next, Screen};
use crate::ui::spread::Cursor;

impl Sections {
    pub(crate) fn point(&mut self, desk: &mut Desk, mouse: Mouse, at: (u16, u16)) -> Next {
        let (up, down) = match self.mode {
            Mode::Fields { .. } => (Intent::PreviousField, Intent::NextField),
            _ => (Intent::Up, Intent::Down),
        };
        match mouse {
            Mouse::WheelUp => self.act(desk, up),
            Mouse::WheelDown => self.act(desk, down),
            Mouse::Left => self.click(desk, at),
            _ => Next::Stay,
        }
    }

    fn click(&mut self, desk: &mut Desk, (x, y): (u16, u16)) -> Next {
        if let Some((area, seen)) = self.window(desk) {
            if !area.contains((x, y).into()) {
                return self.act(desk, Intent::Leave);
            }
            let Some(line) = y.checked_sub(area.y + 1).map(usize::from) else {
                return Next::Stay;
            };
            return self.click_window(desk, line, seen.start);
        }
        if let Some(page) = self.miniature_under(desk, (x, y)) {
            if let (Some(proposal), Some(binder)) = (&self.proposal, self.binder(desk)) {
                let book = Book::proposed(desk.collection(), binder, &proposal.layout);
                self.view = Cursor::at(&book, page, 0);
            }
            return Next::Stay;
        }
        let rooms = Rooms::of(desk);
        let is_below = y >= rooms.list.y && (rooms.list.left()..rooms.list.right()).contains(&x);
        if !is_below {
            return Next::Stay;
        }
        let line = usize::from(y - rooms.list.y);
        match &self.mode {
            Mode::List => {
                let seen = rooms.seen(self.rules.len(), self.chosen);
                let at = seen.start + line;
                if !seen.contains(&at) {
                    return Next::Stay;
                }
                if at == self.chosen {
                    return self.act(desk, Intent::Accept);
                }
                self.choose(desk, at);
            }
            Mode::Fields { row, .. } => {
                let room = usize::from(rooms.fields().height);
                let at = (row + 1).saturating_sub(room) + line;
                if line >= room || at >= self.rows(desk).len() {
                    return Next::Stay;
                }
                if at == *row {
                    return self.act(desk, Intent::Right);
                }
                if self.settle(desk) {
                    self.go_to_row(at);
                }
            }
            _ => {}
        }
        Next::Stay
    }

    fn click_window(&mut self, desk: &mut Desk, line: usize, first: usize) -> Next {
        let (chosen, at) = match &mut self.mode {
            Mode::Templates { all, chosen } => {
                let at = first + line;
                if at >= all.len() {
                    return Next::Stay;
                }
                (chosen, at)
            }
            Mode::Growth { grown, chosen } => {
                // Two lines stand above the ways.
                let Some(at) = line.checked_sub(2).filter(|at| *at < grown.ways.len()) else {
                    return Next::Stay;
                };
                (chosen, at)
            }
            _ => return Next::Stay,
        };
        if *chosen == at {
            return self.act(desk, Intent::Accept);
        }
        *chosen = at;
        if matches!(self.mode, Mode::Templates { .. }) {
            self.look(desk);
        }
        Next::Stay
    }
}
