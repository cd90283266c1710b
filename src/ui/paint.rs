//! Drawing primitives. All text that comes from outside goes through here, made harmless, cut to
//! its room by whole characters, and never beyond the screen.

use ratatui::buffer::Buffer;
use ratatui::layout::{Margin, Rect};
use ratatui::style::Style;

use super::theme::{Role, Theme};
use crate::text;

/// Draws one line of at most `most` columns at (x, y); returns the columns used.
pub(super) fn line(
    buf: &mut Buffer,
    (x, y): (u16, u16),
    most: u16,
    words: &str,
    style: Style,
) -> u16 {
    let area = *buf.area();
    if most == 0 || y < area.y || y >= area.bottom() || x < area.x || x >= area.right() {
        return 0;
    }
    let most = most.min(area.right() - x);
    // Of plain words, as most are, each byte is a cell: there is nothing to look for.
    if words.len() <= usize::from(most) && words.bytes().all(|b| (0x20..0x7f).contains(&b)) {
        for at in 0..words.len() {
            if let Some(cell) = buf.cell_mut((x + at as u16, y)) {
                cell.set_symbol(&words[at..=at]).set_style(style);
            }
        }
        return words.len() as u16;
    }
    let shown = text::fit(&text::safe(words), usize::from(most), '…');
    let (end, _) = buf.set_stringn(x, y, shown, usize::from(most), style);
    end - x
}

/// [`line`] with another sign for what was cut off.
pub(super) fn line_cut(
    buf: &mut Buffer,
    (x, y): (u16, u16),
    most: u16,
    words: &str,
    style: Style,
    more: char,
) -> u16 {
    let shown = text::fit(&text::safe(words), usize::from(most), more);
    line(buf, (x, y), most, &shown, style)
}

/// Draws a sign of the theme in one cell, if the cell is on the screen.
pub(super) fn sign(buf: &mut Buffer, (x, y): (u16, u16), sign: &'static str, style: Style) {
    if let Some(cell) = buf.cell_mut((x, y)) {
        cell.set_symbol(sign).set_style(style);
    }
}

/// Fills a rectangle with spaces, also where half of a wide character would be left over.
pub(super) fn clear(buf: &mut Buffer, area: Rect) {
    let area = area.intersection(*buf.area());
    for y in area.top()..area.bottom() {
        // A wide character that begins left of the rectangle loses its right half.
        if let Some(x) = area.x.checked_sub(1)
            && let Some(cell) = buf.cell_mut((x, y))
            && text::columns(cell.symbol()) > 1
        {
            cell.set_symbol(" ");
        }
        for x in area.left()..area.right() {
            if let Some(cell) = buf.cell_mut((x, y)) {
                cell.reset();
            }
        }
    }
}

/// A frame of six signs: corners (top left, top right, bottom left, bottom right), across, down.
pub(super) fn frame(buf: &mut Buffer, area: Rect, signs: &[&'static str; 6], style: Style) {
    if area.width < 2 || area.height < 2 {
        return;
    }
    let (right, bottom) = (area.right() - 1, area.bottom() - 1);
    for x in area.left() + 1..right {
        sign(buf, (x, area.y), signs[4], style);
        sign(buf, (x, bottom), signs[4], style);
    }
    for y in area.top() + 1..bottom {
        sign(buf, (area.x, y), signs[5], style);
        sign(buf, (right, y), signs[5], style);
    }
    corners(buf, area, signs, style);
}

/// The four corners of a frame only.
pub(super) fn corners(buf: &mut Buffer, area: Rect, signs: &[&'static str; 6], style: Style) {
    if area.width < 2 || area.height < 2 {
        return;
    }
    let (right, bottom) = (area.right() - 1, area.bottom() - 1);
    sign(buf, (area.x, area.y), signs[0], style);
    sign(buf, (right, area.y), signs[1], style);
    sign(buf, (area.x, bottom), signs[2], style);
    sign(buf, (right, bottom), signs[3], style);
}

/// What a frame encloses.
pub(super) fn inside(area: Rect) -> Rect {
    area.inner(Margin::new(1, 1))
}

/// A window over the screen: cleared, with an edge and a title in it.
pub(super) fn window(buf: &mut Buffer, area: Rect, title: &str, theme: Theme) {
    clear(buf, area);
    frame(buf, area, &theme.glyphs().page, theme.style(Role::Text));
    let (at, most) = ((area.x + 2, area.y), area.width.saturating_sub(4));
    line(buf, at, most, title, theme.style(Role::Strong));
}

/// A bar of `width` cells, `have` of `total` filled: full only when nothing is missing, and not
/// empty when something is there.
pub(super) fn bar(
    buf: &mut Buffer,
    at: (u16, u16),
    width: u16,
    cells: u16,
    (full, empty): (&'static str, &'static str),
    style: Style,
) {
    for x in 0..width {
        let shown = if x < cells { full } else { empty };
        sign(buf, (at.0 + x, at.1), shown, style);
    }
}

/// A rectangle of this size in the middle of `area`, or as much of it as there is.
pub(super) fn centred(area: Rect, width: u16, height: u16) -> Rect {
    let (width, height) = (width.min(area.width), height.min(area.height));
    Rect {
        x: area.x + (area.width - width) / 2,
        y: area.y + (area.height - height) / 2,
        width,
        height,
    }
}
