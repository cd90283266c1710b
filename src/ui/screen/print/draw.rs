//! Drawing the form, and the sheet in miniature with its texts beside it.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::small::miniature;
use super::{KINDS, Made, Print, READINGS, Row};
use crate::paper::{Sheet, mm};
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::form::{Form, Value};
use crate::ui::paint;
use crate::ui::theme::Role;

/// Columns in which what is asked for stands.
const ASKED: u16 = 9;
/// Columns for a number, before the hint for it.
const NUMBER: u16 = 10;

/// Where the lines of the form stand.
fn lines(desk: &Desk) -> Rect {
    let body = desk.body();
    Rect {
        x: body.x + 1,
        y: body.y + 1,
        width: body.width.saturating_sub(2),
        height: body.height.saturating_sub(1),
    }
}

pub(super) fn form(desk: &Desk) -> Form {
    Form::of(lines(desk), ASKED)
}

impl Print {
    pub(crate) fn paint(&self, desk: &Desk, buf: &mut Buffer) {
        let (body, theme) = (desk.body(), desk.theme);
        paint::clear(buf, body);
        let (title, strong) = ((body.x + 1, body.y), theme.style(Role::Strong));
        paint::line(buf, title, body.width - 1, "On paper", strong);
        let area = lines(desk);
        let rows = self.rows();
        let heaps = desk.settings.collecting.heaps;
        let heaps = format!("that fit on the table; empty: {heaps}");
        let words: Vec<(Row, String)> = rows.iter().map(|r| (*r, self.value(desk, *r))).collect();
        let line = |row: Row| {
            let chosen = words.iter().find(|(of, _)| *of == row);
            let value = match row {
                Row::Spine => Value::Short(&self.spine, NUMBER, "mm; empty: as wide as the rings"),
                Row::Cards => {
                    let hint = "in the pile; empty: any that may be in it";
                    Value::Short(&self.cards, NUMBER, hint)
                }
                Row::Heaps => Value::Short(&self.heaps, NUMBER, &heaps),
                Row::File => Value::Field(&self.file),
                _ => Value::Choice(chosen.map_or("", |(_, words)| words)),
            };
            (self.label(row), value)
        };
        form(desk).draw(desk, &rows, self.focus, line, buf);
        let used = area.height.clamp(1, rows.len() as u16) + 1;
        let rest = Rect {
            y: area.y + used,
            height: area.height.saturating_sub(used),
            ..area
        };
        match &self.made {
            Ok(made) => self.preview(desk, made, rest, buf),
            Err(why) => {
                let at = (rest.x + 2, rest.y);
                if rest.height > 0 {
                    let width = rest.width.saturating_sub(2);
                    paint::line(buf, at, width, why, theme.style(Role::Waiting));
                }
            }
        }
    }

    fn label(&self, row: Row) -> &'static str {
        match row {
            Row::Kind => "What",
            Row::Whose => "Of",
            Row::Paper => "Paper",
            Row::Reading => "Title",
            Row::Spine => "Spine",
            Row::Cards => "Cards",
            Row::Heaps => "Heaps",
            Row::File => "File",
        }
    }

    fn value(&self, desk: &Desk, row: Row) -> String {
        let name = || report::binder_words(desk.collection(), self.binder);
        match row {
            Row::Kind => KINDS[self.kind].1.into(),
            Row::Whose if self.all => "the whole shelf".into(),
            Row::Whose => format!("{} only", name()),
            Row::Paper => format!("{}, {}", self.papers[self.paper], self.paper()),
            Row::Reading => READINGS[self.reading].1.into(),
            Row::Spine | Row::Cards | Row::Heaps | Row::File => String::new(),
        }
    }

    fn preview(&self, desk: &Desk, made: &Made, area: Rect, buf: &mut Buffer) {
        let theme = desk.theme;
        let Some(sheet) = made.drawing.sheets.get(self.sheet) else {
            return;
        };
        if area.height < 2 || area.width < 20 {
            return;
        }
        let of = made.drawing.sheets.len();
        let mut head = vec![format!("sheet {} of {of}", self.sheet + 1)];
        let told = made.told.iter();
        head.extend(told.map(|words| text::safe(words).into_owned()));
        // What is to be told is told whole where the sheet below still has room.
        let most = match area.height {
            ..9 => 1,
            9..12 => 2,
            _ => 4,
        };
        let width = usize::from(area.width);
        let head = text::wrap(&head.join("; "), width, most, theme.glyphs().more);
        let role = if made.told.is_empty() {
            Role::Quiet
        } else {
            Role::Waiting
        };
        for (y, words) in (area.y..).zip(&head) {
            paint::line(buf, (area.x, y), area.width, words, theme.style(role));
        }
        let lines = head.len() as u16;
        let below = Rect {
            y: area.y + lines,
            height: area.height.saturating_sub(lines),
            ..area
        };
        let used = miniature(desk, sheet, below, buf);
        let list = Rect {
            x: below.x + used + 1,
            width: below.width.saturating_sub(used + 1),
            ..below
        };
        texts(desk, sheet, list, buf);
    }
}

/// What stands where, in millimetres from the upper left corner.
fn texts(desk: &Desk, sheet: &Sheet, room: Rect, buf: &mut Buffer) {
    let theme = desk.theme;
    let heading = u16::from(room.height >= 4);
    if heading > 0 {
        let words = format!("{:>5} {:>5}  mm from the edges", "left", "top");
        let at = (room.x, room.y);
        paint::line(buf, at, room.width, &words, theme.style(Role::Quiet));
    }
    let room = Rect {
        y: room.y + heading,
        height: room.height - heading,
        ..room
    };
    let parts: Vec<_> = sheet
        .parts
        .iter()
        .filter(|part| !part.words.is_empty())
        .collect();
    let shown = if parts.len() > usize::from(room.height) {
        usize::from(room.height).saturating_sub(1)
    } else {
        parts.len()
    };
    for (y, part) in (room.y..).zip(&parts[..shown]) {
        let place = format!("{:>5} {:>5}  ", mm(part.area.x), mm(part.area.y));
        let used = paint::line(
            buf,
            (room.x, y),
            room.width,
            &place,
            theme.style(Role::Quiet),
        );
        let words = text::fit(
            &text::safe(&part.words),
            usize::from(room.width.saturating_sub(used)),
            theme.glyphs().more,
        );
        let at = (room.x + used, y);
        paint::line(
            buf,
            at,
            room.width.saturating_sub(used),
            &words,
            theme.style(Role::Text),
        );
    }
    if shown < parts.len() {
        let words = format!("and {} more", parts.len() - shown);
        let at = (room.x + 13, room.y + shown as u16);
        paint::line(
            buf,
            at,
            room.width.saturating_sub(13),
            &words,
            theme.style(Role::Quiet),
        );
    }
}
