//! Where the spines stand: boards as high and wide as there is room, or a list where there is none.

use ratatui::layout::Rect;

/// Least and greatest width and height of a spine.
const SPINE_WIDTHS: (u16, u16) = (10, 14);
const SPINE_HEIGHTS: (u16, u16) = (7, 16);

/// Where the spines stand.
pub(super) struct Boards {
    pub(super) area: Rect,
    pub(super) across: usize,
    pub(super) width: u16,
    /// Height of a spine; each board takes two lines more: room to pull one out, and the board.
    pub(super) height: u16,
    /// Boards that are seen, and the first of them.
    pub(super) seen: usize,
    pub(super) first: usize,
}

impl Boards {
    /// For so many binders. The first board stays the one that `was` first as long as the chosen
    /// binder is seen then; else it is leafed to by screenfuls. Where none is `chosen` it stays.
    pub(super) fn fit(body: Rect, binders: usize, chosen: Option<usize>, was: usize) -> Self {
        let foot = detail_lines(body);
        let area = Rect {
            y: body.y + 1,
            height: body.height.saturating_sub(1 + foot),
            ..body
        };
        // A short row gets wider spines, on which longer words fit.
        let share = area.width / binders.clamp(1, 100) as u16;
        let width = share.clamp(SPINE_WIDTHS.0, SPINE_WIDTHS.1).min(area.width);
        let across = usize::from(area.width.checked_div(width).unwrap_or(1)).max(1);
        let boards = binders.div_ceil(across).max(1);
        let most = usize::from(area.height / (SPINE_HEIGHTS.0 + 2));
        if most == 0 {
            return Self::list(area, binders, chosen, was);
        }
        let seen = boards.min(most);
        let height = (area.height / seen as u16).saturating_sub(2);
        Self {
            area,
            across,
            width,
            height: height.min(SPINE_HEIGHTS.1),
            seen,
            first: first(chosen.map(|at| at / across), seen, was).min(boards - seen),
        }
    }

    /// Where no spine can stand, the binders lie flat, a line each.
    fn list(area: Rect, binders: usize, chosen: Option<usize>, was: usize) -> Self {
        let seen = usize::from(area.height).max(1);
        Self {
            area,
            across: 1,
            width: area.width,
            height: 1,
            seen,
            first: first(chosen, seen, was).min(binders.saturating_sub(1)),
        }
    }

    /// The first board when it is gone on or back by one, as long as there are more of them.
    pub(super) fn scrolled(&self, binders: usize, on: bool) -> usize {
        let last = binders.div_ceil(self.across).saturating_sub(self.seen);
        match on {
            true => (self.first + 1).min(last),
            false => self.first.saturating_sub(1),
        }
    }

    pub(super) fn is_list(&self) -> bool {
        self.height == 1
    }

    /// Whether a point of the boards is behind the spine that stands last.
    pub(super) fn is_behind(&self, last: usize, (x, y): (u16, u16)) -> bool {
        let within = (self.area.top()..self.area.bottom()).contains(&y);
        self.spine(last, false)
            .filter(|_| within)
            .is_some_and(|spine| {
                y >= spine.bottom() || y >= spine.y.saturating_sub(1) && x >= spine.right()
            })
    }

    pub(super) fn spine(&self, at: usize, pulled: bool) -> Option<Rect> {
        let board = (at / self.across).checked_sub(self.first)?;
        if board >= self.seen {
            return None;
        }
        if self.is_list() {
            let y = self.area.y + board as u16;
            let row = Rect::new(self.area.x, y, self.width, 1);
            return (y < self.area.bottom()).then_some(row);
        }
        let top = self.area.y + (board as u16) * (self.height + 2);
        Some(Rect {
            x: self.area.x + (at % self.across) as u16 * self.width,
            y: top + u16::from(!pulled),
            width: self.width,
            height: self.height,
        })
    }
}

/// The first board where the chosen one is seen among so many.
fn first(chosen: Option<usize>, seen: usize, was: usize) -> usize {
    match chosen {
        Some(chosen) if !(was..was + seen).contains(&chosen) => chosen / seen * seen,
        _ => was,
    }
}

/// Lines below the boards that tell of the chosen binder.
pub(super) fn detail_lines(body: Rect) -> u16 {
    if body.height >= 14 { 2 } else { 1 }
}
