//! What holds the pockets: the edges of the pages, the covers, the rings.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::Rooms;
use super::rooms::SideRoom;
use crate::model::{Binder, BinderKind, Side};
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::Role;

/// The edge of a page, with its number and side.
pub(super) fn draw_edge(desk: &Desk, area: Rect, title: &str, here: bool, buf: &mut Buffer) {
    let (theme, signs) = (desk.theme, &desk.theme.glyphs().page);
    paint::frame(buf, area, signs, theme.style(Role::Quiet));
    let style = theme.style(if here { Role::Strong } else { Role::Quiet });
    let most = area.width.saturating_sub(4);
    paint::line(buf, (area.x + 2, area.y), most, title, style);
}

/// The inside of a cover; at the front, what lies before the first page.
pub(super) fn draw_cover(desk: &Desk, binder: &Binder, side: &SideRoom, buf: &mut Buffer) {
    let matter = &binder.spec().front_matter;
    if side.side == Side::Front || matter.is_empty() {
        return draw_words(desk, side.room, "inside of the cover", buf);
    }
    let width = side.room.width.saturating_sub(4).min(48);
    let more = desk.theme.glyphs().more;
    let lines: Vec<String> = matter
        .iter()
        .flat_map(|line| text::wrap(&text::safe(line), usize::from(width), 4, more))
        .collect();
    let area = paint::centred(side.room, width, lines.len() as u16);
    let style = desk.theme.style(Role::Keepsake);
    for (y, line) in (area.y..area.bottom()).zip(&lines) {
        paint::line(buf, (area.x, y), area.width, line, style);
    }
}

/// Words where a side has no pockets to show.
pub(super) fn draw_words(desk: &Desk, room: Rect, words: &str, buf: &mut Buffer) {
    let width = room.width.saturating_sub(2).min(40);
    let lines = text::wrap(words, usize::from(width), 4, desk.theme.glyphs().more);
    let area = paint::centred(room, width, lines.len() as u16);
    for (y, line) in (area.y..area.bottom()).zip(&lines) {
        let x = area.x + (width - text::columns(line) as u16) / 2;
        paint::line(buf, (x, y), width, line, desk.theme.style(Role::Quiet));
    }
}

/// Rings at three heights that run through holes in the edges of the pages; a fixed binder shows
/// its seam instead.
pub(super) fn draw_rings(desk: &Desk, binder: &Binder, rooms: &Rooms, buf: &mut Buffer) {
    let (area, glyphs) = (rooms.rings, desk.theme.glyphs());
    let style = desk.theme.style(Role::Quiet);
    if area.height < 3 || area.width == 0 {
        return;
    }
    if binder.spec().kind == BinderKind::Fixed {
        let x = area.x + area.width / 2;
        for y in area.top()..area.bottom() {
            paint::sign(buf, (x, y), glyphs.stitch, style);
        }
        return;
    }
    let strong = desk.theme.style(Role::Strong);
    let pages = || rooms.sides.iter().filter_map(|side| side.grid);
    for part in [1u16, 3, 5] {
        // On a low page none hangs beside its edge.
        let edge = u16::from(pages().any(|grid| grid.edge > 0));
        let y = area.y + (area.height * part / 6).clamp(edge, area.height - 1 - edge);
        for x in area.left()..area.right() {
            paint::sign(buf, (x, y), glyphs.ring, strong);
        }
        // The holes are in the inner edge of each page shown.
        for page in pages().filter(|grid| grid.edge > 0).map(|grid| grid.page) {
            let inner = if page.x >= area.right() {
                page.x
            } else {
                page.right() - 1
            };
            if (page.top() + 1..page.bottom() - 1).contains(&y) {
                paint::sign(buf, (inner, y), glyphs.ring_hole, strong);
            }
        }
    }
}
