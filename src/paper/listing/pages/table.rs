//! A table on sheets of paper: in strips beside each other where its rows are short, as the names
//! in a directory are, so that a long list takes few sheets.

use std::borrow::Cow;

use super::{BODY, BOX_ROOM, GUTTER, Row, Setter};
use crate::paper::drawing::Pen;
use crate::paper::fit::wrap;
use crate::paper::font::Weight;
use crate::paper::listing::Table;

/// Between two strips.
const BETWEEN: f64 = 8.0;
/// The em of what stands in several strips, and of rows too long for one line: 9.6 pt.
const IN_STRIPS: f64 = 3.4;
/// No more strips than this, on however large a sheet.
const STRIPS: usize = 6;
/// Fewer rows to a strip than this are not worth a second one.
const LEAST: usize = 4;
/// Of so many rows one may need a second line for the sake of more strips.
const ONE_IN: usize = 10;
/// So many rows stand below their heads before a sheet ends, if there are as many.
pub(super) const TOGETHER: usize = 3;

/// How a table is divided over the width of a sheet.
struct Strips {
    count: usize,
    /// Of one strip.
    width: f64,
    /// The em.
    size: f64,
    /// Of each column that has something in it.
    columns: Vec<f64>,
}

impl Setter<'_, '_> {
    pub(super) fn table(&mut self, table: &Table) {
        let used = table.used();
        let begin = if table.boxes { BOX_ROOM } else { 0.0 };
        let strips = self.strips(table, &used, begin);
        let cells = |weight: Weight, words: &[&str]| {
            let mut x = begin;
            let mut made = Vec::new();
            for ((at, width), words) in used.iter().zip(&strips.columns).zip(words) {
                let lines = wrap(self.fonts, words, weight, strips.size, *width);
                made.push((x, table.heads[*at].1, *width, self.clipped(lines)));
                x += width + GUTTER;
            }
            made
        };
        let heads: Vec<&str> = used.iter().map(|at| table.heads[*at].0.as_str()).collect();
        let head = Row {
            boxed: false,
            number: None,
            cells: cells(Weight::Bold, &heads),
            words: Cow::Borrowed(""),
        };
        let row = |row: &Vec<String>| {
            let words: Vec<&str> = used.iter().map(|at| row[*at].as_str()).collect();
            Row {
                boxed: table.boxes,
                number: None,
                cells: cells(Weight::Plain, &words),
                words: Cow::Owned(words.join("  ")),
            }
        };
        let rows: Vec<Row<'_>> = table.rows.iter().map(row).collect();
        self.strips_of(&head, &rows, &strips);
        self.y += 2.0;
    }

    /// Strip by strip on each sheet, the last sheet's strips of one height.
    fn strips_of(&mut self, head: &Row<'_>, mut rows: &[Row<'_>], strips: &Strips) {
        while !rows.is_empty() {
            let first = rows.iter().take(TOGETHER).map(Row::height).sum::<f64>();
            self.ensure(head.height() + first);
            let top = self.y;
            let height = shared_height(rows, strips.count, self.bottom() - top - head.height());
            let mut lowest = top;
            for strip in 0..strips.count {
                let fit = rows_within(rows, height);
                if fit == 0 {
                    break;
                }
                let left = self.left() + strip as f64 * (strips.width + BETWEEN);
                self.y = top;
                for row in std::iter::once(head).chain(&rows[..fit]) {
                    self.row(row, left, strips.width);
                    let (begin, end) = ((left, self.y), (left + strips.width, self.y));
                    self.sheet().line(begin, end, Pen::HAIR);
                }
                lowest = lowest.max(self.y);
                rows = &rows[fit..];
            }
            self.y = lowest;
        }
    }

    /// As many strips as leave nearly every row on one line.
    fn strips(&self, table: &Table, used: &[usize], begin: f64) -> Strips {
        let measured = |words: &str, weight: Weight| self.fonts.run(words, weight, BODY).width();
        let row = |row: &Vec<String>| -> Vec<f64> {
            let cell = |at: &usize| measured(&row[*at], Weight::Plain) + 0.01;
            used.iter().map(cell).collect()
        };
        let rows: Vec<Vec<f64>> = table.rows.iter().map(row).collect();
        let head = |at: &usize| measured(&table.heads[*at].0, Weight::Bold) + 0.01;
        let mut needs: Vec<f64> = used.iter().map(head).collect();
        for row in &rows {
            for (need, width) in needs.iter_mut().zip(row) {
                *need = need.max(*width);
            }
        }
        let of = |count: usize, size: f64| {
            let between = BETWEEN * (count - 1) as f64;
            let width = (self.width() - between) / count as f64;
            let needs: Vec<f64> = needs.iter().map(|need| need * (size / BODY)).collect();
            Strips {
                count,
                width,
                size,
                columns: columns(&needs, width - begin),
            }
        };
        let reads = |strips: &Strips| {
            let scale = strips.size / BODY;
            let wraps = |row: &&Vec<f64>| {
                let mut cells = row.iter().zip(&strips.columns);
                cells.any(|(width, room)| width * scale > *room)
            };
            rows.iter().filter(wraps).count() * ONE_IN <= rows.len()
        };
        // A short table of a list is set as the long ones beside it are.
        let several = (2..=STRIPS).rev().map(|count| of(count, IN_STRIPS));
        match several.into_iter().find(reads) {
            Some(strips) => match strips.count.min(rows.len() / LEAST) {
                0 | 1 => of(1, IN_STRIPS),
                count => of(count, IN_STRIPS),
            },
            None => Some(of(1, BODY))
                .filter(reads)
                .unwrap_or_else(|| of(1, IN_STRIPS)),
        }
    }
}

/// The widths of the columns: what each needs where that has room, else the wide ones give.
fn columns(needs: &[f64], room: f64) -> Vec<f64> {
    let gutters = GUTTER * needs.len().saturating_sub(1) as f64;
    let room = (room - gutters).max(needs.len() as f64 * 4.0);
    if needs.iter().sum::<f64>() <= room {
        return needs.to_vec();
    }
    // By halves: no column wider than this.
    let (mut low, mut high) = (0.0, room);
    for _ in 0..40 {
        let most = (low + high) / 2.0;
        if needs.iter().map(|need| need.min(most)).sum::<f64>() <= room {
            low = most;
        } else {
            high = most;
        }
    }
    needs.iter().map(|need| need.min(low)).collect()
}

/// How many of the rows have room in such a height; one at least, if there is one.
fn rows_within(rows: &[Row<'_>], height: f64) -> usize {
    let mut below = 0.0;
    let fit = rows.iter().take_while(|row| {
        below += row.height();
        below <= height
    });
    fit.count().max(1).min(rows.len())
}

/// The height of the strips: all that is left of the sheet, or the least that holds all rows.
fn shared_height(rows: &[Row<'_>], strips: usize, room: f64) -> f64 {
    let all = |height: f64| {
        let mut rest = rows;
        for _ in 0..strips {
            rest = &rest[rows_within(rest, height)..];
        }
        rest.is_empty()
    };
    if strips == 1 || !all(room) {
        return room;
    }
    let (mut low, mut high) = (0.0, room);
    for _ in 0..30 {
        let height = (low + high) / 2.0;
        if all(height) {
            high = height;
        } else {
            low = height;
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::listing::Align;

    fn rows(heights: &[usize]) -> Vec<Row<'static>> {
        let fonts = crate::paper::Fonts::own();
        let line = fonts.run("x", Weight::Plain, BODY);
        let row = |lines: &usize| Row {
            boxed: false,
            number: None,
            cells: vec![(0.0, Align::Left, 9.0, vec![line.clone(); *lines])],
            words: Cow::Borrowed(""),
        };
        heights.iter().map(row).collect()
    }

    #[test]
    fn strips_of_the_last_sheet_are_as_low_as_their_rows_allow() {
        let rows = rows(&[1; 10]);
        let one = rows[0].height();
        let close = |height: f64, lines: f64| (height - lines * one).abs() < 1e-3;
        assert!(close(shared_height(&rows, 3, 100.0 * one), 4.0));
        assert!(close(shared_height(&rows, 2, 100.0 * one), 5.0));
        // Not all have room: the sheet is filled.
        assert_eq!(shared_height(&rows, 2, 4.5 * one), 4.5 * one);
        assert_eq!(rows_within(&rows, 4.5 * one), 4);
    }

    #[test]
    fn a_row_without_room_is_drawn_all_the_same() {
        assert_eq!(rows_within(&rows(&[9, 1]), 1.0), 1);
        assert_eq!(rows_within(&[], 1.0), 0);
    }
}
