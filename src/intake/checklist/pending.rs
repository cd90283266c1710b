//! One set of a checklist that is coming in.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use compact_str::CompactString;

use super::finishes::{Finishes, ordered};
use crate::intake::row::{BadRow, CardRow, Difference, Intake, Verdict};
use crate::intake::shelve::ToShelve;
use crate::model::{Card, Change, PrintingId, Set, SetHead, SetId, limits};

/// What the rows so far say of one set. Cards name finishes by their number in `finishes`.
#[derive(Debug)]
pub(super) struct Pending<'a> {
    pub(super) known: Option<(SetId, &'a Set)>,
    /// As it will be.
    pub(super) head: SetHead,
    /// What the file says of title, symbol and shelf, and on which line it said so first.
    said: [(Box<str>, u64); 3],
    pub(super) finishes: Finishes,
    /// The finishes that the last row lists, and their bits: mostly the next one lists the same.
    listed: (Box<str>, u64),
    rarities: Vec<Box<str>>,
    rarity_places: HashMap<Box<str>, u16>,
    /// The one that was asked for last: mostly the next card has the same.
    last_rarity: u16,
    fresh: Vec<Card>,
    /// Cards that are known and will be otherwise.
    pub(super) edits: Vec<(u32, Card)>,
    /// The line on which each number was given.
    lines: HashMap<CompactString, u64>,
    pub(super) differs: Vec<Difference>,
    pub(super) filled_in: usize,
    notes: Vec<String>,
}

const HEADS: [(&str, &str); 3] = [
    ("set_title", "the title"),
    ("symbol", "the symbol"),
    ("shelf", "the shelf number"),
];

impl<'a> Pending<'a> {
    /// `cards` is how many there may be.
    pub(super) fn new(code: &str, known: Option<(SetId, &'a Set)>, cards: usize) -> Self {
        let set = known.map(|(_, set)| set);
        let rarities = set.map_or_else(Vec::new, |set| set.rarities().to_vec());
        Self {
            known,
            head: set.map_or_else(
                || SetHead {
                    code: code.into(),
                    ..SetHead::default()
                },
                |set| set.head().clone(),
            ),
            said: Default::default(),
            finishes: Finishes::new(set),
            listed: Default::default(),
            rarity_places: rarities.iter().cloned().zip(0..).collect(),
            rarities,
            last_rarity: 0,
            fresh: Vec::with_capacity(cards),
            edits: Vec::new(),
            lines: HashMap::with_capacity(cards),
            differs: Vec::new(),
            filled_in: 0,
            notes: Vec::new(),
        }
    }

    /// How many rows have been taken.
    pub(super) fn cards(&self) -> usize {
        self.lines.len()
    }

    /// Whether no row has been taken yet.
    pub(super) fn is_untouched(&self) -> bool {
        self.lines.is_empty()
    }

    pub(super) fn row(&mut self, row: CardRow<'_>, update: bool) -> Result<(), BadRow> {
        let known = self.known.and_then(|(_, set)| {
            let at = set.card_by_number(row.number)?;
            Some((at, set, set.card(at)?))
        });
        let finishes = match (known, row.finishes) {
            (None, "") => "regular",
            (_, listed) => listed,
        };
        self.note_line(&row)?;
        if let Err(bad) = self.ensure(&row, finishes) {
            self.lines.remove(row.number);
            return Err(bad);
        }
        self.take_head(&row, update);
        let bits = self.bits(finishes);
        match known {
            Some((at, set, card)) => self.amend(at, set, card, &row, bits, update),
            None => {
                let rarity = self.rarity(row.rarity);
                self.fresh.push(Card {
                    number: row.number.into(),
                    name: row.name.into(),
                    rarity,
                    size: row.size,
                    finishes: bits,
                });
            }
        }
        Ok(())
    }

    /// Whether the last row of the set listed these finishes: then nothing is wrong with them.
    pub(super) fn lists_again(&self, finishes: &str) -> bool {
        *self.listed.0 == *finishes
    }

    fn bits(&mut self, finishes: &str) -> u64 {
        if !self.lists_again(finishes) {
            let bits = self.finishes.bits(&CardRow::finish_names(finishes));
            self.listed = (finishes.into(), bits);
        }
        self.listed.1
    }

    /// Refuses a number that was given before.
    fn note_line(&mut self, row: &CardRow<'_>) -> Result<(), BadRow> {
        match self.lines.entry(row.number.into()) {
            Entry::Vacant(free) => {
                free.insert(row.line);
                Ok(())
            }
            Entry::Occupied(given) => {
                let (number, line) = (row.number, given.get());
                let why = format!("the number “{number}” was given on line {line} already");
                Err(BadRow::new(row.line, "number", why))
            }
        }
    }

    /// Refuses a row that does not go together with those before it.
    fn ensure(&self, row: &CardRow<'_>, finishes: &str) -> Result<(), BadRow> {
        let bad = |column, why| Err(BadRow::new(row.line, column, why));
        for ((given, (said, line)), (column, what)) in heads(row).iter().zip(&self.said).zip(HEADS)
        {
            if !given.is_empty() && !said.is_empty() && *given != &**said {
                let why = format!("{what} is “{said}” on line {line}; a set has one");
                return bad(column, why);
            }
        }
        let unknown = match self.lists_again(finishes) {
            true => 0,
            false => self.finishes.unknown(&CardRow::finish_names(finishes)),
        };
        if self.finishes.len() + unknown > limits::FINISHES {
            let why = format!("a set has at most {} finishes", limits::FINISHES);
            return bad("finishes", why);
        }
        let rarity_known = row.rarity.is_empty() || self.rarity_place(row.rarity).is_some();
        if !rarity_known && self.rarities.len() >= limits::RARITIES {
            let why = format!("a set has at most {} rarities", limits::RARITIES);
            return bad("rarity", why);
        }
        Ok(())
    }

    /// What the row is the first to say of the set itself.
    fn take_head(&mut self, row: &CardRow<'_>, update: bool) {
        for (at, given) in heads(row).into_iter().enumerate() {
            if given.is_empty() || !self.said[at].0.is_empty() {
                continue;
            }
            self.said[at] = (given.into(), row.line);
            let SetHead {
                code,
                title,
                symbol,
                shelf,
            } = &mut self.head;
            let kept = [title, symbol, shelf].into_iter().nth(at);
            let Some(kept) = kept.filter(|kept| ***kept != *given) else {
                continue;
            };
            let what = HEADS[at].1;
            if !kept.is_empty() {
                self.differs.push(Difference {
                    set: code.clone(),
                    number: None,
                    what,
                    kept: kept.to_string(),
                    given: given.to_string(),
                    verdict: Verdict::new(update),
                });
            } else if self.known.is_some() {
                self.notes.push(format!("{code}: {what} is “{given}” now"));
            }
            if kept.is_empty() || update {
                *kept = given.into();
            }
        }
    }

    /// The place of a rarity in the set's list, where it is put if it is new.
    pub(super) fn rarity(&mut self, name: &str) -> Option<u16> {
        if name.is_empty() {
            return None;
        }
        if let Some(at) = self.rarity_place(name) {
            self.last_rarity = at;
            return Some(at);
        }
        // `limits::RARITIES` was looked at.
        let at = self.rarities.len() as u16;
        self.rarities.push(name.into());
        self.rarity_places.insert(name.into(), at);
        Some(at)
    }

    fn rarity_place(&self, name: &str) -> Option<u16> {
        let last = self.rarities.get(usize::from(self.last_rarity));
        match last.is_some_and(|last| **last == *name) {
            true => Some(self.last_rarity),
            false => self.rarity_places.get(name).copied(),
        }
    }

    /// The changes of this set, in an order in which each finds what it needs. Its new printings
    /// are told where they are to be `shelved`. A new set is the `at`-th.
    pub(super) fn finish(
        self,
        id: SetId,
        at: usize,
        shelved: bool,
        intake: &mut Intake,
    ) -> ToShelve {
        let set = self.known.map(|(_, set)| set);
        let changes = &mut intake.step.changes;
        match set {
            None => changes.push(Change::AddSet {
                set: id,
                at,
                head: Box::new(self.head.clone()),
            }),
            Some(set) if *set.head() != self.head => changes.push(Change::EditSet {
                set: id,
                old: Box::new(set.head().clone()),
                new: Box::new(self.head.clone()),
            }),
            Some(_) => {}
        }
        for finish in self.finishes.fresh(set) {
            changes.push(Change::AddFinish {
                set: id,
                finish: Box::new(finish),
            });
        }
        for name in &self.rarities[set.map_or(0, |set| set.rarities().len())..] {
            changes.push(Change::AddRarity {
                set: id,
                name: name.clone(),
            });
        }
        let order = self.finishes.order();
        let mut printings = Vec::new();
        let finishes = self.finishes.len() as u8;
        let mut add = |card: &Card, at: u32, bits: u64| {
            if !shelved {
                return;
            }
            let there = (0..finishes).filter(|finish| bits >> finish & 1 == 1);
            printings.extend(there.map(|f| (card.number.clone(), PrintingId::new(id, at, f))));
        };
        for (at, mut new) in self.edits {
            new.finishes = ordered(new.finishes, &order);
            let Some(old) = set.and_then(|set| set.card(at)) else {
                continue;
            };
            let further = new.finishes & !old.finishes;
            intake.added.further_finishes += usize::from(further != 0);
            add(&new, at, further);
            changes.push(Change::EditCard {
                set: id,
                card: at,
                old: Box::new(old.clone()),
                new: Box::new(new),
            });
        }
        let mut cards = self.fresh;
        let first = set.map_or(0, |set| set.cards().len() as u32);
        for (at, card) in (first..).zip(&mut cards) {
            card.finishes = ordered(card.finishes, &order);
            add(card, at, card.finishes);
        }
        intake.added.sets += usize::from(set.is_none());
        intake.added.cards += cards.len();
        intake.added.filled_in += self.filled_in;
        intake.differs.extend(self.differs);
        intake.notes.extend(self.notes);
        if !cards.is_empty() {
            changes.push(Change::AddCards {
                set: id,
                first,
                cards,
            });
        }
        ToShelve {
            is_new: set.is_none(),
            head: self.head,
            printings,
        }
    }
}

fn heads<'r>(row: &CardRow<'r>) -> [&'r str; 3] {
    [row.set_title, row.symbol, row.shelf]
}
