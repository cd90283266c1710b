//! A listing as plain text, for a terminal, a pipe, a printer of text.

use super::{Align, BOX, Block, Listing, Table};
use crate::text::{columns, pad, safe, wrap};

/// Long lines are wrapped at so many columns.
const WIDTH: usize = 86;

impl Listing {
    /// Plain text, a line feed after every line. Words from outside are made harmless.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        for line in self.lines() {
            out.push_str(&line);
            out.push('\n');
        }
        out
    }

    /// The lines of [`Listing::text`] below the title.
    #[must_use]
    pub fn body(&self) -> Vec<String> {
        let mut lines = self.lines();
        lines.drain(..2.min(lines.len()));
        lines
    }

    /// The lines of [`Listing::text`].
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let mut lines = vec![self.title.clone()];
        let mut before: Option<&Block> = None;
        for block in &self.blocks {
            if is_apart(before, block) {
                lines.push(String::new());
            }
            match block {
                Block::Heading(words) => lines.push(words.clone()),
                Block::Words(words) => lines.extend(words.lines().map(Into::into)),
                Block::Subheading(words) => lines.push(format!("  {words}")),
                Block::Lines(words) => {
                    let words = words
                        .iter()
                        .flat_map(|line| wrap(&safe(line), WIDTH, usize::MAX, '…'));
                    lines.extend(words.map(|line| format!("  {line}")));
                }
                Block::Ticks(ticks) => lines.extend(ticks.iter().map(|tick| match tick.number {
                    Some(number) => format!("  [ ] {number:>3}  {}", tick.words),
                    None => format!("  [ ] {}", tick.words),
                })),
                Block::Numbered(ticks) => lines.extend(ticks.iter().map(|tick| {
                    let number = tick.number.map(|number| format!("{number:>4}  "));
                    format!("  {}{}", number.unwrap_or_default(), tick.words)
                })),
                Block::Grid(rows) => lines.extend(grid(rows)),
                Block::Tiles(tiles) => {
                    for (at, (words, rows)) in tiles.iter().enumerate() {
                        if at > 0 {
                            lines.push(String::new());
                        }
                        lines.push(format!("  {words}"));
                        lines.extend(grid(rows));
                    }
                }
                Block::Table(table) => lines.extend(aligned(table)),
            }
            before = Some(block);
        }
        (lines.iter())
            .map(|line| safe(line.trim_end()).into_owned())
            .collect()
    }
}

/// Whether a blank line stands between the two.
fn is_apart(before: Option<&Block>, block: &Block) -> bool {
    !matches!(
        (before, block),
        (
            Some(Block::Heading(_)),
            Block::Lines(_) | Block::Table(_) | Block::Numbered(_)
        ) | (
            Some(Block::Subheading(_)),
            Block::Grid(_) | Block::Ticks(_) | Block::Table(_)
        ) | (Some(Block::Grid(_)), Block::Ticks(_))
            | (Some(Block::Words(_)), Block::Lines(_))
    )
}

pub(super) fn grid(rows: &[Vec<String>]) -> Vec<String> {
    let plain = |cell: &String| safe(&cell.replace(BOX, "[ ]")).into_owned();
    let cells = rows.iter().flatten();
    let width = cells.map(|cell| columns(&plain(cell))).max().unwrap_or(1);
    let row = |row: &Vec<String>| {
        let cells = row.iter().map(|cell| {
            let cell = plain(cell);
            let space = " ".repeat(width.saturating_sub(columns(&cell)));
            format!("{space}{cell}")
        });
        format!("      | {} |", cells.collect::<Vec<_>>().join(" | "))
    };
    rows.iter().map(row).collect()
}

/// Columns in which every row is empty are left out.
fn aligned(table: &Table) -> Vec<String> {
    let used = table.used();
    let cell = |words: &str| safe(words).into_owned();
    let heads: Vec<String> = table.heads.iter().map(|(head, _)| head.clone()).collect();
    let rows: Vec<Vec<String>> = (std::iter::once(&heads).chain(&table.rows))
        .map(|row| used.iter().map(|at| cell(&row[*at])).collect())
        .collect();
    let width = |at: usize| rows.iter().map(|row| columns(&row[at])).max().unwrap_or(0);
    let widths: Vec<usize> = (0..used.len()).map(width).collect();
    let line = |(number, row): (usize, &Vec<String>)| {
        let mut line = match (table.boxes, number) {
            (false, _) => String::new(),
            (true, 0) => "    ".into(),
            (true, _) => "[ ] ".into(),
        };
        for ((cell, width), at) in row.iter().zip(&widths).zip(&used) {
            match table.heads[*at].1 {
                Align::Left => line.push_str(&pad(cell, *width, '…')),
                Align::Right => {
                    line.push_str(&" ".repeat(width.saturating_sub(columns(cell))));
                    line.push_str(cell);
                }
            }
            line.push_str("  ");
        }
        line.trim_end().to_owned()
    };
    rows.iter().enumerate().map(line).collect()
}
