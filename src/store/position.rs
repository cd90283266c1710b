//! A place in the history of a collection: the number of a record and its checksum.

use std::fmt;

use serde::{Deserialize, Serialize};

/// The last record that something includes. `chain` is that record's checksum, so that files of
/// two histories are told apart. A new collection stands at 0, 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Position {
    pub seq: u64,
    #[serde(with = "hex")]
    pub chain: u32,
}

impl fmt::Display for Position {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({:08x})", self.seq, self.chain)
    }
}

/// Eight lowercase hex digits. Nothing else is taken: were capitals accepted too, a flipped bit
/// could turn one checksum into another way to write the same.
pub(super) mod hex {
    use serde::de::Error;
    use serde::{Deserializer, Serializer};

    use crate::store::strings::Str;

    pub(in crate::store) fn parse(text: &[u8]) -> Option<u32> {
        if text.len() != 8 {
            return None;
        }
        text.iter().try_fold(0, |sum, b| {
            let digit = match b {
                b'0'..=b'9' => b - b'0',
                b'a'..=b'f' => b - b'a' + 10,
                _ => return None,
            };
            Some(sum << 4 | u32::from(digit))
        })
    }

    pub(in crate::store) fn serialize<S: Serializer>(sum: &u32, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&format_args!("{sum:08x}"))
    }

    pub(in crate::store) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<u32, D::Error> {
        let text = <Str<'de> as serde::Deserialize>::deserialize(from)?;
        parse(text.as_bytes()).ok_or_else(|| D::Error::custom("8 lowercase hex digits expected"))
    }
}
