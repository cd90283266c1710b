//! Drawing the sheet below the binder.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::ways::{left_words, page_words};
use super::{Work, counted};
use crate::hand;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Work {
    /// How much is done and left.
    fn head(&self, desk: &Desk) -> String {
        if !self.is_true(desk) {
            return "Work sheet".into();
        }
        if self.is_choosing() {
            let pages = page_words(&self.sheet.work.figures);
            return format!("Work sheet: how will you go about it?{pages}");
        }
        let left = self.sheet.deeds.len();
        let done: usize = self.ticks.iter().sum();
        let mut words = format!("Work sheet: {left} left, {done} done");
        if !self.skipped.is_empty() {
            words.push_str(&format!(", {} not found", self.skipped.len()));
        }
        if self.chosen > 0 {
            words.push_str(&format!(
                "; {} ticks {} lines",
                desk.key(Context::Work, Intent::Done),
                self.chosen + 1
            ));
        }
        let deed = self.open.get(self.chosen).map(|at| &self.sheet.deeds[*at]);
        if deed.is_some_and(|deed| !deed.in_front.is_empty()) {
            words.push_str("; the card in front comes out first, and goes back");
        }
        let without = self.sheet.unfilled.len();
        if without > 0 {
            let pockets = counted(without, "pocket stays a gap", "pockets stay gaps");
            words.push_str(&format!("; {pockets}, no copy is there"));
        }
        words
    }

    pub(super) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (window, theme) = (self.window(desk), desk.theme);
        let body = desk.body();
        let above = Rect {
            height: body.height - window.height,
            ..body
        };
        if let Some(behind) = &self.behind {
            behind.draw_within(desk, above, buf);
        }
        let width = window.width.saturating_sub(2);
        let head = self.head(desk);
        paint::line(
            buf,
            (window.x + 1, window.y),
            width,
            &head,
            theme.style(Role::Strong),
        );
        if !self.is_true(desk) {
            return;
        }
        let list = self.list(desk);
        if let Some(ways) = &self.ways {
            return ways.draw(desk, list, buf);
        }
        let figures = left_words(&self.sheet.work.figures, self.way, theme.glyphs().at_most);
        paint::line(
            buf,
            (window.x + 1, window.y + 1),
            width,
            &figures,
            theme.style(Role::Quiet),
        );
        let room = usize::from(list.height);
        let first = self.first_shown(room);
        let shown = self.open.iter().enumerate().skip(first);
        for (y, (at, number)) in (list.top()..list.bottom()).zip(shown) {
            let deed = &self.sheet.deeds[*number];
            let whole = self.binder.is_none();
            let words = hand::deed_words(desk.collection(), &self.sheet, deed, whole);
            let role = if at == self.chosen {
                Role::Selected
            } else if at < self.chosen {
                Role::Strong
            } else {
                Role::Text
            };
            let here = if at == self.chosen {
                theme.glyphs().here
            } else {
                " "
            };
            paint::sign(buf, (list.x, y), here, theme.style(Role::Cursor));
            let words = format!("{} {}", theme.glyphs().box_open, words);
            let more = theme.glyphs().more;
            let words = text::fit(&text::safe(&words), usize::from(width), more);
            paint::line(buf, (list.x + 2, y), width, &words, theme.style(role));
        }
        if self.open.is_empty() {
            self.draw_end(desk, list, buf);
        }
    }
}
