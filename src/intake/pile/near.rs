//! Which card a written number means, and which numbers are near one that there is not.

use std::cell::OnceCell;
use std::cmp::Reverse;
use std::collections::HashMap;

use compact_str::CompactString;

use crate::intake::number::Parted;
use crate::model::Set;
use crate::text::natural_cmp;

/// The most numbers that are told.
const MOST_TOLD: usize = 4;

pub(super) enum Found {
    None,
    /// Place in the checklist.
    One(u32),
    /// The numbers that it may be, at most a few.
    Several(Vec<Box<str>>),
}

/// The numbers of a set, to be found by what is written for them. What they are without letter case
/// and zeros is found out once, however many lines are read.
pub(super) struct Numbers<'c> {
    set: &'c Set,
    whole: OnceCell<Folded>,
    /// By what stands before the slash.
    before: OnceCell<Folded>,
}

type Folded = HashMap<CompactString, Cards>;

/// Cards whose numbers are the same but for letter case, spaces and zeros.
#[derive(Default)]
struct Cards {
    first: [u32; MOST_TOLD],
    many: usize,
}

impl<'c> Numbers<'c> {
    pub(super) fn of(set: &'c Set) -> Self {
        Self {
            set,
            whole: OnceCell::new(),
            before: OnceCell::new(),
        }
    }

    /// The card of this number as written; else the only one whose number is the same but for
    /// letter case, spaces and leading zeros; else the only one for which that holds of what stands
    /// before its slash.
    pub(super) fn find(&self, written: &str) -> Found {
        if let Some(card) = self.set.card_by_number(written) {
            return Found::One(card);
        }
        let written: CompactString = plain(written).collect();
        let whole = self.whole.get_or_init(|| self.folded(|number| number));
        if let Some(cards) = whole.get(&written) {
            return self.found(cards);
        }
        let head = |number: &'c str| number.split('/').next().unwrap_or(number);
        let before = self.before.get_or_init(|| self.folded(head));
        before
            .get(&written)
            .map_or(Found::None, |cards| self.found(cards))
    }

    fn folded(&self, part: impl Fn(&'c str) -> &'c str) -> Folded {
        let mut folded = Folded::with_capacity(self.set.cards().len());
        for (at, card) in (0u32..).zip(self.set.cards()) {
            let cards = folded.entry(plain(part(&card.number)).collect());
            let cards = cards.or_default();
            if let Some(free) = cards.first.get_mut(cards.many) {
                *free = at;
            }
            cards.many += 1;
        }
        folded
    }

    fn found(&self, cards: &Cards) -> Found {
        if cards.many == 1 {
            return Found::One(cards.first[0]);
        }
        let told = cards.first.iter().take(cards.many);
        let told = told.filter_map(|card| self.set.card(*card));
        Found::Several(told.map(|card| card.number.as_str().into()).collect())
    }
}

/// A number without letter case, the zeros that lead a run of digits, and spaces unless digits
/// stand at both sides: `7 2` is not 72.
fn plain(number: &str) -> impl Iterator<Item = char> + '_ {
    let bytes = number.as_bytes();
    let digit = move |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let mut leads = true;
    number
        .char_indices()
        .filter(move |(at, c)| {
            let zero = *c == '0' && leads && digit(at + 1);
            leads = zero || !c.is_ascii_digit();
            let between = *at > 0 && digit(at - 1) && digit(at + c.len_utf8());
            !zero && (between || !c.is_whitespace())
        })
        .flat_map(|(_, c)| c.to_lowercase())
}

/// The numbers of the set that are nearest to one that it has not: those that few edits
/// (restricted Damerau-Levenshtein distance) lead to, the same letters and the nearest value
/// first. Where none is so near, the neighbours in natural order, as far as they begin with the same
/// letters.
pub(super) fn near_numbers(set: &Set, written: &str) -> Vec<Box<str>> {
    // More of it is in no number, and would be held against every card.
    let written = &written[..written.floor_char_boundary(super::MOST)];
    let plain_of = |number: &str| plain(number).collect::<String>();
    let word = plain_of(written);
    let length = word.chars().count();
    let most = (length / 3).max(1);
    let own = Parted::of(&word);
    let mut near: Vec<_> = (set.cards().iter())
        .filter_map(|card| {
            let other = plain_of(&card.number);
            // So many edits at least lead from one length to the other.
            if other.chars().count().abs_diff(length) > most {
                return None;
            }
            let edits = strsim::osa_distance(&word, &other);
            let parted = Parted::of(&other);
            let away = parted.value().abs_diff(own.value());
            let rank = (parted.letters != own.letters, away, edits);
            (edits <= most).then_some((rank, card))
        })
        .collect();
    near.sort_by(|(a, card), (b, other)| {
        a.cmp(b)
            .then_with(|| natural_cmp(&card.number, &other.number))
    });
    if !near.is_empty() {
        let near = near.into_iter().take(MOST_TOLD);
        return near.map(|(_, card)| card.number.as_str().into()).collect();
    }
    // The neighbours of a number are near it, of a word none is.
    if !word.contains(|c: char| c.is_ascii_digit()) {
        return Vec::new();
    }
    let numbers = || {
        let numbers = set.cards().iter().map(|card| card.number.as_str());
        numbers.filter(|number| Parted::of(&plain_of(number)).letters == own.letters)
    };
    let below = numbers().filter(|number| natural_cmp(number, written).is_lt());
    let above = numbers().filter(|number| natural_cmp(number, written).is_gt());
    let below = below.max_by(|a, b| natural_cmp(a, b));
    let above = above.min_by(|a, b| natural_cmp(a, b));
    below.into_iter().chain(above).map(Into::into).collect()
}

/// Orders what is found by how much of it was typed.
pub(super) fn by_score<T>(mut found: Vec<(u32, T)>) -> Vec<T> {
    found.sort_by_key(|(score, _)| Reverse(*score));
    found.into_iter().map(|(_, what)| what).collect()
}
