//! Writing the lines of a journal.

use std::fmt::Write;

use super::{FORMAT, SUM, VERSION};
use crate::store::Entry;
use crate::store::history::{History, Kept};
use crate::store::position::Position;

/// Changes of more bytes are not copied into their line.
const LONG: usize = 1 << 20;

/// A line, which long changes are no copy in.
#[derive(Debug)]
pub(in crate::store) struct Line<'a> {
    before: String,
    changes: &'a str,
    after: String,
}

impl Line<'_> {
    /// What is to be written, one after the other.
    pub(in crate::store) fn parts(&self) -> impl Iterator<Item = &[u8]> {
        let parts = [&self.before, self.changes, &self.after];
        parts
            .into_iter()
            .map(str::as_bytes)
            .filter(|p| !p.is_empty())
    }

    pub(in crate::store) fn bytes(&self) -> u64 {
        self.parts().map(|part| part.len() as u64).sum()
    }
}

/// The line of a record after `last`, with its end, and the position that it makes.
pub(in crate::store) fn record<'a>(
    last: Position,
    at: Option<&str>,
    entry: Entry<'a>,
) -> (Line<'a>, Position) {
    let seq = last.seq + 1;
    let mut line = match entry {
        Entry::Do { label, changes } if changes.len() <= LONG => {
            String::with_capacity(changes.len() + label.len() + 128)
        }
        _ => String::with_capacity(256),
    };
    put(
        &mut line,
        format_args!("{{\"seq\":{seq},\"prev\":\"{:08x}\"", last.chain),
    );
    if let Some(at) = at {
        put(&mut line, format_args!(",\"at\":{}", quoted(at)));
    }
    match entry {
        Entry::Do { label, changes } if changes.len() > LONG => {
            return long(line, (label, changes), seq);
        }
        Entry::Do { label, changes } => put_do(&mut line, label, changes),
        Entry::Undo(step) => put(&mut line, format_args!(",\"undo\":{step}")),
        Entry::Redo(step) => put(&mut line, format_args!(",\"redo\":{step}")),
    }
    let chain = seal(&mut line);
    let line = Line {
        before: line,
        changes: "",
        after: String::new(),
    };
    (line, Position { seq, chain })
}

/// The rest of a record whose changes are long.
fn long<'a>(
    mut before: String,
    (label, changes): (&str, &'a str),
    seq: u64,
) -> (Line<'a>, Position) {
    // What stands before and behind the changes is put as for no changes.
    put_do(&mut before, label, "");
    let mut after = before.split_off(before.len() - 1);
    let mut sum = crc32fast::Hasher::new();
    for part in [&before, changes, &after] {
        sum.update(part.as_bytes());
    }
    let chain = sum.finalize();
    put_sum(&mut after, chain);
    let line = Line {
        before,
        changes,
        after,
    };
    (line, Position { seq, chain })
}

/// The header and the lines that are carried over: the beginning of a new journal.
pub(in crate::store) fn begin(from: Position, history: &History) -> String {
    let mut carried = String::new();
    for (key, steps) in [("past", &history.done), ("undone", &history.undone)] {
        for step in steps {
            put_carried(&mut carried, key, step);
        }
    }
    let mut text = String::with_capacity(carried.len() + 256);
    put(
        &mut text,
        format_args!(
            "{{\"format\":\"{FORMAT}\",\"version\":{VERSION},\
             \"from\":{{\"seq\":{},\"chain\":\"{:08x}\"}}",
            from.seq, from.chain
        ),
    );
    let lines = history.done.len() + history.undone.len();
    if lines > 0 || history.is_cut {
        let sum = crc32fast::hash(carried.as_bytes());
        put(
            &mut text,
            format_args!(",\"carried\":{{\"lines\":{lines},\"sum\":\"{sum:08x}\""),
        );
        if history.is_cut {
            text.push_str(",\"cut\":true");
        }
        text.push('}');
    }
    seal(&mut text);
    text.push_str(&carried);
    text
}

fn put_carried(to: &mut String, key: &str, step: &Kept) {
    put(to, format_args!("{{\"{key}\":{}", step.seq));
    if let Some(at) = &step.at {
        put(to, format_args!(",\"at\":{}", quoted(at)));
    }
    put_do(to, &step.label, &step.changes);
    to.push_str("}\n");
}

fn put_do(to: &mut String, label: &str, changes: &str) {
    put(
        to,
        format_args!(",\"do\":{{\"label\":{},\"changes\":", quoted(label)),
    );
    to.push_str(changes);
    to.push('}');
}

/// Closes a line with its checksum and gives that.
fn seal(line: &mut String) -> u32 {
    let sum = crc32fast::hash(line.as_bytes());
    put_sum(line, sum);
    sum
}

fn put_sum(line: &mut String, sum: u32) {
    put(line, format_args!("{SUM}{sum:08x}\"}}\n"));
}

fn put(to: &mut String, text: std::fmt::Arguments<'_>) {
    let written = to.write_fmt(text);
    debug_assert!(written.is_ok(), "a string takes all that is written to it");
}

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::super::{What, parse};
    use super::*;

    /// The parser is the second opinion: it looks at the whole line.
    #[test]
    fn a_line_whose_changes_are_long_is_read_like_any_other() {
        let from = Position::default();
        for many in [1, LONG] {
            let changes = format!("[0{}]", ",0".repeat(many));
            let entry = Entry::Do {
                label: "“much”",
                changes: &changes,
            };
            let (line, position) = record(from, Some("2026-01-01T12:00:00Z"), entry);
            assert_eq!(line.parts().count() > 1, many == LONG);
            let mut text = begin(from, &History::default()).into_bytes();
            let begun = text.len() as u64;
            line.parts().for_each(|part| text.extend_from_slice(part));
            assert_eq!(text.len() as u64, begun + line.bytes());
            let journal = parse(&text).unwrap();
            assert!(journal.bad.is_none(), "{:?}", journal.bad);
            assert_eq!(journal.records[0].position, position);
            let What::Do(step) = &journal.records[0].what else {
                panic!("another entry");
            };
            assert_eq!((&*step.label, step.changes), ("“much”", &*changes));
        }
    }
}
