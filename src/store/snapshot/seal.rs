//! The checksum at the end of a snapshot.

use std::borrow::Cow;

use crate::store::position::hex;

/// Before it, everything is what the checksum is taken of.
const SUM: &str = ",\n\"sum\":\"";

/// Closes a snapshot with the CRC-32 of all its bytes so far.
pub(super) fn seal(text: &mut Vec<u8>) {
    let sum = crc32fast::hash(text);
    text.extend_from_slice(SUM.as_bytes());
    text.extend_from_slice(format!("{sum:08x}\"}}\n").as_bytes());
}

/// Whether a snapshot is byte for byte as it was written, line ends and byte order mark aside.
pub(super) fn holds(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let bytes = with_newlines(bytes);
    parts(&bytes).is_some_and(|(rest, sum)| crc32fast::hash(rest) == sum)
}

/// The checksum with which a snapshot was closed, whether or not it still holds.
pub(in crate::store) fn sealed_with(bytes: &[u8]) -> Option<u32> {
    parts(&with_newlines(bytes)).map(|(_, sum)| sum)
}

/// A carriage return never stands inside a JSON string, so taking them out loses nothing.
fn with_newlines(bytes: &[u8]) -> Cow<'_, [u8]> {
    match bytes.contains(&b'\r') {
        true => bytes.iter().copied().filter(|b| *b != b'\r').collect(),
        false => bytes.into(),
    }
}

/// What the checksum is taken of, and the checksum.
fn parts(bytes: &[u8]) -> Option<(&[u8], u32)> {
    let rest = bytes.strip_suffix(b"\n").unwrap_or(bytes);
    let rest = rest.strip_suffix(b"\"}")?;
    let (rest, sum) = rest.split_last_chunk::<8>()?;
    Some((rest.strip_suffix(SUM.as_bytes())?, hex::parse(sum)?))
}
