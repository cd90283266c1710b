//! The cards that a rule picks, in its order.

use std::cmp::Ordering;
use std::collections::HashMap;

use super::section::{Order, Pick, Size};
use super::told::Never;
use crate::model::{Card, CardSize, Collection, PrintingId, Set, SetId};
use crate::text::{natural_cmp, safe};

/// What a rule asks for, its words looked up in the set.
pub(super) struct Criteria<'c> {
    pub(super) id: SetId,
    set: &'c Set,
    pick: &'c Pick,
    /// A bit for each finish.
    finishes: u64,
    rarities: Vec<u16>,
    /// Where each number picked by hand stands in its list.
    listed: HashMap<&'c str, usize>,
}

impl<'c> Criteria<'c> {
    /// # Errors
    /// The set, or what it is asked for, is not there: the rule can never match.
    pub(super) fn of(
        collection: &'c Collection,
        own: Option<SetId>,
        pick: &'c Pick,
    ) -> Result<Self, Never> {
        let id = match &pick.set {
            Some(code) => collection
                .set_by_code(code)
                .ok_or_else(|| Never::Set(code.clone()))?,
            None => own.ok_or(Never::NoSet)?,
        };
        let set = collection.set(id).ok_or(Never::NoSet)?;
        let mut finishes = 0;
        for word in &pick.finishes {
            finishes |= finish(set, word).ok_or_else(|| Never::Finish(word.clone()))?;
        }
        if pick.finishes.is_empty() {
            finishes = u64::MAX;
        }
        let rarities = pick.rarities.iter().map(|word| {
            let found = rarity(set, word);
            found.ok_or_else(|| Never::Rarity(word.clone()))
        });
        // Of a number that is there twice the first counts.
        let listed = pick.list.iter().enumerate().rev();
        Ok(Self {
            id,
            set,
            pick,
            finishes,
            listed: listed.map(|(at, number)| (&**number, at)).collect(),
            rarities: rarities.collect::<Result<_, _>>()?,
        })
    }

    /// The numbers picked by hand that the set does not have.
    pub(super) fn missing(&self) -> impl Iterator<Item = &'c Box<str>> + '_ {
        let list = self.pick.list.iter();
        list.filter(|number| self.set.card_by_number(number).is_none())
    }

    /// The printings among the first `known` cards of the checklist, in their order.
    pub(super) fn printings(&self, known: u32) -> Vec<PrintingId> {
        let cards = (0u32..known).zip(self.set.cards());
        let mut found: Vec<(u32, &Card)> =
            cards.filter(|(_, card)| self.wants_card(card)).collect();
        found.sort_by(|(a, left), (b, right)| self.order(left, right).then(a.cmp(b)));
        let of = |at: u32, card: &Card, finish: u8| {
            let wanted = card.has_finish(finish) && self.finishes >> finish & 1 == 1;
            wanted.then(|| PrintingId::new(self.id, at, finish))
        };
        // A set has at most 64 finishes.
        let finishes = 0..self.set.finishes().len() as u8;
        if self.pick.together {
            let each = found.iter().flat_map(|(at, card)| {
                let finishes = finishes.clone();
                finishes.filter_map(|finish| of(*at, card, finish))
            });
            return each.collect();
        }
        let runs = finishes.flat_map(|finish| {
            let cards = found.iter();
            cards.filter_map(move |(at, card)| of(*at, card, finish))
        });
        runs.collect()
    }

    fn wants_card(&self, card: &Card) -> bool {
        let pick = self.pick;
        let rarity = card.rarity.unwrap_or(NO_RARITY);
        let of_rarity = self.rarities.is_empty() || self.rarities.contains(&rarity) != pick.but;
        let within = |(from, to): &(Box<str>, Box<str>)| {
            natural_cmp(from, &card.number).is_le() && natural_cmp(&card.number, to).is_le()
        };
        of_rarity
            && (pick.numbers.is_empty() || pick.numbers.iter().any(within))
            && (pick.list.is_empty() || self.listed.contains_key(&*card.number))
            && match pick.size {
                Size::Any => true,
                Size::Usual => !is_oversize(card),
                Size::Oversize => is_oversize(card),
            }
    }

    fn order(&self, left: &Card, right: &Card) -> Ordering {
        let place = |card: &Card| self.listed.get(&*card.number);
        match self.pick.by {
            Order::List => place(left)
                .cmp(&place(right))
                .then_with(|| Order::Number.compare(left, right)),
            by => by.compare(left, right),
        }
    }
}

impl Order {
    /// How two cards of one set stand to each other. Cards of no rarity come last by rarity. Equal
    /// are those that stand as the checklist has them: by the checklist all, and by a list, which
    /// the order alone does not have.
    #[must_use]
    pub fn compare(self, left: &Card, right: &Card) -> Ordering {
        let by_number = || natural_cmp(&left.number, &right.number);
        let rarity = |card: &Card| card.rarity.unwrap_or(NO_RARITY);
        match self {
            Self::Number => by_number(),
            Self::Name => natural_cmp(&left.name, &right.name).then_with(by_number),
            Self::Rarity => rarity(left).cmp(&rarity(right)).then_with(by_number),
            Self::Checklist | Self::List => Ordering::Equal,
        }
    }
}

/// A card without a rarity stands behind those with one.
const NO_RARITY: u16 = u16::MAX;

/// The finishes that a word stands for: a finish of the set by its name or mark; else the first as
/// the main one, or all others.
fn finish(set: &Set, word: &str) -> Option<u64> {
    if let Some(at) = set.finish_by_name(word) {
        return Some(1 << at);
    }
    match word.to_lowercase().as_str() {
        "main" if !set.finishes().is_empty() => Some(1),
        "others" if set.finishes().len() > 1 => Some(u64::MAX << 1),
        _ => None,
    }
}

fn rarity(set: &Set, word: &str) -> Option<u16> {
    let all = set.rarities();
    let exact = all.iter().position(|name| **name == *word);
    let folded = || {
        let mut all = all.iter();
        all.position(|name| name.to_lowercase() == word.to_lowercase())
    };
    // Written with stand-ins for what no line can hold.
    let shown = || all.iter().position(|name| safe(name) == word);
    match exact.or_else(folded).or_else(shown) {
        Some(at) => u16::try_from(at).ok(),
        None => (word.to_lowercase() == "none").then_some(NO_RARITY),
    }
}

/// Whether the card is larger than the usual one.
pub(super) fn is_oversize(card: &Card) -> bool {
    card.size.is_some_and(|size| !fits(size, CardSize::USUAL))
}

/// Whether a card goes into a room of this size, upright or lying.
pub(super) fn fits(card: CardSize, room: CardSize) -> bool {
    let upright = card.width <= room.width && card.height <= room.height;
    upright || (card.height <= room.width && card.width <= room.height)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn card(number: &str, name: &str, rarity: Option<u16>) -> Card {
        Card {
            number: number.into(),
            name: name.into(),
            rarity,
            size: None,
            finishes: 1,
        }
    }

    /// Natural order, letter case aside: what a person expects of a list of names (common
    /// practice, no source).
    #[test]
    fn names_with_numbers_stand_as_a_person_counts_and_letter_case_is_nothing() {
        let (two, ten) = (card("9", "card 2", None), card("8", "Card 10", Some(0)));
        assert_eq!(Order::Name.compare(&two, &ten), Ordering::Less);
        assert_eq!(Order::Number.compare(&two, &ten), Ordering::Greater);
        // The card of no rarity comes last.
        assert_eq!(Order::Rarity.compare(&two, &ten), Ordering::Greater);
        assert_eq!(Order::Checklist.compare(&two, &ten), Ordering::Equal);
        // Cards of one name stand by their numbers.
        let twin = card("12", "card 2", None);
        assert_eq!(Order::Name.compare(&two, &twin), Ordering::Less);
    }
}
