//! Natural order of card numbers: 7 < 12 < 12a < 100/100 < P-3.
//!
//! There is no published standard. The rule: texts are split into runs of ASCII digits and of
//! other characters, letter case aside. Digits come before other characters; two digit runs
//! compare by value, whatever their length; two other runs by code point; the text that ends
//! first comes first. Texts that are equal so far differ by leading zeros (fewer first), then by
//! their raw code points: a total order, in which only identical texts are equal.

use std::cmp::Ordering;

/// Compares two numbers or names in natural order.
#[must_use]
pub fn natural_cmp(a: &str, b: &str) -> Ordering {
    let (folded_a, folded_b) = (fold(a), fold(b));
    let (mut left, mut right) = (folded_a.as_ref(), folded_b.as_ref());
    let mut zeros = Ordering::Equal;
    while !left.is_empty() && !right.is_empty() {
        let ((run_a, rest_a), (run_b, rest_b)) = (split_run(left), split_run(right));
        let (digits_a, digits_b) = (starts_with_digit(run_a), starts_with_digit(run_b));
        let order = match (digits_a, digits_b) {
            (true, false) => Ordering::Less,
            (false, true) => Ordering::Greater,
            (false, false) => run_a.cmp(run_b),
            (true, true) => {
                zeros = zeros.then(run_a.len().cmp(&run_b.len()));
                by_value(run_a, run_b)
            }
        };
        if order != Ordering::Equal {
            return order;
        }
        (left, right) = (rest_a, rest_b);
    }
    left.len()
        .cmp(&right.len())
        .then(zeros)
        .then_with(|| a.cmp(b))
}

/// Letter case aside. Numbers are nearly always plain, and then nothing is copied.
fn fold(text: &str) -> std::borrow::Cow<'_, str> {
    if text
        .bytes()
        .all(|b| b.is_ascii() && !b.is_ascii_uppercase())
    {
        text.into()
    } else {
        text.to_lowercase().into()
    }
}

fn starts_with_digit(text: &str) -> bool {
    text.as_bytes().first().is_some_and(u8::is_ascii_digit)
}

/// The leading run of digits or of non-digits, and what follows it.
fn split_run(text: &str) -> (&str, &str) {
    let digits = starts_with_digit(text);
    let end = text
        .bytes()
        .position(|b| b.is_ascii_digit() != digits)
        .unwrap_or(text.len());
    text.split_at(end)
}

/// Compares by value without making a number of them, which may be too long for any.
fn by_value(a: &str, b: &str) -> Ordering {
    let (a, b) = (a.trim_start_matches('0'), b.trim_start_matches('0'));
    a.len().cmp(&b.len()).then_with(|| a.cmp(b))
}
