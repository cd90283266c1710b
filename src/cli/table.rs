//! Aligned tables of plain text.

use super::error::CliError;
use super::output::Output;
use crate::text::{columns, safe};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Align {
    Left,
    Right,
}

/// Rows under headings. Text of the cells is made harmless when it comes in.
pub(super) struct Table {
    headings: Vec<(&'static str, Align)>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(super) fn new(headings: &[(&'static str, Align)]) -> Self {
        Self {
            headings: headings.to_vec(),
            rows: Vec::new(),
        }
    }

    pub(super) fn row<T: AsRef<str>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let cells = cells.into_iter();
        let row = cells.map(|cell| safe(cell.as_ref()).into_owned());
        self.rows.push(row.collect());
    }

    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Columns in which every row is empty are left out.
    pub(super) fn print(&self, out: &mut Output) -> Result<(), CliError> {
        let used: Vec<usize> = (0..self.headings.len())
            .filter(|at| self.rows.iter().any(|row| !row[*at].is_empty()))
            .collect();
        let width = |at: &usize| {
            let cells = self.rows.iter().map(|row| columns(&row[*at]));
            cells.max().unwrap_or(0).max(columns(self.headings[*at].0))
        };
        let widths: Vec<usize> = used.iter().map(width).collect();
        let heading: Vec<&str> = self.headings.iter().map(|(name, _)| *name).collect();
        out.line(&self.aligned(&heading, &used, &widths))?;
        for row in &self.rows {
            out.line(&self.aligned(row, &used, &widths))?;
        }
        Ok(())
    }

    fn aligned<T: AsRef<str>>(&self, cells: &[T], used: &[usize], widths: &[usize]) -> String {
        let mut line = String::new();
        for (at, width) in used.iter().zip(widths) {
            let cell = cells[*at].as_ref();
            let space = " ".repeat(width.saturating_sub(columns(cell)));
            match self.headings[*at].1 {
                Align::Left => line.extend([cell, &space, "  "]),
                Align::Right => line.extend([&space, cell, "  "]),
            }
        }
        line.truncate(line.trim_end().len());
        line
    }
}
