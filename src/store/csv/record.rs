//! Records of RFC 4180, section 2, read strictly, one at a time.
//!
//! The grammar with two relaxations: a line may end in LF alone, and text may hold any character
//! but a comma, a quote and line ends. Libraries at hand take stray and unterminated quotes for
//! text; a collection must not be filled by guesses, so the grammar is kept here.

mod behind;
mod reading;

use std::io::{self, BufRead};
use std::ops::Range;

use behind::Behind;
use reading::Reading;

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
const LEFT_OPEN: &str =
    "the quote that opens here is not closed in its row; a quote inside a field is doubled";
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

/// The records of a file.
#[derive(Debug)]
pub(super) struct Records<R> {
    input: R,
    at: At,
    behind: Behind,
}

impl<R: BufRead> Records<R> {
    pub(super) fn new(input: R) -> Self {
        Self {
            input,
            at: At { line: 1, byte: 1 },
            behind: Behind::default(),
        }
    }

    /// Reads the next record; `false` at the end of the file. A record with a fault is read to its
    /// end all the same, unless `hasty`; where a quote is left open, that is the end of the line on
    /// which it opens.
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
        let mut reading = Reading::begin(record, self.at, &mut self.behind);
        let ended = loop {
            let again = std::mem::take(&mut reading.behind.again);
            let is_again = reading.behind.used < again.len();
            let chunk = match is_again {
                true => &again[reading.behind.used..],
                false => match self.input.fill_buf() {
                    Ok(chunk) => chunk,
                    Err(e) if e.kind() == io::ErrorKind::Interrupted => continue,
                    Err(e) => return Err(e),
                },
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
            if is_again {
                reading.behind.used += used;
                reading.behind.again = again;
            } else {
                reading.behind.used = 0;
                self.input.consume(used);
            }
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
        if reading.is_left_open
            && !hasty
            && let Some(line) = reading.behind.line
        {
            reading.behind.take_back();
            self.at = At { line, byte: 1 };
        }
        let fault = reading.fault.take();
        let fault = fault.or_else(|| record.finish());
        Ok(Some(fault.map_or(Ok(()), Err)))
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

    /// The bad records by the place that is told of them, and how many good ones there are.
    fn told(text: &[u8], buffer: usize) -> (Vec<(u64, &'static str)>, usize) {
        let mut records = Records::new(io::BufReader::with_capacity(buffer, text));
        let (mut record, mut bad, mut good) = (Record::new(), Vec::new(), 0);
        while let Some(read) = records.read(&mut record, false).unwrap() {
            match read {
                Ok(()) => good += 1,
                Err(fault) => bad.push((fault.at.line, fault.why)),
            }
        }
        (bad, good)
    }

    #[test]
    fn a_quote_that_is_left_open_costs_the_rows_of_its_own_line_alone() {
        for buffer in [1, 2, 7, 4096] {
            let text = b"a,b\n1,\"2\n3,4\n5,\"x\ny\"\n6,7";
            assert_eq!(told(text, buffer), (vec![(2, LEFT_OPEN)], 4));
            let text = b"a,b\n1,\"2\n3,4\n5,\"\"\n6,7\n";
            assert_eq!(told(text, buffer), (vec![(2, UNCLOSED)], 4));
            let text = b"\"x\ny\",\"2\r\n3,4\r\n5,\"6\r\n7,8\r\n";
            assert_eq!(told(text, buffer), (vec![(2, LEFT_OPEN), (4, UNCLOSED)], 2));
            assert_eq!(told(b"a\n\"b", buffer), (vec![(2, UNCLOSED)], 1));
        }
        let many = 300_000;
        let mut text = b"\"a,1\n".to_vec();
        text.extend(b"b,22\n".repeat(many));
        let (bad, good) = told(&text, 1 << 16);
        assert_eq!((bad.len(), bad[0].1, good), (1, TOO_LONG, many));
        let mut text = vec![b'"'];
        text.resize(2 << 20, b'x');
        text.extend(b"\nb,2\n");
        let (bad, good) = told(&text, 1 << 16);
        assert_eq!((bad.len(), bad[0].1, good), (1, TOO_LONG, 1));
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
