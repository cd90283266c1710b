//! A listing on sheets of paper: measured, broken where it makes sense, heads repeated.

mod table;
mod tiles;

use std::borrow::Cow;

use super::{Align, Block, Listing};
use table::TOGETHER;

use crate::paper::drawing::{Drawing, Part, Pen, Sheet, Turn};
use crate::paper::fit::{Room, fit, wrap};
use crate::paper::font::{Fonts, Run, Weight};
use crate::paper::measure::{Area, Size};

/// 11 pt, which reads at arm's length.
const BODY: f64 = 3.9;
const SMALL: f64 = 3.2;
const MARGIN: f64 = 15.0;
/// From the line of the head to what comes below it.
const HEAD: f64 = 9.0;
/// A box to tick, and the room that it takes along the line.
const BOX: f64 = 3.4;
const BOX_ROOM: f64 = 6.5;
/// Between two columns.
const GUTTER: f64 = 4.0;
/// Around the words of a row of a table.
const PAD: f64 = 0.9;

impl Listing {
    /// The listing on paper. Narrow paper has narrow margins.
    #[must_use]
    pub fn pages(&self, paper: Size, fonts: &Fonts<'_>) -> Drawing {
        let margin = MARGIN.min(paper.width / 14.0);
        let mut setter = Setter {
            fonts,
            title: &self.title,
            paper,
            margin,
            sheets: Vec::new(),
            y: 0.0,
        };
        setter.new_sheet();
        for (at, block) in self.blocks.iter().enumerate() {
            setter.block(block, self.blocks.get(at + 1));
        }
        let sheets = setter.numbered();
        Drawing {
            title: self.title.clone(),
            sheets,
            notes: Vec::new(),
        }
    }
}

struct Setter<'s, 'f> {
    fonts: &'s Fonts<'f>,
    title: &'s str,
    paper: Size,
    margin: f64,
    sheets: Vec<Sheet>,
    /// Where the next line begins.
    y: f64,
}

/// Words in lines, with what stands before them.
struct Row<'r> {
    boxed: bool,
    /// Before the words, at the right of its room.
    number: Option<Run>,
    cells: Vec<(f64, Align, f64, Vec<Run>)>,
    words: Cow<'r, str>,
}

impl Row<'_> {
    /// With the room around the words.
    fn height(&self) -> f64 {
        let cell = |lines: &Vec<Run>| lines.iter().map(Run::height).sum();
        let cells = self.cells.iter().map(|(.., lines)| cell(lines));
        cells.fold(0.0, f64::max) + 2.0 * PAD
    }
}

impl Setter<'_, '_> {
    fn left(&self) -> f64 {
        self.margin
    }

    fn width(&self) -> f64 {
        self.paper.width - 2.0 * self.margin
    }

    fn bottom(&self) -> f64 {
        self.paper.height - self.margin
    }

    fn line_height(&self) -> f64 {
        self.fonts.run("x", Weight::Plain, BODY).height()
    }

    fn sheet(&mut self) -> &mut Sheet {
        // A setter begins with a sheet.
        let last = self.sheets.len() - 1;
        &mut self.sheets[last]
    }

    /// The title stands large on the first sheet and small on the others; the number of the page
    /// comes when it is known how many there are.
    fn new_sheet(&mut self) {
        let first = self.sheets.is_empty();
        let mut sheet = Sheet::new(self.paper);
        let (size, lines) = if first { (5.6, 3) } else { (SMALL, 1) };
        let room = Room {
            along: self.width() - 32.0_f64.min(self.width() / 2.5),
            across: if first { 20.0 } else { 6.0 },
            largest: size,
            smallest: size.min(4.2),
            lines,
        };
        let title = fit(self.fonts, self.title, Weight::Bold, room);
        let mut y = self.margin;
        for run in title.lines {
            let base = y + run.ascent();
            y += run.height();
            sheet.text(run, (self.margin, base), Turn::Across);
        }
        y = y.max(self.margin + SMALL * 1.2) + 1.0;
        let right = self.paper.width - self.margin;
        sheet.line((self.margin, y), (right, y), Pen::FINE);
        self.sheets.push(sheet);
        self.y = y + if first { HEAD / 2.0 } else { HEAD / 3.0 };
    }

    fn numbered(mut self) -> Vec<Sheet> {
        let of = self.sheets.len();
        for (number, sheet) in (1..).zip(&mut self.sheets) {
            let words = format!("page {number} of {of}");
            let run = self.fonts.run(&words, Weight::Plain, SMALL);
            let at = (
                self.paper.width - self.margin - run.width(),
                self.margin + run.ascent(),
            );
            sheet.text(run, at, Turn::Across);
        }
        self.sheets
    }

    /// Goes on to a new sheet where so much has no room on this one.
    fn ensure(&mut self, height: f64) -> bool {
        let begun = self
            .sheets
            .last()
            .is_some_and(|sheet| !sheet.parts.is_empty());
        if self.y + height > self.bottom() && begun {
            self.new_sheet();
            return true;
        }
        false
    }

    fn block(&mut self, block: &Block, next: Option<&Block>) {
        // What follows a heading stays with it: two lines of it, or a whole small picture.
        let line = self.line_height();
        let with = match next {
            Some(Block::Grid(rows)) => rows.len() as f64 * 6.5 + 2.0 * line,
            Some(Block::Subheading(_)) => 10.0 * line,
            Some(Block::Table(_)) => (1 + TOGETHER) as f64 * (line + 2.0 * PAD),
            Some(_) => 3.0 * line,
            None => 0.0,
        };
        match block {
            Block::Heading(words) => self.heading(words, 4.6, 3.0, with),
            Block::Subheading(words) => self.heading(words, BODY, 2.0, with),
            Block::Words(words) => {
                for line in words.lines() {
                    self.paragraph(line, 0.0);
                }
                self.y += 1.2;
            }
            Block::Lines(lines) => {
                for words in lines {
                    self.paragraph(words, 4.0);
                }
                self.y += 1.2;
            }
            Block::Ticks(ticks) | Block::Numbered(ticks) => {
                let boxed = matches!(block, Block::Ticks(_));
                let begin = if boxed { BOX_ROOM } else { 2.0 };
                let widest = ticks.iter().filter_map(|tick| tick.number).max();
                let room = widest.map_or(0.0, |most| {
                    self.fonts
                        .run(&most.to_string(), Weight::Plain, BODY)
                        .width()
                        + 2.0
                });
                for tick in ticks {
                    let number = tick
                        .number
                        .map(|number| self.fonts.run(&number.to_string(), Weight::Plain, BODY));
                    let x = begin + room;
                    let width = self.width() - x;
                    let lines = wrap(self.fonts, &tick.words, Weight::Plain, BODY, width);
                    let lines = self.clipped(lines);
                    let row = Row {
                        boxed,
                        number,
                        cells: vec![(x, Align::Left, width, lines)],
                        words: Cow::Borrowed(&tick.words),
                    };
                    self.ensure(row.height());
                    self.row(&row, self.left(), self.width());
                }
                self.y += 1.2;
            }
            Block::Grid(rows) => self.grid(rows),
            Block::Tiles(tiles) => self.tiles(tiles),
            Block::Table(table) => self.table(table),
        }
    }

    fn heading(&mut self, words: &str, size: f64, above: f64, with: f64) {
        let lines = wrap(self.fonts, words, Weight::Bold, size, self.width());
        let lines = self.clipped(lines);
        let height: f64 = lines.iter().map(Run::height).sum();
        let (x, fresh) = (self.left(), self.ensure(above + height + with));
        if !fresh {
            self.y += above;
        }
        self.lines(lines, x, words);
        self.y += 0.8;
    }

    fn paragraph(&mut self, words: &str, indent: f64) {
        let width = self.width() - indent;
        let lines = wrap(self.fonts, words, Weight::Plain, BODY, width);
        let x = self.left() + indent;
        for line in lines {
            self.ensure(line.height());
            let words = line.words.clone();
            self.lines(vec![line], x, &words);
        }
    }

    /// No more lines than have room on half a sheet, which only a name of a thousand letters in a
    /// narrow column has; an ellipsis ends them then.
    fn clipped(&self, mut lines: Vec<Run>) -> Vec<Run> {
        let most = (self.bottom() / 2.0 / self.line_height()) as usize;
        if lines.len() > most.max(1) {
            lines.truncate(most.max(1));
            lines.pop();
            lines.push(self.fonts.run("…", Weight::Plain, BODY));
        }
        lines
    }

    fn lines(&mut self, lines: Vec<Run>, x: f64, words: &str) {
        let top = self.y;
        let mut width: f64 = 0.0;
        for run in lines {
            let base = self.y + run.ascent();
            self.y += run.height();
            width = width.max(run.width());
            self.sheet().text(run, (x, base), Turn::Across);
        }
        let area = Area::new(x, top, width, self.y - top);
        self.part(area, words);
    }

    fn part(&mut self, area: Area, words: &str) {
        let words = words.to_owned();
        self.sheet().parts.push(Part { area, words });
    }

    /// A row at the present height, from `left` on and `width` wide.
    fn row(&mut self, row: &Row<'_>, left: f64, width: f64) {
        let (top, height) = (self.y, row.height());
        let lines = row.cells.iter().flat_map(|(.., lines)| lines.first());
        let first = lines.map(Run::height).fold(0.0, f64::max);
        if row.boxed {
            let at = Area::new(left, top + PAD + (first - BOX) / 2.0, BOX, BOX);
            self.sheet().frame(at, Pen::solid(0.3));
        }
        for (x, align, room, lines) in &row.cells {
            let mut y = top + PAD;
            if let Some(number) = &row.number {
                let at = (left + x - 2.0 - number.width(), y + number.ascent());
                self.sheet().text(number.clone(), at, Turn::Across);
            }
            for run in lines {
                let off = match align {
                    Align::Left => 0.0,
                    Align::Right => room - run.width(),
                };
                let at = (left + x + off, y + run.ascent());
                y += run.height();
                self.sheet().text(run.clone(), at, Turn::Across);
            }
        }
        self.y = top + height;
        self.part(Area::new(left, top, width, height), &row.words);
    }
}
