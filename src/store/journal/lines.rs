//! Writing the lines of a journal.

use std::fmt::Write;

use super::{FORMAT, SUM, VERSION};
use crate::store::Entry;
use crate::store::history::{History, Kept};
use crate::store::position::Position;

/// The line of a record after `last`, with its end, and the position that it makes.
pub(in crate::store) fn record(
    last: Position,
    at: Option<&str>,
    entry: Entry<'_>,
) -> (String, Position) {
    let seq = last.seq + 1;
    let mut line = match entry {
        Entry::Do { label, changes } => String::with_capacity(changes.len() + label.len() + 128),
        Entry::Undo(_) | Entry::Redo(_) => String::with_capacity(128),
    };
    put(
        &mut line,
        format_args!("{{\"seq\":{seq},\"prev\":\"{:08x}\"", last.chain),
    );
    if let Some(at) = at {
        put(&mut line, format_args!(",\"at\":{}", quoted(at)));
    }
    match entry {
        Entry::Do { label, changes } => put_do(&mut line, label, changes),
        Entry::Undo(step) => put(&mut line, format_args!(",\"undo\":{step}")),
        Entry::Redo(step) => put(&mut line, format_args!(",\"redo\":{step}")),
    }
    let chain = seal(&mut line);
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
    put(line, format_args!("{SUM}{sum:08x}\"}}\n"));
    sum
}

fn put(to: &mut String, text: std::fmt::Arguments<'_>) {
    let written = to.write_fmt(text);
    debug_assert!(written.is_ok(), "a string takes all that is written to it");
}

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}
