//! What a line that is typed in says: a number, perhaps a finish, perhaps that it is a gap.

use crate::intake::pile::{Entry, read_line};
use crate::model::{Collection, PrintingId, Set, SetId};

/// What a line says.
pub(super) struct Said {
    pub(super) number: Box<str>,
    pub(super) finish: Box<str>,
    pub(super) is_gap: bool,
    /// The printing, where the checklist has it.
    pub(super) known: Option<PrintingId>,
}

impl Said {
    pub(super) fn read(collection: &Collection, id: SetId, typed: &str) -> Result<Self, String> {
        let mut words: Vec<&str> = typed.split_whitespace().collect();
        let set = collection.set(id).ok_or("the set is gone")?;
        // Before or behind the finish; a finish of the set may have the word in its name.
        let says_gap = |word: &&str| word.eq_ignore_ascii_case("gap");
        let gap = (words.iter().skip(1).rposition(says_gap))
            .filter(|_| set.finish_by_name(&words[1..].join(" ")).is_none());
        let is_gap = gap.is_some();
        if let Some(at) = gap {
            words.remove(at + 1);
        }
        if words.is_empty() {
            return Err("type the number of the card in this pocket".into());
        }
        let known = read_line(collection, Some(id), &words.join(" ")).ok();
        if let Some(Entry { printing, count }) = known {
            if printing.set() != id {
                return Err(format!(
                    "that is a card of another set, not of {}",
                    set.code()
                ));
            }
            if count != 1 {
                return Err("a pocket holds one card: type each where it lies".into());
            }
            let finish = set.finishes().get(usize::from(printing.finish()));
            return Ok(Self {
                number: set
                    .card(printing.card())
                    .map_or("".into(), |card| card.number.as_str().into()),
                finish: finish.map_or("regular".into(), |finish| finish.name.clone()),
                is_gap,
                known: Some(printing),
            });
        }
        // What a pile takes as a count: `3x2` without the blank, `12 x 3`, `12 3x`.
        if let Some(what) = count_within(&words) {
            return Err(format!(
                "“{what}” is a count, and a pocket holds one card: type each where it lies"
            ));
        }
        // A number that is not known, or that is not known in this finish.
        let (number, rest) = (words[0], words[1..].join(" "));
        Ok(Self {
            number: number.into(),
            finish: finish(set, &rest)?,
            is_gap,
            known: None,
        })
    }
}

/// The words that say how many, and no number of a card: digits with a sign for times before,
/// behind or between them, in one word or in two.
fn count_within(words: &[&str]) -> Option<String> {
    let times = ['x', 'X', '×', '*'];
    let is_digits = |word: &str| !word.is_empty() && word.bytes().all(|b| b.is_ascii_digit());
    let alone = |word: &str| {
        let (before, behind) = word.split_once(times)?;
        let is_count = match (before, behind) {
            ("", digits) | (digits, "") => words.len() > 1 && is_digits(digits),
            (before, behind) => is_digits(before) && is_digits(behind),
        };
        is_count.then(|| word.to_owned())
    };
    let apart = |pair: &[&str]| {
        let is_times = pair[0].chars().count() == 1 && pair[0].starts_with(times);
        (is_times && is_digits(pair[1])).then(|| pair.join(" "))
    };
    (words.iter().find_map(|word| alone(word))).or_else(|| words.windows(2).find_map(apart))
}

/// Number and finish, as far as that need be said.
pub(super) fn words(number: &str, finish: &str) -> String {
    match finish {
        "regular" => number.to_owned(),
        finish => format!("{number} {finish}"),
    }
}

pub(super) fn words_of(collection: &Collection, printing: PrintingId) -> String {
    let set = collection.set(printing.set());
    let finish = set.and_then(|set| set.finishes().get(usize::from(printing.finish())));
    let number = collection.card(printing).map_or("", |card| &card.number);
    words(number, finish.map_or("regular", |finish| &finish.name))
}

/// The finish that the words name: one of the set, or a new one whose name is written out.
fn finish(set: &Set, words: &str) -> Result<Box<str>, String> {
    if words.is_empty() {
        let first = set.finishes().first();
        return Ok(first.map_or("regular".into(), |finish| finish.name.clone()));
    }
    if let Some(at) = set.finish_by_name(words) {
        return Ok(set.finishes()[usize::from(at)].name.clone());
    }
    let folded = words.to_lowercase();
    let mut known =
        (set.finishes().iter().map(|finish| &*finish.name)).chain(["regular", "reverse"]);
    if let Some(name) =
        known.find(|name| folded.len() > 2 && name.to_lowercase().starts_with(&folded))
    {
        return Ok(name.into());
    }
    if folded == "r" {
        return Ok("reverse".into());
    }
    let is_count = folded
        .trim_start_matches(['x', '×'])
        .chars()
        .all(|c| c.is_ascii_digit());
    if is_count || folded.chars().count() < 3 {
        let mut said = format!("“{words}” is no finish: write a new one out, such as reverse");
        if folded.chars().any(|c| c.is_ascii_digit()) {
            said += ". A number with a space in it comes in by a checklist";
        }
        return Err(said);
    }
    Ok(words.into())
}
