//! Objects of JSON taken apart key by key, so that what is wrong can be told with its place.

use std::fmt;

use serde::Deserialize;
use serde::de::{Deserializer, Error, MapAccess, Visitor};
use serde_json::value::RawValue;

use super::{LineColumn, Remark};
use crate::store::error::json_words;
use crate::store::strings::Str;

/// The text of a file, and what was noted about it.
pub(super) struct Text<'t> {
    pub(super) whole: &'t str,
    /// Where each line begins.
    lines: Vec<usize>,
    pub(super) notes: Vec<Remark>,
}

/// An object: its keys with what they hold, and where it begins.
pub(super) struct Object<'t> {
    pub(super) at: LineColumn,
    /// What it is, for words.
    what: &'static str,
    found: Vec<(&'static str, &'t RawValue)>,
}

impl<'t> Text<'t> {
    pub(super) fn new(whole: &'t str) -> Self {
        let after = whole.bytes().enumerate();
        let after = after.filter_map(|(at, byte)| (byte == b'\n').then_some(at + 1));
        Self {
            whole,
            lines: [0].into_iter().chain(after).collect(),
            notes: Vec::new(),
        }
    }

    /// Where a part of the text begins.
    pub(super) fn at(&self, part: &str) -> LineColumn {
        let start = (part.as_ptr() as usize).wrapping_sub(self.whole.as_ptr() as usize);
        let line = self.lines.partition_point(|begin| *begin <= start);
        LineColumn {
            line,
            column: start - self.lines[line - 1] + 1,
        }
    }

    /// Reads a part of the text as something of a kind.
    pub(super) fn parse<T: Deserialize<'t>>(&self, part: &'t str) -> Result<T, Remark> {
        serde_json::from_str(part).map_err(|error| {
            let begin = self.at(part);
            let what = json_words(&error);
            if error.is_data() {
                // A value of the wrong kind: it begins where the part does.
                let what = kinds(&what).unwrap_or(what);
                return Remark { at: begin, what };
            }
            Remark {
                at: LineColumn {
                    line: begin.line + error.line().saturating_sub(1),
                    column: if error.line() <= 1 {
                        begin.column + error.column().saturating_sub(1)
                    } else {
                        error.column()
                    },
                },
                what: if error.is_eof() {
                    "the text ends here, before the arrangement does".into()
                } else {
                    format!("this is not JSON: {what}")
                },
            }
        })
    }

    /// Takes an object apart. Keys that are not among `keys` are noted and left out.
    pub(super) fn object(
        &mut self,
        part: &'t str,
        what: &'static str,
        keys: &[&'static str],
    ) -> Result<Object<'t>, Remark> {
        let pairs: Pairs<'t> = self.parse(part)?;
        let mut object = Object {
            at: self.at(part),
            what,
            found: Vec::with_capacity(pairs.0.len()),
        };
        for (key, value) in pairs.0 {
            let Some(known) = keys.iter().find(|known| **known == &*key) else {
                self.notes.push(Remark {
                    at: self.at(value.get()),
                    what: format!(
                        "the key “{}” of {what} is not known and was left out",
                        &*key
                    ),
                });
                continue;
            };
            if object.found.iter().any(|(other, _)| other == known) {
                return Err(Remark {
                    at: self.at(value.get()),
                    what: format!("{what} has “{known}” twice; keep one of them"),
                });
            }
            object.found.push((known, value));
        }
        Ok(object)
    }
}

/// `here must stand a whole number, not a list`, for what serde says of a value of the wrong kind.
fn kinds(told: &str) -> Option<String> {
    let (found, wanted) = told.split_once(": ")?.1.rsplit_once(", expected ")?;
    let plain = |kind: &str| found.strip_prefix(kind).map(|of| of.trim_matches('`'));
    let found = match found {
        "sequence" => "a list".into(),
        "map" => "an object".into(),
        "string \"\"" => "an empty text".into(),
        _ => match (
            plain("string "),
            plain("integer "),
            plain("floating point "),
        ) {
            (Some(text), ..) => format!("the text {text}"),
            (_, Some(number), _) | (.., Some(number)) => format!("the number {number}"),
            _ => plain("boolean ").unwrap_or(found).to_owned(),
        },
    };
    let wanted = match wanted {
        "a boolean" => "true or false",
        wanted => wanted,
    };
    Some(format!("here must stand {wanted}, not {found}"))
}

impl<'t> Object<'t> {
    pub(super) fn get(&self, key: &str) -> Option<&'t str> {
        let found = self.found.iter().find(|(other, _)| *other == key);
        found.map(|(_, value)| value.get())
    }

    pub(super) fn need(&self, key: &str) -> Result<&'t str, Remark> {
        self.get(key).ok_or_else(|| Remark {
            at: self.at,
            what: format!("{} has no “{key}”", self.what),
        })
    }
}

struct Pairs<'t>(Vec<(Str<'t>, &'t RawValue)>);

impl<'de> Deserialize<'de> for Pairs<'de> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_map(PairsVisitor)
    }
}

struct PairsVisitor;

impl<'de> Visitor<'de> for PairsVisitor {
    type Value = Pairs<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut pairs = Vec::new();
        while let Some(pair) = map.next_entry()? {
            pairs.push(pair);
        }
        Ok(Pairs(pairs))
    }
}

/// One card, or none: what stands for a pocket.
pub(super) struct Pocket<'t>(pub(super) Option<Str<'t>>);

impl<'de> Deserialize<'de> for Pocket<'de> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(PocketVisitor)
    }
}

struct PocketVisitor;

impl<'de> Visitor<'de> for PocketVisitor {
    type Value = Pocket<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("one card as a string, or null for an empty pocket")
    }

    fn visit_unit<E: Error>(self) -> Result<Self::Value, E> {
        Ok(Pocket(None))
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
        if text.is_empty() {
            return Err(E::invalid_value(serde::de::Unexpected::Str(text), &self));
        }
        Ok(Pocket(Some(text.into())))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        Ok(Pocket(Some(Str(std::borrow::Cow::Owned(text.into())))))
    }
}

/// A whole number.
pub(super) struct Whole(pub(super) i64);

impl<'de> Deserialize<'de> for Whole {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(WholeVisitor)
    }
}

struct WholeVisitor;

impl Visitor<'_> for WholeVisitor {
    type Value = Whole;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a whole number")
    }

    fn visit_i64<E: Error>(self, number: i64) -> Result<Self::Value, E> {
        Ok(Whole(number))
    }

    fn visit_u64<E: Error>(self, number: u64) -> Result<Self::Value, E> {
        Ok(Whole(i64::try_from(number).unwrap_or(i64::MAX)))
    }
}
