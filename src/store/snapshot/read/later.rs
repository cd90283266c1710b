//! A snapshot of a later version, as far as this one understands it.

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, Error, IgnoredAny, MapAccess, SeqAccess, Visitor};

use super::{Snapshot, VERSION, seal, top};
use crate::model::Builder;
use crate::store::snapshot::put::json;
use crate::store::strings::Str;

/// Every name that stands in a snapshot of this version, wherever it stands.
const KNOWN: &[&str] = &[
    "back",
    "binders",
    "blank",
    "cards",
    "chain",
    "code",
    "columns",
    "contents",
    "drafts",
    "finishes",
    "for",
    "format",
    "front",
    "front_matter",
    "holds",
    "id",
    "keepsake",
    "kind",
    "layout",
    "left_out",
    "loose",
    "name",
    "number",
    "opening",
    "pages",
    "pocket",
    "rarities",
    "rarity",
    "rows",
    "sections",
    "seq",
    "set",
    "sets",
    "shape",
    "shared",
    "shelf",
    "sides",
    "size",
    "spec",
    "sum",
    "symbol",
    "templates",
    "through",
    "title",
    "version",
];

/// Reads what a later version wrote by the rules of this one, names that it does not know passed
/// over. Good for showing only: to write it again would lose what was passed over. `None` where
/// the rest does not fit these rules, or the bytes are not as they were written: nothing is
/// guessed at.
pub(in crate::store) fn read_later(bytes: &[u8]) -> Option<Snapshot> {
    if !seal::holds(bytes) {
        return None;
    }
    let body = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = std::str::from_utf8(body).ok()?;
    let mut known = Vec::with_capacity(text.len());
    let mut from = serde_json::Deserializer::from_str(text);
    let copy = Copy {
        to: &mut known,
        is_top: true,
    };
    copy.deserialize(&mut from).ok()?;
    from.end().ok()?;
    let mut builder = Builder::new();
    let through = top::read(std::str::from_utf8(&known).ok()?, &mut builder, false).ok()?;
    Some(Snapshot {
        collection: builder.finish().ok()?,
        through,
        is_altered: false,
    })
}

/// Writes what is read, without the names that are not known, and with the version of this
/// program.
struct Copy<'t> {
    to: &'t mut Vec<u8>,
    is_top: bool,
}

impl Copy<'_> {
    fn inner(&mut self) -> Copy<'_> {
        Copy {
            to: &mut *self.to,
            is_top: false,
        }
    }

    fn put<E>(self, value: &impl serde::Serialize) -> Result<(), E> {
        json(self.to, value);
        Ok(())
    }
}

impl<'de> DeserializeSeed<'de> for Copy<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<(), D::Error> {
        from.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Copy<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("anything")
    }

    fn visit_unit<E: Error>(self) -> Result<(), E> {
        self.put(&())
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<(), E> {
        self.put(&value)
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<(), E> {
        self.put(&value)
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<(), E> {
        self.put(&value)
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<(), E> {
        self.put(&value)
    }

    fn visit_str<E: Error>(self, value: &str) -> Result<(), E> {
        self.put(&value)
    }

    fn visit_seq<A: SeqAccess<'de>>(mut self, mut seq: A) -> Result<(), A::Error> {
        self.to.push(b'[');
        let first = self.to.len();
        loop {
            let end = self.to.len();
            if end > first {
                self.to.push(b',');
            }
            if seq.next_element_seed(self.inner())?.is_none() {
                self.to.truncate(end);
                self.to.push(b']');
                return Ok(());
            }
        }
    }

    fn visit_map<A: MapAccess<'de>>(mut self, mut map: A) -> Result<(), A::Error> {
        self.to.push(b'{');
        let mut is_first = true;
        while let Some(key) = map.next_key::<Str<'de>>()? {
            if !KNOWN.contains(&&*key) {
                map.next_value::<IgnoredAny>()?;
                continue;
            }
            if !std::mem::replace(&mut is_first, false) {
                self.to.push(b',');
            }
            json(self.to, &*key);
            self.to.push(b':');
            if self.is_top && &*key == "version" {
                map.next_value::<IgnoredAny>()?;
                json(self.to, &VERSION);
            } else {
                map.next_value_seed(self.inner())?;
            }
        }
        self.to.push(b'}');
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use serde_json::Value;

    use super::*;

    fn names(schema: &Value, into: &mut BTreeSet<String>) {
        match schema {
            Value::Object(object) => {
                if let Some(Value::Object(properties)) = object.get("properties") {
                    into.extend(properties.keys().cloned());
                }
                object.values().for_each(|value| names(value, into));
            }
            Value::Array(list) => list.iter().for_each(|value| names(value, into)),
            _ => {}
        }
    }

    #[test]
    fn the_names_known_are_those_of_the_schema() {
        let schema = include_str!("../../../../assets/collection.schema.json");
        let mut found = BTreeSet::new();
        names(&serde_json::from_str(schema).unwrap(), &mut found);
        let known: BTreeSet<String> = KNOWN.iter().map(ToString::to_string).collect();
        assert_eq!(known, found);
    }
}
