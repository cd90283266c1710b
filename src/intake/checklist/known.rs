//! A row about a card that is known: what is new is added, what differs is told.

use super::pending::Pending;
use crate::intake::row::{CardRow, Difference, Verdict};
use crate::model::{Card, CardSize, Set};
use crate::text::tenths;

impl Pending<'_> {
    /// `bits` are the finishes of the row, by their number in `self.finishes`; those of the kept
    /// card have the same numbers.
    pub(super) fn amend(
        &mut self,
        at: u32,
        set: &Set,
        kept: &Card,
        row: &CardRow<'_>,
        bits: u64,
        update: bool,
    ) {
        let mut new = kept.clone();
        new.finishes |= bits;
        let mut differs = Vec::new();
        let mut filled = false;
        // What is kept empty was not known yet; what is given empty says nothing.
        let mut take = |what, old: String, given: String| {
            if given.is_empty() || given == old {
                return false;
            }
            if old.is_empty() {
                filled = true;
                return true;
            }
            differs.push((what, old, given, Verdict::new(update)));
            update
        };
        if take("the name", kept.name.to_string(), row.name.to_string()) {
            new.name = row.name.into();
        }
        let rarity = set.rarity_name(kept).to_owned();
        let take_rarity = take("the rarity", rarity, row.rarity.to_string());
        if take("the size", size_words(kept.size), size_words(row.size)) {
            new.size = row.size;
        }
        let missing = kept.finishes & !bits;
        if bits != 0 && missing != 0 {
            let names = |bits: u64| {
                let there = (0..self.finishes.len()).filter(|n| bits >> n & 1 == 1);
                let names: Vec<_> = there.map(|n| self.finishes.name(n)).collect();
                names.join(", ")
            };
            differs.push((
                "the list of finishes",
                names(kept.finishes),
                names(bits),
                Verdict::Stays,
            ));
        }
        if take_rarity {
            new.rarity = self.rarity(row.rarity);
        }
        for (what, kept, given, verdict) in differs {
            self.differs.push(Difference {
                set: self.head.code.clone(),
                number: Some(row.number.into()),
                what,
                kept,
                given,
                verdict,
            });
        }
        self.filled_in += usize::from(filled);
        if new != *kept {
            self.edits.push((at, new));
        }
    }
}

fn size_words(size: Option<CardSize>) -> String {
    size.map_or_else(String::new, |size| {
        format!("{} x {} mm", tenths(size.width), tenths(size.height))
    })
}
