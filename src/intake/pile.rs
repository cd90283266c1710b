//! The pile: what is typed or pasted for the cards of a stack, line by line.
//!
//! ```text
//!   12a            one copy, in the card's first finish
//!   7 r            in the finish of this mark; or of this name, or the beginning of it
//!   7 x3           three copies; `3x` and `x 3` say the same
//!   MOSS 12        of another set than the present one, by its code or symbol
//!   12 reverse x2  all together
//! ```
//!
//! A number is taken as it is written in the checklist. Letter case may
//! differ, and spaces, leading zeros and what follows a slash may be left out, where only one card
//! is meant then: `7` for `007/064`.
//! Nothing else is guessed: what is not taken is told, with the nearest right words.

mod near;
mod set;
#[cfg(test)]
mod tests;
mod why;

pub use set::choose_set;
pub use why::Why;

use near::{Found, near_numbers, number};

use crate::model::{Collection, PrintingId, Set, SetId, limits};

/// What a line says: so many copies of this printing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    pub printing: PrintingId,
    /// From 1 to [`limits::COPIES`].
    pub count: u32,
}

/// A pasted list, apart in what is taken and what is not. Lines count from 1.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pasted {
    pub taken: Vec<(usize, Entry)>,
    /// With the words as they stood there.
    pub not_taken: Vec<(usize, String, Why)>,
}

/// Reads one line. `set` is the present set; without one the line must name its set.
///
/// # Errors
/// Why it is not taken, and what would be right.
pub fn read_line(collection: &Collection, set: Option<SetId>, line: &str) -> Result<Entry, Why> {
    let words: Vec<&str> = line.split_whitespace().collect();
    if words.is_empty() {
        return Err(Why::Nothing);
    }
    // A card may be numbered `x3`, and then that is no count.
    if let Some(printing) = set.and_then(|set| whole(collection, set, &words)) {
        return Ok(Entry { printing, count: 1 });
    }
    let (words, count) = counted(&words)?;
    let printing = printing(collection, set, words)?;
    Ok(Entry { printing, count })
}

/// Reads a pasted list. Several cards may stand on a line, separated by commas or semicolons; a line
/// that is a set's code, with or without a colon, says of which set the following cards are.
#[must_use]
pub fn read_lines(collection: &Collection, set: Option<SetId>, text: &str) -> Pasted {
    let mut pasted = Pasted::default();
    let mut present = set;
    for (at, line) in (1..).zip(text.lines()) {
        let line = line.trim().trim_start_matches('\u{feff}');
        if line.is_empty() {
            continue;
        }
        let why = match read_line(collection, present, line) {
            Ok(entry) => {
                pasted.taken.push((at, entry));
                continue;
            }
            Err(why) => why,
        };
        let code = line.trim_end_matches(':').trim_end();
        if let Some(named) = set::by_word(collection, code) {
            present = Some(named);
        } else if line.contains([',', ';']) {
            for part in line
                .split([',', ';'])
                .filter(|part| !part.trim().is_empty())
            {
                match read_line(collection, present, part) {
                    Ok(entry) => pasted.taken.push((at, entry)),
                    Err(why) => pasted.not_taken.push((at, part.trim().into(), why)),
                }
            }
        } else {
            pasted.not_taken.push((at, line.into(), why));
        }
    }
    pasted
}

/// The printing whose number is all of the words, exactly as written.
fn whole(collection: &Collection, id: SetId, words: &[&str]) -> Option<PrintingId> {
    let set = collection.set(id)?;
    let card = set.card_by_number(&words.join(" "))?;
    Some(PrintingId::new(id, card, first_finish(set, card)?))
}

/// The count at the end or at the beginning, and the words without it. Never all of the words.
fn counted<'l, 'w>(words: &'l [&'w str]) -> Result<(&'l [&'w str], u32), Why> {
    let is_times = |word: &str| matches!(word, "x" | "X" | "×" | "*");
    let (rest, digits): (_, &str) = match words {
        [rest @ .., times, digits] if !rest.is_empty() && is_times(times) && is_digits(digits) => {
            (rest, digits)
        }
        [rest @ .., last] if !rest.is_empty() && times_of(last).is_some() => {
            (rest, times_of(last).unwrap_or_default())
        }
        [first, rest @ ..] if !rest.is_empty() && times_of(first).is_some() => {
            (rest, times_of(first).unwrap_or_default())
        }
        _ => return Ok((words, 1)),
    };
    let count = digits.parse().ok();
    match count.filter(|count| (1..=limits::COPIES).contains(count)) {
        Some(count) => Ok((rest, count)),
        None => Err(Why::Count(digits.into())),
    }
}

/// The digits of `x3` or `3x`.
fn times_of(word: &str) -> Option<&str> {
    let times = ['x', 'X', '×', '*'];
    let digits = word
        .strip_prefix(times)
        .or_else(|| word.strip_suffix(times))?;
    is_digits(digits).then_some(digits)
}

fn is_digits(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|b| b.is_ascii_digit())
}

/// In the present set if the line can be read there, else in the one that its first word names.
fn printing(
    collection: &Collection,
    present: Option<SetId>,
    words: &[&str],
) -> Result<PrintingId, Why> {
    let here = present.map(|id| in_set(collection, id, words));
    if let Some(Ok(printing)) = here {
        return Ok(printing);
    }
    if let [first, rest @ ..] = words
        && !rest.is_empty()
        && let Some(named) = set::by_word(collection, first)
    {
        return in_set(collection, named, rest);
    }
    here.unwrap_or_else(|| Err(set::none(collection, words)))
}

/// The longest beginning of the words that is a number counts; what follows is the finish.
fn in_set(collection: &Collection, id: SetId, words: &[&str]) -> Result<PrintingId, Why> {
    let Some(set) = collection.set(id) else {
        return Err(set::none(collection, words));
    };
    for end in (1..=words.len()).rev() {
        let written = words[..end].join(" ");
        match number(set, &written) {
            Found::One(card) => {
                let finish = finish(set, card, &words[end..])?;
                return Ok(PrintingId::new(id, card, finish));
            }
            Found::Several(numbers) => {
                return Err(Why::Several {
                    set: set.code().into(),
                    written,
                    numbers,
                });
            }
            Found::None => {}
        }
    }
    // A word at the end that is a finish is not what is wrong.
    let named = (1..words.len()).find(|at| set.finish_by_name(&words[*at..].join(" ")).is_some());
    let written = words[..named.unwrap_or(words.len())].join(" ");
    Err(Why::NoNumber {
        set: set.code().into(),
        near: near_numbers(set, &written),
        written,
    })
}

/// The finish that the words say; where they say none, the first that the card comes in.
fn finish(set: &Set, card: u32, words: &[&str]) -> Result<u8, Why> {
    let there = |finish: &u8| set.card(card).is_some_and(|card| card.has_finish(*finish));
    let no_finish = || Why::NoFinish {
        set: set.code().into(),
        number: set
            .card(card)
            .map_or("".into(), |card| card.number.as_str().into()),
        written: words.join(" "),
        finishes: (0u8..)
            .zip(set.finishes())
            .filter(|(at, _)| there(at))
            .map(|(_, finish)| finish.name.clone())
            .collect(),
    };
    if words.is_empty() {
        return first_finish(set, card).ok_or_else(no_finish);
    }
    let written = words.join(" ");
    if let Some(finish) = set.finish_by_name(&written) {
        return Some(finish).filter(there).ok_or_else(no_finish);
    }
    let start = written.to_lowercase();
    // The finish without a mark need not be said, so one letter is meant for another: `r` is not
    // the beginning of `regular` where there is no reverse.
    let is_short = start.chars().count() < 3;
    let mut begun = (0u8..).zip(set.finishes()).filter(|(at, finish)| {
        let (name, mark) = (finish.name.to_lowercase(), finish.mark.to_lowercase());
        let begins = name.starts_with(&start) && !(is_short && mark.is_empty());
        there(at) && (begins || mark == start)
    });
    match (begun.next(), begun.next()) {
        (Some((only, _)), None) => Ok(only),
        _ => Err(no_finish()),
    }
}

fn first_finish(set: &Set, card: u32) -> Option<u8> {
    let card = set.card(card)?;
    (0u8..)
        .take(set.finishes().len())
        .find(|finish| card.has_finish(*finish))
}
