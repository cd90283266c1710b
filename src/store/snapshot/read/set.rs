//! One set of a snapshot, with its checklist.

use serde::Deserialize;
use serde::de::{Deserializer, Error};
use serde_json::value::RawValue;

use super::each::Element;
use super::shared::Part;
use crate::model::{Builder, Finish, Refused, SetHead, SetParts, limits};
use crate::store::parts::CardText;
use crate::store::strings::Str;

pub(super) struct SetSeed<'b> {
    pub(super) builder: &'b mut Builder,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SetText<'a> {
    #[serde(borrow)]
    code: Str<'a>,
    #[serde(borrow, default)]
    title: Str<'a>,
    #[serde(borrow, default)]
    symbol: Str<'a>,
    #[serde(borrow, default)]
    shelf: Str<'a>,
    #[serde(borrow)]
    finishes: Vec<(Str<'a>, Str<'a>)>,
    #[serde(borrow, default)]
    left_out: Vec<Str<'a>>,
    #[serde(borrow, default)]
    rarities: Vec<Str<'a>>,
    #[serde(borrow)]
    cards: Vec<CardText<'a>>,
}

impl<'de> Element<'de> for SetSeed<'_> {
    fn element<D: Deserializer<'de>>(&mut self, from: D) -> Result<(), D::Error> {
        let read = Read::deserialize(from)?;
        read.put(self.builder).map_err(D::Error::custom)
    }
}

/// A set that has been read and is not in the collection yet.
pub(super) struct Read {
    parts: SetParts,
    left_out: Vec<u8>,
}

impl Part for Read {
    fn read(raw: &RawValue, _: &Builder) -> serde_json::Result<Self> {
        Self::deserialize(&mut serde_json::Deserializer::from_str(raw.get()))
    }

    fn put(self, to: &mut Builder) -> Result<(), Refused> {
        let set = to.set(self.parts)?;
        let mut left_out = self.left_out.into_iter();
        left_out.try_for_each(|finish| to.leave_out(set, finish))
    }
}

impl<'de> Deserialize<'de> for Read {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = SetText::deserialize(from)?;
        let finishes = text.finishes.iter().map(|(name, mark)| Finish {
            name: name.boxed(),
            mark: mark.boxed(),
        });
        let finishes: Vec<_> = finishes.collect();
        let rarities: Vec<_> = text.rarities.iter().map(Str::boxed).collect();
        // For each card they are searched, so that too many are refused before.
        let too_many = |most: usize, what: &str| {
            Err(D::Error::custom(format_args!(
                "a set has at most {most} {what}"
            )))
        };
        if rarities.len() > limits::RARITIES {
            return too_many(limits::RARITIES, "rarities");
        }
        if finishes.len() > limits::FINISHES {
            return too_many(limits::FINISHES, "finishes");
        }
        let cards = text
            .cards
            .iter()
            .map(|card| card.card(&rarities, &finishes));
        let cards = cards.collect::<Result<_, _>>().map_err(D::Error::custom)?;
        let left_out = text.left_out.iter().map(|name| {
            let at = finishes.iter().position(|finish| *finish.name == **name);
            at.and_then(|at| u8::try_from(at).ok())
                .ok_or_else(|| D::Error::custom("a finish is left out that the set has not"))
        });
        let left_out = left_out.collect::<Result<Vec<u8>, _>>()?;
        let parts = SetParts {
            head: SetHead {
                code: text.code.boxed(),
                title: text.title.boxed(),
                symbol: text.symbol.boxed(),
                shelf: text.shelf.boxed(),
            },
            finishes,
            rarities,
            cards,
        };
        Ok(Self { parts, left_out })
    }
}
