//! A sheet of paper in small: its parts as boxes, with as much of the words in each as has room,
//! the way they run on the paper.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use unicode_segmentation::UnicodeSegmentation;

use crate::paper::{Area, Item, Sheet, Turn};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::Role;

/// Of a sheet that is free below so much of it, the rest is cut off where rows are few.
const CUT_AT: f64 = 0.8;
const FEW_ROWS: u16 = 24;
/// With so many rows left an empty one is to spare.
const LEAST_APART: u16 = 8;

/// The part of the sheet that is shown, and the cells for it.
struct Scale {
    /// In millimetres.
    width: f64,
    height: f64,
    cells: Rect,
}

impl Scale {
    /// The cells of a part: one at least.
    fn cells(&self, area: &Area) -> Rect {
        let (x, y) = (self.column(area.x), self.row(area.y));
        let right = self.column(area.right()).max(x + 1);
        let bottom = self.row(area.bottom()).max(y + 1);
        let rect = Rect::new(x, y, right - x, bottom - y);
        rect.intersection(self.cells)
    }

    fn column(&self, x: f64) -> u16 {
        let at = (x / self.width * f64::from(self.cells.width)).max(0.0) as u16;
        self.cells.x + at.min(self.cells.width)
    }

    fn row(&self, y: f64) -> u16 {
        let at = (y / self.height * f64::from(self.cells.height)).max(0.0) as u16;
        self.cells.y + at.min(self.cells.height)
    }
}

/// Draws the sheet; returns the columns that it takes.
pub(super) fn miniature(desk: &Desk, sheet: &Sheet, room: Rect, buf: &mut Buffer) -> u16 {
    let theme = desk.theme;
    let ends = sheet.parts.iter().map(|part| part.area.bottom());
    let used = ends.fold(0.0, f64::max) + sheet.size.height / 40.0;
    // What is free at the foot says nothing, and the boxes above it are larger without it.
    let is_cut = room.height < FEW_ROWS && used < sheet.size.height * CUT_AT;
    let shown = if is_cut { used } else { sheet.size.height };
    // A cell is about twice as high as it is wide.
    let across = |rows: f64| rows * 2.0 * sheet.size.width / shown;
    let mut height = f64::from(room.height);
    if across(height) > f64::from(room.width) * 0.45 {
        height *= f64::from(room.width) * 0.45 / across(height);
    }
    let width = across(height).max(6.0) as u16;
    let height = height.max(3.0) as u16;
    let paper = Rect::new(room.x, room.y, width, height.min(room.height));
    if paper.width < 4 || paper.height < 3 {
        return 0;
    }
    let quiet = theme.style(Role::Quiet);
    paint::frame(buf, paper, &theme.glyphs().page, quiet);
    if is_cut {
        let foot = paper.bottom() - 1;
        for x in paper.left() + 1..paper.right() - 1 {
            paint::sign(buf, (x, foot), theme.glyphs().gap[4], quiet);
        }
    }
    let scale = Scale {
        width: sheet.size.width,
        height: shown,
        cells: paint::inside(paper),
    };
    for part in &sheet.parts {
        let at = scale.cells(&part.area);
        draw_box(desk, at, buf);
        if at.width > 2 && at.height > 2 {
            draw_words(desk, sheet, &part.area, &scale, paint::inside(at), buf);
        }
    }
    paper.width
}

fn draw_box(desk: &Desk, at: Rect, buf: &mut Buffer) {
    let (signs, style) = (&desk.theme.glyphs().card, desk.theme.style(Role::Text));
    if at.width >= 2 && at.height >= 2 {
        paint::frame(buf, at, signs, style);
    } else if at.height == 1 {
        for x in at.left()..at.right() {
            paint::sign(buf, (x, at.y), signs[4], style);
        }
    } else {
        for y in at.top()..at.bottom() {
            paint::sign(buf, (at.x, y), signs[5], style);
        }
    }
}

/// The words of a part: those that run across one under the other, those that run up or down letter
/// by letter, with as many of their lines side by side as there are columns.
fn draw_words(
    desk: &Desk,
    sheet: &Sheet,
    part: &Area,
    scale: &Scale,
    room: Rect,
    buf: &mut Buffer,
) {
    let style = desk.theme.style(Role::Strong);
    let more = desk.theme.glyphs().more;
    let mut top = room.y;
    let mut turned: Vec<(&str, Turn)> = Vec::new();
    for item in &sheet.items {
        let Item::Text { run, turn, .. } = item else {
            continue;
        };
        let area = item.area();
        let (x, y) = (area.x + area.width / 2.0, area.y + area.height / 2.0);
        let within = (part.x..part.right()).contains(&x) && (part.y..part.bottom()).contains(&y);
        if !within {
            continue;
        }
        if *turn != Turn::Across {
            turned.push((&run.words, *turn));
            continue;
        }
        let row = scale.row(y).max(top);
        if row < room.bottom() {
            let words = text::fit(&text::safe(&run.words), room.width.into(), more);
            let free = room.width - text::columns(&words) as u16;
            paint::line(buf, (room.x + free / 2, row), room.width, &words, style);
            top = row + 1;
        }
    }
    let Some((_, turn)) = turned.first() else {
        return;
    };
    let lines: Vec<&str> = turned.iter().map(|(words, _)| *words).collect();
    // The number above them is no part of their words; but none of these is cut for that.
    let left = room.bottom().saturating_sub(top);
    let fits_just = lines
        .iter()
        .any(|line| text::columns(line) == usize::from(left));
    let is_apart = top > room.y && left > LEAST_APART && !fits_just;
    let top = top + u16::from(is_apart);
    let rows = Rect {
        y: top,
        height: room.bottom().saturating_sub(top),
        ..room
    };
    draw_turned(&lines, *turn, rows, more, style, buf);
}

/// Lines of letters that stand one under the other, in the order in which they are read when the
/// head is turned for it.
fn draw_turned(lines: &[&str], turn: Turn, room: Rect, more: char, style: Style, buf: &mut Buffer) {
    // With a column between two lines, or all in one.
    let lines = match lines.len() * 2 - 1 <= usize::from(room.width) {
        true => lines.iter().map(|line| (*line).to_owned()).collect(),
        false => vec![lines.join(" ")],
    };
    let width = lines.len() as u16 * 2 - 1;
    let left = room.x + (room.width - width.min(room.width)) / 2;
    for (at, line) in (0u16..).zip(&lines) {
        // What runs down begins with the column at the right, what runs up with that at the left.
        let column = match turn {
            Turn::Up => at * 2,
            _ => width - 1 - at * 2,
        };
        let words = text::fit(&text::safe(line), room.height.into(), more);
        for (row, letter) in (0u16..).zip(words.graphemes(true)) {
            let y = match turn {
                Turn::Up => (room.bottom() - 1).saturating_sub(row),
                _ => room.y + row,
            };
            if room.contains((left + column, y).into()) {
                // A letter that is wider than its column is cut as words are.
                let letter = text::fit(letter, 1, more);
                paint::line(buf, (left + column, y), 1, &letter, style);
            }
        }
    }
}
