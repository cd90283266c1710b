//! Changes of sets and their checklists.

use std::sync::Arc;

use super::ensure::{ensure, ensure_card, ensure_finish, ensure_head, ensure_rarity};
use crate::model::collection::Collection;
use crate::model::id::{PrintingId, SetId};
use crate::model::refused::Refused;
use crate::model::set::{Card, Finish, Set, SetHead, limits};
use crate::model::tally::Tally;

impl Collection {
    fn set_mut(&mut self, id: SetId) -> Result<&mut Set, Refused> {
        self.set_to_alter(id).ok_or(Refused::NoSuchSet(id))
    }

    pub(super) fn add_set(&mut self, id: SetId, at: usize, head: &SetHead) -> Result<(), Refused> {
        let slot = usize::from(id.0);
        ensure(self.is_free_set(id) && at <= self.order.len(), || {
            Refused::Stale("the number of sets")
        })?;
        ensure(self.order.len() < limits::SETS, || {
            Refused::Unfit(format!("a collection has at most {} sets", limits::SETS))
        })?;
        ensure_head(head)?;
        ensure(!self.codes.contains_key(&head.code), || {
            Refused::CodeTaken(head.code.clone())
        })?;
        self.codes.insert(head.code.clone(), id);
        let set = Some(Arc::new(Set::new(head.clone())));
        match self.sets.get_mut(slot) {
            Some(free) => *free = set,
            None => self.sets.push(set),
        }
        self.order.insert(at, id);
        Ok(())
    }

    pub(super) fn drop_set(&mut self, id: SetId, at: usize, head: &SetHead) -> Result<(), Refused> {
        let set = self.set(id).ok_or(Refused::NoSuchSet(id))?;
        ensure(set.head == *head && self.order.get(at) == Some(&id), || {
            Refused::Stale("the set")
        })?;
        let unused = set.finishes.is_empty() && set.rarities.is_empty() && set.cards.is_empty();
        let named = self.binders.values().any(|b| b.spec.set == Some(id));
        ensure(unused && !named, || Refused::InUse("the set"))?;
        self.order.remove(at);
        self.sets[usize::from(id.0)] = None;
        self.codes.remove(&head.code);
        Ok(())
    }

    pub(super) fn edit_set(
        &mut self,
        id: SetId,
        old: &SetHead,
        new: &SetHead,
    ) -> Result<(), Refused> {
        ensure_head(new)?;
        let taken = self.codes.get(&new.code).is_some_and(|other| *other != id);
        ensure(!taken, || Refused::CodeTaken(new.code.clone()))?;
        let set = self.set_mut(id)?;
        ensure(set.head == *old, || Refused::Stale("the set"))?;
        set.head = new.clone();
        self.codes.remove(&old.code);
        self.codes.insert(new.code.clone(), id);
        Ok(())
    }

    pub(super) fn add_finish(&mut self, id: SetId, finish: &Finish) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        ensure_finish(set, finish)?;
        set.finishes.push(finish.clone());
        set.tallies.push(vec![Tally::default(); set.cards.len()]);
        Ok(())
    }

    pub(super) fn drop_finish(&mut self, id: SetId, finish: &Finish) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        ensure(set.finishes.last() == Some(finish), || {
            Refused::Stale("the set's last finish")
        })?;
        let bit = (set.finishes.len() - 1) as u8;
        let used = set.cards.iter().any(|card| card.has_finish(bit)) || set.is_left_out(bit);
        ensure(!used, || Refused::InUse("the finish"))?;
        set.finishes.pop();
        set.tallies.pop();
        Ok(())
    }

    /// Leaves a finish out, or collects it again.
    pub(in crate::model) fn leave_out(
        &mut self,
        id: SetId,
        finish: u8,
        out: bool,
    ) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        ensure(usize::from(finish) < set.finishes.len(), || {
            Refused::Stale("the set's finishes")
        })?;
        ensure(set.is_left_out(finish) != out, || {
            Refused::Stale("what is collected")
        })?;
        set.left_out ^= 1 << finish;
        Ok(())
    }

    pub(super) fn add_rarity(&mut self, id: SetId, name: &str) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        let taken = || set.rarities.iter().any(|other| **other == *name);
        ensure_rarity(name, set.rarities.len(), taken)?;
        set.rarities.push(name.into());
        Ok(())
    }

    pub(super) fn drop_rarity(&mut self, id: SetId, name: &str) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        ensure(set.rarities.last().map(AsRef::as_ref) == Some(name), || {
            Refused::Stale("the set's last rarity")
        })?;
        let at = (set.rarities.len() - 1) as u16;
        let used = set.cards.iter().any(|card| card.rarity == Some(at));
        ensure(!used, || Refused::InUse("the rarity"))?;
        set.rarities.pop();
        Ok(())
    }

    pub(super) fn add_cards(
        &mut self,
        id: SetId,
        first: u32,
        cards: &[Card],
    ) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        ensure(first as usize == set.cards.len(), || {
            Refused::Stale("the checklist")
        })?;
        set.numbers.reserve(cards.len());
        let result = (first..).zip(cards).try_for_each(|(at, card)| {
            ensure_card(set, card)?;
            match set.numbers.insert(card.number.clone(), at) {
                None => Ok(()),
                Some(earlier) => {
                    set.numbers.insert(card.number.clone(), earlier);
                    Err(Refused::NumberTaken(card.number.as_str().into()))
                }
            }
        });
        if result.is_err() {
            set.numbers.retain(|_, at| *at < first);
            return result;
        }
        set.cards.extend_from_slice(cards);
        for column in &mut set.tallies {
            column.resize(set.cards.len(), Tally::default());
        }
        Ok(())
    }

    pub(super) fn drop_cards(
        &mut self,
        id: SetId,
        first: u32,
        cards: &[Card],
    ) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        let from = first as usize;
        ensure(set.cards.get(from..) == Some(cards), || {
            Refused::Stale("the end of the checklist")
        })?;
        let unused = |tally: &Tally| *tally == Tally::default();
        let free = set
            .tallies
            .iter()
            .all(|column| column[from..].iter().all(unused));
        ensure(free, || Refused::InUse("a card"))?;
        let gone = |printing: PrintingId| printing.set() == id && printing.card() >= first;
        ensure(!self.is_drafted(gone), || Refused::InUse("a card"))?;
        let set = self.set_mut(id)?;
        for card in cards {
            set.numbers.remove(&card.number);
        }
        set.cards.truncate(from);
        for column in &mut set.tallies {
            column.truncate(from);
        }
        Ok(())
    }

    pub(super) fn edit_card(
        &mut self,
        id: SetId,
        at: u32,
        old: &Card,
        new: &Card,
    ) -> Result<(), Refused> {
        let set = self.set_mut(id)?;
        ensure_card(set, new)?;
        ensure(old.number == new.number, || {
            Refused::Unfit("a card keeps its number".into())
        })?;
        let card = set.cards.get(at as usize);
        let card = card.ok_or(Refused::NoSuchCard { set: id, card: at })?;
        ensure(card == old, || Refused::Stale("the card"))?;
        let gone = old.finishes & !new.finishes;
        let used = set.tallies.iter().enumerate().any(|(finish, column)| {
            gone >> finish & 1 == 1 && column[at as usize] != Tally::default()
        });
        ensure(!used, || Refused::InUse("the card in that finish"))?;
        if gone != 0 {
            let lost = |printing: PrintingId| {
                printing.set() == id && printing.card() == at && gone >> printing.finish() & 1 == 1
            };
            ensure(!self.is_drafted(lost), || {
                Refused::InUse("the card in that finish")
            })?;
        }
        let set = self.set_mut(id)?;
        set.cards[at as usize] = new.clone();
        Ok(())
    }
}
