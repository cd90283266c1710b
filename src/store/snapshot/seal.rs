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
    // A carriage return never stands inside a JSON string, so taking them out loses nothing.
    let bytes: Cow<'_, [u8]> = if bytes.contains(&b'\r') {
        bytes.iter().copied().filter(|b| *b != b'\r').collect()
    } else {
        bytes.into()
    };
    let parts = || {
        let rest = bytes.strip_suffix(b"\n").unwrap_or(&bytes);
        let rest = rest.strip_suffix(b"\"}")?;
        let (rest, sum) = rest.split_last_chunk::<8>()?;
        Some((rest.strip_suffix(SUM.as_bytes())?, hex::parse(sum)?))
    };
    parts().is_some_and(|(rest, sum)| crc32fast::hash(rest) == sum)
}
