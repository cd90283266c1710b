//! A set in one phrase: `1 to 120 and P1 to P6, in regular and reverse`.
//!
//! Before `in` stand numbers and ranges, after it the finishes; both lists are separated by `,`,
//! `;` or `and`. Without `in` the cards are regular.

mod range;

use std::collections::HashSet;

use crate::model::limits;

/// The most cards a phrase may make; a longer checklist comes as a file.
pub const MOST_CARDS: usize = 100_000;

/// What a phrase says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Phrase {
    /// In the order in which they were said.
    pub numbers: Vec<Box<str>>,
    pub finishes: Vec<Box<str>>,
}

/// What is wrong with a phrase, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PhraseError {
    #[error(
        "the phrase names no cards; it reads like: 1 to 120 and P1 to P6, in regular and reverse"
    )]
    NoNumbers,
    #[error("“in” is followed by the finishes: in regular and reverse")]
    NoFinishes,
    #[error(
        "“{0}” is neither a number nor a range; numbers are written 7, 12a or P3, ranges 1 to 120, \
         and what is listed is separated by “and” or a comma"
    )]
    NotANumber(String),
    #[error(
        "“{first} to {last}” is no range: both ends are alike but for one run of digits, \
         as in 1 to 120, P1 to P6 or 001/120 to 120/120"
    )]
    EndsDiffer { first: String, last: String },
    #[error("“{first} to {last}” runs backwards; write {last} to {first}")]
    Backwards { first: String, last: String },
    #[error("“{first} to {last}”: both ends need the same count of digits where zeros lead")]
    Zeros { first: String, last: String },
    #[error("“{0}” may be one number or a range; for a range write “{1}”")]
    Unclear(String, String),
    #[error("more than {MOST_CARDS} cards; a longer checklist comes as a CSV file")]
    TooMany,
    #[error("the card {0} is named twice")]
    Twice(Box<str>),
    #[error("the finish {0} is named twice")]
    FinishTwice(Box<str>),
    #[error("{0} is longer than {most} bytes", most = limits::WORD)]
    TooLong(&'static str),
    #[error(
        "“{0}” is no finish: numbers stand before “in”, as in 1 to 120, in regular and reverse"
    )]
    NumberAfterIn(Box<str>),
    #[error("more than {most} finishes", most = limits::FINISHES)]
    TooManyFinishes,
}

impl Phrase {
    /// # Errors
    /// What does not fit, in words for a person.
    pub fn parse(text: &str) -> Result<Self, PhraseError> {
        Self::parse_usual(text, &["regular".into()])
    }

    /// The same where cards without `in` come in these finishes.
    ///
    /// # Errors
    /// As [`Phrase::parse`].
    pub fn parse_usual(text: &str, usual: &[Box<str>]) -> Result<Self, PhraseError> {
        let words: Vec<_> = text.split_whitespace().collect();
        let split = words
            .iter()
            .position(|word| word.eq_ignore_ascii_case("in"));
        let (before, after) = match split {
            Some(at) => (&words[..at], Some(&words[at + 1..])),
            None => (&words[..], None),
        };
        let mut numbers = Vec::new();
        for item in items(before) {
            range::expand(&item, &mut numbers)?;
        }
        if numbers.is_empty() {
            return Err(PhraseError::NoNumbers);
        }
        let mut seen = HashSet::with_capacity(numbers.len());
        for number in &numbers {
            if number.len() > limits::WORD {
                return Err(PhraseError::TooLong("a number"));
            }
            if !seen.insert(number) {
                return Err(PhraseError::Twice(number.clone()));
            }
        }
        let finishes = match after {
            None => usual.to_vec(),
            Some(words) => finishes(words)?,
        };
        Ok(Self { numbers, finishes })
    }
}

fn finishes(words: &[&str]) -> Result<Vec<Box<str>>, PhraseError> {
    let finishes: Vec<Box<str>> = items(words).into_iter().map(Into::into).collect();
    if finishes.is_empty() {
        return Err(PhraseError::NoFinishes);
    }
    if finishes.len() > limits::FINISHES {
        return Err(PhraseError::TooManyFinishes);
    }
    let mut seen = HashSet::new();
    for finish in &finishes {
        if finish.len() > limits::WORD {
            return Err(PhraseError::TooLong("a finish"));
        }
        if finish.starts_with(|c: char| c.is_ascii_digit()) {
            return Err(PhraseError::NumberAfterIn(finish.clone()));
        }
        if !seen.insert(finish.to_lowercase()) {
            return Err(PhraseError::FinishTwice(finish.clone()));
        }
    }
    Ok(finishes)
}

/// The items between commas, semicolons and the word `and`.
fn items(words: &[&str]) -> Vec<String> {
    let with_commas: Vec<_> = words
        .iter()
        .map(|word| match word {
            word if word.eq_ignore_ascii_case("and") => ",",
            word => word,
        })
        .collect();
    let joined = with_commas.join(" ");
    let items = joined.split([',', ';']).map(str::trim);
    items
        .filter(|item| !item.is_empty())
        .map(Into::into)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(text: &str) -> Vec<String> {
        let phrase = Phrase::parse(text).unwrap();
        phrase.numbers.iter().map(ToString::to_string).collect()
    }

    fn refused(text: &str) -> String {
        Phrase::parse(text).unwrap_err().to_string()
    }

    #[test]
    fn a_phrase_lists_ranges_and_finishes() {
        let phrase = Phrase::parse("1 to 120 and P1 to P6, in regular and reverse").unwrap();
        assert_eq!(phrase.numbers.len(), 126);
        assert_eq!(phrase.numbers[119].as_ref(), "120");
        assert_eq!(phrase.numbers[120].as_ref(), "P1");
        assert_eq!(phrase.numbers[125].as_ref(), "P6");
        assert_eq!(phrase.finishes, ["regular".into(), "reverse".into()]);
        assert_eq!(
            Phrase::parse("1-120, P1-P6; in regular, reverse").unwrap(),
            phrase
        );
        assert_eq!(
            Phrase::parse("1–120 AND P1 TO P6 IN regular;reverse").unwrap(),
            phrase
        );
    }

    #[test]
    fn single_numbers_stand_beside_ranges() {
        assert_eq!(
            numbers("7, 12a; 1a to 3a and P-3"),
            ["7", "12a", "1a", "2a", "3a", "P-3"]
        );
        assert_eq!(numbers("5 to 5"), ["5"]);
    }

    #[test]
    fn zeros_that_lead_are_kept() {
        assert_eq!(numbers("008 to 010"), ["008", "009", "010"]);
        assert_eq!(numbers("008 to 010")[0], "008");
        assert_eq!(numbers("09 to 100").len(), 92);
        assert_eq!(numbers("09 to 100")[91], "100");
        assert_eq!(numbers("0 to 2"), ["0", "1", "2"]);
        assert!(refused("1 to 010").contains("zeros"));
    }

    #[test]
    fn the_run_of_digits_that_differs_is_counted() {
        assert_eq!(
            numbers("001/120 to 003/120"),
            ["001/120", "002/120", "003/120"]
        );
        assert_eq!(numbers("S2-9 to S2-11"), ["S2-9", "S2-10", "S2-11"]);
        assert_eq!(numbers("P-1-P-2"), ["P-1", "P-2"]);
    }

    #[test]
    fn without_in_the_cards_are_regular() {
        assert_eq!(Phrase::parse("1").unwrap().finishes, ["regular".into()]);
    }

    #[test]
    fn a_finish_may_be_several_words() {
        let phrase = Phrase::parse("1 in wood grain, gold  edge and plain").unwrap();
        let finishes: Vec<_> = phrase.finishes.iter().map(AsRef::as_ref).collect();
        assert_eq!(finishes, ["wood grain", "gold edge", "plain"]);
    }

    #[test]
    fn nonsense_is_refused_with_what_would_be_right() {
        assert!(refused("").contains("1 to 120"));
        assert!(refused("1 to 40, in regular and reverse, 5 is rare").contains("is no finish"));
        assert!(refused("in regular").contains("1 to 120"));
        assert!(refused("1 to 3 in").contains("in regular and reverse"));
        assert!(refused("120 to 1").contains("write 1 to 120"));
        assert!(refused("P1 to Q6").contains("no range"));
        assert!(refused("1 to P6").contains("no range"));
        assert!(refused("1 to 2 to 3").contains("neither"));
        assert!(refused("1 2").contains("neither"));
        assert!(refused("owl").contains("neither"));
        assert!(refused("to 5").contains("neither"));
        assert!(refused("P1-6").contains("P1 to P6"));
        assert!(refused("1 to 3 and 2").contains("2 is named twice"));
        assert!(refused("1 in reverse and Reverse").contains("named twice"));
        let long = format!("{}1", "P".repeat(limits::WORD));
        assert!(refused(&long).contains("longer than"));
    }

    #[test]
    fn no_phrase_makes_more_cards_than_the_limit() {
        assert_eq!(numbers("1 to 100000").len(), MOST_CARDS);
        assert_eq!(Phrase::parse("0 to 100000"), Err(PhraseError::TooMany));
        assert_eq!(
            Phrase::parse("1 to 60000 and P1 to P60000"),
            Err(PhraseError::TooMany)
        );
        assert_eq!(
            Phrase::parse("1 to 999999999999999999"),
            Err(PhraseError::TooMany)
        );
        let endless = format!("1 to {}", "9".repeat(80));
        assert_eq!(Phrase::parse(&endless), Err(PhraseError::TooMany));
    }

    proptest::proptest! {
        #[test]
        fn no_text_makes_the_parser_panic(text in "[0-9aP /,;to\\-in]{0,40}|\\PC{0,40}") {
            if let Ok(phrase) = Phrase::parse(&text) {
                proptest::prop_assert!(!phrase.numbers.is_empty());
                proptest::prop_assert!(!phrase.finishes.is_empty());
            }
        }
    }
}
