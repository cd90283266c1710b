//! A listing as Markdown, with tables and task lists as most readers of it know them.

use super::{Align, Block, Listing, Table};
use crate::text::safe;

impl Listing {
    /// Markdown: CommonMark, and the tables and boxes to tick of its usual extension.
    #[must_use]
    pub fn markdown(&self) -> String {
        let mut out = format!("# {}\n", plain(&self.title));
        for block in &self.blocks {
            out.push('\n');
            match block {
                Block::Heading(words) => out.push_str(&format!("## {}\n", plain(words))),
                Block::Subheading(words) => out.push_str(&format!("### {}\n", plain(words))),
                Block::Words(words) => {
                    let lines: Vec<String> = words.lines().map(plain).collect();
                    out.push_str(&format!("{}\n", lines.join("  \n")));
                }
                Block::Lines(lines) => {
                    for line in lines {
                        out.push_str(&format!("- {}\n", plain(line)));
                    }
                }
                Block::Ticks(ticks) => {
                    for tick in ticks {
                        let number = tick.number.map(|number| format!("{number}: "));
                        let words = plain(&tick.words);
                        out.push_str(&format!("- [ ] {}{words}\n", number.unwrap_or_default()));
                    }
                }
                Block::Numbered(ticks) => {
                    for tick in ticks {
                        let number = tick.number.map(|number| format!("{number}: "));
                        let words = plain(&tick.words);
                        out.push_str(&format!("- {}{words}\n", number.unwrap_or_default()));
                    }
                }
                Block::Grid(rows) => {
                    for line in super::plain::grid(rows) {
                        out.push_str(&format!("{line}\n"));
                    }
                }
                Block::Tiles(tiles) => {
                    for (at, (words, rows)) in tiles.iter().enumerate() {
                        let apart = if at > 0 { "\n" } else { "" };
                        out.push_str(&format!("{apart}### {}\n\n", plain(words)));
                        for line in super::plain::grid(rows) {
                            out.push_str(&format!("{line}\n"));
                        }
                    }
                }
                Block::Table(rows) => table(&mut out, rows),
            }
        }
        out
    }
}

fn table(out: &mut String, table: &Table) {
    let used = table.used();
    let mut row = |cells: &mut dyn Iterator<Item = String>, first: &str| {
        out.push('|');
        if table.boxes {
            out.push_str(first);
            out.push('|');
        }
        for cell in cells {
            out.push_str(&format!(" {cell} |"));
        }
        out.push('\n');
    };
    row(&mut used.iter().map(|at| plain(&table.heads[*at].0)), "   ");
    let rule = |at: &usize| match table.heads[*at].1 {
        Align::Left => "---".to_owned(),
        Align::Right => "---:".to_owned(),
    };
    row(&mut used.iter().map(rule), "---");
    for cells in &table.rows {
        row(&mut used.iter().map(|at| plain(&cells[*at])), " ☐ ");
    }
}

/// Words in which no sign is taken for a mark.
fn plain(words: &str) -> String {
    let words = safe(words);
    let mut out = String::with_capacity(words.len());
    for (at, c) in words.char_indices() {
        let first = at == 0;
        let mark = matches!(
            c,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '~' | '&' | '#'
        );
        // A number and a full stop begin a list, and so do these.
        let list = first && matches!(c, '-' | '+' | '=' | ':');
        let numbered = matches!(c, '.' | ')')
            && !first
            && words[..at].bytes().all(|byte| byte.is_ascii_digit());
        if mark || list || numbered {
            out.push('\\');
        }
        out.push(c);
    }
    out
}
