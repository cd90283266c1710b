//! How an open binder shares out the screen. Drawing and the mouse ask the same function, so a
//! click meets what was drawn.

use ratatui::layout::{Position, Rect};

use super::{Cursor, Spread};
use crate::hand::Ground;
use crate::model::{PageFormat, Place, PocketAt, Side};
use crate::ui::book::Book;
use crate::ui::desk::Desk;
use crate::ui::widget::side::{Grid, Toward};
use crate::ui::widget::strip::Strip;

/// From this width on a spread is shown.
const SPREAD_FROM: u16 = 104;
/// From this width on the pocket is told in a column of its own.
const TELLING_FROM: u16 = 168;
const TELLING: u16 = 36;
/// Columns of the rings between two sides.
const RINGS: u16 = 5;
/// Columns of a pocket in which its sign and three figures stand.
const NUMBERED: u16 = 5;

/// One side on the screen.
#[derive(Clone, Copy, Debug)]
pub(super) struct SideRoom {
    /// `None` where a cover faces the page.
    pub(super) page: Option<usize>,
    pub(super) side: Side,
    /// All the room there is for it.
    pub(super) room: Rect,
    pub(super) format: Option<PageFormat>,
    /// `None` where the side has no pockets, or the room is too small for them.
    pub(super) grid: Option<Grid>,
}

impl SideRoom {
    /// Whether its pockets have outlines.
    pub(super) fn is_boxed(&self) -> bool {
        self.grid.is_some_and(|grid| grid.boxed)
    }

    /// Whether it has pockets, but no room for them.
    fn is_too_small(&self) -> bool {
        let has_pockets = self.format.is_some_and(|format| format.has_side(self.side));
        has_pockets && self.grid.is_none()
    }

    /// Whether its pockets have no room for a number of three figures.
    fn is_narrow(&self) -> bool {
        self.grid.is_some_and(|grid| grid.pocket.0 < NUMBERED)
    }

    /// The pockets that have room: where each is, its place on the page, and its area.
    pub(super) fn pockets(&self) -> impl Iterator<Item = (Cursor, usize, Rect)> + '_ {
        let shown = self.page.zip(self.format).zip(self.grid).into_iter();
        let side = self.side;
        shown.flat_map(move |((page, format), grid)| {
            let cells =
                (0..grid.rows).flat_map(move |row| (0..grid.columns).map(move |c| (row, c)));
            cells.filter_map(move |(row, column)| {
                let at = PocketAt { side, row, column };
                let area = grid.pocket_rect(row, column);
                Some((Cursor { page, at }, format.index(at)?, area))
            })
        })
    }
}

/// The parts of the screen.
#[derive(Clone, Debug)]
pub(crate) struct Rooms {
    pub(super) head: Rect,
    /// The rings, from the first to the last line of the page.
    pub(super) rings: Rect,
    /// The sides shown, left to right.
    pub(super) sides: Vec<SideRoom>,
    pub(crate) strip: Option<Strip>,
    /// Where the pocket under the cursor is told.
    pub(super) telling: Rect,
    spread: bool,
}

impl Spread {
    /// Shares out the whole screen, or for a draft its upper half where the real binder has the
    /// lower one.
    pub(crate) fn rooms(&self, desk: &Desk, book: &Book<'_>) -> Rooms {
        let body = halves(desk, self.ground).0;
        Rooms::within(body, desk, book, self.cursor, self.strip_at())
    }

    /// The pocket of the real binder, shown below a draft, that is under a point of the screen.
    pub(crate) fn real_under(&self, desk: &Desk, at: (u16, u16)) -> Option<Place> {
        let lower = halves(desk, self.ground).1?;
        let book = Book::open(desk.collection(), Ground::real(self.ground.binder), None)?;
        let page = self.cursor.page;
        let rooms = Rooms::within(lower, desk, &book, self.cursor, page);
        let (page, side) = match rooms.pocket_under(at) {
            Some(pocket) => return pocket.place(&book),
            None => rooms.miniature_under(at).or_else(|| rooms.side_under(at))?,
        };
        Cursor::on(page, side).place(&book)
    }
}

/// What the screen is parted into before the pages have their room.
struct Parts {
    head: Rect,
    pages: Rect,
    telling: Rect,
}

impl Parts {
    /// With the pocket told beside the pages, or below them.
    fn of(body: Rect, beside: bool) -> Self {
        let lines = match body.height {
            _ if beside => 0,
            0..10 => 0,
            10..16 => 1,
            _ => 2,
        };
        let head = Rect { height: 1, ..body };
        let mut pages = Rect {
            y: body.y + 1,
            height: body.height.saturating_sub(1 + lines),
            ..body
        };
        let telling = if beside {
            pages.width -= TELLING;
            Rect {
                x: pages.right() + 1,
                width: TELLING - 2,
                ..pages
            }
        } else {
            Rect {
                x: body.x + 1,
                y: pages.bottom(),
                width: body.width.saturating_sub(2),
                height: lines,
            }
        };
        Self {
            head,
            pages,
            telling,
        }
    }

    /// Shares out the room beside the strip.
    fn shared(&self, book: &Book<'_>, cursor: Cursor, strip: Option<Strip>, spread: bool) -> Rooms {
        let mut pages = self.pages;
        if let Some(strip) = &strip {
            pages.width -= strip.area.width + 1;
        }
        let (rings, sides) = if spread {
            two_sides(book, cursor, pages)
        } else {
            one_side(book, cursor, pages)
        };
        Rooms {
            head: self.head,
            rings,
            sides,
            strip,
            telling: self.telling,
            spread,
        }
    }
}

impl Rooms {
    /// `strip_at` is the page by which the strip is scrolled.
    ///
    /// Two sides side by side where there is room for both, else the one under the cursor; and
    /// before a side had no room for its pockets, the column beside and the strip give way. Two
    /// sides give way to one also where that alone can tell the numbers. So what is shown in a window is shown in every wider one.
    pub(super) fn within(
        body: Rect,
        desk: &Desk,
        book: &Book<'_>,
        cursor: Cursor,
        strip_at: usize,
    ) -> Self {
        let cursor = cursor.within(book);
        let wide = body.width >= SPREAD_FROM;
        let beside = body.width >= TELLING_FROM && body.height >= 20;
        let ascii = desk.theme.look.ascii;
        let ways = [(true, true), (true, false), (false, true), (false, false)];
        let ways = ways.into_iter();
        let ways = ways.filter(|way| (wide || !way.0) && (beside || !way.1));
        let mut last = None;
        for (spread, beside) in ways {
            let parts = Parts::of(body, beside);
            let width = parts.pages.width;
            let mut widest = (width / 3).min(width.saturating_sub(30));
            last = None;
            loop {
                let strip = Strip::plan(parts.pages, widest, book, strip_at, ascii);
                let narrower = strip.as_ref().map(|strip| strip.area.width - 1);
                let rooms = parts.shared(book, cursor, strip, spread);
                let is_narrow = spread && rooms.sides.iter().any(SideRoom::is_narrow);
                if !is_narrow && !rooms.sides.iter().any(SideRoom::is_too_small) {
                    return rooms;
                }
                last = last.or(Some(rooms));
                match narrower {
                    Some(narrower) => widest = narrower,
                    None => break,
                }
            }
        }
        // There is always the way of one side; it says that the window is too small.
        last.unwrap_or_else(|| Parts::of(body, false).shared(book, cursor, None, false))
    }

    pub(super) fn is_spread(&self) -> bool {
        self.spread
    }

    pub(crate) fn miniature_under(&self, (x, y): (u16, u16)) -> Option<(usize, Side)> {
        self.strip.as_ref()?.page_under(x, y)
    }

    /// The pocket under a point of the screen.
    pub(crate) fn pocket_under(&self, (x, y): (u16, u16)) -> Option<Cursor> {
        self.sides.iter().find_map(|side| {
            let page = side.page?;
            let (row, column) = side.grid?.pocket_under(x, y)?;
            let at = PocketAt {
                side: side.side,
                row,
                column,
            };
            Some(Cursor { page, at })
        })
    }

    /// Whether a card in hand can be put down here: on a pocket, or on a miniature, to which the
    /// view has leafed then.
    pub(crate) fn takes_card(&self, at: (u16, u16)) -> bool {
        self.pocket_under(at).is_some() || self.miniature_under(at).is_some()
    }

    /// Whether pages in hand can be put down here; just beyond the strip they come first or last.
    pub(crate) fn takes_page(&self, at: (u16, u16)) -> bool {
        let beyond = self.strip.as_ref().and_then(|strip| strip.beyond(at));
        self.miniature_under(at).is_some() || self.side_under(at).is_some() || beyond.is_some()
    }

    /// The position of the page, and its side, that is shown here.
    pub(crate) fn side_under(&self, at: (u16, u16)) -> Option<(usize, Side)> {
        let point = Position::from(at);
        let mut sides = self.sides.iter();
        let side = sides.find(|side| side.grid.is_some_and(|grid| grid.page.contains(point)))?;
        Some((side.page?, side.side))
    }

    /// The position of the page, and its side, whose edge, with its number, is here: what a page is
    /// held by.
    pub(crate) fn page_edge_under(&self, (x, y): (u16, u16)) -> Option<(usize, Side)> {
        let on_edge = |side: &&SideRoom| {
            side.grid.is_some_and(|grid| {
                grid.edge > 0
                    && y == grid.page.y
                    && (grid.page.left()..grid.page.right()).contains(&x)
            })
        };
        let side = self.sides.iter().find(on_edge)?;
        Some((side.page?, side.side))
    }

    /// The margin beside the pages under a point: `Back` for the left one, which leafs back.
    pub(crate) fn edge_under(&self, at: (u16, u16)) -> Option<Side> {
        let point = Position::from(at);
        let (first, last) = (self.sides.first()?, self.sides.last()?);
        if !first.room.contains(point) && !last.room.contains(point) {
            return None;
        }
        let middle = self.rings.x;
        let one = self.sides.len() == 1;
        let left = if one {
            at.0 < first.room.x + first.room.width / 2
        } else {
            at.0 < middle
        };
        Some(if left { Side::Back } else { Side::Front })
    }
}

/// From this height on a draft and the real binder are shown one above the other.
const BOTH_FROM: u16 = 44;

/// The room of the book, and that of the real binder below it where there is room for both.
pub(super) fn halves(desk: &Desk, ground: Ground) -> (Rect, Option<Rect>) {
    let body = desk.body();
    if ground.is_real() || body.height < BOTH_FROM {
        return (body, None);
    }
    let height = body.height / 2;
    let upper = Rect { height, ..body };
    let lower = Rect {
        y: body.y + height,
        height: body.height - height,
        ..body
    };
    (upper, Some(lower))
}

fn one_side(book: &Book<'_>, cursor: Cursor, pages: Rect) -> (Rect, Vec<SideRoom>) {
    // The rings are at the left of a front and at the right of a back.
    let front = cursor.at.side == Side::Front;
    let width = RINGS / 2 + 1;
    let room = Rect {
        x: if front { pages.x + width } else { pages.x },
        width: pages.width.saturating_sub(width),
        ..pages
    };
    let toward = if front { Toward::Left } else { Toward::Right };
    let side = side_room(book, Some(cursor.page), cursor.at.side, room, toward);
    let page = side.grid.map_or(room, |grid| grid.page);
    let x = if front { pages.x } else { page.right() };
    let rings = Rect {
        x,
        width,
        y: page.y,
        height: page.height,
    };
    (rings, vec![side])
}

fn two_sides(book: &Book<'_>, cursor: Cursor, pages: Rect) -> (Rect, Vec<SideRoom>) {
    let spread = cursor.spread();
    let half = pages.width.saturating_sub(RINGS) / 2;
    let left = Rect {
        width: half,
        ..pages
    };
    let right = Rect {
        x: pages.x + half + RINGS,
        width: half,
        ..pages
    };
    let before = spread.checked_sub(1);
    let sides = vec![
        side_room(book, before, Side::Back, left, Toward::Right),
        side_room(book, Some(spread), Side::Front, right, Toward::Left),
    ];
    let shown = sides.iter().filter_map(|side| side.grid);
    let tallest = shown.map(|grid| grid.page).max_by_key(|page| page.height);
    let page = tallest.unwrap_or(pages);
    let rings = Rect {
        x: pages.x + half,
        width: RINGS,
        y: page.y,
        height: page.height,
    };
    (rings, sides)
}

fn side_room(
    book: &Book<'_>,
    page: Option<usize>,
    side: Side,
    room: Rect,
    toward: Toward,
) -> SideRoom {
    let page = page.filter(|page| *page < book.len());
    let format = page.and_then(|page| book.format(page));
    let loaded = format.filter(|format| format.has_side(side));
    SideRoom {
        page,
        side,
        room,
        format,
        grid: loaded.and_then(|format| Grid::fit(room, format, toward)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;
    use crate::model::{Layout, LayoutPage};
    use crate::session::Session;
    use crate::ui::theme::{Colours, Look, Theme};

    /// How many sides with pockets are drawn, of a binder of such pages open at the second.
    fn drawn(desk: &Desk, layout: &Layout, (width, height): (u16, u16), side: Side) -> usize {
        let collection = desk.collection();
        let binder = collection.binder_at(0).unwrap();
        let book = Book::proposed(collection, binder, layout);
        let area = Rect::new(0, 0, width, height);
        let rooms = Rooms::within(area, desk, &book, Cursor::on(1, side), 1);
        rooms.sides.iter().filter(|s| s.grid.is_some()).count()
    }

    #[test]
    fn what_is_drawn_in_a_window_is_drawn_in_every_wider_one() {
        for (ascii, height) in [(false, 58), (false, 22), (true, 58)] {
            let colours = Colours::None;
            let theme = Theme::new(Look { colours, ascii });
            let area = Rect::new(0, 0, 80, 24);
            let desk = Desk::new(Session::in_memory(demo::collection()), theme, area);
            let all = !ascii && height > 22;
            let grids = (1..=20).flat_map(|r| (1..=20).map(move |c| (r, c)));
            for (rows, columns) in grids.filter(|(r, c)| all || r == c) {
                let page = LayoutPage::empty(PageFormat::new(rows, columns, 2));
                let layout = Layout::of_pages(vec![page; 12]);
                for side in [Side::Front, Side::Back] {
                    let mut before = 0;
                    for width in 24..=240 {
                        let now = drawn(&desk, &layout, (width, height), side);
                        assert!(
                            now >= before,
                            "{rows} x {columns} pockets at {width} x {height}: {now} of {before}"
                        );
                        before = now;
                    }
                    assert!(before > 0 || u16::from(rows) + 3 > height);
                }
            }
        }
    }
}
