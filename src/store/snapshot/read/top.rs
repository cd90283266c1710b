//! The outermost object: format, version, through, sets, binders, loose copies, checksum.

use std::fmt;

use serde::Deserialize;
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, Visitor};
use serde_json::value::RawValue;

use super::binder::BinderSeed;
use super::each::{Each, Element, once};
use super::set::SetSeed;
use super::shared::Shared;
use super::{FORMAT, ReadError, VERSION, binder, place, set};
use crate::model::Builder;
use crate::store::error::json_words;
use crate::store::parts::{TemplateText, rules};
use crate::store::position::{Position, hex};
use crate::store::strings::Str;
use crate::store::token::{Finder, Token};

/// Reads the whole text into the builder; `by_several` hands at once, which does not tell the
/// first fault, nor always its place.
pub(super) fn read(
    text: &str,
    builder: &mut Builder,
    by_several: bool,
) -> Result<Position, ReadError> {
    let at_start = |error| locate(text, text, &error);
    let mut json = serde_json::Deserializer::from_str(text);
    let top = Top {
        builder: &mut *builder,
        by_several,
    };
    let found = top.deserialize(&mut json).map_err(at_start)?;
    json.end().map_err(at_start)?;
    if let Some(raw) = found.binders {
        let mut json = serde_json::Deserializer::from_str(raw.get());
        let read = Each(BinderSeed {
            builder: &mut *builder,
        })
        .deserialize(&mut json);
        read.map_err(|error| locate(text, raw.get(), &error))?;
    }
    if let Some(raw) = found.loose {
        let mut json = serde_json::Deserializer::from_str(raw.get());
        let read = Each(LooseSeed::new(builder)).deserialize(&mut json);
        read.map_err(|error| locate(text, raw.get(), &error))?;
    }
    Ok(found.through)
}

/// An error's place in the whole, `part` being a part of `whole`.
pub(super) fn locate(whole: &str, part: &str, error: &serde_json::Error) -> ReadError {
    let start = (part.as_ptr() as usize).wrapping_sub(whole.as_ptr() as usize);
    let before = whole.as_bytes().get(..start).unwrap_or_default();
    let (line, column) = place(before);
    ReadError::At {
        line: line + error.line().saturating_sub(1),
        column: if error.line() <= 1 {
            column - 1 + error.column()
        } else {
            error.column()
        },
        what: json_words(error),
    }
}

/// What could not be read at once because it stands before what it needs.
struct Found<'de> {
    through: Position,
    binders: Option<&'de RawValue>,
    loose: Option<&'de RawValue>,
}

struct Top<'b> {
    builder: &'b mut Builder,
    by_several: bool,
}

impl<'de> DeserializeSeed<'de> for Top<'_> {
    type Value = Found<'de>;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Self::Value, D::Error> {
        from.deserialize_map(self)
    }
}

#[derive(Deserialize)]
#[serde(field_identifier, rename_all = "snake_case")]
enum Key {
    Format,
    Version,
    Through,
    Sets,
    Binders,
    Loose,
    Templates,
    Sum,
}

impl<'de> Visitor<'de> for Top<'_> {
    type Value = Found<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a collection")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let builder = self.builder;
        let (mut format, mut version, mut through) = (None, None, None);
        let (mut sets, mut binders, mut loose, mut sum) = (false, false, false, false);
        let mut templates = false;
        let (mut later_binders, mut later_loose) = (None, None);
        while let Some(key) = map.next_key::<Key>()? {
            match key {
                Key::Format => {
                    let text: Str<'de> = map.next_value()?;
                    if *text != *FORMAT {
                        return Err(A::Error::custom("this is not a collection"));
                    }
                    once("format", format.replace(()).is_some())?;
                }
                Key::Version => {
                    let found: u64 = map.next_value()?;
                    if found != VERSION {
                        return Err(A::Error::custom(format_args!("version {found} is unknown")));
                    }
                    once("version", version.replace(()).is_some())?;
                }
                Key::Through => {
                    let position: Position = map.next_value()?;
                    once("through", through.replace(position).is_some())?;
                }
                Key::Sets => {
                    once("sets", std::mem::replace(&mut sets, true))?;
                    if self.by_several {
                        map.next_value_seed(Shared::<set::Read>::new(builder))?;
                    } else {
                        map.next_value_seed(Each(SetSeed {
                            builder: &mut *builder,
                        }))?;
                    }
                }
                Key::Binders => {
                    once("binders", std::mem::replace(&mut binders, true))?;
                    if sets && self.by_several {
                        map.next_value_seed(Shared::<binder::Read>::new(builder))?;
                    } else if sets {
                        map.next_value_seed(Each(BinderSeed {
                            builder: &mut *builder,
                        }))?;
                    } else {
                        later_binders = Some(map.next_value()?);
                    }
                }
                Key::Loose => {
                    once("loose", std::mem::replace(&mut loose, true))?;
                    if sets {
                        map.next_value_seed(Each(LooseSeed::new(builder)))?;
                    } else {
                        later_loose = Some(map.next_value()?);
                    }
                }
                Key::Templates => {
                    once("templates", std::mem::replace(&mut templates, true))?;
                    let all: Vec<TemplateText<'de>> = map.next_value()?;
                    for one in &all {
                        builder
                            .template(&one.name, &rules(&one.sections))
                            .map_err(A::Error::custom)?;
                    }
                }
                Key::Sum => {
                    once("sum", std::mem::replace(&mut sum, true))?;
                    map.next_value::<Sum>()?;
                }
            }
        }
        format.ok_or_else(|| A::Error::missing_field("format"))?;
        version.ok_or_else(|| A::Error::missing_field("version"))?;
        for (key, found) in [
            ("sets", sets),
            ("binders", binders),
            ("loose", loose),
            ("sum", sum),
        ] {
            if !found {
                return Err(A::Error::missing_field(key));
            }
        }
        Ok(Found {
            through: through.ok_or_else(|| A::Error::missing_field("through"))?,
            binders: later_binders,
            loose: later_loose,
        })
    }
}

/// A checksum in its proper form; whether it holds is looked at elsewhere.
#[derive(Deserialize)]
struct Sum(
    #[serde(with = "hex")]
    #[expect(dead_code, reason = "read for its form")]
    u32,
);

struct LooseSeed<'b> {
    builder: &'b mut Builder,
    finder: Finder,
}

impl<'b> LooseSeed<'b> {
    fn new(builder: &'b mut Builder) -> Self {
        Self {
            builder,
            finder: Finder::default(),
        }
    }
}

impl<'de> Element<'de> for LooseSeed<'_> {
    fn element<D: Deserializer<'de>>(&mut self, from: D) -> Result<(), D::Error> {
        let (token, count) = <(Token<'de>, u32)>::deserialize(from)?;
        let printing = self.finder.find_token(self.builder.so_far(), &token);
        let printing = printing.map_err(D::Error::custom)?;
        if count == 0 || self.builder.so_far().tally(printing).loose > 0 {
            return Err(D::Error::custom("loose copies are counted once, from 1"));
        }
        self.builder
            .loose(printing, count)
            .map_err(D::Error::custom)
    }
}
