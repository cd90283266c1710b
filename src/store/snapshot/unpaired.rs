//! The two page lists of a binder whose contents and layout do not go page by page.

use std::fmt;

use serde::de::{Deserializer, Error, SeqAccess, Visitor};
use serde::{Deserialize, Serialize, Serializer};

use crate::model::{Collection, LayoutPage, Page, PageFormat, PageParts, PrintingId};
use crate::store::parts::{FormatText, LayoutPageText, PageName, ensure_side};
use crate::store::token::{Finder, Token, TokenVisitor};

/// A physical page: `""` or the card in each pocket. An empty side is left out.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PageText<'a> {
    id: PageName,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    format: Option<FormatText>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    front: Vec<HeldText<'a>>,
    #[serde(borrow, default, skip_serializing_if = "Vec::is_empty")]
    back: Vec<HeldText<'a>>,
}

#[derive(Debug)]
struct HeldText<'a>(Option<Token<'a>>);

impl<'a> PageText<'a> {
    pub(super) fn of(collection: &'a Collection, page: &Page, usual: Option<PageFormat>) -> Self {
        let format = page.format();
        let (front, back) = page.cards().split_at(format.per_side());
        let side = |cards: &[Option<PrintingId>]| {
            if cards.iter().all(Option::is_none) {
                return Vec::new();
            }
            let text = |card: &Option<PrintingId>| {
                HeldText(card.and_then(|printing| Token::of(collection, printing)))
            };
            cards.iter().map(text).collect()
        };
        Self {
            id: PageName(page.id()),
            format: (usual != Some(format)).then_some(format.into()),
            front: side(front),
            back: side(back),
        }
    }

    pub(super) fn page(
        &self,
        collection: &Collection,
        finder: &mut Finder,
        usual: Option<PageFormat>,
    ) -> Result<PageParts, String> {
        let format = match self.format {
            Some(text) => text.format()?,
            None => usual.ok_or("the page's format is missing")?,
        };
        let mut cards = vec![None; format.pockets()];
        let sides = [(&self.front, 0), (&self.back, format.per_side())];
        for (side, first) in sides {
            ensure_side(side.len(), format, first > 0)?;
            for (at, held) in (first..).zip(side) {
                if let HeldText(Some(token)) = held {
                    cards[at] = Some(finder.find_token(collection, token)?);
                }
            }
        }
        Ok((self.id.0, format, cards.into()))
    }
}

/// The page of a layout, its format left out when it is the usual one.
pub(super) fn layout_page<'a>(
    collection: &'a Collection,
    page: &'a LayoutPage,
    usual: Option<PageFormat>,
) -> Option<LayoutPageText<'a>> {
    LayoutPageText::of(collection, page).map(|text| text.without_format_if(usual))
}

impl Serialize for HeldText<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        match &self.0 {
            None => to.serialize_str(""),
            Some(token) => token.serialize(to),
        }
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for HeldText<'a> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(HeldVisitor)
    }
}

struct HeldVisitor;

impl<'de> Visitor<'de> for HeldVisitor {
    type Value = HeldText<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the card in a pocket, or \"\"")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Self::Value, E> {
        match text {
            "" => Ok(HeldText(None)),
            _ => TokenVisitor
                .visit_borrowed_str(text)
                .map(|token| HeldText(Some(token))),
        }
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        match text {
            "" => Ok(HeldText(None)),
            _ => TokenVisitor
                .visit_str(text)
                .map(|token| HeldText(Some(token))),
        }
    }

    fn visit_seq<A: SeqAccess<'de>>(self, parts: A) -> Result<Self::Value, A::Error> {
        TokenVisitor
            .visit_seq(parts)
            .map(|token| HeldText(Some(token)))
    }
}
