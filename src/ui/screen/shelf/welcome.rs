//! The shelf without a binder: how one begins. Nothing is asked here; each way is one key, and each
//! can be left again.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::Shelf;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

/// The ways, each with its name and what it takes.
const WAYS: &[(Intent, &str, &str)] = &[
    (
        Intent::Demo,
        "Look around",
        "An invented collection. Nothing of it is kept.",
    ),
    (
        Intent::NewSet,
        "A set by its numbers",
        "Such as: 1 to 120 and P1 to P6, in regular and reverse.",
    ),
    (
        Intent::TypeIn,
        "A binder as you flip",
        "With the real one before you, type the number of each card.",
    ),
    (
        Intent::Import,
        "A file",
        "A checklist or what you own, as CSV from a spreadsheet.",
    ),
];

impl Shelf {
    /// The ways that are open: all, or those that alter nothing.
    pub(super) fn ways(desk: &Desk) -> Vec<Intent> {
        let ways = WAYS.iter().map(|(intent, ..)| *intent);
        ways.filter(|intent| match intent {
            Intent::Demo => !desk.has_demo,
            _ => desk.can_write(),
        })
        .collect()
    }

    /// The way under a point of the screen.
    pub(super) fn way_under(desk: &Desk, at: (u16, u16)) -> Option<Intent> {
        let rows = Self::way_rows(desk).into_iter();
        let mut rows = rows.zip(Self::ways(desk));
        let row = rows.find(|(row, _)| row.contains(at.into()));
        row.map(|(_, intent)| intent)
    }

    /// Where each way stands: two lines each where there is room, else one.
    fn way_rows(desk: &Desk) -> Vec<Rect> {
        let (body, ways) = (desk.body(), Self::ways(desk).len() as u16);
        let width = 64.min(body.width.saturating_sub(2));
        let height = if body.height >= 3 * ways + 7 { 3 } else { 1 };
        let above = if body.height > ways + 3 { 3 } else { 1 };
        // In the middle, with the question above and what holds for every way below; on a high
        // screen all of it would hang at the top.
        let below = if width < 60 { 4 } else { 2 } + u16::from(height == 1);
        let free = body.height.saturating_sub(2 + ways * height + below);
        let above = if above > 1 {
            above.max(2 + free / 2)
        } else {
            above
        };
        let x = body.x + (body.width - width) / 2;
        let row = |at: u16| Rect::new(x, body.y + above + at * height, width, height.min(2));
        let rows = (0..ways).map(row);
        rows.filter(|row| row.y < body.bottom()).collect()
    }

    pub(super) fn draw_welcome(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        let (rows, ways) = (Self::way_rows(desk), Self::ways(desk));
        let quiet = theme.style(Role::Quiet);
        let chosen = self.chosen.min(ways.len().saturating_sub(1));
        if let Some(first) = rows.first()
            && first.y > body.y + 1
        {
            let at = (first.x, first.y - 2);
            let words = "No binder stands here yet. How do you want to begin?";
            let short = "How do you want to begin?";
            let words = match usize::from(first.width) >= words.len() {
                true => words,
                false => short,
            };
            paint::line(buf, at, first.width, words, theme.style(Role::Strong));
        }
        for (at, (row, intent)) in rows.iter().zip(&ways).enumerate() {
            let Some((_, name, more)) = WAYS.iter().find(|(way, ..)| way == intent) else {
                continue;
            };
            let here = if at == chosen {
                theme.glyphs().here
            } else {
                " "
            };
            paint::sign(buf, (row.x, row.y), here, theme.style(Role::Cursor));
            let key = desk.key(Context::Shelf, *intent);
            let used = paint::line(buf, (row.x + 2, row.y), 8, &key, theme.style(Role::Key));
            let x = row.x + 2 + used.max(1) + 2;
            let room = row.right().saturating_sub(x);
            let role = if at == chosen {
                Role::Selected
            } else {
                Role::Text
            };
            paint::line(buf, (x, row.y), room, name, theme.style(role));
            if row.height > 1 {
                paint::line(buf, (x, row.y + 1), room, more, quiet);
            }
        }
        self.draw_below(desk, rows.last().copied(), buf);
    }

    /// What holds for every way, as far as there is room.
    fn draw_below(&self, desk: &Desk, last: Option<Rect>, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        let (x, width, top) = match last {
            Some(last) => (last.x, last.width, last.bottom() + 1),
            None => (body.x + 1, body.width.saturating_sub(2), body.y + 2),
        };
        let key = |intent| desk.key(Context::Shelf, intent);
        let words = if desk.can_write() {
            format!(
                "Every step can be taken back with {}, also one from another day. {} tells what \
                 can be done, {} finds it by a few letters.",
                key(Intent::Undo),
                key(Intent::Help),
                key(Intent::Anything)
            )
        } else {
            format!(
                "This collection is open for reading only, and nothing is in it. {} leaves.",
                key(Intent::Quit)
            )
        };
        let lines = text::wrap(&words, usize::from(width), 4, theme.glyphs().more);
        // All of it or nothing: the half of it would help nobody.
        if top + lines.len() as u16 > body.bottom() {
            return;
        }
        for (y, line) in (top..).zip(&lines) {
            paint::line(buf, (x, y), width, line, theme.style(Role::Quiet));
        }
    }
}
