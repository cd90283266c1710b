//! Inputs that are nearly right: real ones with bytes, words, lines and whole stretches changed.
//! Nearly right ones come further into a reader than noise does.

use std::ops::Range;

use super::dice::Seeded;

/// The most bytes of a mutated input.
const MOST: usize = 16 << 10;

/// What readers trip over, in JSON and in CSV.
const WORDS: [&[u8]; 64] = [
    b"{",
    b"}",
    b"[",
    b"]",
    b",",
    b":",
    b"\"",
    b"\"\"",
    b"\\",
    b"null",
    b"true",
    b"NaN",
    b"-Infinity",
    b"0",
    b"-0",
    b"-1",
    b"1",
    b"2",
    b"20",
    b"21",
    b"63",
    b"64",
    b"65",
    b"255",
    b"256",
    b"65535",
    b"65536",
    b"1000000",
    b"1000001",
    b"4294967295",
    b"4294967296",
    b"18446744073709551615",
    b"18446744073709551616",
    b"-9223372036854775809",
    b"1e400",
    b"1.5",
    b"0.05",
    b"1e3",
    b"\"\\ud800\"",
    b"\"\\udc00\\ud800\"",
    b"\"\\u0000\"",
    b"\"\\u202e\"",
    b"\xef\xbb\xbf",
    b"\xff\xfe",
    b"\xc3",
    b"\xe2\x80\xae",
    b"\r\n",
    b"\n",
    b"\r",
    b"\0",
    b";",
    b" ",
    b"'",
    b"=1+1",
    b"(",
    b")",
    b"(1)",
    b"{\"blank\":true}",
    b"\"\"",
    b"b1",
    b"p1",
    b"[[[[[[[[[[[[[[[[",
    b"{\"a\":{\"a\":{\"a\":",
    b"[]",
];

/// One of the samples, changed in one to five places.
pub(crate) fn mutated(dice: &mut Seeded, samples: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = dice.pick(samples).clone();
    let mut left = 1 + dice.below(5);
    while left > 0 {
        left -= 1;
        change(dice, &mut bytes, samples);
    }
    bytes.truncate(MOST);
    bytes
}

fn change(dice: &mut Seeded, bytes: &mut Vec<u8>, samples: &[Vec<u8>]) {
    let at = dice.below(bytes.len() + 1);
    match dice.below(16) {
        0 => {
            if let Some(byte) = bytes.get_mut(at) {
                *byte ^= 1 << dice.below(8);
            }
        }
        1 => {
            if let Some(byte) = bytes.get_mut(at) {
                *byte = dice.below(256) as u8;
            }
        }
        2 => bytes.truncate(at),
        3 => drop(bytes.drain(stretch(dice, at, bytes.len()))),
        // The same again, here or elsewhere.
        4 => {
            let copy = bytes[stretch(dice, at, bytes.len())].to_vec();
            let to = dice.below(bytes.len() + 1);
            put(bytes, to..to, &copy);
        }
        5 => {
            let copy = bytes[stretch(dice, at, bytes.len().min(at + 40))].to_vec();
            let many = copy.repeat(1 + dice.below(200));
            put(bytes, at..at, &many[..many.len().min(MOST)]);
        }
        6 => put(bytes, at..at, dice.pick::<&[u8]>(&WORDS)),
        7 | 8 => {
            let word = word(bytes, at);
            put(bytes, word, dice.pick::<&[u8]>(&WORDS));
        }
        // Words of the input itself in other places: what is well-formed stays so.
        9..=11 => {
            let from = dice.below(bytes.len() + 1);
            let copy = bytes[word(bytes, from)].to_vec();
            let to = word(bytes, at);
            put(bytes, to, &copy);
        }
        12 => {
            let line = line(bytes, at);
            let copy = bytes.drain(line).collect::<Vec<_>>();
            if dice.below(2) == 0 {
                let to = dice.below(bytes.len() + 1);
                let to = line_start(bytes, to);
                put(bytes, to..to, &copy);
            }
        }
        13 => {
            let line = line(bytes, at);
            let copy = bytes[line.clone()].to_vec();
            put(bytes, line.start..line.start, &copy);
        }
        14 => {
            let other = dice.pick(samples);
            let from = line_start(other, dice.below(other.len() + 1));
            let at = line_start(bytes, at);
            bytes.truncate(at);
            bytes.extend_from_slice(&other[from..]);
        }
        _ => {
            let ends: &[u8] = if dice.below(2) == 0 { b"\r\n" } else { b"\n\n" };
            let lines: Vec<&[u8]> = bytes.split(|b| *b == b'\n').collect();
            *bytes = lines.join(ends);
        }
    }
}

fn put(bytes: &mut Vec<u8>, at: Range<usize>, new: &[u8]) {
    if bytes.len() + new.len() <= 2 * MOST {
        bytes.splice(at, new.iter().copied());
    }
}

/// From a place on, mostly a few bytes.
fn stretch(dice: &mut Seeded, at: usize, end: usize) -> Range<usize> {
    let most = if dice.below(4) == 0 { 600 } else { 12 };
    at..end.min(at + dice.below(most)).max(at)
}

/// The text in quotes, number or name that is at a place, or the one byte there.
fn word(bytes: &[u8], at: usize) -> Range<usize> {
    let is_end = |b: &u8| b"{}[],:\n\r ;".contains(b);
    let end = at + bytes[at..].iter().take_while(|b| !is_end(b)).count();
    let start = at - bytes[..at].iter().rev().take_while(|b| !is_end(b)).count();
    if start == end {
        at..bytes.len().min(at + 1)
    } else {
        start..end
    }
}

fn line_start(bytes: &[u8], at: usize) -> usize {
    let before = bytes[..at].iter().rposition(|b| *b == b'\n');
    before.map_or(0, |before| before + 1)
}

/// With its end.
fn line(bytes: &[u8], at: usize) -> Range<usize> {
    let start = line_start(bytes, at);
    let length = bytes[start..].iter().position(|b| *b == b'\n');
    start..length.map_or(bytes.len(), |length| start + length + 1)
}

/// A snapshot as a later version may write it: with its number, with names that are not known yet
/// wherever there can be some, and closed by its checksum.
pub(crate) fn of_later_version(snapshot: &str) -> String {
    let mut text = snapshot.replacen("\"version\":1,", "\"version\":2,\"wear\":[{\"a\":[]}],", 1);
    for known in [
        "\"code\":",
        "\"number\":",
        "\"pages\":",
        "\"id\":",
        "\"holds\":",
        "\"seq\":",
    ] {
        let unknown = format!("\"worn\":{{\"at\":[1.5,null,\"\u{202e}\"]}},{known}");
        text = text.replace(known, &unknown);
    }
    sealed_snapshot(&text)
}

/// Gives a snapshot the checksum that is right.
pub(crate) fn sealed_snapshot(snapshot: &str) -> String {
    const SUM: &str = ",\n\"sum\":\"";
    let body = &snapshot[..snapshot.rfind(SUM).unwrap()];
    format!("{body}{SUM}{:08x}\"}}\n", crc32fast::hash(body.as_bytes()))
}

/// Gives every line that has a checksum the one that is right, the header that of the steps carried
/// over, and chains the records: so that what is said in them is looked at, and not only that it is
/// not what was written.
pub(crate) fn resealed(journal: &[u8]) -> Vec<u8> {
    const SUM: &[u8] = b",\"sum\":\"";
    const PREV: &[u8] = b"\"prev\":\"";
    const CARRIED: &[u8] = b"\"carried\":{\"lines\":";
    let find = |line: &[u8], what: &[u8]| line.windows(what.len()).position(|w| w == what);
    let find_last = |line: &[u8], what: &[u8]| line.windows(what.len()).rposition(|w| w == what);
    let put = |line: &mut Vec<u8>, at: usize, sum: u32| {
        if at + 8 <= line.len() {
            line.splice(at..at + 8, format!("{sum:08x}").into_bytes());
        }
    };
    // A byte order mark is no part of the first line.
    let mark: &[u8] = b"\xef\xbb\xbf";
    let (mark, body) = match journal.strip_prefix(mark) {
        Some(body) => (mark, body),
        None => (&[][..], journal),
    };
    let lines: Vec<&[u8]> = body.split_inclusive(|b| *b == b'\n').collect();
    let mut sealed = mark.to_vec();
    let mut last = None;
    for (number, line) in lines.iter().enumerate() {
        let mut line = line.to_vec();
        if let Some(at) = find(&line, CARRIED).map(|at| at + CARRIED.len()) {
            let digits = line[at..].iter().take_while(|b| b.is_ascii_digit());
            let count = String::from_utf8(digits.copied().collect()).unwrap();
            let count: usize = count.parse().unwrap_or(0);
            let mut sum = crc32fast::Hasher::new();
            for carried in lines.iter().skip(number + 1).take(count) {
                let carried = carried.strip_suffix(b"\n").unwrap_or(carried);
                sum.update(carried.strip_suffix(b"\r").unwrap_or(carried));
                sum.update(b"\n");
            }
            if let Some(of) = find(&line[at..], SUM) {
                put(&mut line, at + of + SUM.len(), sum.finalize());
            }
        }
        let prev = find(&line, PREV).map(|at| at + PREV.len());
        if let (Some(at), Some(last)) = (prev, last) {
            put(&mut line, at, last);
        }
        if let Some(at) = find_last(&line, SUM) {
            let sum = crc32fast::hash(&line[..at]);
            put(&mut line, at + SUM.len(), sum);
            // The first record follows what the header says and not the header.
            last = prev.map(|_| sum);
        }
        sealed.append(&mut line);
    }
    sealed
}
