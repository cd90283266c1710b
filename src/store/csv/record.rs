//! Records of RFC 4180, section 2, read strictly, one at a time.
//!
//! The grammar with two relaxations: a line may end in LF alone, and text may hold any character
//! but a comma, a quote and line ends. Libraries at hand take stray and unterminated quotes for
//! text; a collection must not be filled by guesses, so the grammar is kept here.

use std::io::{self, BufRead};
use std::ops::Range;

use super::guard::unguard;

/// Bytes of one record that are kept; a longer one is refused and passed over.
const MOST_KEPT: usize = 1 << 20;
/// Bytes of one record that are passed over before the file is given up.
const MOST_PASSED: u64 = 1 << 28;

/// A place in the file, both from 1; `byte` counts within the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct At {
    pub(super) line: u64,
    pub(super) byte: u64,
}

/// What breaks the grammar, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Fault {
    pub(super) at: At,
    /// In which field of its record, from 0.
    pub(super) field: usize,
    pub(super) why: &'static str,
}

const STRAY_QUOTE: &str =
    "a quote inside a field; put the whole field in quotes and double each quote in it";
const AFTER_QUOTE: &str = "text behind the closing quote; a quote inside a field is doubled";
const UNCLOSED: &str = "the quote that opens here is never closed";
const LONE_CR: &str = "a carriage return without a line feed; lines end in CRLF or LF";
const NUL: &str = "a byte of value 0, which no text has";
const TOO_LONG: &str = "the row is longer than 1 MiB from here on; is a quote left open?";
const NOT_UTF8: &str = "a byte that is not UTF-8; save the file as UTF-8";

/// A record, used again for the next.
#[derive(Debug)]
pub(super) struct Record {
    /// While it is read; empty when that is done.
    data: Vec<u8>,
    /// All fields one after the other, when it has been read; empty where it has a fault.
    text: String,
    ends: Vec<usize>,
    /// Where each field begins, and whether it is quoted.
    starts: Vec<(At, bool)>,
    /// The line on which the record begins.
    pub(super) line: u64,
}

impl Record {
    pub(super) fn new() -> Self {
        Self {
            data: Vec::new(),
            text: String::new(),
            ends: Vec::new(),
            starts: Vec::new(),
            line: 1,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.ends.len()
    }

    fn range(&self, field: usize) -> Range<usize> {
        let end = |field: usize| self.ends.get(field).copied().unwrap_or(0);
        let start = field.checked_sub(1).map_or(0, end);
        start..end(field).max(start)
    }

    /// The field's text; empty beyond the last.
    pub(super) fn field(&self, field: usize) -> &str {
        self.text.get(self.range(field)).unwrap_or_default()
    }

    /// Bytes of all fields.
    pub(super) fn bytes(&self) -> usize {
        self.text.len()
    }

    /// Bytes of the field.
    pub(super) fn length(&self, field: usize) -> usize {
        self.range(field).len()
    }

    /// Makes room for the next.
    fn clear(&mut self) {
        let room = std::mem::take(&mut self.text).into_bytes();
        if self.data.capacity() < room.capacity() {
            self.data = room;
        }
        self.data.clear();
        self.ends.clear();
        self.starts.clear();
    }

    /// All that was read is text from now on, unless it is not UTF-8.
    fn finish(&mut self) -> Option<Fault> {
        match String::from_utf8(std::mem::take(&mut self.data)) {
            // Two halves of a character in two fields are not one character.
            Ok(text) if self.ends.iter().all(|end| text.is_char_boundary(*end)) => {
                self.text = text;
                None
            }
            Ok(text) => self.not_utf8(text.as_bytes()),
            Err(error) => self.not_utf8(error.as_bytes()),
        }
    }

    /// Takes away the guards that an export put before what looks like a formula.
    pub(super) fn unguard(&mut self) {
        if !self.text.contains('\'') {
            return;
        }
        let fields: Vec<String> = (0..self.len())
            .map(|field| unguard(self.field(field)).into_owned())
            .collect();
        self.text.clear();
        for (end, field) in self.ends.iter_mut().zip(fields) {
            self.text.push_str(&field);
            *end = self.text.len();
        }
    }

    /// A line with nothing on it.
    pub(super) fn is_blank(&self) -> bool {
        self.len() == 1 && self.text.is_empty() && !self.starts[0].1
    }

    fn not_utf8(&self, data: &[u8]) -> Option<Fault> {
        (0..self.len()).find_map(|field| {
            let bytes = data.get(self.range(field)).unwrap_or_default();
            let valid = std::str::from_utf8(bytes).err()?.valid_up_to();
            let (mut at, quoted) = self.starts[field];
            at.byte += u64::from(quoted);
            for byte in &bytes[..valid] {
                match byte {
                    b'\n' => at = next_line(at),
                    // A quote in a quoted field stands twice in the file.
                    b'"' => at.byte += 2,
                    _ => at.byte += 1,
                }
            }
            Some(Fault {
                at,
                field,
                why: NOT_UTF8,
            })
        })
    }
}

fn next_line(at: At) -> At {
    At {
        line: at.line + 1,
        byte: 1,
    }
}

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

/// The records of a file.
#[derive(Debug)]
pub(super) struct Records<R> {
    input: R,
    at: At,
}

impl<R: BufRead> Records<R> {
    pub(super) fn new(input: R) -> Self {
        Self {
            input,
            at: At { line: 1, byte: 1 },
        }
    }

    /// Reads the next record; `false` at the end of the file. A record with a fault is read to its
    /// end all the same, unless `hasty`.
    ///
    /// # Errors
    /// Reading fails, or a record does not end within 256 MiB.
    pub(super) fn read(
        &mut self,
        record: &mut Record,
        hasty: bool,
    ) -> io::Result<Option<Result<(), Fault>>> {
        record.clear();
        record.line = self.at.line;
        let mut reading = Reading {
            record,
            state: State::FieldStart,
            at: self.at,
            opened: self.at,
            fault: None,
            passed: 0,
        };
        let ended = loop {
            let chunk = match self.input.fill_buf() {
                Ok(chunk) => chunk,
                Err(e) if e.kind() == io::ErrorKind::Interrupted => continue,
                Err(e) => return Err(e),
            };
            if chunk.is_empty() {
                break false;
            }
            let mut used = 0;
            let mut ended = false;
            while used < chunk.len() {
                used += reading.text(&chunk[used..]);
                let Some(byte) = chunk.get(used) else {
                    break;
                };
                used += 1;
                ended = reading.byte(*byte);
                if ended || hasty && reading.fault.is_some() {
                    break;
                }
            }
            self.input.consume(used);
            if ended || hasty && reading.fault.is_some() {
                break true;
            }
            if reading.passed > MOST_PASSED {
                return Err(io::Error::new(
                    io::ErrorKind::InvalidData,
                    format!("the row that begins on line {} does not end", self.at.line),
                ));
            }
        };
        if !ended && reading.passed == 0 {
            return Ok(None);
        }
        if !ended {
            reading.end_of_file();
        }
        self.at = reading.at;
        let fault = reading.fault.take();
        let fault = fault.or_else(|| record.finish());
        Ok(Some(fault.map_or(Ok(()), Err)))
    }
}

struct Reading<'a> {
    record: &'a mut Record,
    state: State,
    at: At,
    /// Where the last quoted field begins.
    opened: At,
    fault: Option<Fault>,
    passed: u64,
}

impl Reading<'_> {
    fn fault(&mut self, at: At, why: &'static str) {
        // The fields before this one have ended.
        let field = self.record.ends.len();
        self.fault.get_or_insert(Fault { at, field, why });
    }

    /// Takes one byte; `true` when the record has ended.
    fn byte(&mut self, byte: u8) -> bool {
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
            (State::Quoted, _) => self.keep(byte, at),
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
                self.state = State::Quoted;
            }
            (State::QuoteInQuoted, _) => {
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
    fn text(&mut self, chunk: &[u8]) -> usize {
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
            self.fault(at, TOO_LONG);
        }
    }

    fn end_of_file(&mut self) {
        match self.state {
            State::Quoted => self.fault(self.opened, UNCLOSED),
            State::Return => self.fault(self.at, LONE_CR),
            _ => {}
        }
        self.begin_field(self.at, false);
        self.end_field();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Rows = Result<Vec<Vec<String>>, Fault>;

    fn rows(text: &[u8], buffer: usize) -> Rows {
        let input = io::BufReader::with_capacity(buffer, text);
        let mut records = Records::new(input);
        let mut record = Record::new();
        let mut rows = Vec::new();
        while let Some(read) = records.read(&mut record, false).unwrap() {
            read?;
            rows.push(
                (0..record.len())
                    .map(|at| record.field(at).into())
                    .collect(),
            );
        }
        Ok(rows)
    }

    fn cases() -> serde_json::Value {
        serde_json::from_str(include_str!("../../../tests/data/csv.json")).unwrap()
    }

    /// tests/data/csv.json: RFC 4180 (October 2005), section 2 and ABNF.
    #[test]
    fn every_text_of_the_grammar_is_read_and_no_other() {
        let mut read = 0;
        for case in cases()["cases"].as_array().unwrap() {
            let Some(valid) = case["valid"].as_bool() else {
                continue;
            };
            let text = case["text"].as_str().unwrap();
            for buffer in [1, 2, 3, 4096] {
                let found = rows(text.as_bytes(), buffer);
                if valid {
                    let expected: Vec<Vec<String>> =
                        serde_json::from_value(case["rows"].clone()).unwrap();
                    assert_eq!(found, Ok(expected), "{}", case["name"]);
                } else {
                    assert!(found.is_err(), "{}", case["name"]);
                }
            }
            read += 1;
        }
        assert!(read >= 22, "{read} cases");
    }

    #[test]
    fn a_fault_is_told_with_line_and_byte() {
        let fault = |text: &[u8]| {
            let fault = rows(text, 7).unwrap_err();
            (fault.at.line, fault.at.byte, fault.why)
        };
        let field = |text: &[u8]| rows(text, 7).unwrap_err().field;
        assert_eq!(field(b"x \"y\",z\r\n"), 0);
        assert_eq!(field(b"1,\"x\n\n\n"), 1);
        assert_eq!(field(b"\"x,y\",c,d\xFFe\n"), 2);
        assert_eq!(fault(b"a,b\r\nx \"y\",z\r\n"), (2, 3, STRAY_QUOTE));
        assert_eq!(fault(b"a,b\n\"x\" ,z\n"), (2, 4, AFTER_QUOTE));
        assert_eq!(fault(b"a,b\n1,\"x\n\n\n"), (2, 3, UNCLOSED));
        assert_eq!(fault(b"a,b\rc,d\r"), (1, 4, LONE_CR));
        assert_eq!(fault(b"a,b\nc,\0\n"), (2, 3, NUL));
        assert_eq!(fault(b"a,b\nc,d\xFFe\n"), (2, 4, NOT_UTF8));
        assert_eq!(fault(b"\"x\n\"\"y\"\"\xC3\",b\n"), (2, 6, NOT_UTF8));
        // Two halves of a character in two fields are not one character.
        assert_eq!(fault(b"a\xC3,\xA9b\n"), (1, 2, NOT_UTF8));
    }

    #[test]
    fn reading_goes_on_behind_a_bad_record() {
        let mut records = Records::new(&b"a\nb \"c\nd\n"[..]);
        let mut record = Record::new();
        let mut lines = Vec::new();
        while let Some(read) = records.read(&mut record, false).unwrap() {
            lines.push((record.line, read.is_ok()));
        }
        assert_eq!(lines, [(1, true), (2, false), (3, true)]);
    }

    #[test]
    fn a_huge_field_is_refused_without_being_kept() {
        let mut text = b"a,b\n1,".to_vec();
        text.resize(10_000_000, b'x');
        text.extend(b"\n2,y\n");
        let mut records = Records::new(&text[..]);
        let mut record = Record::new();
        let mut read = Vec::new();
        while let Some(result) = records.read(&mut record, false).unwrap() {
            read.push(result.map_err(|fault| fault.why));
            assert!(record.data.capacity() <= 2 * MOST_KEPT);
        }
        assert_eq!(read, [Ok(()), Err(TOO_LONG), Ok(())]);
    }

    proptest::proptest! {
        /// The csv crate writes rows; they are read back the same.
        #[test]
        fn what_another_writer_wrote_is_read_back(
            written in proptest::collection::vec(proptest::collection::vec("[a-c,\"\r\n é☂]{0,6}", 2..5), 0..6),
            lf in proptest::bool::ANY,
        ) {
            let mut out = csv::WriterBuilder::new();
            out.flexible(true);
            if !lf {
                out.terminator(csv::Terminator::CRLF);
            }
            let mut out = out.from_writer(Vec::new());
            for row in &written {
                out.write_record(row).unwrap();
            }
            let text = out.into_inner().unwrap();
            proptest::prop_assert_eq!(rows(&text, 5), Ok(written));
        }

        /// Where a strict reader finds nothing wrong, the csv crate finds the same fields.
        #[test]
        fn another_reader_agrees_where_nothing_is_wrong(text in "[ab,\"\n]{0,24}") {
            if let Ok(found) = rows(text.as_bytes(), 3) {
                let mut other = csv::ReaderBuilder::new();
                let mut other = other.has_headers(false).flexible(true).from_reader(text.as_bytes());
                let others: Vec<Vec<String>> = other
                    .records()
                    .map(|record| record.unwrap().iter().map(Into::into).collect())
                    .collect();
                // The crate drops blank lines.
                let found: Vec<_> = found.into_iter().filter(|row| row != &[""]).collect();
                let others: Vec<_> = others.into_iter().filter(|row| row != &[""]).collect();
                proptest::prop_assert_eq!(found, others);
            }
        }
    }
}
