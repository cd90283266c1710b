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

pub use set::{choose_set, named_set};
pub use why::Why;

use std::collections::HashMap;

use near::{Found, Numbers, near_numbers};

use crate::model::{Change, Collection, PrintingId, Set, SetId, Step, limits};

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
    Reader::new(collection).line(set, line)
}

/// Reads a pasted list. Several cards may stand on a line, separated by commas or semicolons; a line
/// that is a set's code, with or without a colon, says of which set the following cards are.
#[must_use]
pub fn read_lines(collection: &Collection, set: Option<SetId>, text: &str) -> Pasted {
    let mut reader = Reader::new(collection);
    let mut pasted = Pasted::default();
    let mut present = set;
    for (at, line) in (1..).zip(text.lines()) {
        let line = line.trim().trim_start_matches('\u{feff}');
        if line.is_empty() {
            continue;
        }
        let why = match reader.line(present, line) {
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
                match reader.line(present, part) {
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

/// Reads lines, and remembers of the sets that they name what it had to find out.
struct Reader<'c> {
    collection: &'c Collection,
    numbers: HashMap<SetId, Numbers<'c>>,
}

impl<'c> Reader<'c> {
    fn new(collection: &'c Collection) -> Self {
        Self {
            collection,
            numbers: HashMap::new(),
        }
    }

    fn line(&mut self, set: Option<SetId>, line: &str) -> Result<Entry, Why> {
        let words: Vec<&str> = line.split_whitespace().collect();
        if words.is_empty() {
            return Err(Why::Nothing);
        }
        // A card may be numbered `x3`, and then that is no count.
        if let Some(printing) = set.and_then(|set| whole(self.collection, set, &words)) {
            return Ok(Entry { printing, count: 1 });
        }
        let (words, count) = counted(&words)?;
        let printing = self.printing(set, words)?;
        Ok(Entry { printing, count })
    }

    /// In the present set if the line can be read there, else in the one that its first word names.
    fn printing(&mut self, present: Option<SetId>, words: &[&str]) -> Result<PrintingId, Why> {
        let here = present.map(|id| self.in_set(id, words));
        if let Some(Ok(printing)) = here {
            return Ok(printing);
        }
        if let [first, rest @ ..] = words
            && !rest.is_empty()
            && let Some(named) = set::by_word(self.collection, first)
        {
            return self.in_set(named, rest);
        }
        here.unwrap_or_else(|| Err(set::none(self.collection, words)))
    }

    /// The longest beginning of the words that is a number counts; what follows is the finish.
    fn in_set(&mut self, id: SetId, words: &[&str]) -> Result<PrintingId, Why> {
        let Some(set) = self.collection.set(id) else {
            return Err(set::none(self.collection, words));
        };
        let numbers = self.numbers.entry(id).or_insert_with(|| Numbers::of(set));
        let (begun, ends) = beginnings(words);
        for (end, stop) in ends.into_iter().enumerate().rev() {
            let end = end + 1;
            match numbers.find(&begun[..stop]) {
                Found::One(card) => {
                    let finish = finish(set, card, &words[end..])?;
                    return Ok(PrintingId::new(id, card, finish));
                }
                Found::Several(numbers) => {
                    return Err(Why::Several {
                        set: set.code().into(),
                        written: begun[..stop].to_owned(),
                        numbers,
                    });
                }
                Found::None => {}
            }
        }
        // Words at the end that are a finish are not what is wrong.
        let named = endings(words).find(|at| set.finish_by_name(&words[*at..].join(" ")).is_some());
        let written = words[..named.unwrap_or(words.len())].join(" ");
        Err(Why::NoNumber {
            set: set.code().into(),
            near: near_numbers(set, &written),
            written,
        })
    }
}

/// Bytes of a line's beginning in which its number is looked for, and of its end for a finish. Either
/// has at most [`limits::WORD`]; a number may be written with further spaces and zeros. What is
/// longer is neither.
const MOST: usize = 4 * limits::WORD;

/// The first words, as many as may be a number, one space between; and where each of them ends
/// there. The first word at least.
fn beginnings(words: &[&str]) -> (String, Vec<usize>) {
    let (mut begun, mut ends) = (String::new(), Vec::new());
    for word in words {
        if !ends.is_empty() {
            if begun.len() + 1 + word.len() > MOST {
                break;
            }
            begun.push(' ');
        }
        begun.push_str(word);
        ends.push(begun.len());
    }
    (begun, ends)
}

/// Where words at the end begin that may be a finish, the longest first; never all of the words.
fn endings(words: &[&str]) -> impl Iterator<Item = usize> + use<> {
    let mut bytes = 0;
    let short = words.iter().rev().take_while(|word| {
        bytes += word.len() + 1;
        bytes <= MOST
    });
    words.len().saturating_sub(short.count()).max(1)..words.len()
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

/// The entries as one step under these words: so many copies of each come in, loose.
#[must_use]
pub fn pile_step<'e>(words: String, entries: impl IntoIterator<Item = &'e Entry>) -> Step {
    let came = |entry: &Entry| Change::Acquire {
        printing: entry.printing,
        count: entry.count,
    };
    Step::new(words, entries.into_iter().map(came).collect())
}
