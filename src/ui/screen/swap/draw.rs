//! Drawing the form of a swap, and its sheet.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::sheet::Line;
use super::{ASKED, Sheet, Swap};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::rows::{self, Seen};
use crate::ui::theme::Role;

/// A field of fewer columns shows too little of what is typed there.
const LEAST_FIELD: u16 = 12;

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

    /// The lines that are seen.
    pub(super) fn seen(desk: &Desk, sheet: &Sheet) -> Seen {
        let [lines, _] = rows::with_foot(Self::window(desk));
        Seen::of(lines, sheet.at, sheet.lines.len())
    }

    pub(super) fn field_under(&self, desk: &Desk, y: u16) -> Option<usize> {
        let top = desk.body().y + 2;
        let at = self.first_field(desk) + usize::from(y.checked_sub(top)? / 2);
        (at < ASKED.len()).then_some(at)
    }

    /// Each field takes two rows; where there are not enough for both, the one with the cursor is
    /// seen.
    fn first_field(&self, desk: &Desk) -> usize {
        let rows = usize::from(desk.body().height.saturating_sub(2));
        let seen = (rows / 2).clamp(1, ASKED.len());
        (self.focus + 1).saturating_sub(seen)
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
        let fields = ASKED.iter().zip(&self.fields).enumerate();
        let seen = fields.skip(self.first_field(desk));
        for (row, (at, (asked, field))) in (0u16..).zip(seen) {
            let y = body.y + 2 + 2 * row;
            if y >= body.bottom() {
                return;
            }
            let focus = self.focus == at;
            let role = if focus { Role::Key } else { Role::Text };
            let label = format!("{asked}: ");
            let used = paint::line(buf, (x, y), width, &label, theme.style(role));
            // In a narrow window the field stands below.
            if width - used >= LEAST_FIELD {
                field.draw((x + used, y), width - used, focus, theme, buf);
            } else if y + 1 < body.bottom() {
                field.draw((x, y + 1), width, focus, theme, buf);
            }
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
        let glyphs = theme.glyphs();
        let signs = [glyphs.box_open, glyphs.box_ticked].map(text::columns);
        // Before every row, so that cards stand below each other.
        let before = signs.into_iter().max().unwrap_or(0) as u16 + 3;
        let width = (width + 1).saturating_sub(before);
        let begins = second_part(&sheet.lines, usize::from(width));
        for (y, at) in Self::seen(desk, sheet).rows() {
            let line = &sheet.lines[at];
            if !line.is_row() {
                let style = theme.style(line.role.unwrap_or(Role::Text));
                paint::line(buf, (x, y), body.width.saturating_sub(2), &line.left, style);
                continue;
            }
            if at == sheet.at {
                paint::sign(buf, (body.x, y), glyphs.here, theme.style(Role::Cursor));
            }
            let out = line.pair.map(|pair| sheet.swap.left_out.contains(&pair));
            let role = match out {
                _ if at == sheet.at => Role::Selected,
                Some(true) => Role::Quiet,
                _ => Role::Text,
            };
            let style = theme.style(role);
            let sign = match out {
                Some(true) => glyphs.box_open,
                Some(false) => glyphs.box_ticked,
                None => "",
            };
            paint::line(buf, (body.x + 2, y), before, sign, style);
            let x = body.x + before;
            if line.right.is_empty() {
                paint::line(buf, (x, y), width, &line.left, style);
                continue;
            }
            paint::line(buf, (x, y), begins.saturating_sub(1), &line.left, style);
            let (at, most) = ((x + begins, y), width - begins);
            // The name gives way, what stands behind it does not.
            let (right, end) = (text::safe(&line.right), text::safe(&line.end));
            let name = usize::from(most).saturating_sub(text::columns(&end));
            let name = text::fit(&right, name, glyphs.more);
            let words = format!("{name}{end}");
            paint::line(buf, at, most, &words, style);
        }
        let [_, foot] = rows::with_foot(Self::window(desk));
        if let Some(line) = sheet.lines.get(sheet.at).filter(|line| line.is_row()) {
            let words = line.plain(&sheet.swap);
            rows::draw_foot_words(desk, foot, words.trim_start(), buf);
        }
    }
}

/// The column at which the second parts begin: where the first ones end, if all have the room for
/// that, else so that either has half of the line; nearer to the front where the second ones need
/// it and the first ones do not.
fn second_part(lines: &[Line], width: usize) -> u16 {
    let rows = || lines.iter().filter(|line| !line.right.is_empty());
    let left = rows().map(|line| text::columns(&line.left)).max();
    let right = rows().map(|line| text::columns(&line.right) + text::columns(&line.end));
    let (left, right) = (left.unwrap_or(0) + 2, right.max().unwrap_or(0));
    let half = width / 2;
    // What is never cut has its room before all else.
    let ends = rows().map(|line| text::columns(&line.end)).max();
    let furthest = width.saturating_sub(ends.unwrap_or(0)).max(width / 3);
    let begins = match right <= width - half {
        true => half,
        false => left.min(half).min(furthest),
    };
    u16::try_from(begins).unwrap_or(u16::MAX)
}
