//! A mouse event: to the key hint under it, or to the screen on top.

use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};

use super::{App, Flow};
use crate::ui::footer;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::screen::Mouse;

impl App {
    /// The second click of a double one. Where the first has done something already (a line was
    /// ticked, a window opened), what is under the pointer now was not meant.
    pub fn handle_second_click(&mut self, event: &MouseEvent) -> Flow {
        if self.click_did {
            return Flow::Same;
        }
        let flow = self.click(event);
        self.tell_fault(flow)
    }

    /// A click, and whether it did more than choose.
    pub(super) fn click(&mut self, event: &MouseEvent) -> Flow {
        let before = self.stand();
        let flow = self.mouse(event);
        if event.kind == MouseEventKind::Down(MouseButton::Left) {
            self.click_did = self.stand() != before;
        }
        // What is let go of belongs to the click that took hold of it.
        if event.kind == MouseEventKind::Up(MouseButton::Left) {
            self.click_did |= self.stand() != before;
        }
        flow
    }

    fn stand(&self) -> (u64, usize, Context) {
        (
            self.desk.session.revision(),
            self.screens.len(),
            self.context(),
        )
    }

    fn mouse(&mut self, event: &MouseEvent) -> Flow {
        let mouse = match event.kind {
            MouseEventKind::Drag(MouseButton::Left) => Mouse::Drag,
            MouseEventKind::Up(MouseButton::Left) => Mouse::Release,
            MouseEventKind::Down(MouseButton::Left) => Mouse::Left,
            MouseEventKind::Down(MouseButton::Right) => Mouse::Right,
            MouseEventKind::ScrollUp => Mouse::WheelUp,
            MouseEventKind::ScrollDown => Mouse::WheelDown,
            _ => return Flow::Same,
        };
        // A terminal may report a place outside itself; a drag or its end there still counts.
        let area = self.desk.area;
        let outside = event.column >= area.width || event.row >= area.height;
        if outside && !matches!(mouse, Mouse::Drag | Mouse::Release) || area.is_empty() {
            return Flow::Same;
        }
        let at = (
            event.column.min(area.width - 1),
            event.row.min(area.height - 1),
        );
        if mouse == Mouse::Left
            && let Some(intent) = footer::intent_under(self.top(), &self.desk, at)
        {
            return self.act(intent);
        }
        if mouse != Mouse::Release {
            self.desk.message = None;
        }
        let (screen, desk) = self.on_top();
        let next = match mouse {
            Mouse::WheelUp if screen.is_stepped() => screen.act(desk, Intent::Up),
            Mouse::WheelDown if screen.is_stepped() => screen.act(desk, Intent::Down),
            _ => screen.mouse(desk, mouse, at),
        };
        self.follow(next)
    }
}
