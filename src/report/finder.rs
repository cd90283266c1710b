//! Finding a card as one types.

use nucleo_matcher::{Config, Matcher, Utf32Str, Utf32String, chars};

use crate::model::{Collection, SetId};
use crate::text::natural_cmp;

/// How well one word of the query meets a card. A number counts more than any name, a name more
/// than the set it is from; what fuzzy matching gives is held within its span.
mod weight {
    pub(super) const NUMBER: u32 = 1_000;
    /// A set's code beside a word that is a number: `moss 12`.
    pub(super) const CODE_OF_NUMBER: u32 = 800;
    /// The number without leading zeros and without what follows a slash.
    pub(super) const NUMBER_STEM: u32 = 900;
    pub(super) const NUMBER_START: u32 = 500;
    pub(super) const NAME: u32 = 100;
    pub(super) const NAME_SPAN: u32 = 300;
    pub(super) const CODE: u32 = 95;
    pub(super) const TITLE: u32 = 60;
    pub(super) const CODE_START: u32 = 50;
    /// Two words or more, and the name begins with all of them as they stand.
    pub(super) const WHOLE_NAME: u32 = 1_000;
}

/// More words than a person types; what follows them is not looked at.
const MOST_WORDS: usize = 8;
/// Likewise for letters of a word.
const MOST_LETTERS: usize = 64;

/// A card that was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hit {
    pub set: SetId,
    /// Place in the set's checklist, from 0.
    pub card: u32,
    /// The higher the better; only to be compared within one search.
    pub score: u32,
}

/// An index of all cards. It does not follow the collection: make a new one when sets or names
/// have changed.
#[derive(Debug, Default)]
pub struct Finder {
    sets: Vec<SetWords>,
    /// By set, then by number in natural order.
    cards: Vec<Entry>,
}

#[derive(Debug)]
struct SetWords {
    code: String,
    title: Vec<String>,
}

#[derive(Debug)]
struct Entry {
    set: SetId,
    card: u32,
    number: Box<str>,
    name: Utf32String,
}

/// One word of a query.
struct Word {
    text: String,
    needle: Utf32String,
    /// How well it meets each set's code and title.
    sets: Vec<u32>,
}

impl Finder {
    #[must_use]
    pub fn new(collection: &Collection) -> Self {
        let mut finder = Self::default();
        for (id, set) in collection.sets() {
            finder.sets.push(SetWords {
                code: fold(set.code()),
                title: set.title().split_whitespace().map(fold).collect(),
            });
            let first = finder.cards.len();
            finder
                .cards
                .extend((0..).zip(set.cards()).map(|(at, card)| Entry {
                    set: id,
                    card: at,
                    number: fold(&card.number).into(),
                    name: card.name.as_ref().into(),
                }));
            // Nearly always sorted already, and then this is one pass.
            finder.cards[first..].sort_by(|a, b| natural_cmp(&a.number, &b.number));
        }
        finder
    }

    /// The best `limit` cards for what was typed, the best first. Every word must meet the card:
    /// its number (or the beginning of it), its name (letters left out are forgiven; case and
    /// accents do not count), or the code or title of its set. Ties stay in set order, then in
    /// natural order of the numbers. Nothing typed finds nothing.
    #[must_use]
    pub fn search(&self, query: &str, limit: usize) -> Vec<Hit> {
        let words = self.words(query);
        if words.is_empty() || limit == 0 {
            return Vec::new();
        }
        let start = (words.len() > 1).then(|| {
            let whole: Vec<_> = words.iter().map(|word| word.text.as_str()).collect();
            Utf32String::from(whole.join(" "))
        });
        let mut matcher = Matcher::new({
            let mut config = Config::DEFAULT;
            config.prefer_prefix = true;
            config
        });
        let mut hits: Vec<(u32, u32)> = (0u32..)
            .zip(&self.cards)
            .filter_map(|(at, entry)| {
                let score = meet(entry, &words, start.as_ref(), &mut matcher)?;
                Some((score, at))
            })
            .collect();
        // The better score first; among equals the earlier entry: no two compare equal.
        let order = |(score, at): &(u32, u32)| (std::cmp::Reverse(*score), *at);
        if hits.len() > limit {
            hits.select_nth_unstable_by_key(limit, order);
            hits.truncate(limit);
        }
        hits.sort_unstable_by_key(order);
        (hits.into_iter())
            .map(|(score, at)| {
                let entry = &self.cards[at as usize];
                Hit {
                    set: entry.set,
                    card: entry.card,
                    score,
                }
            })
            .collect()
    }

    fn words(&self, query: &str) -> Vec<Word> {
        query
            .split(|c: char| c.is_whitespace() || c == ':')
            .filter(|word| !word.is_empty())
            .take(MOST_WORDS)
            .map(|word| {
                let text: String = fold(word).chars().take(MOST_LETTERS).collect();
                Word {
                    needle: text.as_str().into(),
                    sets: self.sets.iter().map(|set| meet_set(set, &text)).collect(),
                    text,
                }
            })
            .collect()
    }
}

/// Case and accents aside, as the matcher folds what it looks through.
fn fold(text: &str) -> String {
    if text.is_ascii() {
        return text.to_ascii_lowercase();
    }
    chars::graphemes(text)
        .map(|c| chars::normalize(chars::to_lower_case(chars::normalize(c))))
        .collect()
}

fn meet_set(set: &SetWords, word: &str) -> u32 {
    // One letter begins too many titles to say anything.
    let long = word.chars().nth(1).is_some();
    if set.code == word {
        weight::CODE
    } else if long && set.title.iter().any(|part| part.starts_with(word)) {
        weight::TITLE
    } else if long && set.code.starts_with(word) {
        weight::CODE_START
    } else {
        0
    }
}

fn meet_number(number: &str, word: &str) -> u32 {
    if number == word {
        return weight::NUMBER;
    }
    let stem_of = |number: &str, word: &str| {
        let rest = number.strip_prefix(word);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
    };
    let (plain, typed) = (without_zeros(number), without_zeros(word));
    if stem_of(number, word) || (!typed.is_empty() && stem_of(plain, typed)) {
        weight::NUMBER_STEM
    } else if number.starts_with(word) {
        weight::NUMBER_START
    } else {
        0
    }
}

fn without_zeros(number: &str) -> &str {
    number.trim_start_matches('0')
}

/// How well the card meets all words together; `None` when one of them does not meet it at all.
fn meet(
    entry: &Entry,
    words: &[Word],
    start: Option<&Utf32String>,
    matcher: &mut Matcher,
) -> Option<u32> {
    let name = entry.name.slice(..);
    let mut numbered = 0;
    let mut score = 0;
    let mut own = [(0, false); MOST_WORDS];
    for (word, own) in words.iter().zip(&mut own) {
        let number = meet_number(&entry.number, &word.text);
        let best = if number > 0 {
            numbered += 1;
            number
        } else {
            meet_name(name, word.needle.slice(..), matcher)
        };
        if best == 0 && word.sets[usize::from(entry.set.0)] == 0 {
            return None;
        }
        *own = (best, number > 0);
    }
    for (word, (best, is_number)) in words.iter().zip(own) {
        let set = word.sets[usize::from(entry.set.0)];
        let beside_number = numbered > usize::from(is_number);
        score += if set == weight::CODE && beside_number {
            best.max(weight::CODE_OF_NUMBER)
        } else {
            best.max(set)
        };
    }
    if start.is_some_and(|start| matcher.prefix_match(name, start.slice(..)).is_some()) {
        score += weight::WHOLE_NAME;
    }
    Some(score)
}

fn meet_name(name: Utf32Str<'_>, word: Utf32Str<'_>, matcher: &mut Matcher) -> u32 {
    matcher.fuzzy_match(name, word).map_or(0, |score| {
        weight::NAME + u32::from(score).min(weight::NAME_SPAN)
    })
}

#[cfg(test)]
mod tests {
    use std::sync::LazyLock;

    use proptest::prelude::*;

    use super::*;
    use crate::model::{Builder, Card, Finish, SetHead, SetParts};

    /// Code, title, and the cards as number and name.
    type Sketch<'a> = (&'a str, &'a str, &'a [(&'a str, &'a str)]);

    fn collection(sets: &[Sketch<'_>]) -> Collection {
        let mut builder = Builder::new();
        for (code, title, cards) in sets {
            let card = |(number, name): &(&str, &str)| Card {
                number: (*number).into(),
                name: (*name).into(),
                rarity: None,
                size: None,
                finishes: 1,
            };
            let parts = SetParts {
                head: SetHead {
                    code: (*code).into(),
                    title: (*title).into(),
                    ..SetHead::default()
                },
                finishes: vec![Finish {
                    name: "regular".into(),
                    mark: "".into(),
                }],
                rarities: Vec::new(),
                cards: cards.iter().map(card).collect(),
            };
            builder.set(parts).unwrap();
        }
        builder.finish().unwrap()
    }

    /// What a search finds, as `CODE number`.
    fn found(collection: &Collection, query: &str) -> Vec<String> {
        let hits = Finder::new(collection).search(query, 50);
        let told = |hit: &Hit| {
            let set = collection.set(hit.set).unwrap();
            format!("{} {}", set.code(), set.card(hit.card).unwrap().number)
        };
        hits.iter().map(told).collect()
    }

    #[test]
    fn the_exact_number_comes_first_then_numbers_that_begin_so_then_names() {
        let collection = collection(&[
            (
                "ONE",
                "",
                &[("12ab", "Wren"), ("3", "Room 12a"), ("12a", "Hare")],
            ),
            ("TWO", "", &[("12a", "Vole"), ("12", "Newt")]),
        ]);
        assert_eq!(
            found(&collection, "12a"),
            ["ONE 12a", "TWO 12a", "ONE 12ab", "ONE 3"]
        );
        assert_eq!(found(&collection, "12A"), found(&collection, "12a"));
    }

    #[test]
    fn a_number_is_found_without_its_zeros_and_without_what_follows_the_slash() {
        let collection = collection(&[(
            "ONE",
            "",
            &[
                ("007", "Wren"),
                ("7/90", "Hare"),
                ("70/90", "Vole"),
                ("7a", "Jay"),
            ],
        )]);
        assert_eq!(
            found(&collection, "7"),
            ["ONE 007", "ONE 7/90", "ONE 7a", "ONE 70/90"]
        );
        assert_eq!(found(&collection, "07")[..2], ["ONE 007", "ONE 7/90"]);
        assert_eq!(found(&collection, "7/90"), ["ONE 7/90"]);
    }

    #[test]
    fn a_set_beside_a_number_leads_to_that_card() {
        let collection = collection(&[
            (
                "WOOD",
                "The Long Wood",
                &[("12", "Moss Wren"), ("13", "Moss Owl")],
            ),
            (
                "MOSS",
                "Moss Hall",
                &[("1", "Moss Owl"), ("12", "Fern Hare")],
            ),
        ]);
        for query in ["moss 12", "12 moss", "MOSS:12"] {
            assert_eq!(
                found(&collection, query)[..2],
                ["MOSS 12", "WOOD 12"],
                "{query}"
            );
        }
        // By a word of the title too.
        assert_eq!(found(&collection, "long 13"), ["WOOD 13"]);
    }

    #[test]
    fn a_whole_name_comes_before_a_set_of_that_name() {
        let collection = collection(&[
            ("MOSS", "Moss Hall", &[("1", "Barn Owl"), ("2", "Owlet")]),
            ("WOOD", "", &[("9", "Moss Owl")]),
        ]);
        assert_eq!(
            found(&collection, "moss ow"),
            ["WOOD 9", "MOSS 2", "MOSS 1"]
        );
    }

    #[test]
    fn case_accents_and_letters_left_out_are_forgiven() {
        let collection = collection(&[(
            "ONE",
            "",
            &[
                ("1", "Épave à la dérive"),
                ("2", "Сова изо мха"),
                ("3", "Lamplighter"),
                ("4", "潮だまりの番人"),
            ],
        )]);
        for (query, number) in [
            ("epave", "ONE 1"),
            ("ÉPAVE", "ONE 1"),
            ("e\u{301}pave", "ONE 1"),
            ("DERIVE", "ONE 1"),
            ("сова", "ONE 2"),
            ("СОВА", "ONE 2"),
            ("lmplghtr", "ONE 3"),
            ("番人", "ONE 4"),
        ] {
            assert_eq!(found(&collection, query), [number], "{query}");
        }
    }

    #[test]
    fn every_word_must_meet_the_card_and_nothing_typed_finds_nothing() {
        let collection = collection(&[("ONE", "", &[("1", "Fen Heron"), ("2", "Fen Otter")])]);
        assert_eq!(found(&collection, "fen otter"), ["ONE 2"]);
        assert_eq!(found(&collection, "otter fen"), ["ONE 2"]);
        assert!(found(&collection, "fen zebra").is_empty());
        assert!(found(&collection, "  ").is_empty());
        assert!(found(&collection, ":").is_empty());
        assert!(Finder::new(&collection).search("fen", 0).is_empty());
        assert_eq!(Finder::new(&collection).search("fen", 1).len(), 1);
    }

    #[test]
    fn ties_stay_in_set_order_and_then_in_natural_order() {
        let collection = collection(&[
            (
                "ONE",
                "",
                &[("10", "Owl"), ("P1", "Owl"), ("9", "Owl"), ("9a", "Owl")],
            ),
            ("TWO", "", &[("2", "Owl")]),
        ]);
        assert_eq!(
            found(&collection, "owl"),
            ["ONE 9", "ONE 9a", "ONE 10", "ONE P1", "TWO 2"]
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn anything_can_be_typed_and_fewer_hits_are_the_first_of_more(
            query in ".{0,40}",
            few in 0usize..40,
        ) {
            static FINDER: LazyLock<Finder> =
                LazyLock::new(|| Finder::new(&crate::demo::collection()));
            let finder = &*FINDER;
            let all = finder.search(&query, usize::MAX);
            let some = finder.search(&query, few);
            prop_assert_eq!(&all[..few.min(all.len())], &some[..]);
            prop_assert!(all.is_sorted_by(|a, b| a.score >= b.score));
        }
    }
}
