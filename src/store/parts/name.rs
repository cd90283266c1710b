//! Ids of binders and pages as text: `b3`, `p12`.

use serde::de::{Deserialize, Deserializer, Error};
use serde::{Serialize, Serializer};

use crate::model::{BinderId, PageId};
use crate::store::strings::Str;

#[derive(Clone, Copy, Debug)]
pub(in crate::store) struct BinderName(pub(in crate::store) BinderId);

#[derive(Clone, Copy, Debug)]
pub(in crate::store) struct PageName(pub(in crate::store) PageId);

impl Serialize for BinderName {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&self.0)
    }
}

impl Serialize for PageName {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for BinderName {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = Str::deserialize(from)?;
        let id = number_after('b', &text).ok_or_else(|| wrong("a binder such as \"b3\"", &text))?;
        Ok(Self(BinderId(id)))
    }
}

impl<'de> Deserialize<'de> for PageName {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = Str::deserialize(from)?;
        let id = number_after('p', &text).ok_or_else(|| wrong("a page such as \"p12\"", &text))?;
        Ok(Self(PageId(id)))
    }
}

fn wrong<E: Error>(expected: &str, found: &str) -> E {
    E::custom(format_args!("{expected} expected, found {found:.40}"))
}

/// One way to write each id: no sign, no leading zero.
fn number_after(letter: char, text: &str) -> Option<u32> {
    let digits = text.strip_prefix(letter)?;
    let canonical = digits.bytes().all(|b| b.is_ascii_digit())
        && (digits.len() == 1 || !digits.starts_with('0'));
    digits.parse().ok().filter(|_| canonical)
}
