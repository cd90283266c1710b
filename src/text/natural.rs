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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::Value;

    use super::*;

    /// The source and the rule are named in the file.
    fn cases(kind: &str) -> Vec<Value> {
        crate::checks::cases("natural_order.json", kind)
    }

    fn strings(list: &Value) -> Vec<&str> {
        (list.as_array().unwrap().iter())
            .map(|text| text.as_str().unwrap())
            .collect()
    }

    #[test]
    fn lists_come_into_the_order_that_the_rule_gives_them() {
        for case in cases("sort") {
            let mut input = strings(&case["input"]);
            input.sort_by(|a, b| natural_cmp(a, b));
            assert_eq!(input, strings(&case["sorted"]), "{}", case["name"]);
        }
    }

    #[test]
    fn pairs_compare_as_the_rule_says() {
        for case in cases("pair") {
            let (a, b) = (case["a"].as_str().unwrap(), case["b"].as_str().unwrap());
            let right = case["cmp"].as_i64().unwrap().cmp(&0);
            assert_eq!(natural_cmp(a, b), right, "{a} {b}");
            assert_eq!(natural_cmp(b, a), right.reverse(), "{b} {a}");
        }
    }

    #[test]
    fn any_three_of_the_strings_compare_without_contradiction() {
        let sorts = cases("sort");
        let pairs = cases("pair");
        let mut all: Vec<&str> = sorts.iter().flat_map(|c| strings(&c["input"])).collect();
        all.extend(
            pairs
                .iter()
                .flat_map(|c| [&c["a"], &c["b"]])
                .map(|t| t.as_str().unwrap()),
        );
        for a in &all {
            for b in &all {
                let ab = natural_cmp(a, b);
                assert_eq!(ab, natural_cmp(b, a).reverse(), "{a} {b}");
                assert_eq!(ab == Ordering::Equal, a == b, "{a} {b}");
                for c in &all {
                    if ab.is_le() && natural_cmp(b, c).is_le() {
                        assert!(natural_cmp(a, c).is_le(), "{a} {b} {c}");
                    }
                }
            }
        }
    }

    /// Few characters, so that equal runs, zeros and case differences are common.
    const TRICKY: &str = "[0-2aAbB/ßéÉ-]{0,6}";

    proptest! {
        #[test]
        fn it_is_a_total_order(a in TRICKY, b in TRICKY, c in TRICKY) {
            prop_assert_eq!(natural_cmp(&a, &b), natural_cmp(&b, &a).reverse());
            prop_assert_eq!(natural_cmp(&a, &b) == Ordering::Equal, a == b);
            if natural_cmp(&a, &b).is_le() && natural_cmp(&b, &c).is_le() {
                prop_assert!(natural_cmp(&a, &c).is_le());
            }
        }

        /// The `alphanumeric-sort` crate as a second opinion, where its rule and this one are the
        /// same: small ASCII letters, and numbers without leading zeros.
        #[test]
        fn plain_numbers_and_letters_agree_with_a_second_opinion(
            a in "([a-z]{0,2}([1-9][0-9]{0,4})?){0,2}",
            b in "([a-z]{0,2}([1-9][0-9]{0,4})?){0,2}",
        ) {
            prop_assert_eq!(natural_cmp(&a, &b), alphanumeric_sort::compare_str(&a, &b));
        }

        /// Numbers by value, against `u128`.
        #[test]
        fn digits_compare_by_value(a in any::<u128>(), b in any::<u128>()) {
            prop_assert_eq!(natural_cmp(&a.to_string(), &b.to_string()), a.cmp(&b));
        }
    }
}
