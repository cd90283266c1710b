//! Drawing the form for a file: its lines, and what the file needs or what came of it.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{IT_IS, Import, ROWS};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::form::{Form, Value};
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// Columns in which what is asked for stands.
const ASKED: u16 = 12;

/// What a checklist looks like, and what is in it.
const CHECKLIST: &[&str] = &[
    "CSV, UTF-8, separated by commas; the first line names the columns:",
    "  set,number,name",
    "  HEA,12a,Amber Badger",
    "If you like, also: set_title, symbol, shelf, rarity, finishes (regular;reverse).",
];
const COPIES: &[&str] = &[
    "CSV, UTF-8, separated by commas; the first line names the columns:",
    "  set,number",
    "  HEA,12a",
    "If you like, also: finish (regular), count (1). The sets must be there already.",
];

impl Import {
    pub(super) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (Self::window(desk), desk.theme);
        paint::window(buf, area, " take in a file ", theme);
        let line = |at: usize| {
            let chosen = self.choices(at).nth(self.choices[at]);
            let value = chosen.map_or(Value::Field(&self.file), Value::Choice);
            (ROWS[at].0, value)
        };
        Self::form(desk).draw(desk, &self.rows(), self.focus, line, buf);
        self.draw_below(desk, buf);
    }

    pub(super) fn form(desk: &Desk) -> Form {
        Form::in_window(Self::window(desk), ASKED, 0)
    }

    /// Where the lines below the form stand.
    fn below(&self, desk: &Desk) -> Rect {
        let area = Self::window(desk);
        let last = Self::form(desk)
            .seen(&self.rows(), self.focus)
            .rows()
            .last()
            .map(|(y, _)| y);
        let top = last.map_or(area.y, |y| y + 2).min(area.bottom());
        Rect {
            x: area.x + 3,
            y: top,
            width: area.width.saturating_sub(6),
            height: area.bottom().saturating_sub(1).saturating_sub(top),
        }
    }

    /// Whether not all that came of it is seen at once.
    pub(super) fn is_longer(&self, desk: &Desk) -> bool {
        self.has_no_room_for(&self.lines_below(desk), self.below(desk))
    }

    fn has_no_room_for(&self, lines: &[String], below: Rect) -> bool {
        !self.outcome.lines.is_empty() && lines.len() > usize::from(below.height)
    }

    pub(super) fn scroll(&mut self, desk: &Desk, intent: Intent) {
        // The last line says how many more there are.
        let room = usize::from(self.below(desk).height)
            .saturating_sub(1)
            .max(1);
        let furthest = self.lines_below(desk).len().saturating_sub(room);
        self.outcome.top = intent.stepped(self.outcome.top, room, furthest);
    }

    /// What came of the last attempt, else what the file needs.
    fn lines_below(&self, desk: &Desk) -> Vec<String> {
        let width = usize::from(self.below(desk).width);
        let more = desk.theme.glyphs().more;
        let needs = match self.choices[IT_IS] {
            0 => CHECKLIST,
            _ => COPIES,
        };
        let mut lines: Vec<String> = if self.outcome.lines.is_empty() {
            needs.iter().map(|line| (*line).to_owned()).collect()
        } else {
            self.outcome.lines.clone()
        };
        if self.focus != 0 && self.outcome.lines.is_empty() {
            let key = |intent| desk.key(Context::Import, intent);
            let (left, right) = (key(Intent::Left), key(Intent::Right));
            lines.push(format!("{left} and {right} choose."));
        }
        let wrapped = lines.iter().flat_map(|line| {
            let indent = if line.starts_with("  ") { "  " } else { "" };
            let lines = text::wrap(&text::safe(line), width, 3, more);
            (lines.into_iter()).map(move |line| format!("{indent}{}", line.trim_start()))
        });
        wrapped.collect()
    }

    fn draw_below(&self, desk: &Desk, buf: &mut Buffer) {
        let (area, theme) = (self.below(desk), desk.theme);
        let role = match (self.outcome.lines.is_empty(), self.outcome.amiss) {
            (true, _) => Role::Quiet,
            (false, true) => Role::Waiting,
            (false, false) => Role::InPlace,
        };
        let lines = self.lines_below(desk);
        let longer = self.has_no_room_for(&lines, area);
        let room = usize::from(area.height).saturating_sub(usize::from(longer));
        let shown = lines.iter().skip(self.outcome.top).take(room);
        for (y, line) in (area.top()..area.bottom()).zip(shown) {
            paint::line(buf, (area.x, y), area.width, line, theme.style(role));
        }
        if longer && area.height > 0 {
            let key = |intent| desk.key(Context::Import, intent);
            let words = match lines.len().saturating_sub(self.outcome.top + room) {
                0 => format!("{}: the lines above", key(Intent::PageBack)),
                below => {
                    let below = text::count(below as u64, "more line", "more lines");
                    format!("{}: {below}", key(Intent::PageOn))
                }
            };
            let at = (area.x, area.bottom() - 1);
            paint::line(buf, at, area.width, &words, theme.style(Role::Key));
        }
    }
}
