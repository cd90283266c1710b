//! Drawing the form of a swap, and its sheet.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{ASKED, Swap};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::Role;

impl Swap {
    /// Where the lines of the sheet stand.
    pub(super) fn window(desk: &Desk) -> Rect {
        let body = desk.body();
        let above = 2.min(body.height.saturating_sub(1));
        Rect {
            y: body.y + above,
            height: body.height - above,
            ..body
        }
    }

    pub(super) fn field_under(desk: &Desk, y: u16) -> Option<usize> {
        let top = desk.body().y + 2;
        let at = usize::from(y.checked_sub(top)? / 2);
        (at < ASKED.len()).then_some(at)
    }

    pub(crate) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        match &self.sheet {
            None => self.draw_form(desk, buf),
            Some(_) => self.draw_sheet(desk, buf),
        }
    }

    fn draw_form(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        let (x, width) = (body.x + 1, body.width.saturating_sub(2));
        let strong = theme.style(Role::Strong);
        paint::line(
            buf,
            (x, body.y),
            width,
            "Swap with another collector",
            strong,
        );
        for (at, (asked, field)) in (0u16..).zip(ASKED.iter().zip(&self.fields)) {
            let y = body.y + 2 + 2 * at;
            if y >= body.bottom() {
                return;
            }
            let focus = self.focus == usize::from(at);
            let role = if focus { Role::Key } else { Role::Text };
            let label = format!("{asked}: ");
            let used = paint::line(buf, (x, y), width, &label, theme.style(role));
            field.draw((x + used, y), width - used, focus, theme, buf);
        }
        let words = "Both files are CSV with the columns set, number, and if you like finish and \
                     count: what export wants and export spares write, or the lists on this screen \
                     (l, then f2). One of them may be left open.";
        let quiet = theme.style(Role::Quiet);
        let lines = text::wrap(words, usize::from(width.min(76)), 5, theme.glyphs().more);
        for (y, line) in (body.y + 7..body.bottom()).zip(lines) {
            paint::line(buf, (x, y), width, &line, quiet);
        }
    }

    fn draw_sheet(&self, desk: &Desk, buf: &mut Buffer) {
        let Some(sheet) = &self.sheet else {
            return;
        };
        let (body, theme) = (desk.body(), desk.theme);
        let (x, width) = (body.x + 1, body.width.saturating_sub(2));
        let rarity = if self.by_rarity {
            "a card for one of its rarity"
        } else {
            "any card for any"
        };
        let kept = match self.keep {
            0 => String::new(),
            keep => format!(", keeping {keep} spare of each"),
        };
        match &self.file {
            None => {
                let words = format!("Swap: {rarity}{kept}");
                paint::line(buf, (x, body.y), width, &words, theme.style(Role::Strong));
            }
            Some(file) => {
                let label = "Write to the file: ";
                let used = paint::line(buf, (x, body.y), width, label, theme.style(Role::Key));
                file.draw((x + used, body.y), width - used, true, theme, buf);
            }
        }
        let window = Self::window(desk);
        // Both parts of a line have half of it.
        let half = width / 2;
        let shown = sheet.lines.iter().skip(sheet.top);
        for (y, line) in (window.top()..window.bottom()).zip(shown) {
            let style = theme.style(line.role.unwrap_or(Role::Text));
            let most = if line.right.is_empty() {
                width
            } else {
                half.saturating_sub(1)
            };
            paint::line(buf, (x, y), most, &line.left, style);
            let at = (x + half, y);
            paint::line(buf, at, width - half, &line.right, theme.style(Role::Text));
        }
    }
}
