//! The strip: every page of a binder in miniature along the edge, front beside back, so that gaps
//! are seen across the whole set at a glance.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use crate::model::{PocketState, Side};
use crate::ui::book::Book;
use crate::ui::paint;
use crate::ui::theme::{Role, Theme};

/// How finely a miniature is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Grain {
    /// A column a pocket, two rows of pockets a line.
    Blocks,
    /// A dot a pocket: two columns and four rows of pockets a cell.
    Dots,
}

/// Pages beyond this number are not looked at when the strip's width is chosen.
const LOOKED_AT: usize = 1_000;

/// Where the miniatures stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Strip {
    pub(crate) area: Rect,
    grain: Grain,
    /// Columns of the page number, and of one side.
    number: u16,
    side: u16,
    /// Lines a page.
    lines: u16,
    /// Pages below each other.
    high: usize,
    /// The first page shown, and how many there are.
    first: usize,
    pages: usize,
}

impl Strip {
    /// Plans the strip for the right edge of `room`, at most `widest` columns; `here` is the page
    /// that has to be seen. `None` when there is no room or no page.
    pub(crate) fn plan(
        room: Rect,
        widest: u16,
        book: &Book<'_>,
        here: usize,
        ascii: bool,
    ) -> Option<Self> {
        let pages = book.len();
        let near = || (0..pages.min(LOOKED_AT)).filter_map(|at| book.format(at));
        let columns = near().map(|format| u16::from(format.columns)).max()?;
        let rows = near().map(|format| u16::from(format.rows)).max()?;
        let number = pages.to_string().len() as u16;
        let fit = |grain| {
            let (side, lines) = match grain {
                Grain::Blocks => (columns, rows.div_ceil(2)),
                Grain::Dots => (columns.div_ceil(2), rows.div_ceil(4)),
            };
            let width = number + 2 * side + 4;
            let high = usize::from(room.height / lines);
            let across = usize::from(widest / width);
            (high > 0 && across > 0).then_some((side, lines, width, high, across))
        };
        let all = |plan: &(u16, u16, u16, usize, usize)| plan.3 * plan.4 >= pages;
        let blocks = fit(Grain::Blocks);
        let (grain, plan) = match (blocks.filter(all), ascii) {
            (Some(plan), _) => (Grain::Blocks, plan),
            // Dots are no part of ASCII.
            (None, true) => (Grain::Blocks, blocks?),
            (None, false) => (Grain::Dots, fit(Grain::Dots)?),
        };
        let (side, lines, width, high, across) = plan;
        let across = across.min(pages.div_ceil(high).max(1));
        let seen = high * across;
        // Whole columns are scrolled, so that pages keep their place while one leafs.
        let first = if pages <= seen {
            0
        } else {
            let back = high * (across - 1) / 2;
            (here.saturating_sub(back) / high * high).min((pages - 1) / high * high)
        };
        let first = first.min(pages.saturating_sub(seen).div_ceil(high) * high);
        let total = width * across as u16;
        Some(Self {
            area: Rect {
                x: room.right() - total,
                y: room.y,
                width: total,
                height: room.height,
            },
            grain,
            number,
            side,
            lines,
            high,
            first,
            pages,
        })
    }

    fn page_width(&self) -> u16 {
        self.number + 2 * self.side + 4
    }

    /// The pages that are shown.
    fn shown(&self) -> std::ops::Range<usize> {
        let across = usize::from(self.area.width / self.page_width());
        self.first..(self.first + self.high * across).min(self.pages)
    }

    /// Where a page's miniature stands.
    pub(crate) fn page_rect(&self, page: usize) -> Option<Rect> {
        if !self.shown().contains(&page) {
            return None;
        }
        let at = page - self.first;
        Some(Rect {
            x: self.area.x + self.page_width() * (at / self.high) as u16,
            y: self.area.y + self.lines * (at % self.high) as u16,
            width: self.page_width(),
            height: self.lines,
        })
    }

    /// The page, and its side, whose miniature is under a point of the screen.
    pub(crate) fn page_under(&self, x: u16, y: u16) -> Option<(usize, Side)> {
        let column = x.checked_sub(self.area.x)? / self.page_width();
        let row = y.checked_sub(self.area.y)? / self.lines;
        if x >= self.area.right() || usize::from(row) >= self.high {
            return None;
        }
        let page = self.first + usize::from(column) * self.high + usize::from(row);
        let across = (x - self.area.x) % self.page_width();
        let side = if across > self.number + 1 + self.side {
            Side::Back
        } else {
            Side::Front
        };
        (page < self.pages).then_some((page, side))
    }

    /// Which end of the strip a point is just beyond: `true` below its last miniature, `false` above
    /// its first.
    pub(crate) fn beyond(&self, (x, y): (u16, u16)) -> Option<bool> {
        if x < self.area.x || x >= self.area.right() {
            return None;
        }
        if y < self.area.y {
            return Some(false);
        }
        (y <= self.area.bottom() && self.page_under(x, y).is_none()).then_some(true)
    }

    /// The last page of the binder, or the first, if its miniature is shown.
    pub(crate) fn end(&self, last: bool) -> Option<usize> {
        let shown = self.shown();
        match last {
            true => (shown.end == self.pages).then(|| self.pages - 1),
            false => (shown.start == 0).then_some(0),
        }
    }

    /// Draws the miniatures; `here` is the page and side under the cursor.
    pub(crate) fn draw(
        &self,
        book: &Book<'_>,
        here: (usize, Side),
        theme: Theme,
        buf: &mut Buffer,
    ) {
        for page in self.shown() {
            let Some(area) = self.page_rect(page) else {
                continue;
            };
            let sides = [Side::Front, Side::Back].map(|side| Mini::of(book, page, side));
            let (role, sign) = if book.is_lifted(page) {
                (Role::Carried, theme.glyphs().under_way)
            } else if page == here.0 {
                (Role::Cursor, theme.glyphs().here)
            } else if let Some(goes) = book.goes_to(book.page(page)).filter(|goes| goes.is_moved) {
                let glyphs = theme.glyphs();
                let sign = if goes.to < page {
                    glyphs.up
                } else {
                    glyphs.down
                };
                (Role::Misplaced, sign)
            } else {
                news(&sides, theme)
            };
            let named = book.page(page) + 1;
            paint::sign(buf, (area.x, area.y), sign, theme.style(role));
            let number = format!("{:>width$}", named, width = usize::from(self.number));
            paint::line(
                buf,
                (area.x + 1, area.y),
                self.number,
                &number,
                theme.style(role),
            );
            let x = area.x + 2 + self.number;
            for (mini, x) in sides.iter().zip([x, x + self.side + 1]) {
                self.draw_mini(mini, (x, area.y), theme, buf);
            }
        }
        self.draw_rest(theme, buf);
    }

    /// Says how many pages there are above and below those shown.
    fn draw_rest(&self, theme: Theme, buf: &mut Buffer) {
        let shown = self.shown();
        let style = theme.style(Role::Waiting);
        let right = self.area.right().saturating_sub(1);
        if shown.start > 0 {
            paint::sign(buf, (right, self.area.y), theme.glyphs().up, style);
        }
        if shown.end < self.pages {
            let bottom = self.area.bottom().saturating_sub(1);
            paint::sign(buf, (right, bottom), theme.glyphs().down, style);
        }
    }

    fn draw_mini(&self, mini: &Mini, at: (u16, u16), theme: Theme, buf: &mut Buffer) {
        let style = theme.style(mini.role());
        for line in 0..self.lines {
            for column in 0..self.side {
                let at = (at.0 + column, at.1 + line);
                match self.grain {
                    Grain::Blocks => {
                        let pair = [mini.get(line * 2, column), mini.get(line * 2 + 1, column)];
                        self.draw_pair(pair, mini.role(), at, theme, buf);
                    }
                    Grain::Dots => {
                        let (row, column) = (line * 4, column * 2);
                        if mini.is_open(row, column) {
                            // Meant for cards and empty: without a sign it would look like
                            // nothing planned.
                            let quiet = theme.style(Role::Quiet);
                            paint::sign(buf, at, theme.glyphs().pair_open, quiet);
                        } else if let Some(cell) = buf.cell_mut(at) {
                            cell.set_char(mini.dots(row, column)).set_style(style);
                        }
                    }
                }
            }
        }
    }

    /// Two pockets, one above the other: misplaced and waiting ones by their sign, others by which
    /// of the two is filled.
    fn draw_pair(
        &self,
        pair: [Option<Dot>; 2],
        role: Role,
        at: (u16, u16),
        theme: Theme,
        buf: &mut Buffer,
    ) {
        let glyphs = theme.glyphs();
        let any = |dot| pair.contains(&Some(dot));
        let filled = pair.map(|dot| dot == Some(Dot::InPlace));
        let (sign, role) = if any(Dot::Misplaced) {
            (glyphs.misplaced, Role::Misplaced)
        } else if any(Dot::Waiting) && !any(Dot::InPlace) {
            (glyphs.waiting, Role::Waiting)
        } else if any(Dot::Gap) && !any(Dot::InPlace) {
            (glyphs.pair_open, Role::Quiet)
        } else {
            let at = usize::from(filled[0]) + 2 * usize::from(filled[1]);
            (glyphs.pair[at], role)
        };
        paint::sign(buf, at, sign, theme.style(role));
    }
}

/// The strongest word that a page has to say, as a sign beside its number.
fn news(sides: &[Mini; 2], theme: Theme) -> (Role, &'static str) {
    let glyphs = theme.glyphs();
    let any = |dot| sides.iter().any(|mini| mini.dots.contains(&dot));
    if sides.iter().any(|mini| mini.differs) {
        (Role::Keepsake, glyphs.differs)
    } else if any(Dot::Misplaced) {
        (Role::Misplaced, glyphs.misplaced)
    } else if any(Dot::Waiting) {
        (Role::Waiting, glyphs.waiting)
    } else {
        (Role::Quiet, " ")
    }
}

/// What a miniature tells of a pocket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Dot {
    InPlace,
    Misplaced,
    Gap,
    Waiting,
    /// Meant for no card and empty.
    Other,
}

/// One side of a page as dots.
struct Mini {
    rows: u16,
    columns: u16,
    /// A pocket of a draft is meant for something else than in the layout in force.
    differs: bool,
    dots: Vec<Dot>,
}

impl Mini {
    fn of(book: &Book<'_>, page: usize, side: Side) -> Self {
        let format = book.format(page).filter(|format| format.has_side(side));
        let Some(format) = format else {
            return Self {
                rows: 0,
                columns: 0,
                differs: false,
                dots: Vec::new(),
            };
        };
        let first = if side == Side::Front {
            0
        } else {
            format.per_side()
        };
        let pockets = first..first + format.per_side();
        let dot = |pocket: usize| match book.state(page, pocket) {
            PocketState::InPlace(_) => Dot::InPlace,
            PocketState::Misplaced { .. } => Dot::Misplaced,
            PocketState::Waiting(_) => Dot::Waiting,
            PocketState::Gap(_) => Dot::Gap,
            _ => Dot::Other,
        };
        Self {
            rows: u16::from(format.rows),
            columns: u16::from(format.columns),
            differs: pockets.clone().any(|pocket| book.differs(page, pocket)),
            dots: pockets.map(dot).collect(),
        }
    }

    fn get(&self, row: u16, column: u16) -> Option<Dot> {
        if row >= self.rows || column >= self.columns {
            return None;
        }
        self.dots
            .get(usize::from(row * self.columns + column))
            .copied()
    }

    /// A side of which every card is in place stands out.
    fn role(&self) -> Role {
        let open = |dot: &Dot| matches!(dot, Dot::Gap | Dot::Waiting | Dot::Misplaced);
        if self.dots.iter().any(open) {
            Role::Text
        } else {
            Role::InPlace
        }
    }

    /// Whether these eight pockets hold nothing, and some are meant for a card.
    fn is_open(&self, row: u16, column: u16) -> bool {
        let eight = || (0..4).flat_map(move |down| (0..2).map(move |across| (down, across)));
        let dot = |(down, across)| self.get(row + down, column + across);
        let filled = |dot| matches!(dot, Some(Dot::InPlace | Dot::Misplaced));
        let open = |dot| matches!(dot, Some(Dot::Gap | Dot::Waiting));
        !eight().any(|at| filled(dot(at))) && eight().any(|at| open(dot(at)))
    }

    /// Eight pockets as one character of the Braille Patterns block (U+2800): two columns of four.
    fn dots(&self, row: u16, column: u16) -> char {
        const BITS: [[u32; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];
        let mut code = 0x2800;
        for (across, bits) in (0u16..).zip(BITS) {
            for (down, bit) in (0u16..).zip(bits) {
                let dot = self.get(row + down, column + across);
                if matches!(dot, Some(Dot::InPlace | Dot::Misplaced)) {
                    code |= bit;
                }
            }
        }
        char::from_u32(code).unwrap_or(' ')
    }
}
