//! One item of a phrase: a number, or a range whose ends differ in one run of digits.

use super::{MOST_CARDS, PhraseError};

/// Adds the numbers that `item` stands for.
pub(super) fn expand(item: &str, numbers: &mut Vec<Box<str>>) -> Result<(), PhraseError> {
    let words: Vec<_> = item.split_whitespace().collect();
    let range = match words[..] {
        [first, to, last] if to.eq_ignore_ascii_case("to") || to == "-" || to == "–" => {
            Range::between(first, last)?
        }
        [single] => match dashed(single)? {
            Some(range) => range,
            None if single.bytes().any(|b| b.is_ascii_digit()) => {
                return push(numbers, single.into());
            }
            None => return Err(PhraseError::NotANumber(item.into())),
        },
        _ => return Err(PhraseError::NotANumber(item.into())),
    };
    for value in range.from..=range.to {
        push(
            numbers,
            format!(
                "{}{value:0width$}{}",
                range.before,
                range.after,
                width = range.width
            )
            .into(),
        )?;
    }
    Ok(())
}

fn push(numbers: &mut Vec<Box<str>>, number: Box<str>) -> Result<(), PhraseError> {
    if numbers.len() == MOST_CARDS {
        return Err(PhraseError::TooMany);
    }
    numbers.push(number);
    Ok(())
}

/// `before`, a counted run of at least `width` digits, `after`.
struct Range {
    before: String,
    from: u64,
    to: u64,
    width: usize,
    after: String,
}

impl Range {
    fn between(first: &str, last: &str) -> Result<Self, PhraseError> {
        let ends = || (first.to_owned(), last.to_owned());
        let Some(at) = differing(first, last) else {
            let (first, last) = ends();
            return Err(PhraseError::EndsDiffer { first, last });
        };
        let (runs, others) = (runs(first), runs(last));
        let (low, high) = (runs[at], others[at]);
        let padded = |run: &str| run.len() > 1 && run.starts_with('0');
        let even = low.len() == high.len();
        if !even && (padded(high) || padded(low) && high.len() < low.len()) {
            let (first, last) = ends();
            return Err(PhraseError::Zeros { first, last });
        }
        let value = |run: &str| run.parse::<u64>().map_err(|_| PhraseError::TooMany);
        let (from, to) = (value(low)?, value(high)?);
        if from > to {
            let (first, last) = ends();
            return Err(PhraseError::Backwards { first, last });
        }
        if to - from >= MOST_CARDS as u64 {
            return Err(PhraseError::TooMany);
        }
        Ok(Self {
            before: runs[..at].concat(),
            from,
            to,
            width: if padded(low) { low.len() } else { 0 },
            after: runs[at + 1..].concat(),
        })
    }
}

/// Runs of digits and of other characters.
fn runs(text: &str) -> Vec<&str> {
    let mut runs = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.bytes().next() {
        let digits = first.is_ascii_digit();
        let end = rest
            .bytes()
            .position(|b| b.is_ascii_digit() != digits)
            .unwrap_or(rest.len());
        let (run, after) = rest.split_at(end);
        runs.push(run);
        rest = after;
    }
    runs
}

fn is_digits(run: &str) -> bool {
    run.bytes().all(|b| b.is_ascii_digit())
}

/// The run in which two texts of the same shape differ, if it is one run of digits; the last run
/// of digits where the texts are the same.
fn differing(first: &str, last: &str) -> Option<usize> {
    let (a, b) = (runs(first), runs(last));
    if a.len() != b.len() {
        return None;
    }
    let differ: Vec<_> = (0..a.len()).filter(|&at| a[at] != b[at]).collect();
    match differ[..] {
        [] => a.iter().rposition(|run| is_digits(run)),
        [at] if is_digits(a[at]) && is_digits(b[at]) => Some(at),
        _ => None,
    }
}

/// The range in `1-120` or `P1–P6`; `None` for a number that only has a dash in it, as `P-3`.
fn dashed(item: &str) -> Result<Option<Range>, PhraseError> {
    for (at, dash) in item.char_indices().filter(|(_, c)| matches!(c, '-' | '–')) {
        let (first, last) = (&item[..at], &item[at + dash.len_utf8()..]);
        if first.is_empty() || last.is_empty() {
            continue;
        }
        if differing(first, last).is_some() {
            return Range::between(first, last).map(Some);
        }
        if let [prefix, number] = runs(first)[..]
            && is_digits(number)
            && is_digits(last)
        {
            let meant = format!("{first} to {prefix}{last}");
            return Err(PhraseError::Unclear(item.into(), meant));
        }
    }
    Ok(None)
}
