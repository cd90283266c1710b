//! Where the parts of the screen of sections stand.

use std::ops::Range;

use ratatui::layout::Rect;

use crate::ui::book::Book;
use crate::ui::desk::Desk;
use crate::ui::widget::strip::Strip;

/// From this width on the pages themselves are shown, not only in miniature.
const PAGES_FROM: u16 = 112;
/// Columns of the rules beside the pages.
const RULES: u16 = 54;
/// Lines for what is to be said of a line of a section.
pub(super) const HINT: u16 = 2;

/// The parts of the screen.
pub(super) struct Rooms {
    pub(super) head: Rect,
    /// The list of sections, or the lines of one.
    pub(super) list: Rect,
    /// The chosen section in words.
    pub(super) words: Rect,
    /// Where the pages are drawn, or only their miniatures.
    pub(super) right: Rect,
    pub(super) foot: Rect,
    pub(super) pages: bool,
}

impl Rooms {
    pub(super) fn of(desk: &Desk) -> Self {
        let body = desk.body();
        let pages = body.width >= PAGES_FROM;
        let left = match body.width {
            _ if pages => RULES,
            0..58 => body.width,
            width => width - (width * 3 / 8).min(34),
        };
        let foot = match body.height {
            0..9 => 1,
            9..16 => 2,
            16..30 => 4,
            _ => 6,
        };
        let height = body.height.saturating_sub(foot + 1);
        let words = match height {
            0..9 => 0,
            9..16 => 2,
            _ => 4,
        };
        let list = Rect {
            y: body.y + 1,
            width: left,
            height: height - words,
            ..body
        };
        Self {
            head: Rect { height: 1, ..body },
            list,
            words: Rect {
                x: list.x + 2,
                y: list.bottom(),
                width: list.width.saturating_sub(3),
                height: words,
            },
            right: Rect {
                x: body.x + left,
                y: body.y + 1,
                width: body.width - left,
                height,
            },
            foot: Rect {
                y: body.y + 1 + height,
                height: body.height.saturating_sub(1 + height),
                ..body
            },
            pages,
        }
    }

    /// The strip of a screen that has no room for pages.
    pub(super) fn strip(&self, desk: &Desk, book: &Book<'_>, here: usize) -> Option<Strip> {
        if self.pages {
            return None;
        }
        let ascii = desk.theme.look.ascii;
        Strip::plan(self.right, self.right.width, book, here, ascii)
    }

    /// The lines of a section; the hint stands below them.
    pub(super) fn fields(&self) -> Rect {
        Rect {
            height: (self.list.height + self.words.height)
                .saturating_sub(HINT)
                .max(1),
            ..self.list
        }
    }

    /// The lines that are seen, of so many with this one under the cursor.
    pub(super) fn seen(&self, many: usize, here: usize) -> Range<usize> {
        let room = usize::from(self.list.height).max(1);
        let first = (here + 1).saturating_sub(room);
        first..many.min(first + room)
    }
}
