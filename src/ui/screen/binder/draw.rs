//! Drawing an open binder.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::OpenBinder;
use super::cursor::Cursor;
use super::rooms::{Rooms, SideRoom};
use crate::hand;
use crate::model::{
    Binder, BinderKind, Collection, Place, PocketAt, PocketState, PrintingId, Side,
};
use crate::report;
use crate::text;
use crate::ui::desk::Desk;
use crate::ui::paint;
use crate::ui::theme::Role;
use crate::ui::widget::pocket::PocketView;

impl OpenBinder {
    pub(crate) fn draw(&self, desk: &Desk, buf: &mut Buffer) {
        let Some(binder) = desk.collection().binder(self.binder) else {
            return gone(desk, buf);
        };
        let cursor = self.cursor.within(binder);
        let rooms = Rooms::fit(desk, binder, cursor);
        draw_head(desk, binder, cursor, &rooms, buf);
        if binder.pages().is_empty() {
            let words = "This binder has no pages yet.";
            let area = paint::centred(desk.body(), words.len() as u16, 1);
            paint::line(
                buf,
                (area.x, area.y),
                area.width,
                words,
                desk.theme.style(Role::Text),
            );
            return;
        }
        for side in &rooms.sides {
            draw_side(desk, binder, cursor, side, buf);
        }
        draw_rings(desk, binder, &rooms, buf);
        if let Some(strip) = &rooms.strip {
            let here = (cursor.page, cursor.at.side);
            strip.draw(desk.collection(), binder, here, desk.theme, buf);
        }
        if let Some(place) = self.place(desk) {
            draw_telling(desk, place, rooms.telling, buf);
        }
    }
}

fn gone(desk: &Desk, buf: &mut Buffer) {
    let words = "This binder is no longer on the shelf: esc leads back";
    let area = paint::centred(desk.body(), words.len() as u16, 1);
    paint::line(
        buf,
        (area.x, area.y),
        area.width,
        words,
        desk.theme.style(Role::Text),
    );
}

/// Symbol, number and title at the left; the page and how far the binder is at the right.
fn draw_head(desk: &Desk, binder: &Binder, cursor: Cursor, rooms: &Rooms, buf: &mut Buffer) {
    let (area, theme) = (rooms.head, desk.theme);
    let set = binder.spec().set.and_then(|set| desk.collection().set(set));
    let mut title = String::new();
    if let Some(head) = set.map(crate::model::Set::head) {
        for part in [&head.symbol, &head.shelf] {
            if !part.is_empty() {
                title.push_str(part);
                title.push_str("  ");
            }
        }
    }
    title.push_str(&binder.spec().title);
    let tally = binder.tally();
    let share = report::percent(tally.in_place, tally.meant);
    let pages = binder.pages().len();
    let page = if rooms.is_spread() {
        spread_words(cursor, pages)
    } else {
        format!("page {} of {pages}, {}", cursor.page + 1, cursor.at.side)
    };
    let long = format!(
        "{page}   {} of {} in place, {} gaps, {}",
        tally.in_place,
        tally.meant,
        tally.gaps(),
        share.unwrap_or_else(|| "empty".into())
    );
    let room = usize::from(area.width.saturating_sub(2));
    let right = if text::columns(&long) + 16 <= room {
        long
    } else {
        page
    };
    let width = text::columns(&right) as u16;
    let x = area.right().saturating_sub(width + 1).max(area.x + 1);
    let style = theme.style(Role::Strong);
    let used = x.saturating_sub(area.x + 3);
    paint::line_cut(
        buf,
        (area.x + 1, area.y),
        used,
        &title,
        style,
        theme.glyphs().more,
    );
    paint::line(buf, (x, area.y), width, &right, theme.style(Role::Text));
}

fn spread_words(cursor: Cursor, pages: usize) -> String {
    match cursor.spread() {
        0 => format!("page 1 of {pages}"),
        last if last == pages => format!("page {last} of {pages}, back"),
        right => format!("pages {right} and {} of {pages}", right + 1),
    }
}

fn draw_side(desk: &Desk, binder: &Binder, cursor: Cursor, side: &SideRoom, buf: &mut Buffer) {
    let theme = desk.theme;
    let (Some(page), Some(format)) = (side.page, side.format) else {
        return draw_cover(desk, binder, side, buf);
    };
    let Some(grid) = side.grid else {
        let words = if format.has_side(side.side) {
            format!(
                "The window is too small for the {} x {} pockets of this page",
                format.rows, format.columns
            )
        } else {
            format!("Page {}: the back is not loaded", page + 1)
        };
        return draw_words(desk, side.room, &words, buf);
    };
    if grid.edge > 0 {
        let here = cursor.page == page && cursor.at.side == side.side;
        draw_edge(desk, grid.page, page, side.side, here, buf);
    }
    for row in 0..grid.rows {
        for column in 0..grid.columns {
            let at = PocketAt {
                side: side.side,
                row,
                column,
            };
            let Some(pocket) = format.index(at) else {
                continue;
            };
            let state = desk.collection().pocket(Place {
                binder: binder.id(),
                page,
                pocket,
            });
            let view = PocketView {
                collection: desk.collection(),
                state: &state,
                theme,
                cursor: cursor == Cursor { page, at },
            };
            let area = grid.pocket_rect(row, column);
            if grid.boxed {
                view.draw_boxed(area, buf);
            } else {
                view.draw_flat(area, buf);
            }
        }
    }
}

/// The edge of a page, with its number and side.
fn draw_edge(desk: &Desk, area: Rect, page: usize, side: Side, here: bool, buf: &mut Buffer) {
    let (theme, signs) = (desk.theme, &desk.theme.glyphs().page);
    paint::frame(buf, area, signs, theme.style(Role::Quiet));
    let title = format!(" page {} {side} ", page + 1);
    let style = theme.style(if here { Role::Strong } else { Role::Quiet });
    let most = area.width.saturating_sub(4);
    paint::line(buf, (area.x + 2, area.y), most, &title, style);
}

/// The inside of a cover; at the front, what lies before the first page.
fn draw_cover(desk: &Desk, binder: &Binder, side: &SideRoom, buf: &mut Buffer) {
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

fn draw_words(desk: &Desk, room: Rect, words: &str, buf: &mut Buffer) {
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
fn draw_rings(desk: &Desk, binder: &Binder, rooms: &Rooms, buf: &mut Buffer) {
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
    for part in [1u16, 3, 5] {
        let y = area.y + area.height * part / 6;
        for x in area.left()..area.right() {
            paint::sign(buf, (x, y), glyphs.ring, strong);
        }
        // The holes are in the inner edge of each page shown.
        for page in rooms
            .sides
            .iter()
            .filter_map(|side| side.grid)
            .filter(|grid| grid.edge > 0)
            .map(|grid| grid.page)
        {
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

/// The pocket in words: where it is, what it is for, what is in it, and every copy of that card.
fn draw_telling(desk: &Desk, place: Place, area: Rect, buf: &mut Buffer) {
    let (collection, theme) = (desk.collection(), desk.theme);
    let state = collection.pocket(place);
    let mut lines: Vec<(String, Role)> = Vec::new();
    let where_words = report::place_words(collection, place);
    let what = match hand::subject(collection, place) {
        Some(printing) => report::printing_words(collection, printing),
        None => match &state {
            PocketState::Blank => "left empty on purpose".to_owned(),
            PocketState::Keepsake(words) => format!("keepsake: {words}"),
            _ => "nothing planned".to_owned(),
        },
    };
    lines.push((
        format!("{what}: {}", state_words(collection, &state)),
        Role::Strong,
    ));
    let mut second = where_words;
    if let Some(printing) = hand::subject(collection, place) {
        second = format!("{second}. {}", copies_words(collection, printing, place));
    }
    lines.push((second, Role::Text));
    let width = usize::from(area.width);
    let tall = area.height > 2;
    let mut y = area.y;
    for (words, role) in lines {
        let room = if tall { 8 } else { 1 };
        for line in text::wrap(&text::safe(&words), width, room, theme.glyphs().more) {
            if y < area.bottom() {
                paint::line(buf, (area.x, y), area.width, &line, theme.style(role));
            }
            y += 1;
        }
        y += u16::from(tall);
    }
}

fn state_words(collection: &Collection, state: &PocketState) -> String {
    let number = |printing: PrintingId| {
        let card = collection.card(printing);
        card.map(|card| card.number.to_string()).unwrap_or_default()
    };
    match state {
        PocketState::InPlace(_) => "in its pocket".into(),
        PocketState::Gap(_) => "a gap".into(),
        PocketState::Waiting(_) => "a gap, and a loose copy waits for it".into(),
        PocketState::Misplaced {
            wanted: Some(wanted),
            ..
        } => format!("misplaced, the pocket is meant for {}", number(*wanted)),
        PocketState::Misplaced { wanted: None, .. } => "in a pocket not meant for a card".into(),
        PocketState::Blank | PocketState::Keepsake(_) | PocketState::Unassigned => "no card".into(),
    }
}

/// How many copies there are, and where the others lie.
fn copies_words(collection: &Collection, printing: PrintingId, here: Place) -> String {
    let tally = collection.tally(printing);
    let rarity = collection
        .set(printing.set())
        .zip(collection.card(printing))
        .map(|(set, card)| set.rarity_name(card))
        .filter(|rarity| !rarity.is_empty())
        .map(|rarity| format!("{rarity}. "))
        .unwrap_or_default();
    if tally.copies() == 0 {
        return format!("{rarity}No copy yet");
    }
    let elsewhere: Vec<_> = collection
        .places_holding(printing)
        .filter(|place| *place != here)
        .take(3)
        .map(|place| report::place_words(collection, place))
        .collect();
    let copies = match tally.copies() {
        1 => "1 copy".to_owned(),
        many => format!("{many} copies"),
    };
    let loose = match tally.loose {
        0 => String::new(),
        loose => format!(", {loose} loose"),
    };
    let others = if elsewhere.is_empty() {
        String::new()
    } else {
        format!("; also in {}", elsewhere.join("; "))
    };
    format!("{rarity}{copies}{loose}{others}")
}
