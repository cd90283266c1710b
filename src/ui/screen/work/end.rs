//! The end of the sheet: nothing is left, or only what could not be found; and what comes next.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::Work;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Work {
    pub(super) fn draw_end(&self, desk: &Desk, list: Rect, buf: &mut Buffer) {
        let (theme, width) = (desk.theme, list.width.saturating_sub(2));
        let words = if self.skipped.is_empty() {
            "Everything lies as planned."
        } else {
            "What is left needs the cards that could not be found."
        };
        paint::line(
            buf,
            (list.x + 2, list.y),
            width,
            words,
            theme.style(Role::InPlace),
        );
        let key = |intent| desk.key(Context::Shelf, intent);
        let words = match (self.skipped.is_empty(), self.sheet.unfilled.len()) {
            (false, _) => format!(
                "They stand here again when the sheet is opened anew; {} closes it.",
                desk.key(Context::Work, Intent::Leave)
            ),
            (true, 0) => format!("{} takes in what comes next.", key(Intent::Pile)),
            (true, _) => format!(
                "{} lists what is missing; {} takes in what comes next.",
                key(Intent::Lists),
                key(Intent::Pile)
            ),
        };
        let at = (list.x + 2, list.y + 1);
        if at.1 < list.bottom() {
            paint::line(buf, at, width, &words, theme.style(Role::Quiet));
        }
    }
}
