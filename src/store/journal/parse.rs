//! Reading a journal: which lines are whole and in order, without looking at what they do.

use serde::Deserialize;
use serde::de::IgnoredAny;
use serde_json::value::RawValue;

use super::{FORMAT, SUM, VERSION};
use crate::store::position::{Position, hex};
use crate::store::strings::Str;

/// A journal as far as it is whole.
#[derive(Debug)]
pub(in crate::store) struct Journal<'a> {
    pub(in crate::store) header: Header<'a>,
    pub(in crate::store) records: Vec<Record<'a>>,
    /// What stands at the end of the whole lines, if they do not reach the end of the file.
    pub(in crate::store) bad: Option<Bad>,
    /// Where the whole lines end.
    pub(in crate::store) whole: usize,
    /// Where header and carried lines end and the records begin.
    pub(in crate::store) begun: usize,
    /// The last whole line has no end of line yet.
    pub(in crate::store) lacks_newline: bool,
}

#[derive(Debug)]
pub(in crate::store) struct Header<'a> {
    pub(in crate::store) from: Position,
    pub(in crate::store) past: Vec<Step<'a>>,
    pub(in crate::store) undone: Vec<Step<'a>>,
    pub(in crate::store) is_cut: bool,
}

#[derive(Debug)]
pub(in crate::store) struct Step<'a> {
    pub(in crate::store) seq: u64,
    pub(in crate::store) at: Option<Str<'a>>,
    pub(in crate::store) label: Str<'a>,
    pub(in crate::store) changes: &'a str,
}

#[derive(Debug)]
pub(in crate::store) struct Record<'a> {
    pub(in crate::store) line: usize,
    /// Where the line begins in the file.
    pub(in crate::store) start: usize,
    pub(in crate::store) position: Position,
    pub(in crate::store) what: What<'a>,
}

#[derive(Debug)]
pub(in crate::store) enum What<'a> {
    Do(Step<'a>),
    Undo(u64),
    Redo(u64),
}

/// A line that is not as it was written, or not in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::store) struct Bad {
    /// From 1; 0 for a whole file of a later version.
    pub(in crate::store) line: usize,
    pub(in crate::store) what: String,
    /// It is the last line and its checksum does not hold: a write that was cut off looks so.
    pub(in crate::store) is_torn: bool,
    /// The file is of this later version.
    pub(in crate::store) later: Option<u64>,
}

impl Bad {
    fn at(line: usize, what: impl Into<String>) -> Self {
        Self {
            line,
            what: what.into(),
            is_torn: false,
            later: None,
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct HeaderText<'a> {
    #[serde(borrow)]
    format: Str<'a>,
    version: u64,
    from: Position,
    carried: Option<CarriedText>,
    #[serde(rename = "sum", with = "hex")]
    _sum: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CarriedText {
    lines: usize,
    #[serde(with = "hex")]
    sum: u32,
    #[serde(default)]
    cut: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct StepText<'a> {
    past: Option<u64>,
    undone: Option<u64>,
    #[serde(borrow)]
    at: Option<Str<'a>>,
    #[serde(borrow, rename = "do")]
    step: DoText<'a>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct DoText<'a> {
    #[serde(borrow)]
    label: Str<'a>,
    #[serde(borrow)]
    changes: &'a RawValue,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RecordText<'a> {
    seq: u64,
    #[serde(with = "hex")]
    prev: u32,
    #[serde(borrow)]
    at: Option<Str<'a>>,
    #[serde(borrow, rename = "do")]
    step: Option<DoText<'a>>,
    undo: Option<u64>,
    redo: Option<u64>,
    /// Looked at before the rest.
    #[serde(rename = "sum")]
    _sum: IgnoredAny,
}

/// Any version's header, to tell a later one from a damaged one.
#[derive(Deserialize)]
struct AnyHeader<'a> {
    #[serde(borrow)]
    format: Str<'a>,
    version: u64,
}

/// Bytes of the line of a step with one change.
const USUAL_LINE: usize = 140;

/// The lines of a file: `\n` ends one, a `\r` before it is let pass.
struct Lines<'a> {
    bytes: &'a [u8],
    at: usize,
    line: usize,
}

struct Line<'a> {
    bytes: &'a [u8],
    number: usize,
    start: usize,
    end: usize,
}

impl<'a> Iterator for Lines<'a> {
    type Item = Line<'a>;

    fn next(&mut self) -> Option<Line<'a>> {
        let rest = self.bytes.get(self.at..).filter(|rest| !rest.is_empty())?;
        let newline = memchr::memchr(b'\n', rest);
        let length = newline.unwrap_or(rest.len());
        let start = self.at;
        self.at += newline.map_or(length, |at| at + 1);
        self.line += 1;
        let bytes = &rest[..length];
        Some(Line {
            bytes: bytes.strip_suffix(b"\r").unwrap_or(bytes),
            number: self.line,
            start,
            end: self.at,
        })
    }
}

/// # Errors
/// The header, or what it says is carried over, is not whole: nothing can be read then.
pub(in crate::store) fn parse(bytes: &[u8]) -> Result<Journal<'_>, Bad> {
    let mut lines = Lines {
        bytes,
        at: if bytes.starts_with(b"\xef\xbb\xbf") {
            3
        } else {
            0
        },
        line: 0,
    };
    let first = lines.next().ok_or_else(|| Bad::at(1, "it is empty"))?;
    let (mut header, carried) = parse_header(&first)?;
    if let Some(carried) = carried {
        header.is_cut = carried.cut;
        parse_carried(&mut lines, &carried, &mut header)?;
    }
    let begun = lines.at;
    let mut journal = Journal {
        header,
        records: Vec::with_capacity((bytes.len() - begun) / USUAL_LINE),
        bad: None,
        whole: begun,
        begun,
        lacks_newline: false,
    };
    let mut last = journal.header.from;
    for line in lines {
        match parse_record(&line, last) {
            Ok(record) => {
                last = record.position;
                journal.whole = line.end;
                journal.records.push(record);
            }
            Err(mut bad) => {
                bad.is_torn &= line.end == bytes.len();
                if bad.is_torn && begins_whole(line.bytes) {
                    bad.is_torn = false;
                    bad.what = "a whole record runs on into something else".into();
                }
                journal.bad = Some(bad);
                break;
            }
        }
    }
    journal.lacks_newline = bytes[..journal.whole].last() != Some(&b'\n');
    Ok(journal)
}

fn parse_header<'a>(line: &Line<'a>) -> Result<(Header<'a>, Option<CarriedText>), Bad> {
    let bad = |what: String| Bad::at(line.number, what);
    let text = utf8(line)?;
    if let Ok(any) = serde_json::from_str::<AnyHeader<'_>>(text)
        && *any.format == *FORMAT
        && any.version > VERSION
    {
        return Err(Bad {
            later: Some(any.version),
            ..bad("it is of a later version".into())
        });
    }
    sum_of(line)?;
    let header: HeaderText<'a> =
        serde_json::from_str(text).map_err(|error| bad(error.to_string()))?;
    if *header.format != *FORMAT || header.version != VERSION {
        return Err(bad("it does not say that it is a journal".into()));
    }
    let made = Header {
        from: header.from,
        past: Vec::new(),
        undone: Vec::new(),
        is_cut: false,
    };
    Ok((made, header.carried))
}

fn parse_carried<'a>(
    lines: &mut Lines<'a>,
    carried: &CarriedText,
    header: &mut Header<'a>,
) -> Result<(), Bad> {
    let mut sum = crc32fast::Hasher::new();
    let mut number = lines.line;
    for _ in 0..carried.lines {
        number += 1;
        let missing = || Bad::at(number, "a step that was carried over is missing");
        let line = lines.next().ok_or_else(missing)?;
        sum.update(line.bytes);
        sum.update(b"\n");
        let text: StepText<'a> = serde_json::from_str(utf8(&line)?)
            .map_err(|error| Bad::at(number, error.to_string()))?;
        let (to, seq) = match (text.past, text.undone) {
            (Some(seq), None) if header.undone.is_empty() => (&mut header.past, seq),
            (None, Some(seq)) => (&mut header.undone, seq),
            _ => return Err(Bad::at(number, "it is not a step that was carried over")),
        };
        to.push(step(seq, text.at, text.step));
    }
    if sum.finalize() == carried.sum {
        Ok(())
    } else {
        Err(Bad::at(
            number,
            "the steps carried over are not as they were written",
        ))
    }
}

fn parse_record<'a>(line: &Line<'a>, last: Position) -> Result<Record<'a>, Bad> {
    let bad = |what: String| Bad::at(line.number, what);
    // An unsound line is torn if it is the last; a sound one in the wrong place never is.
    let unsound = |what: Bad| Bad {
        is_torn: true,
        ..what
    };
    let text = utf8(line).map_err(unsound)?;
    let chain = sum_of(line).map_err(unsound)?;
    let record: RecordText<'a> =
        serde_json::from_str(text).map_err(|error| bad(error.to_string()))?;
    if record.seq != last.seq.wrapping_add(1) {
        let expected = last.seq.wrapping_add(1);
        return Err(bad(format!(
            "record {expected} expected, found {}",
            record.seq
        )));
    }
    if record.prev != last.chain {
        return Err(bad("it does not follow the record before it".into()));
    }
    let what = match (record.step, record.undo, record.redo) {
        (Some(text), None, None) => What::Do(step(record.seq, record.at, text)),
        (None, Some(seq), None) => What::Undo(seq),
        (None, None, Some(seq)) => What::Redo(seq),
        _ => return Err(bad("it does not say one thing that was done".into())),
    };
    Ok(Record {
        line: line.number,
        start: line.start,
        position: Position {
            seq: record.seq,
            chain,
        },
        what,
    })
}

fn step<'a>(seq: u64, at: Option<Str<'a>>, text: DoText<'a>) -> Step<'a> {
    Step {
        seq,
        at,
        label: text.label,
        changes: text.changes.get(),
    }
}

fn utf8<'a>(line: &Line<'a>) -> Result<&'a str, Bad> {
    std::str::from_utf8(line.bytes).map_err(|_| Bad::at(line.number, "it is not UTF-8 text"))
}

/// The line's checksum, if it is right.
fn sum_of(line: &Line<'_>) -> Result<u32, Bad> {
    let bad = || Bad::at(line.number, "its checksum does not hold");
    let told = line.bytes.strip_suffix(b"\"}").ok_or_else(bad)?;
    let (rest, told) = told.split_last_chunk::<8>().ok_or_else(bad)?;
    let told = hex::parse(told).ok_or_else(bad)?;
    let rest = rest.strip_suffix(SUM.as_bytes()).ok_or_else(bad)?;
    if crc32fast::hash(rest) == told {
        Ok(told)
    } else {
        Err(bad())
    }
}

/// Whether a line that is not whole begins with a record that is, and runs on into something else.
/// No write that was cut off looks so; two lines whose line end was lost do, and the record may be
/// one that was kept. Zeros are nothing: a disk that made room for a line and lost power leaves them
/// where its end was to be.
fn begins_whole(line: &[u8]) -> bool {
    let sum = SUM.as_bytes();
    let mut found = line
        .windows(sum.len())
        .enumerate()
        .filter(|(_, at)| *at == sum);
    found.any(|(at, _)| {
        let told = line.get(at + sum.len()..at + sum.len() + 8);
        let closed = line.get(at + sum.len() + 8..at + sum.len() + 10);
        let behind = line.get(at + sum.len() + 10..).unwrap_or_default();
        closed == Some(b"\"}".as_slice())
            && (behind.is_empty() || behind.iter().any(|b| *b != 0))
            && told.and_then(hex::parse) == Some(crc32fast::hash(&line[..at]))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `tests/data/jsonl.json`, from jsonlines.org: a line ends at `\n` alone, so that no other
    /// character inside a string can end one; its source stands in the file.
    #[test]
    fn lines_are_those_of_json_lines() {
        let vectors = include_str!("../../../tests/data/jsonl.json");
        let vectors: serde_json::Value = serde_json::from_str(vectors).unwrap();
        for case in vectors["cases"].as_array().unwrap() {
            let name = &case["name"];
            let lines = Lines {
                bytes: case["text"].as_str().unwrap().as_bytes(),
                at: 0,
                line: 0,
            };
            let is_value = |line: Line<'_>| {
                serde_json::from_slice::<serde::de::IgnoredAny>(line.bytes).is_ok()
            };
            let valid: Vec<_> = lines.map(is_value).collect();
            let expected: Vec<_> = case["line_valid"].as_array().unwrap().iter().collect();
            assert_eq!(
                valid.len() as u64,
                case["lines"].as_u64().unwrap(),
                "{name}"
            );
            assert!(valid.iter().eq(expected), "{name}: {valid:?}");
        }
    }
}
