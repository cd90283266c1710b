//! The empty shelf: how one begins.

use ratatui::buffer::Buffer;

use super::Shelf;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Shelf {
    pub(super) fn draw_welcome(&self, desk: &Desk, buf: &mut Buffer) {
        let body = desk.body();
        let lines = [
            "No binder stands here yet.",
            "",
            "s  begins a set: its code, its title, and its numbers,",
            "   such as: 1 to 102 and P1 to P6, in regular and reverse",
            "",
            "From files, on the command line:",
            "   ringbound import checklist FILE.csv",
            "   ringbound import copies FILE.csv --in-place",
            "",
            "To look around in an invented collection:",
            "   ringbound demo",
        ];
        let area = paint::centred(body, 58, lines.len() as u16);
        for (y, line) in (area.y..area.bottom()).zip(lines) {
            paint::line(
                buf,
                (area.x, y),
                area.width,
                line,
                desk.theme.style(Role::Text),
            );
        }
    }
}
