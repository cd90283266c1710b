//! Which card a written number means, and which numbers are near one that there is not.

use std::cmp::Reverse;

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

/// The card of this number as written; else the only one whose number is the same but for letter
/// case, spaces and leading zeros; else the only one for which that holds of what stands before
/// its slash.
pub(super) fn number(set: &Set, written: &str) -> Found {
    if let Some(card) = set.card_by_number(written) {
        return Found::One(card);
    }
    let same = |part: fn(&str) -> &str| {
        let cards = (0u32..).zip(set.cards());
        let mut met = cards.filter(|(_, card)| plain(part(&card.number)).eq(plain(written)));
        match (met.next(), met.next()) {
            (None, _) => Found::None,
            (Some((only, _)), None) => Found::One(only),
            (Some((_, first)), Some((_, second))) => Found::Several(
                [first, second]
                    .into_iter()
                    .chain(met.map(|(_, card)| card))
                    .take(MOST_TOLD)
                    .map(|card| card.number.as_str().into())
                    .collect(),
            ),
        }
    };
    match same(|number| number) {
        Found::None => same(|number| number.split('/').next().unwrap_or(number)),
        found => found,
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
/// first. Where none is so near, the neighbours in natural order.
pub(super) fn near_numbers(set: &Set, written: &str) -> Vec<Box<str>> {
    let plain_of = |number: &str| plain(number).collect::<String>();
    let word = plain_of(written);
    let most = (word.chars().count() / 3).max(1);
    let (letters, value) = parts(&word);
    let mut near: Vec<_> = (set.cards().iter())
        .filter(|card| card.number.len().abs_diff(word.len()) <= most * 4)
        .filter_map(|card| {
            let other = plain_of(&card.number);
            let edits = strsim::osa_distance(&word, &other);
            let (other_letters, other_value) = parts(&other);
            let rank = (other_letters != letters, other_value.abs_diff(value), edits);
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
    let numbers = || set.cards().iter().map(|card| card.number.as_str());
    let below = numbers().filter(|number| natural_cmp(number, written).is_lt());
    let above = numbers().filter(|number| natural_cmp(number, written).is_gt());
    let below = below.max_by(|a, b| natural_cmp(a, b));
    let above = above.min_by(|a, b| natural_cmp(a, b));
    below.into_iter().chain(above).map(Into::into).collect()
}

/// What stands before the first digits, and their value as far as it can be told.
fn parts(number: &str) -> (&str, u64) {
    let start = number
        .find(|c: char| c.is_ascii_digit())
        .unwrap_or(number.len());
    let digits = &number[start..];
    let end = digits
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(digits.len());
    let value = digits[..end].parse();
    (&number[..start], value.unwrap_or(u64::MAX))
}

/// Orders what is found by how much of it was typed.
pub(super) fn by_score<T>(mut found: Vec<(u32, T)>) -> Vec<T> {
    found.sort_by_key(|(score, _)| Reverse(*score));
    found.into_iter().map(|(_, what)| what).collect()
}
