//! Drawing an open binder: its sides with their pockets, and what is in hand over them.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::binding::{draw_cover, draw_edge, draw_rings, draw_words};
use super::rooms::{SideRoom, halves};
use super::{Carried, Cursor, Hands, Rooms, Spread};
use crate::hand::Ground;
use crate::model::{Opening, PageFormat};
use crate::text;
use crate::ui::book::Book;
use crate::ui::desk::Desk;
use crate::ui::intent::Intent;
use crate::ui::keymap::Context;
use crate::ui::paint;
use crate::ui::theme::Role;
use crate::ui::widget::pocket::PocketView;

impl Spread {
    /// Draws it over the whole screen: a draft with the real binder below it where there is room
    /// for both.
    pub(crate) fn draw(&self, desk: &Desk, hands: Hands<'_>, buf: &mut Buffer) {
        let (body, lower) = halves(desk, self.ground);
        self.draw_with(desk, hands, body, buf);
        if let Some(lower) = lower {
            self.draw_real(desk, lower, buf);
        }
    }

    /// Draws it into a part of the screen, behind a window.
    pub(crate) fn draw_within(&self, desk: &Desk, body: Rect, buf: &mut Buffer) {
        self.draw_with(desk, Hands::default(), body, buf);
    }

    fn draw_with(&self, desk: &Desk, hands: Hands<'_>, body: Rect, buf: &mut Buffer) {
        let Some(book) = self.book(desk, hands.lifted()) else {
            let key = desk.key(Context::Binder, Intent::Leave);
            return say(
                desk,
                &format!("This is no longer there: {key} leads back"),
                buf,
            );
        };
        let rooms = Rooms::within(body, desk, &book, self.cursor, self.strip_at());
        let drawing = Drawing::of(desk, &book, self.cursor, hands, rooms);
        drawing.head(self.cost.as_ref(), self.to_put_in, buf);
        if book.len() == 0 {
            return say(desk, &no_pages(desk, &book), buf);
        }
        drawing.pages(buf);
        self.tell(desk, &book, drawing.rooms.telling, buf);
        if let Some(carried) = hands.carried {
            drawing.carried(carried, buf);
        }
    }

    /// Below a draft: the real binder at the same place.
    fn draw_real(&self, desk: &Desk, area: Rect, buf: &mut Buffer) {
        let ground = Ground::real(self.ground.binder);
        if let Some(book) = Book::open(desk.collection(), ground, None) {
            let book = book.with_work(self.work.clone());
            let rooms = Rooms::within(area, desk, &book, self.cursor, self.cursor.page);
            let drawing = Drawing::of(desk, &book, self.cursor, Hands::default(), rooms);
            drawing.head(None, self.to_put_in, buf);
            drawing.pages(buf);
        }
    }
}

/// Head, sides, rings and strip of a book, which need not be one that is kept.
pub(crate) fn draw_book(
    desk: &Desk,
    book: &Book<'_>,
    cursor: Cursor,
    area: Rect,
    buf: &mut Buffer,
) {
    let rooms = Rooms::within(area, desk, book, cursor, cursor.page);
    let drawing = Drawing::of(desk, book, cursor, Hands::default(), rooms);
    drawing.head(None, 0, buf);
    if book.len() > 0 {
        drawing.pages(buf);
    }
}

/// A book with the rooms that it is drawn into.
#[derive(Debug)]
pub(super) struct Drawing<'a> {
    pub(super) desk: &'a Desk,
    pub(super) book: &'a Book<'a>,
    pub(super) cursor: Cursor,
    hands: Hands<'a>,
    pub(super) rooms: Rooms,
}

impl<'a> Drawing<'a> {
    fn of(
        desk: &'a Desk,
        book: &'a Book<'a>,
        cursor: Cursor,
        hands: Hands<'a>,
        rooms: Rooms,
    ) -> Self {
        Self {
            desk,
            book,
            cursor: cursor.within(book),
            hands,
            rooms,
        }
    }

    /// Sides, rings and strip.
    fn pages(&self, buf: &mut Buffer) {
        let (desk, cursor) = (self.desk, self.cursor);
        for side in &self.rooms.sides {
            self.side(side, buf);
        }
        draw_rings(desk, self.book.binder, &self.rooms, buf);
        if let Some(strip) = &self.rooms.strip {
            strip.draw(self.book, (cursor.page, cursor.at.side), desk.theme, buf);
        }
    }

    fn side(&self, side: &SideRoom, buf: &mut Buffer) {
        let (desk, book, cursor) = (self.desk, self.book, self.cursor);
        let (Some(page), Some(format)) = (side.page, side.format) else {
            return draw_cover(desk, book.binder, side, buf);
        };
        let Some(grid) = side.grid else {
            let words = if format.has_side(side.side) {
                format!(
                    "The window is too small for the {} x {} pockets of this page",
                    format.rows, format.columns
                )
            } else {
                format!("Page {}: the back is not loaded", book.page(page) + 1)
            };
            return draw_words(desk, side.room, &words, buf);
        };
        if grid.edge > 0 {
            let here = cursor.page == page && cursor.at.side == side.side;
            let mut title = format!(" page {} {} ", book.page(page) + 1, side.side);
            if book.is_lifted(page) {
                title.push_str("in hand ");
            } else if let Some(goes) = book.goes_to(book.page(page)) {
                let moves = if goes.is_moved { "moves: " } else { "" };
                title.push_str(&format!("{moves}will be page {} ", goes.to + 1));
            }
            for words in unusual(format) {
                let room = usize::from(grid.page.width.saturating_sub(4));
                if text::columns(&title) + text::columns(words) + 3 <= room {
                    title.insert_str(title.len() - 1, &format!(", {words}"));
                }
            }
            draw_edge(desk, grid.page, &title, here, buf);
        }
        for (here, pocket, area) in side.pockets() {
            self.pocket((here, pocket), (area, grid.boxed), buf);
        }
    }

    fn pocket(
        &self,
        (here, pocket): (Cursor, usize),
        (area, boxed): (Rect, bool),
        buf: &mut Buffer,
    ) {
        let (book, hands) = (self.book, self.hands);
        let state = book.state(here.page, pocket);
        let view = PocketView {
            collection: book.collection,
            state: &state,
            theme: self.desk.theme,
            cursor: self.cursor == here,
            under_way: hands.is_under_way(book.place(here.page, pocket)),
            marked: hands.marks(book, self.cursor, here),
            differs: book.differs(here.page, pocket),
        };
        if boxed {
            view.draw_boxed(area, buf);
        } else {
            view.draw_flat(area, buf);
        }
    }

    /// What is in hand: a label at the place where it would land and one under the pointer.
    fn carried(&self, carried: Carried<'_>, buf: &mut Buffer) {
        let (desk, cursor) = (self.desk, self.cursor);
        let theme = desk.theme;
        let label = format!("{}{}", theme.glyphs().down, carried.label);
        let style = theme.style(Role::Carried);
        let lands = |at| self.rooms.takes_card(at);
        // Pages in hand are seen in the strip and by their title.
        let mut is_named = false;
        if carried.pages.is_none() && carried.is_here && carried.pointer.is_none_or(lands) {
            let mut sides = self.rooms.sides.iter();
            let side = sides.find(|s| s.page == Some(cursor.page) && s.side == cursor.at.side);
            if let Some(grid) = side.and_then(|side| side.grid) {
                let area = grid.pocket_rect(cursor.at.row, cursor.at.column);
                let y = area.y + area.height / 2;
                let room = area.width.saturating_sub(2).max(1);
                // What stands there already does not look out behind it.
                let at = Rect::new(area.x + 1, y, room, 1);
                paint::clear(buf, at.intersection(area));
                let more = theme.glyphs().more;
                paint::line_cut(buf, (at.x, y), room, &label, style, more);
                // There it has room for its name; beside the pointer that would cover another.
                let over = carried.pointer.and_then(|at| self.rooms.pocket_under(at));
                is_named = grid.boxed && over == Some(cursor);
            }
        }
        if let Some((x, y)) = carried.pointer.filter(|_| !is_named) {
            let room = desk.area.width.saturating_sub(x + 1).min(24);
            paint::line(buf, (x + 1, y), room, carried.label, style);
        }
    }
}

/// What a page is that others are not.
fn unusual(format: PageFormat) -> impl Iterator<Item = &'static str> {
    let all = [
        (format.sides == 1, "one side"),
        (format.shared, "front and back share a pocket"),
        (format.opening == Opening::Top, "open at the top"),
    ];
    let is_so = all.into_iter().filter(|(is_so, _)| *is_so);
    is_so.map(|(_, words)| words)
}

/// A word where there is nothing to show.
fn say(desk: &Desk, words: &str, buf: &mut Buffer) {
    let body = desk.body();
    let width = body.width.saturating_sub(4).min(64);
    let lines = text::wrap(words, usize::from(width), 6, desk.theme.glyphs().more);
    let area = paint::centred(body, width, lines.len() as u16);
    let style = desk.theme.style(Role::Text);
    for (y, line) in (area.y..area.bottom()).zip(&lines) {
        paint::line(buf, (area.x, y), area.width, line, style);
    }
}

/// What can be done where there are no pages.
fn no_pages(desk: &Desk, book: &Book<'_>) -> String {
    let key = |intent| desk.key(Context::Binder, intent);
    let arrange = key(Intent::Arrange);
    let sections = desk.key(Context::Drafts, Intent::Sections);
    let drafts = key(Intent::Drafts);
    let what = if book.is_real() {
        "There are no pages in this binder yet"
    } else {
        "There are no pages in this draft yet"
    };
    format!("{what}. {arrange} puts one in; {drafts}, then {sections}, lays it out by sections.")
}
