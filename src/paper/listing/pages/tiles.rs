//! Small pictures of pages among the lines of a listing.

use super::{BOX_ROOM, GUTTER, SMALL, Setter};
use crate::paper::drawing::{Pen, Turn};
use crate::paper::fit::{Room, fit};
use crate::paper::font::Weight;
use crate::paper::measure::Area;

/// The height of a cell.
const CELL: f64 = 6.0;

impl Setter<'_, '_> {
    pub(super) fn grid(&mut self, rows: &[Vec<String>]) {
        let columns = rows.iter().map(Vec::len).max().unwrap_or(0).max(1);
        let width = self.cell_width(rows).min(self.width() / columns as f64);
        self.ensure(rows.len() as f64 * CELL + self.line_height());
        let (left, top) = (self.left() + BOX_ROOM, self.y + 0.5);
        self.cells(rows, (left, top), width);
        let height = rows.len() as f64 * CELL;
        self.part(Area::new(left, top, columns as f64 * width, height), "");
        self.y = top + height + 1.0;
    }

    /// So wide that each cell holds its words, if they are short.
    fn cell_width(&self, rows: &[Vec<String>]) -> f64 {
        let cells = rows.iter().flatten();
        let width = |words: &String| self.fonts.run(words, Weight::Plain, SMALL).width();
        cells.map(width).fold(8.0, f64::max).min(22.0) + 2.0
    }

    fn cells(&mut self, rows: &[Vec<String>], (left, top): (f64, f64), width: f64) {
        for (row, cells) in rows.iter().enumerate() {
            for (column, words) in cells.iter().enumerate() {
                let x = left + column as f64 * width;
                let area = Area::new(x, top + row as f64 * CELL, width, CELL);
                let room = Room {
                    along: width - 1.0,
                    across: CELL - 0.6,
                    largest: SMALL,
                    smallest: 1.8,
                    lines: 2,
                };
                let fitted = fit(self.fonts, words, Weight::Plain, room);
                let mut y = area.y + (CELL - fitted.across()) / 2.0;
                let sheet = self.sheet();
                sheet.frame(area, Pen::FINE);
                for run in fitted.lines {
                    let at = (x + (width - run.width()) / 2.0, y + run.ascent());
                    y += run.height();
                    sheet.text(run, at, Turn::Across);
                }
            }
        }
    }

    /// As many side by side as have room, a row of them together on a sheet.
    pub(super) fn tiles(&mut self, tiles: &[(String, Vec<Vec<String>>)]) {
        let columns = |rows: &[Vec<String>]| rows.iter().map(Vec::len).max().unwrap_or(0).max(1);
        let size = |setter: &Self, rows: &[Vec<String>]| {
            let columns = columns(rows) as f64;
            let cell = setter.cell_width(rows).min(setter.width() / columns);
            (cell, cell * columns)
        };
        let head = self.fonts.run("x", Weight::Bold, SMALL).height() + 0.6;
        let mut rest = tiles;
        while !rest.is_empty() {
            let mut used = 0.0;
            let mut count = 0;
            for (_, rows) in rest {
                used += size(self, rows).1 + if count > 0 { GUTTER } else { 0.0 };
                if count > 0 && used > self.width() {
                    break;
                }
                count += 1;
            }
            let (line, later) = rest.split_at(count);
            rest = later;
            let tallest = line.iter().map(|(_, rows)| rows.len()).max().unwrap_or(0);
            let height = head + tallest as f64 * CELL;
            self.ensure(height);
            let (mut x, top) = (self.left(), self.y);
            for (words, rows) in line {
                let (cell, width) = size(self, rows);
                let room = Room {
                    along: width,
                    across: head,
                    largest: SMALL,
                    smallest: 1.8,
                    lines: 1,
                };
                for run in fit(self.fonts, words, Weight::Bold, room).lines {
                    let at = (x, top + run.ascent());
                    self.sheet().text(run, at, Turn::Across);
                }
                self.cells(rows, (x, top + head), cell);
                let area = Area::new(x, top, width, head + rows.len() as f64 * CELL);
                self.part(area, words);
                x += width + GUTTER;
            }
            self.y = top + height + 3.0;
        }
    }
}
