//! What the pockets of a layout are for, as text, one by one and by the page.

use std::fmt;

use serde::de::{Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde::ser::SerializeMap;
use serde::{Deserialize, Serialize, Serializer};

use super::format::FormatText;
use crate::model::{Collection, LayoutPage, Meaning, PageFormat, limits};
use crate::store::strings::Str;
use crate::store::token::{Finder, Token, TokenVisitor};
use crate::text::count;

/// `""`, `{"blank":true}`, a printing, or `{"keepsake":"…"}`.
#[derive(Clone, Debug)]
pub(in crate::store) enum MeaningText<'a> {
    Nothing,
    Blank,
    Printing(Token<'a>),
    Keepsake(Str<'a>),
}

impl<'a> MeaningText<'a> {
    /// `None` when it names a printing that does not exist.
    pub(in crate::store) fn of(collection: &'a Collection, meaning: &'a Meaning) -> Option<Self> {
        match meaning {
            Meaning::Keepsake(words) => Some(Self::Keepsake(words.as_ref().into())),
            other => Self::of_own(collection, other),
        }
    }

    /// The same with a keepsake's words copied.
    fn of_own(collection: &'a Collection, meaning: &Meaning) -> Option<Self> {
        Some(match meaning {
            Meaning::Nothing => Self::Nothing,
            Meaning::Blank => Self::Blank,
            Meaning::Printing(printing) => Self::Printing(Token::of(collection, *printing)?),
            Meaning::Keepsake(words) => Self::Keepsake(Str(words.to_string().into())),
        })
    }

    pub(in crate::store) fn meaning(
        &self,
        collection: &Collection,
        finder: &mut Finder,
    ) -> Result<Meaning, String> {
        Ok(match self {
            Self::Nothing => Meaning::Nothing,
            Self::Blank => Meaning::Blank,
            Self::Printing(token) => Meaning::Printing(finder.find_token(collection, token)?),
            Self::Keepsake(words) if words.len() > limits::TEXT => {
                return Err(format!("a keepsake is longer than {} bytes", limits::TEXT));
            }
            Self::Keepsake(words) => Meaning::Keepsake(words.0.as_ref().into()),
        })
    }
}

impl Serialize for MeaningText<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Nothing => to.serialize_str(""),
            Self::Printing(token) => token.serialize(to),
            Self::Blank => {
                let mut map = to.serialize_map(Some(1))?;
                map.serialize_entry("blank", &true)?;
                map.end()
            }
            Self::Keepsake(words) => {
                let mut map = to.serialize_map(Some(1))?;
                map.serialize_entry("keepsake", words)?;
                map.end()
            }
        }
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for MeaningText<'a> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(MeaningVisitor)
    }
}

struct MeaningVisitor;

impl<'de> Visitor<'de> for MeaningVisitor {
    type Value = MeaningText<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("what a pocket is for")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
        match text {
            "" => Ok(MeaningText::Nothing),
            _ => TokenVisitor
                .visit_borrowed_str(text)
                .map(MeaningText::Printing),
        }
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        match text {
            "" => Ok(MeaningText::Nothing),
            _ => TokenVisitor.visit_str(text).map(MeaningText::Printing),
        }
    }

    fn visit_seq<A: SeqAccess<'de>>(self, parts: A) -> Result<Self::Value, A::Error> {
        TokenVisitor.visit_seq(parts).map(MeaningText::Printing)
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let meaning = match map.next_key::<Str<'de>>()?.as_deref() {
            Some("blank") if map.next_value::<bool>()? => MeaningText::Blank,
            Some("keepsake") => MeaningText::Keepsake(map.next_value()?),
            _ => {
                return Err(A::Error::custom(
                    "{\"blank\":true} or {\"keepsake\":…} expected",
                ));
            }
        };
        match map.next_key::<Str<'de>>()? {
            None => Ok(meaning),
            Some(key) => Err(A::Error::custom(format_args!(
                "{:?} is one too many",
                &*key
            ))),
        }
    }
}

/// A page of a layout. A side on which no pocket is for anything is left out, and so is a format
/// that is usual where the page stands.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct LayoutPageText<'a> {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    format: Option<FormatText>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    front: Vec<MeaningText<'a>>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    back: Vec<MeaningText<'a>>,
}

impl<'a> LayoutPageText<'a> {
    /// The page with its format. `None` when it names a printing that does not exist.
    pub(in crate::store) fn of(collection: &'a Collection, page: &'a LayoutPage) -> Option<Self> {
        let format = page.format();
        let side = |pockets: std::ops::Range<usize>| -> Option<Vec<MeaningText<'a>>> {
            if pockets
                .clone()
                .all(|at| page.meaning(at) == Meaning::Nothing)
            {
                return Some(Vec::new());
            }
            let text = |at| MeaningText::of_own(collection, &page.meaning(at));
            pockets.map(text).collect()
        };
        Some(Self {
            format: Some(format.into()),
            front: side(0..format.per_side())?,
            back: side(format.per_side()..format.pockets())?,
        })
    }

    pub(in crate::store) fn without_format_if(mut self, usual: Option<PageFormat>) -> Self {
        self.format = self
            .format
            .filter(|format| usual.map(FormatText::from) != Some(*format));
        self
    }

    /// # Errors
    /// Says what does not fit.
    pub(in crate::store) fn page(
        &self,
        collection: &Collection,
        finder: &mut Finder,
        usual: Option<PageFormat>,
    ) -> Result<LayoutPage, String> {
        let format = match self.format {
            Some(text) => text.format()?,
            None => usual.ok_or("the page's format is missing")?,
        };
        let mut page = LayoutPage::empty(format);
        let sides = [(&self.front, 0), (&self.back, format.per_side())];
        for (side, first) in sides {
            ensure_side(side.len(), format, first > 0)?;
            for (at, text) in (first..).zip(side) {
                page.set_meaning(at, text.meaning(collection, finder)?);
            }
        }
        Ok(page)
    }
}

/// A side is written with all its pockets, or not at all.
pub(in crate::store) fn ensure_side(
    found: usize,
    format: PageFormat,
    back: bool,
) -> Result<(), String> {
    let side = if back { "back" } else { "front" };
    if found == 0 || (found == format.per_side() && (!back || format.sides == 2)) {
        Ok(())
    } else if back && format.sides == 1 {
        Err("a page loaded from the front only has no back".into())
    } else {
        Err(format!(
            "the {side} of a page of {} x {} has {}, not {found}",
            format.rows,
            format.columns,
            count(format.per_side() as u64, "pocket", "pockets")
        ))
    }
}
