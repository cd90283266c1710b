//! Sets and their checklists.

use std::collections::HashMap;

use compact_str::CompactString;

use super::id::{BinderId, PrintingId, SetId};
use super::tally::Tally;

/// How long texts and lists may be. Generous for any real set; they keep a broken file from
/// filling the memory.
pub mod limits {
    /// Finishes a set may name: a card's finishes are kept as the bits of a `u64`.
    pub const FINISHES: usize = 64;
    /// Rarities a set may name.
    pub const RARITIES: usize = 1_000;
    /// Sets in a collection: a set's id is a `u16`.
    pub const SETS: usize = 65_000;
    /// Bytes of a code, a mark, a binder's name, a number, a finish, a rarity, a symbol.
    pub const WORD: usize = 100;
    /// Bytes of a title, a card's name, a keepsake, a line of front matter.
    pub const TEXT: usize = 1_000;
    /// Sections of a layout.
    pub const SECTIONS: usize = 200;
    /// Bytes of a section's rule: room for a list of some thousand cards picked by hand.
    pub const RULE: usize = 20_000;
    /// Lists of sections that are kept under a name.
    pub const TEMPLATES: usize = 1_000;
    /// Copies of one printing.
    pub const COPIES: u32 = 1_000_000;
}

/// What names a set: everything about it that is not its checklist.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SetHead {
    /// Unique in the collection, without spaces; what commands and files say.
    pub code: Box<str>,
    pub title: Box<str>,
    /// One glyph, as on the spine and the cards; may be empty.
    pub symbol: Box<str>,
    /// Number on the shelf, as the collector writes it; may be empty.
    pub shelf: Box<str>,
}

/// How a printing looks: a name, and a short mark to type and to draw in a narrow pocket.
/// The first finish of a set has an empty mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finish {
    pub name: Box<str>,
    pub mark: Box<str>,
}

/// Width and height of a card in tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CardSize {
    pub width: u32,
    pub height: u32,
}

impl CardSize {
    /// The size most in use: 63.5 x 88.9 mm, which is 2.5 x 3.5 inches. Common practice, no source.
    pub const USUAL: Self = Self {
        width: 635,
        height: 889,
    };
}

/// One entry of a checklist.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// Text, kept as written; unique in the set.
    pub number: CompactString,
    pub name: CompactString,
    /// Place in the set's list of rarities, from 0; `None` when no rarity is given.
    pub rarity: Option<u16>,
    /// `None` when the set's usual size holds.
    pub size: Option<CardSize>,
    /// Bit `n` is set when the card exists in the set's `n`-th finish.
    pub finishes: u64,
}

impl Card {
    #[must_use]
    pub fn has_finish(&self, finish: u8) -> bool {
        usize::from(finish) < limits::FINISHES && self.finishes >> finish & 1 == 1
    }
}

/// A published series of cards with its own numbering.
#[derive(Clone, Debug)]
pub struct Set {
    pub(super) head: SetHead,
    pub(super) finishes: Vec<Finish>,
    /// Bit `n` is set when the collector leaves the `n`-th finish out.
    pub(super) left_out: u64,
    pub(super) rarities: Vec<Box<str>>,
    pub(super) cards: Vec<Card>,
    pub(super) numbers: HashMap<CompactString, u32>,
    /// `tallies[finish][card]`; every finish has as many entries as there are cards.
    pub(super) tallies: Vec<Vec<Tally>>,
    /// The binders that have to do with the set, by id, each with the number of pockets that hold
    /// a card of it or are meant for one. It finds a printing without walking every binder.
    pub(super) binders: Vec<(BinderId, u32)>,
}

impl Set {
    pub(super) fn new(head: SetHead) -> Self {
        Self {
            head,
            finishes: Vec::new(),
            left_out: 0,
            rarities: Vec::new(),
            cards: Vec::new(),
            numbers: HashMap::new(),
            tallies: Vec::new(),
            binders: Vec::new(),
        }
    }

    #[must_use]
    pub fn head(&self) -> &SetHead {
        &self.head
    }

    #[must_use]
    pub fn code(&self) -> &str {
        &self.head.code
    }

    #[must_use]
    pub fn title(&self) -> &str {
        &self.head.title
    }

    /// The finishes in the order in which the set came to name them.
    #[must_use]
    pub fn finishes(&self) -> &[Finish] {
        &self.finishes
    }

    /// Whether the collector has said that the set's cards in this finish are not collected.
    #[must_use]
    pub fn is_left_out(&self, finish: u8) -> bool {
        usize::from(finish) < limits::FINISHES && self.left_out >> finish & 1 == 1
    }

    /// The rarities in the set's own order, as first met in its checklist.
    #[must_use]
    pub fn rarities(&self) -> &[Box<str>] {
        &self.rarities
    }

    /// Whether a card of the set lies in the binder or is meant to.
    #[must_use]
    pub fn is_in(&self, binder: BinderId) -> bool {
        self.binders
            .binary_search_by_key(&binder, |(other, _)| *other)
            .is_ok()
    }

    /// The cards in the order of the checklist.
    #[must_use]
    pub fn cards(&self) -> &[Card] {
        &self.cards
    }

    #[must_use]
    pub fn card(&self, card: u32) -> Option<&Card> {
        self.cards.get(card as usize)
    }

    /// The card with exactly this number, as its place in the checklist.
    #[must_use]
    pub fn card_by_number(&self, number: &str) -> Option<u32> {
        self.numbers.get(number).copied()
    }

    /// The finish of this name (any case) or this mark (as written), as its place in the list.
    #[must_use]
    pub fn finish_by_name(&self, word: &str) -> Option<u8> {
        let exact = |f: &Finish| f.name.as_ref() == word;
        let folded = |f: &Finish| f.name.to_lowercase() == word.to_lowercase();
        let mark = |f: &Finish| !f.mark.is_empty() && f.mark.as_ref() == word;
        let at = self
            .finishes
            .iter()
            .position(exact)
            .or_else(|| self.finishes.iter().position(folded))
            .or_else(|| self.finishes.iter().position(mark))?;
        u8::try_from(at).ok()
    }

    /// `12a r`: the number of a card with the mark of the finish; empty for a card that is not there.
    #[must_use]
    pub fn marked(&self, printing: PrintingId) -> String {
        let number = self.card(printing.card()).map_or("", |card| &card.number);
        let finish = self.finishes.get(usize::from(printing.finish()));
        match finish.map_or("", |finish| &finish.mark) {
            "" => number.to_owned(),
            mark => format!("{number} {mark}"),
        }
    }

    #[must_use]
    pub fn rarity_name(&self, card: &Card) -> &str {
        card.rarity
            .and_then(|at| self.rarities.get(usize::from(at)))
            .map_or("", AsRef::as_ref)
    }

    /// The printings of the set, card by card in checklist order, each card's finishes in order.
    pub fn printings(&self, id: SetId) -> impl Iterator<Item = PrintingId> + '_ {
        let finishes = self.finishes.len() as u8;
        (0u32..).zip(&self.cards).flat_map(move |(at, card)| {
            (0..finishes)
                .filter(|&finish| card.has_finish(finish))
                .map(move |finish| PrintingId::new(id, at, finish))
        })
    }

    /// Copies, pockets and matches of one printing.
    #[must_use]
    pub fn tally(&self, printing: PrintingId) -> Tally {
        self.tallies
            .get(usize::from(printing.finish()))
            .and_then(|column| column.get(printing.card() as usize))
            .map(|kept| Tally {
                left_out: self.is_left_out(printing.finish()),
                ..*kept
            })
            .unwrap_or_default()
    }

    pub(super) fn tally_mut(&mut self, printing: PrintingId) -> Option<&mut Tally> {
        self.tallies
            .get_mut(usize::from(printing.finish()))?
            .get_mut(printing.card() as usize)
    }
}
