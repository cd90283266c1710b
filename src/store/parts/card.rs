//! An entry of a checklist as text.

use serde::{Deserialize, Serialize};

use super::format::Tenths;
use crate::model::{Card, CardSize, Finish};
use crate::store::strings::Str;

/// What is usual is left out: no name, no rarity, the usual size, all of the set's finishes.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::store) struct CardText<'a> {
    #[serde(borrow)]
    number: Str<'a>,
    #[serde(borrow, default, skip_serializing_if = "Str::is_empty")]
    name: Str<'a>,
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    rarity: Option<Str<'a>>,
    /// Width and height in millimetres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    size: Option<(Tenths, Tenths)>,
    /// By their marks.
    #[serde(borrow, default, skip_serializing_if = "Option::is_none")]
    finishes: Option<Vec<Str<'a>>>,
}

impl<'a> CardText<'a> {
    /// `None` when the card names a rarity or finish that its set does not have.
    pub(in crate::store) fn of(
        card: &'a Card,
        rarities: &'a [Box<str>],
        finishes: &'a [Finish],
    ) -> Option<Self> {
        let rarity = match card.rarity {
            None => None,
            Some(at) => Some(rarities.get(usize::from(at))?.as_ref().into()),
        };
        if card.finishes & !all(finishes) != 0 {
            return None;
        }
        let marks = (card.finishes != all(finishes)).then(|| {
            let there = (0u8..).zip(finishes).filter(|(at, _)| card.has_finish(*at));
            there
                .map(|(_, finish)| finish.mark.as_ref().into())
                .collect()
        });
        Some(Self {
            number: card.number.as_str().into(),
            name: card.name.as_str().into(),
            rarity,
            size: card.size.map(|s| (Tenths(s.width), Tenths(s.height))),
            finishes: marks,
        })
    }

    /// # Errors
    /// Names the rarity or mark that the set does not have.
    pub(in crate::store) fn card(
        &self,
        rarities: &[Box<str>],
        finishes: &[Finish],
    ) -> Result<Card, String> {
        let rarity = match &self.rarity {
            None => None,
            Some(name) => {
                let at = rarities.iter().position(|other| **other == **name);
                let at = at.and_then(|at| u16::try_from(at).ok());
                Some(at.ok_or_else(|| format!("the set has no rarity {:?}", &**name))?)
            }
        };
        let mut bits = 0;
        for mark in self.finishes.iter().flatten() {
            let at = finishes.iter().position(|finish| *finish.mark == **mark);
            let at = at.ok_or_else(|| format!("the set has no finish marked {:?}", &**mark))?;
            bits |= 1u64.checked_shl(at as u32).unwrap_or(0);
        }
        Ok(Card {
            number: (&*self.number).into(),
            name: (&*self.name).into(),
            rarity,
            size: self.size.map(|(width, height)| CardSize {
                width: width.0,
                height: height.0,
            }),
            finishes: if self.finishes.is_none() {
                all(finishes)
            } else {
                bits
            },
        })
    }
}

/// The bits of all finishes.
fn all(finishes: &[Finish]) -> u64 {
    match finishes.len() {
        count @ 0..64 => (1 << count) - 1,
        _ => u64::MAX,
    }
}
