//! What is round the things to be cut out: cut marks, and a line to measure after printing.

use super::drawing::{Pen, Sheet, Turn};
use super::font::{Fonts, Weight};
use super::measure::{Area, mm};

/// What printers cannot reach at the edges. (Common practice, no source.)
pub(super) const MARGIN: f64 = 5.0;

/// The room that the check line takes across itself.
pub(super) const CHECK: f64 = 9.0;

const CHECK_LENGTH: f64 = 100.0;
const WORDS: f64 = 2.8;

/// A line to measure after printing, across at the foot of the sheet or down at its left edge.
/// It is 100 mm long, or 50 or 20 on narrow paper.
pub(super) fn check_line(sheet: &mut Sheet, fonts: &Fonts<'_>, turn: Turn) {
    let side = match turn {
        Turn::Across => sheet.size.width,
        Turn::Down | Turn::Up => sheet.size.height,
    };
    let lengths = [CHECK_LENGTH, 50.0, 20.0];
    let fits = lengths
        .into_iter()
        .find(|length| length + 2.0 * MARGIN <= side);
    let Some(length) = fits else { return };
    let begin = match turn {
        Turn::Across => ((side - length) / 2.0, sheet.size.height - MARGIN - 5.0),
        Turn::Down => (MARGIN + 5.0, (side - length) / 2.0),
        Turn::Up => (MARGIN + 2.0, (side + length) / 2.0),
    };
    let at = |along, below| turn.point(begin, along, below);
    sheet.line(at(0.0, 0.0), at(length, 0.0), Pen::FINE);
    for end in [0.0, length] {
        sheet.line(at(end, -1.5), at(end, 1.5), Pen::FINE);
    }
    let all = format!(
        "{} mm: print at 100 %, no scaling, and measure this line",
        mm(length)
    );
    let short = format!("{} mm at 100 %", mm(length));
    for words in [all, short] {
        let run = fonts.run(&words, Weight::Plain, WORDS);
        if run.width() <= side - 2.0 * MARGIN {
            let along = (length - run.width()) / 2.0;
            sheet.text(run, at(along, 4.2), turn);
            return;
        }
    }
}

/// Marks at the corners of something to be cut out, outside of it.
pub(super) fn cut_marks(sheet: &mut Sheet, area: Area) {
    for (x, away) in [(area.x, -1.0), (area.right(), 1.0)] {
        for (y, off) in [(area.y, -1.0), (area.bottom(), 1.0)] {
            sheet.line((x + away, y), (x + 3.0 * away, y), Pen::FINE);
            sheet.line((x, y + off), (x, y + 3.0 * off), Pen::FINE);
        }
    }
}

/// Marks outside of a grid, at the lines along which it is cut.
pub(super) fn grid_marks(sheet: &mut Sheet, grid: Area, columns: usize, rows: usize) {
    for column in 0..=columns {
        let x = grid.x + grid.width * column as f64 / columns as f64;
        sheet.line((x, grid.y - 1.0), (x, grid.y - 3.0), Pen::FINE);
        sheet.line(
            (x, grid.bottom() + 1.0),
            (x, grid.bottom() + 3.0),
            Pen::FINE,
        );
    }
    for row in 0..=rows {
        let y = grid.y + grid.height * row as f64 / rows as f64;
        sheet.line((grid.x - 1.0, y), (grid.x - 3.0, y), Pen::FINE);
        sheet.line((grid.right() + 1.0, y), (grid.right() + 3.0, y), Pen::FINE);
    }
}
