//! One side of a page in its true grid: where each pocket is on the screen.

use ratatui::layout::Rect;

use crate::model::PageFormat;

/// The least size of a pocket that is drawn with an outline.
const BOXED: (u16, u16) = (7, 3);
/// The least size of a pocket at all.
const LEAST: (u16, u16) = (3, 1);
/// Pockets grow to this width and no further; a card is upright, and names fit well before.
const WIDEST: u16 = 24;

/// To which edge of its room a side is moved: to the rings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Toward {
    Left,
    Right,
}

/// Where the pockets of one side stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Grid {
    /// The page, with its edge where there is room for one.
    pub(crate) page: Rect,
    /// Cells of the edge: 1 or 0.
    pub(crate) edge: u16,
    pub(crate) pocket: (u16, u16),
    pub(crate) rows: u8,
    pub(crate) columns: u8,
    /// Whether a pocket has room for an outline.
    pub(crate) boxed: bool,
}

impl Grid {
    /// Fits the grid of a format into `room`; `None` when the room is too small for its pockets.
    pub(crate) fn fit(room: Rect, format: PageFormat, toward: Toward) -> Option<Self> {
        Self::with_edge(room, format, toward, 1)
            .or_else(|| Self::with_edge(room, format, toward, 0))
    }

    fn with_edge(room: Rect, format: PageFormat, toward: Toward, edge: u16) -> Option<Self> {
        let (columns, rows) = (u16::from(format.columns), u16::from(format.rows));
        let edges = 2 * edge;
        let inner = (
            room.width.checked_sub(edges)?,
            room.height.checked_sub(edges)?,
        );
        let most_high = inner.1 / rows;
        // True to an upright card (63 x 88 mm in cells twice as high as wide), but never so
        // narrow that a name has no room.
        let upright = (most_high * 3 / 2).max(16);
        let width = (inner.0 / columns).min(WIDEST).min(upright);
        let height = most_high.min(width.max(4));
        if width < LEAST.0 || height < LEAST.1 {
            return None;
        }
        let (page_width, page_height) = (width * columns + edges, height * rows + edges);
        let x = match toward {
            Toward::Left => room.x,
            Toward::Right => room.right() - page_width,
        };
        Some(Self {
            page: Rect {
                x,
                y: room.y + (room.height - page_height) / 2,
                width: page_width,
                height: page_height,
            },
            edge,
            pocket: (width, height),
            rows: format.rows,
            columns: format.columns,
            boxed: width >= BOXED.0 && height >= BOXED.1,
        })
    }

    /// The rectangle of a pocket, row and column from 0.
    pub(crate) fn pocket_rect(&self, row: u8, column: u8) -> Rect {
        Rect {
            x: self.page.x + self.edge + u16::from(column) * self.pocket.0,
            y: self.page.y + self.edge + u16::from(row) * self.pocket.1,
            width: self.pocket.0,
            height: self.pocket.1,
        }
    }

    /// Row and column of the pocket under a point of the screen.
    pub(crate) fn pocket_under(&self, x: u16, y: u16) -> Option<(u8, u8)> {
        let column = x.checked_sub(self.page.x + self.edge)? / self.pocket.0;
        let row = y.checked_sub(self.page.y + self.edge)? / self.pocket.1;
        let within = column < u16::from(self.columns) && row < u16::from(self.rows);
        // Both are below a u8 here.
        within.then_some((row as u8, column as u8))
    }
}
