//! Drawing the form: its lines, a hint for the one with the cursor, and what it would make.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::made::Made;
use super::{CARDS, FIRST_CHOICE, LINES, NewSet, PAGE, ROWS};
use crate::layout;
use crate::model::PageFormat;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl NewSet {
    pub(super) fn window(&self, desk: &Desk) -> Rect {
        paint::centred(desk.body(), 78, LINES as u16 + 6)
    }

    /// The lines that are seen: on a low screen those around the one with the cursor.
    pub(super) fn shown(&self, window: Rect) -> std::ops::Range<usize> {
        let room = usize::from(window.height.saturating_sub(4)).clamp(1, LINES);
        let first = (self.focus + 1).saturating_sub(room);
        first..first + room
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
            true if made.cards.is_none() => empty_words(&key, self.focus >= PAGE, format),
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
        let shown = self.shown(area);
        let room = area.width.saturating_sub(20);
        for (y, at) in (area.y + 1..).zip(shown.clone()) {
            let (label, choices, _) = ROWS[at];
            let focus = at == self.focus;
            let role = if focus { Role::Key } else { Role::Quiet };
            let here = if focus { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
            paint::line(buf, (area.x + 3, y), 14, label, theme.style(role));
            let x = area.x + 18;
            match self.fields.get(at) {
                Some(_) if self.typed_in && at == CARDS => {
                    let words = "as you type them, flipping through the binder";
                    paint::line(buf, (x, y), room, words, theme.style(Role::Quiet));
                }
                Some(field) => field.draw((x, y), room, focus, theme, buf),
                None => {
                    let words = choices[self.choices[at - FIRST_CHOICE]];
                    let role = if focus { Role::Strong } else { Role::Text };
                    paint::line(buf, (x, y), room, words, theme.style(role));
                }
            }
        }
        self.draw_foot(desk, area, shown.len() as u16, buf);
    }
}

/// What Enter makes of the form where the cards are typed in.
fn empty_words(key: &str, at_page: bool, format: Option<PageFormat>) -> String {
    let kind = format.map_or_else(String::new, |format| layout::describe(&format));
    let first = if at_page {
        ""
    } else {
        "goes down to the page; there it "
    };
    format!("{key} {first}opens an empty binder, {kind}; then type card after card")
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
