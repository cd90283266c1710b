//! Drawing the form for a file: its lines, and what the file needs or what came of it.

use ratatui::buffer::Buffer;

use super::{IT_IS, Import, ROWS};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::rows::Seen;
use crate::ui::theme::Role;

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
        let room = area.width.saturating_sub(18);
        let rows = self.rows();
        // On a low screen the lines around the one with the cursor.
        let mut below = area.y + 2;
        for (y, row) in self.seen(desk).rows() {
            let at = rows[row];
            let label = ROWS[at].0;
            let focus = at == self.focus;
            let role = if focus { Role::Key } else { Role::Quiet };
            let here = if focus { theme.glyphs().here } else { " " };
            paint::sign(buf, (area.x + 1, y), here, theme.style(Role::Cursor));
            paint::line(buf, (area.x + 3, y), 12, label, theme.style(role));
            let x = area.x + 16;
            if let Some(words) = self.choices(at).nth(self.choices[at]) {
                let role = if focus { Role::Strong } else { Role::Text };
                paint::line(buf, (x, y), room, words, theme.style(role));
            } else {
                self.file.draw((x, y), room, focus, theme, buf);
            }
            below = y + 2;
        }
        self.draw_below(desk, below, buf);
    }

    /// The lines of the form.
    pub(super) fn seen(&self, desk: &Desk) -> Seen {
        let rows = self.rows();
        let here = rows.iter().position(|row| *row == self.focus);
        let area = paint::inside(Self::window(desk));
        Seen::of(area, here.unwrap_or(0), rows.len())
    }

    /// What came of the last attempt, else what the file needs.
    fn draw_below(&self, desk: &Desk, top: u16, buf: &mut Buffer) {
        let (area, theme) = (Self::window(desk), desk.theme);
        let width = area.width.saturating_sub(6);
        let more = theme.glyphs().more;
        let needs = match self.choices[IT_IS] {
            0 => CHECKLIST,
            _ => COPIES,
        };
        let role = match (self.outcome.lines.is_empty(), self.outcome.amiss) {
            (true, _) => Role::Quiet,
            (false, true) => Role::Waiting,
            (false, false) => Role::InPlace,
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
            let lines = text::wrap(&text::safe(line), usize::from(width), 3, more);
            (lines.into_iter()).map(move |line| format!("{indent}{}", line.trim_start()))
        });
        for (y, line) in (top..area.bottom().saturating_sub(1)).zip(wrapped) {
            paint::line(buf, (area.x + 3, y), width, &line, theme.style(role));
        }
    }
}
