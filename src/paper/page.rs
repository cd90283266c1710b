//! A picture of a page or of a spread: each pocket with what is in it or should be.

use super::drawing::{Drawing, Part, Pen, Sheet, Turn};
use super::fit::{Room, fit};
use super::font::{Fonts, Weight};
use super::labels::place;
use super::lists::number;
use super::measure::{Area, Size};
use crate::model::{Binder, Collection, PageFormat, Place, PocketState, PrintingId, Side};

/// What is to be seen of a binder. Pages count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PageView {
    Side(usize, Side),
    /// The back of the page before this one at the left, its front at the right; before the first
    /// page and behind the last there is one side only.
    Spread(usize),
}

/// Around a side, and from pocket to pocket.
const EDGE: f64 = 6.0;
const BETWEEN: f64 = 3.0;
/// The margin with the holes, and the room for the rings.
const HOLES: f64 = 14.0;
const RINGS: f64 = 12.0;
const HEAD: f64 = 9.0;
/// Below, what the signs mean.
const FOOT: f64 = 8.0;

/// The picture, in the size of the page itself, or on `paper`, smaller if it has to be. `None`
/// where the binder has no such page.
#[must_use]
pub fn page_picture(
    collection: &Collection,
    binder: &Binder,
    view: PageView,
    paper: Option<Size>,
    fonts: &Fonts<'_>,
) -> Option<Drawing> {
    let sides: Vec<(usize, Side)> = match view {
        PageView::Side(page, side) => vec![(page, side)],
        PageView::Spread(page) => {
            let left = page.checked_sub(1).map(|page| (page, Side::Back));
            left.into_iter().chain([(page, Side::Front)]).collect()
        }
    };
    let drawn: Vec<(usize, Side, PageFormat)> = (sides.into_iter())
        .filter_map(|(page, side)| {
            let format = format(binder, page)?;
            format.has_side(side).then_some((page, side, format))
        })
        .collect();
    if drawn.is_empty() {
        return None;
    }
    let sizes: Vec<Size> = drawn
        .iter()
        .map(|(.., format)| side_size(*format))
        .collect();
    let rings = RINGS * (sizes.len() - 1) as f64;
    let own = Size::new(
        sizes.iter().map(|size| size.width).sum::<f64>() + rings + 2.0 * EDGE,
        sizes.iter().map(|size| size.height).fold(0.0, f64::max) + HEAD + FOOT + 2.0 * EDGE,
    );
    let scale = paper.map_or(1.0, |paper| {
        (paper.width / own.width)
            .min(paper.height / own.height)
            .min(1.0)
    });
    let size = paper.unwrap_or(own);
    let corner = (
        (size.width - own.width * scale) / 2.0,
        if paper.is_some() { EDGE * scale } else { 0.0 },
    );
    let mut sheet = Sheet::new(size);
    let mut painter = Painter {
        collection,
        binder,
        fonts,
        sheet: &mut sheet,
        corner,
        scale,
    };
    let mut x = EDGE;
    for ((page, side, format), size) in drawn.iter().zip(&sizes) {
        painter.side(
            *page,
            *side,
            *format,
            Area::new(x, EDGE + HEAD, size.width, size.height),
        );
        x += size.width + RINGS;
    }
    if drawn.len() > 1 {
        painter.rings(EDGE + sizes[0].width, sizes[0].height);
    }
    painter.signs(own);
    Some(Drawing {
        title: format!("{}: {}", binder.called(), words(view)),
        sheets: vec![sheet],
        notes: Vec::new(),
    })
}

fn words(view: PageView) -> String {
    match view {
        PageView::Side(page, side) => format!("page {}, {side}", page + 1),
        PageView::Spread(page) => format!("spread at page {}", page + 1),
    }
}

fn format(binder: &Binder, page: usize) -> Option<PageFormat> {
    let real = binder.pages().get(page).map(crate::model::Page::format);
    let meant = binder.layout().pages.get(page);
    real.or_else(|| meant.map(crate::model::LayoutPage::format))
}

/// A pocket's size as far as it is known.
fn pocket_size(format: PageFormat) -> Size {
    let known = |tenths: u16, usual: f64| match tenths {
        0 => usual,
        tenths => f64::from(tenths) / 10.0,
    };
    Size::new(
        known(format.pocket_width, Size::CARD.width),
        known(format.pocket_height, Size::CARD.height),
    )
}

fn side_size(format: PageFormat) -> Size {
    let pocket = pocket_size(format);
    let (columns, rows) = (f64::from(format.columns), f64::from(format.rows));
    Size::new(
        columns * (pocket.width + BETWEEN) + BETWEEN + HOLES,
        rows * (pocket.height + BETWEEN) + BETWEEN,
    )
}

struct Painter<'p, 'f> {
    collection: &'p Collection,
    binder: &'p Binder,
    fonts: &'p Fonts<'f>,
    sheet: &'p mut Sheet,
    corner: (f64, f64),
    scale: f64,
}

impl Painter<'_, '_> {
    fn area(&self, area: Area) -> Area {
        Area::new(
            self.corner.0 + area.x * self.scale,
            self.corner.1 + area.y * self.scale,
            area.width * self.scale,
            area.height * self.scale,
        )
    }

    fn frame(&mut self, area: Area, pen: Pen) {
        let pen = Pen {
            width: pen.width * self.scale,
            ..pen
        };
        let area = self.area(area);
        self.sheet.frame(area, pen);
    }

    fn line(&mut self, from: (f64, f64), to: (f64, f64), width: f64) {
        let at = |(x, y)| {
            let area = self.area(Area::new(x, y, 0.0, 0.0));
            (area.x, area.y)
        };
        let (from, to) = (at(from), at(to));
        self.sheet.line(from, to, Pen::solid(width * self.scale));
    }

    fn words(&mut self, words: &str, area: Area, weight: Weight, largest: f64, lines: usize) {
        let area = self.area(area);
        let room = Room {
            along: area.width,
            across: area.height,
            largest: largest * self.scale,
            smallest: 2.0 * self.scale,
            lines,
        };
        let fitted = fit(self.fonts, words, weight, room);
        place(self.sheet, fitted, area, Turn::Across, 0.0);
    }

    fn side(&mut self, page: usize, side: Side, format: PageFormat, area: Area) {
        let title = format!("{}, page {}, {side}", self.binder.called(), page + 1);
        let head = Area::new(area.x, area.y - HEAD, area.width, HEAD - 1.0);
        self.words(&title, head, Weight::Bold, 5.5, 1);
        self.frame(area, Pen::STRONG);
        // A front has its holes at the left, a back at the right.
        let front = side == Side::Front;
        let first = area.x + BETWEEN + if front { HOLES } else { 0.0 };
        if self.binder.spec().kind.pages_move() {
            let x = if front {
                area.x + 4.0
            } else {
                area.right() - 8.0
            };
            for share in [0.2, 0.5, 0.8] {
                let y = area.y + area.height * share - 2.0;
                self.frame(Area::new(x, y, 4.0, 4.0), Pen::FINE);
            }
        }
        let pocket = pocket_size(format);
        let begin = if front { 0 } else { format.per_side() };
        for index in begin..begin + format.per_side() {
            let Some(at) = format.at(index) else { continue };
            let x = first + f64::from(at.column) * (pocket.width + BETWEEN);
            let y = area.y + BETWEEN + f64::from(at.row) * (pocket.height + BETWEEN);
            let place = Place {
                binder: self.binder.id(),
                page,
                pocket: index,
            };
            self.pocket(place, Area::new(x, y, pocket.width, pocket.height));
        }
    }

    fn pocket(&mut self, place: Place, area: Area) {
        let state = self.collection.pocket(place);
        let name = |printing: PrintingId| {
            let card = self.collection.card(printing);
            card.map_or_else(String::new, |card| card.name.to_string())
        };
        let number = |printing| number(self.collection, printing);
        let (number, name, below) = match &state {
            PocketState::Unassigned => (String::new(), String::new(), String::new()),
            PocketState::Blank => (String::new(), String::new(), "left empty".into()),
            PocketState::Keepsake(words) => (String::new(), words.to_string(), "keepsake".into()),
            PocketState::InPlace(held) => (number(*held), name(*held), String::new()),
            PocketState::Gap(wanted) => (number(*wanted), name(*wanted), "gap".into()),
            PocketState::Waiting(wanted) => (number(*wanted), name(*wanted), "waiting".into()),
            PocketState::Misplaced { held, wanted } => {
                let wanted = wanted.map(|wanted| format!("meant for {}", number(wanted)));
                let below = wanted.unwrap_or_else(|| "misplaced".into());
                (format!("≠ {}", number(*held)), name(*held), below)
            }
        };
        match state {
            PocketState::InPlace(_) => self.frame(area, Pen::STRONG),
            PocketState::Misplaced { .. } => {
                self.frame(area, Pen::STRONG);
                self.frame(area.inset(1.5), Pen::STRONG);
            }
            PocketState::Keepsake(_) => {
                self.frame(area, Pen::FINE);
                self.frame(area.inset(1.5), Pen::FINE);
            }
            PocketState::Gap(_) | PocketState::Waiting(_) => self.frame(area, Pen::dashed(0.4)),
            PocketState::Unassigned | PocketState::Blank => self.frame(area, Pen::HAIR),
        }
        if matches!(state, PocketState::Blank) {
            let (right, bottom) = (area.right(), area.bottom());
            self.line((area.x, area.y), (right, bottom), 0.1);
        }
        let inside = area.inset((area.width / 12.0).min(4.0));
        let top = Area {
            height: inside.height * 0.25,
            ..inside
        };
        let middle = Area {
            y: top.bottom(),
            height: inside.height * 0.5,
            ..inside
        };
        let last = Area {
            y: middle.bottom(),
            height: inside.height * 0.25,
            ..inside
        };
        // A box to tick at the corner of a gap, a wedge where a copy waits.
        let corner = inside.right() - 7.0;
        match state {
            PocketState::Gap(_) => {
                self.frame(Area::new(corner, inside.y, 7.0, 7.0), Pen::solid(0.4));
            }
            PocketState::Waiting(_) => {
                let (tip, right) = ((corner, inside.y + 3.5), inside.right());
                self.line(tip, (right, inside.y), 0.5);
                self.line(tip, (right, inside.y + 7.0), 0.5);
                self.line((right, inside.y), (right, inside.y + 7.0), 0.5);
            }
            _ => {}
        }
        let narrow = Area {
            width: inside.width - 8.0,
            ..top
        };
        self.words(&number, narrow, Weight::Bold, 11.0, 1);
        self.words(&name, middle, Weight::Plain, 7.0, 3);
        self.words(&below, last, Weight::Plain, 4.5, 2);
        let words = [number, name, below].join(" ").trim().to_owned();
        let area = self.area(area);
        self.sheet.parts.push(Part { area, words });
    }

    fn rings(&mut self, x: f64, height: f64) {
        for share in [0.2, 0.5, 0.8] {
            let y = EDGE + HEAD + height * share;
            for off in [-1.0, 1.0] {
                self.line((x - 6.0, y + off), (x + RINGS + 6.0, y + off), 0.3);
            }
        }
    }

    fn signs(&mut self, own: Size) {
        let words = "solid: in place · dashed with a box: gap · dashed with a wedge: a loose copy \
                     waits · double: keepsake, or with ≠ misplaced";
        let y = own.height - FOOT - EDGE / 2.0;
        let area = Area::new(EDGE, y, own.width - 2.0 * EDGE, FOOT);
        self.words(words, area, Weight::Plain, 4.0, 2);
    }
}
