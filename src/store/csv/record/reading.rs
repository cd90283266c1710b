//! One record, byte by byte.

use super::behind::Behind;
use super::{
    AFTER_QUOTE, At, Fault, LEFT_OPEN, LONE_CR, MOST_KEPT, NUL, Record, STRAY_QUOTE, TOO_LONG,
    UNCLOSED, next_line,
};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    FieldStart,
    Plain,
    Quoted,
    /// Behind a quote in a quoted field: its end, or the first of two.
    QuoteInQuoted,
    /// Behind a carriage return that is not quoted.
    Return,
}

/// A record while it is read.
pub(super) struct Reading<'a> {
    record: &'a mut Record,
    state: State,
    pub(super) at: At,
    /// Where the last quoted field begins.
    opened: At,
    pub(super) fault: Option<Fault>,
    pub(super) passed: u64,
    is_too_long: bool,
    /// A quote was left open, so that what stands behind its line was no part of the record.
    pub(super) is_left_open: bool,
    pub(super) behind: &'a mut Behind,
}

impl<'a> Reading<'a> {
    pub(super) fn begin(record: &'a mut Record, at: At, behind: &'a mut Behind) -> Self {
        behind.open();
        Self {
            record,
            state: State::FieldStart,
            at,
            opened: at,
            fault: None,
            passed: 0,
            is_too_long: false,
            is_left_open: false,
            behind,
        }
    }
}

impl Reading<'_> {
    fn fault(&mut self, at: At, why: &'static str) {
        // The fields before this one have ended.
        let field = self.record.ends.len();
        self.fault.get_or_insert(Fault { at, field, why });
    }

    /// Takes one byte; `true` when the record has ended.
    pub(super) fn byte(&mut self, byte: u8) -> bool {
        self.passed += 1;
        let at = self.at;
        self.at = match byte {
            b'\n' => next_line(at),
            _ => At {
                byte: at.byte + 1,
                ..at
            },
        };
        if byte == 0 {
            self.fault(at, NUL);
        }
        if matches!(self.state, State::Quoted | State::QuoteInQuoted) {
            self.behind.quoted(byte, at.line);
        }
        if self.state == State::Return {
            if byte == b'\n' {
                self.end_field();
                return true;
            }
            let before = At {
                byte: at.byte - 1,
                ..at
            };
            self.fault(before, LONE_CR);
            self.state = State::Plain;
        }
        match (self.state, byte) {
            (State::Quoted, b'"') => self.state = State::QuoteInQuoted,
            (State::Quoted, _) => {
                self.keep(byte, at);
                // A quote that is open for so long was left open.
                self.is_left_open = self.is_too_long && self.behind.line.is_some();
                return self.is_left_open;
            }
            (State::QuoteInQuoted, b'"') => {
                self.keep(b'"', at);
                self.state = State::Quoted;
            }
            (_, b'\n') => {
                self.begin_field(at, false);
                self.end_field();
                return true;
            }
            (_, b'\r') => {
                self.begin_field(at, false);
                self.state = State::Return;
            }
            (_, b',') => {
                self.begin_field(at, false);
                self.end_field();
                self.state = State::FieldStart;
            }
            (State::FieldStart, b'"') => {
                self.begin_field(at, true);
                self.opened = at;
                self.behind.open();
                self.state = State::Quoted;
            }
            (State::QuoteInQuoted, _) => {
                if self.behind.line.is_some() {
                    self.is_left_open = true;
                    self.fault(self.opened, LEFT_OPEN);
                    return true;
                }
                self.fault(at, AFTER_QUOTE);
                self.state = State::Plain;
            }
            (_, b'"') => {
                self.begin_field(at, false);
                self.fault(at, STRAY_QUOTE);
                self.state = State::Plain;
            }
            (_, _) => {
                self.begin_field(at, false);
                self.keep(byte, at);
                self.state = State::Plain;
            }
        }
        false
    }

    /// Takes what is plain text of an unquoted field up to the next byte that may be more, all at
    /// once; how many bytes that is.
    pub(super) fn text(&mut self, chunk: &[u8]) -> usize {
        if !matches!(self.state, State::Plain | State::FieldStart) {
            return 0;
        }
        // Not beyond what is kept: there the rest of a long field is passed over byte by byte.
        let room = MOST_KEPT.saturating_sub(self.record.data.len());
        let chunk = &chunk[..chunk.len().min(room)];
        // Letters and digits, which most bytes are, stand behind all of these.
        let may_be_more = |b: &u8| *b <= b',' && matches!(b, b',' | b'"' | b'\r' | b'\n' | 0);
        let many = chunk.iter().position(may_be_more).unwrap_or(chunk.len());
        if many == 0 {
            return 0;
        }
        self.begin_field(self.at, false);
        self.state = State::Plain;
        self.record.data.extend_from_slice(&chunk[..many]);
        self.passed += many as u64;
        self.at.byte += many as u64;
        many
    }

    /// Notes where a field begins, if it does here.
    fn begin_field(&mut self, at: At, quoted: bool) {
        if self.state == State::FieldStart {
            self.record.starts.push((at, quoted));
        }
    }

    fn end_field(&mut self) {
        self.record.ends.push(self.record.data.len());
    }

    fn keep(&mut self, byte: u8, at: At) {
        if self.record.data.len() < MOST_KEPT {
            self.record.data.push(byte);
        } else {
            self.is_too_long = true;
            self.fault(at, TOO_LONG);
        }
    }

    pub(super) fn end_of_file(&mut self) {
        match self.state {
            State::Quoted => {
                self.is_left_open = true;
                self.fault(self.opened, UNCLOSED);
            }
            State::Return => self.fault(self.at, LONE_CR),
            _ => {}
        }
        self.begin_field(self.at, false);
        self.end_field();
    }
}
