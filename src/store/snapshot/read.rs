//! Reading a snapshot in one pass: pockets are looked up as they are met, so no text of a pocket
//! is ever stored. Only where a hand edit has put binders before sets, or pages before what is
//! said of their binder, that part is kept aside as it stands and read at the end.
//!
//! The sets of a large one are read by several hands at once, and then its binders.

mod binder;
mod each;
mod later;
mod page;
mod set;
mod shared;
mod top;

pub(in crate::store) use later::read_later;

use super::{FORMAT, VERSION, seal};
use crate::model::{Builder, Collection};
use crate::store::position::Position;

/// A snapshot that has been read.
#[derive(Clone, Debug)]
pub struct Snapshot {
    pub collection: Collection,
    /// The last journal record that it includes.
    pub through: Position,
    /// It is not byte for byte as it was written.
    pub is_altered: bool,
}

/// Why a snapshot cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadError {
    /// Lines and columns count from 1, columns in bytes.
    #[error("line {line}, column {column}: {what}")]
    At {
        line: usize,
        column: usize,
        what: String,
    },
    #[error("it is of version {0} of its format")]
    Later(u64),
}

/// Reads a snapshot. Any order of keys is taken, a byte order mark and `\r\n` are let pass;
/// unknown and repeated keys are refused.
///
/// # Errors
/// Says where the text is not a snapshot, or that it is of a later version.
pub fn read_snapshot(bytes: &[u8]) -> Result<Snapshot, ReadError> {
    let body = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = std::str::from_utf8(body).map_err(|error| {
        let (line, column) = place(&body[..error.valid_up_to()]);
        ReadError::At {
            line,
            column,
            what: "this is not UTF-8 text".into(),
        }
    })?;
    read_text(text, text.len() >= SHARED_FROM)
}

/// A text of more bytes is read by several hands at once.
const SHARED_FROM: usize = 1 << 18;

fn read_text(text: &str, by_several: bool) -> Result<Snapshot, ReadError> {
    let mut builder = Builder::new();
    let mut read = top::read(text, &mut builder, by_several);
    if by_several && read.is_err() {
        // What is wrong is told as one hand finds it: the first fault in the text.
        builder = Builder::new();
        read = top::read(text, &mut builder, false);
    }
    let through = read.map_err(|error| later(text).unwrap_or(error))?;
    let collection = builder.finish().map_err(|refused| ReadError::At {
        line: 1,
        column: 1,
        what: refused.to_string(),
    })?;
    Ok(Snapshot {
        collection,
        through,
        is_altered: !seal::holds(text.as_bytes()),
    })
}

/// What could not be read may be of a later version, of which only these two keys are known.
fn later(text: &str) -> Option<ReadError> {
    #[derive(serde::Deserialize)]
    struct AnyVersion<'a> {
        #[serde(borrow)]
        format: crate::store::strings::Str<'a>,
        version: u64,
    }
    let any: AnyVersion<'_> = serde_json::from_str(text).ok()?;
    let is_later = *any.format == *FORMAT && any.version > VERSION;
    is_later.then_some(ReadError::Later(any.version))
}

/// Line and column of the byte after these.
fn place(before: &[u8]) -> (usize, usize) {
    let line = before.iter().filter(|b| **b == b'\n').count() + 1;
    let start = before
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |at| at + 1);
    (line, before.len() - start + 1)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::model::random::collections;
    use crate::store::write_snapshot;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn several_hands_read_the_same_as_one(collection in collections(), cut in any::<prop::sample::Index>()) {
            let bytes = write_snapshot(&collection, Position::default());
            let text = std::str::from_utf8(&bytes).unwrap();
            let whole = [false, true].map(|by_several| {
                let read = read_text(text, by_several).unwrap();
                assert_eq!(read.collection.check(), []);
                write_snapshot(&read.collection, read.through)
            });
            prop_assert_eq!(&whole[0], &bytes);
            prop_assert_eq!(&whole[1], &bytes);
            // With a character that is another: what one hand refuses, several do not take. They
            // tell the same because one hand then reads it again.
            let mut bytes = bytes;
            let at = cut.index(bytes.len());
            bytes[at] = b'?';
            if let Ok(text) = std::str::from_utf8(&bytes) {
                let [one, several] = [false, true].map(|by_several| read_text(text, by_several));
                prop_assert_eq!(one.err(), several.err());
            }
        }
    }
}
