//! A line for a page number.

use crossterm::event::KeyEvent;
use ratatui::buffer::Buffer;

use super::Next;
use crate::model::{BinderId, Place};
use crate::ui::desk::Desk;
use crate::ui::field::Field;
use crate::ui::intent::Intent;
use crate::ui::paint;
use crate::ui::theme::Role;

/// Asks which page to go to.
#[derive(Debug)]
pub(crate) struct PagePrompt {
    binder: BinderId,
    field: Field,
}

impl PagePrompt {
    pub(crate) fn new(binder: BinderId) -> Self {
        Self {
            binder,
            field: Field::default(),
        }
    }

    pub(crate) fn key(&mut self, event: &KeyEvent) {
        self.field.key(event);
    }

    pub(crate) fn paste(&mut self, words: &str) {
        self.field.insert(words);
    }

    pub(crate) fn act(&mut self, desk: &mut Desk, intent: Intent) -> Next {
        match intent {
            Intent::Leave => Next::Close,
            Intent::Accept => {
                let binder = desk.collection().binder(self.binder);
                let pages = binder.map_or(0, |binder| binder.pages().len());
                match self.field.value().trim().parse::<usize>() {
                    Ok(page) if (1..=pages).contains(&page) => Next::GoTo(Place {
                        binder: self.binder,
                        page: page - 1,
                        pocket: 0,
                    }),
                    _ => {
                        desk.warn(format!("The binder has pages 1 to {pages}"));
                        Next::Stay
                    }
                }
            }
            _ => Next::Stay,
        }
    }

    pub(crate) fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let theme = desk.theme;
        let area = paint::centred(desk.body(), 24, 3);
        paint::clear(buf, area);
        paint::frame(buf, area, &theme.glyphs().page, theme.style(Role::Text));
        let words = "Go to page: ";
        let at = (area.x + 2, area.y + 1);
        let used = paint::line(
            buf,
            at,
            area.width.saturating_sub(4),
            words,
            theme.style(Role::Text),
        );
        let room = area.width.saturating_sub(4 + used);
        self.field.draw((at.0 + used, at.1), room, true, theme, buf);
    }
}
