//! Text in files: borrowed from the file where it stands there without escapes.

use std::borrow::Cow;
use std::fmt;
use std::ops::Deref;

use serde::de::{Deserialize, Deserializer, Error, Visitor};
use serde::{Serialize, Serializer};

/// A string that borrows wherever it can. (A derived `Cow` inside a list never borrows.)
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Str<'a>(pub(super) Cow<'a, str>);

impl Str<'_> {
    pub(super) fn boxed(&self) -> Box<str> {
        self.0.as_ref().into()
    }

    /// For `skip_serializing_if`.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Deref for Str<'_> {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl<'a> From<&'a str> for Str<'a> {
    fn from(text: &'a str) -> Self {
        Self(Cow::Borrowed(text))
    }
}

impl Serialize for Str<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(&self.0)
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Str<'a> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct Text;

        impl<'de> Visitor<'de> for Text {
            type Value = Str<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a string")
            }

            fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Str<'de>, E> {
                Ok(Str(Cow::Borrowed(text)))
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<Str<'de>, E> {
                Ok(Str(Cow::Owned(text.into())))
            }
        }

        from.deserialize_str(Text)
    }
}
