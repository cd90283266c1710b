//! Drawing typing in: the binder above, or the page that is still to come; the field and what was
//! typed in below.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::TypeIn;
use crate::intake::{self, TypedIn};
use crate::model::Collection;
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// Columns and lines of a pocket of a page that is not there yet; the least that show one.
const POCKET: (u16, u16) = (12, 4);
const LEAST: (u16, u16) = (4, 3);

impl TypeIn {
    fn window(desk: &Desk) -> Rect {
        let body = desk.body();
        let height = (body.height / 3).clamp(3, 9).min(body.height);
        Rect {
            y: body.bottom() - height,
            height,
            ..body
        }
    }

    fn head(&self, collection: &Collection) -> String {
        let format = Self::format(collection, self.place.binder, self.place.page);
        let at = format.at(self.place.pocket);
        let at = at.map_or_else(String::new, |at| format!(", {at}"));
        let new = match self.is_there(collection) {
            true => "",
            false => ", a new page",
        };
        let cards = text::count(self.cards as u64, "card", "cards");
        format!("Page {}{at}{new}: {cards} typed in", self.place.page + 1)
    }

    /// A page that is not there yet: the side on which the next card lies, empty.
    fn draw_new_page(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let (theme, glyphs) = (desk.theme, desk.theme.glyphs());
        let format = Self::format(desk.collection(), self.place.binder, self.place.page);
        let number = self.place.page + 1;
        let words = format!("Page {number} is not there yet; it comes in with the first card");
        let (rows, columns) = (u16::from(format.rows), u16::from(format.columns));
        let room = area.height.saturating_sub(2);
        let width = POCKET.0.min(area.width / columns.max(1));
        let height = POCKET.1.min(room / rows.max(1));
        let shown = width >= LEAST.0 && height >= LEAST.1;
        let lines = if shown { rows * height } else { 0 };
        let quiet = theme.style(Role::Quiet);
        let head = text::fit(&words, usize::from(area.width), glyphs.more);
        let line = paint::centred(area, text::columns(&head) as u16, 2 + lines);
        paint::line(buf, (line.x, line.y), line.width, &head, quiet);
        let at = format.at(self.place.pocket).filter(|_| shown);
        let page = paint::centred(area, columns * width, 2 + lines);
        let pockets = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
        let here = at.map(|at| (u16::from(at.row), u16::from(at.column)));
        for (row, column) in pockets.filter(|_| shown) {
            let (signs, role) = match here == Some((row, column)) {
                true => (&glyphs.cursor, Role::Cursor),
                false => (&glyphs.card, Role::Quiet),
            };
            let pocket = Rect {
                x: page.x + column * width,
                y: page.y + 2 + row * height,
                width,
                height,
            };
            paint::frame(buf, pocket, signs, theme.style(role));
        }
    }

    pub(super) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (window, theme, body) = (Self::window(desk), desk.theme, desk.body());
        let above = Rect {
            height: body.height - window.height,
            ..body
        };
        match self.is_there(desk.collection()) {
            true => self.behind.draw_within(desk, above, buf),
            false => self.draw_new_page(desk, above, buf),
        }
        let width = window.width.saturating_sub(2);
        let head = self.head(desk.collection());
        let strong = theme.style(Role::Strong);
        paint::line(buf, (window.x + 1, window.y), width, &head, strong);
        let at = (window.x + 1, window.y + 1);
        let used = paint::line(buf, at, width, "Card: ", theme.style(Role::Key));
        let room = width.saturating_sub(used);
        self.field.draw((at.0 + used, at.1), room, true, theme, buf);
        let mut lines: Vec<String> = Vec::new();
        let room = usize::from(width.saturating_sub(1));
        for entered in self.entered.iter().rev() {
            let words = text::safe(&entered.words);
            lines.extend(text::wrap(&words, room, 2, theme.glyphs().more));
        }
        if lines.is_empty() {
            let pass = desk.key(Context::TypeIn, Intent::NextField);
            let words = format!(
                "The number of the card in the chosen pocket: 12, 12 reverse; {pass} if the pocket \
                 is empty, or 12 gap if it is kept for 12. Each is kept at once."
            );
            lines = text::wrap(&words, room, 4, theme.glyphs().more);
        }
        let quiet = theme.style(if self.entered.is_empty() {
            Role::Quiet
        } else {
            Role::Text
        });
        for (y, line) in (window.y + 2..window.bottom()).zip(&lines) {
            paint::line(buf, (window.x + 2, y), width, line, quiet);
        }
    }
}

/// What typing a card in did, in words.
pub(super) fn told(collection: &Collection, put: &TypedIn) -> String {
    let mut words = match put.is_gap {
        true => format!("gap for {}", put.words()),
        false => put.words(),
    };
    if let Some(other) = &put.instead_of {
        words.push_str(&format!(
            " instead of {other}, of which one copy less is there"
        ));
    }
    if let Some(first) = put.first {
        // Two of a card are rarer than a slip of the hand.
        let first = report::place_words(collection, first);
        words.push_str(&format!(" again: the first lies in {first}"));
    }
    if put.is_new {
        words.push_str(", new in the checklist");
    }
    if put.was_loose {
        words.push_str(", the loose copy");
    }
    if put.is_misplaced {
        words.push_str(", in a pocket kept for another");
    }
    match &put.kept_before[..] {
        [] => {}
        [one] => words.push_str(&format!("; the empty pocket before it is kept for {one}")),
        many => words.push_str(&format!(
            "; the empty pockets before it are kept for {}",
            intake::in_few_words(many)
        )),
    }
    words
}
