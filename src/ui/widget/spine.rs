//! A binder as its spine: symbol, number, title, how full it is, and the finger hole to pull it by.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use crate::model::{Binder, Collection};
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::{Role, Theme};

/// Draws the spine into `area`, at least 8 x 6 cells. The chosen one has a heavy edge.
pub(crate) fn draw(desk: &Desk, binder: &Binder, chosen: bool, area: Rect, buf: &mut Buffer) {
    let theme = desk.theme;
    let glyphs = theme.glyphs();
    let (signs, role) = if chosen {
        (&glyphs.cursor, Role::Cursor)
    } else {
        (&glyphs.card, Role::Text)
    };
    paint::frame(buf, area, signs, theme.style(role));
    let inside = Rect {
        x: area.x + 1,
        y: area.y + 1,
        width: area.width - 2,
        height: area.height - 2,
    };
    let strong = theme.style(Role::Strong);
    let marks = marks(desk.collection(), binder, theme);
    middle(&marks, inside, inside.y, strong, theme, buf);
    let foot = inside.bottom() - 2;
    // Below the marks a line is left free where there is room for it.
    let gap = u16::from(inside.height > 6);
    let lines = foot.saturating_sub(inside.y + 1 + gap);
    let words = text::safe(binder.called()).into_owned();
    let title = text::wrap(
        &text::hyphenated(&words, usize::from(inside.width)),
        usize::from(inside.width),
        usize::from(lines),
        glyphs.more,
    );
    let top = inside.y + 1 + gap + lines.saturating_sub(title.len() as u16) / 2;
    let style = if chosen {
        strong
    } else {
        theme.style(Role::Text)
    };
    for (y, line) in (top..).zip(&title) {
        middle(line, inside, y, style, theme, buf);
    }
    let tally = desk.tally(binder);
    let (have, total) = (tally.in_place, tally.meant);
    let share = report::percent(have, total).unwrap_or_else(|| "empty".into());
    let whole = total > 0 && have == total;
    let role = if whole { Role::InPlace } else { Role::Text };
    middle(&share, inside, foot, theme.style(role), theme, buf);
    let cells = report::bar(have, total, inside.width);
    let signs = (glyphs.bar_full, glyphs.bar_empty);
    paint::bar(
        buf,
        (inside.x, foot + 1),
        inside.width,
        cells,
        signs,
        theme.style(Role::InPlace),
    );
    // The finger hole, where there is room below the title.
    if inside.height >= 12 {
        let x = area.x + area.width / 2;
        paint::sign(
            buf,
            (x, area.bottom() - 1),
            glyphs.finger_hole,
            theme.style(Role::Quiet),
        );
    }
}

/// Draws the binder as one line, for a screen too low for a spine.
pub(crate) fn draw_flat(desk: &Desk, binder: &Binder, chosen: bool, area: Rect, buf: &mut Buffer) {
    let theme = desk.theme;
    let tally = desk.tally(binder);
    let share = report::percent(tally.in_place, tally.meant).unwrap_or_else(|| "empty".into());
    let width = text::columns(&share) as u16;
    let here = if chosen { theme.glyphs().here } else { " " };
    paint::sign(buf, (area.x, area.y), here, theme.style(Role::Cursor));
    let words = format!(
        "{} {}",
        marks(desk.collection(), binder, theme),
        binder.called()
    );
    let role = if chosen { Role::Strong } else { Role::Text };
    let room = area.width.saturating_sub(width + 3);
    paint::line(buf, (area.x + 2, area.y), room, &words, theme.style(role));
    let x = area.right().saturating_sub(width);
    paint::line(buf, (x, area.y), width, &share, theme.style(Role::Text));
}

/// Symbol and shelf number of the set that the binder is for.
fn marks(collection: &Collection, binder: &Binder, theme: Theme) -> String {
    let set = binder.spec().set.and_then(|set| collection.set(set));
    set.map_or_else(String::new, |set| {
        match (theme.symbol(&set.head().symbol), &*set.head().shelf) {
            ("", shelf) => shelf.to_owned(),
            (symbol, "") => symbol.to_owned(),
            (symbol, shelf) => format!("{symbol} {shelf}"),
        }
    })
}

fn middle(
    words: &str,
    area: Rect,
    y: u16,
    style: ratatui::style::Style,
    theme: Theme,
    buf: &mut Buffer,
) {
    let shown = text::fit(
        &text::safe(words),
        usize::from(area.width),
        theme.glyphs().more,
    );
    let x = area.x + (area.width - text::columns(&shown) as u16) / 2;
    paint::line(buf, (x, y), area.width, &shown, style);
}
