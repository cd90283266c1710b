//! Drawing the form: its lines, a hint for the one with the cursor, and what it would make.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::made::Made;
use super::{FIRST_CHOICE, NewSet, ROWS};
use crate::layout;
use crate::model::PageFormat;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::form::{Form, Value};
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// Columns in which what is asked for stands.
const ASKED: u16 = 14;

impl NewSet {
    pub(super) fn window(&self, desk: &Desk) -> Rect {
        paint::centred(desk.body(), 78, self.rows().len() as u16 + 6)
    }

    /// Its lines, with room for the hint and for what would be made.
    pub(super) fn form(&self, desk: &Desk) -> Form {
        Form::in_window(self.window(desk), ASKED, 2)
    }

    /// The hint for the line, and what the form would make.
    fn draw_foot(&self, desk: &Desk, area: Rect, lines: u16, buf: &mut Buffer) {
        let theme = desk.theme;
        let room = area.width.saturating_sub(6);
        let at = (area.x + 3, area.y + 1 + lines);
        if at.1 + 1 >= area.bottom() {
            return;
        }
        let hint = desk.with_keys(Context::Form, &format!("({})", ROWS[self.focus].2));
        let spare = u16::from(area.height > lines + 4);
        paint::line(
            buf,
            (at.0, at.1 + spare),
            room,
            &hint,
            theme.style(Role::Quiet),
        );
        let (key, format) = (desk.key(Context::Form, Intent::Accept), self.format().ok());
        let told = self.made.as_ref().map(|made| match self.typed_in {
            true if made.cards.is_none() => empty_words(&key, format),
            _ => made_words(&key, *made, format),
        });
        let (words, role) = match told {
            Ok(words) => (words, Role::InPlace),
            Err(why) => (why.clone(), Role::Waiting),
        };
        let words = text::safe(&words).into_owned();
        let lines = text::wrap(&words, usize::from(room), 2, theme.glyphs().more);
        for (y, line) in (at.1 + 1 + spare..area.bottom() - 1).zip(&lines) {
            paint::line(buf, (at.0, y), room, line, theme.style(role));
        }
    }

    pub(super) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.window(desk), desk.theme);
        paint::window(buf, area, " begin a set ", theme);
        let line = |at: usize| {
            let (label, choices, _) = ROWS[at];
            let value = match self.fields.get(at) {
                Some(field) => Value::Field(field),
                None => Value::Choice(choices[self.choices[at - FIRST_CHOICE]]),
            };
            (label, value)
        };
        let form = self.form(desk);
        form.draw(desk, self.rows(), self.focus, line, buf);
        let lines = form.seen(self.rows(), self.focus).rows().count();
        self.draw_foot(desk, area, lines as u16, buf);
    }
}

/// What Enter makes of the form where the cards are typed in.
fn empty_words(key: &str, format: Option<PageFormat>) -> String {
    let kind = format.map_or_else(String::new, |format| layout::describe(&format));
    format!("{key} opens an empty binder, {kind}; then type card after card")
}

fn made_words(key: &str, made: Made, format: Option<PageFormat>) -> String {
    let kind = format.map_or_else(String::new, |format| layout::describe(&format));
    let binder = match made.pages {
        Some(pages) => format!("a binder of {}", text::count(pages as u64, "page", "pages")),
        None => "a binder".to_owned(),
    };
    match made.cards {
        Some(0) | None => format!("{key} makes {binder} for the set that is there, {kind}"),
        Some(cards) => {
            let cards = text::count(cards as u64, "card", "cards");
            format!("{key} makes {cards} in {binder}, {kind}")
        }
    }
}
