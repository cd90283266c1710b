//! Finding a card as one types.

mod binders;
mod found;
mod search;

use std::collections::BTreeSet;

pub use binders::binders_named;
pub use found::{Ask, Found};
use nucleo_matcher::{Utf32String, chars};
pub use search::Search;

use crate::model::{Collection, Set, SetId};
use crate::text::natural_cmp;

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
    /// The names of all finishes, in small letters.
    finishes: BTreeSet<String>,
    /// Bytes with which a number begins, with its zeros or without them. Most words begin no
    /// number, and then no number need be looked at.
    number_begins: BTreeSet<u8>,
}

#[derive(Debug)]
struct SetWords {
    id: SetId,
    code: String,
    title: Vec<String>,
}

#[derive(Debug)]
struct Entry {
    /// Place among the finder's sets.
    set: u16,
    card: u32,
    number: Box<str>,
    name: Utf32String,
}

impl Finder {
    #[must_use]
    pub fn new(collection: &Collection) -> Self {
        let mut finder = Self::default();
        finder.take_in(collection, usize::MAX);
        finder
    }

    /// Takes about this many more cards into the index, set by set; `true` when all are in it.
    /// For one that is made bit by bit: a million cards take longer than a frame.
    pub fn take_in(&mut self, collection: &Collection, cards: usize) -> bool {
        let enough = self.cards.len().saturating_add(cards);
        for (id, set) in collection.sets().skip(self.sets.len()) {
            if self.cards.len() >= enough {
                return false;
            }
            self.take_in_set(id, set);
        }
        true
    }

    fn take_in_set(&mut self, id: SetId, set: &Set) {
        // `limits::SETS` keeps the count within u16.
        let within = self.sets.len() as u16;
        self.sets.push(SetWords {
            id,
            code: fold(set.code()),
            title: set.title().split_whitespace().map(fold).collect(),
        });
        for finish in set.finishes() {
            let name = finish.name.to_lowercase();
            if !self.finishes.contains(&name) {
                self.finishes.insert(name);
            }
        }
        let first = self.cards.len();
        let entries = (0..).zip(set.cards()).map(|(at, card)| Entry {
            set: within,
            card: at,
            number: fold(&card.number).into(),
            name: card.name.as_str().into(),
        });
        self.cards.extend(entries);
        for entry in &self.cards[first..] {
            let number = &*entry.number;
            let begins = [number, number.trim_start_matches('0')].map(|n| n.bytes().next());
            self.number_begins.extend(begins.into_iter().flatten());
        }
        // Nearly always sorted already, and then this is one pass.
        self.cards[first..].sort_by(|a, b| natural_cmp(&a.number, &b.number));
    }

    /// Whether the name of a finish begins with this word, in small letters.
    #[must_use]
    pub fn begins_finish(&self, word: &str) -> bool {
        self.finishes.iter().any(|name| name.starts_with(word))
    }

    /// The best `limit` cards for what was typed, the best first. Every word must meet the card:
    /// its number (or the beginning of it), its name (letters left out are forgiven; case and
    /// accents do not count), or the code or title of its set. Ties stay in set order, then in
    /// natural order of the numbers. Nothing typed finds nothing.
    #[must_use]
    pub fn search(&self, query: &str, limit: usize) -> Vec<Hit> {
        let mut search = Search::new(self, query, limit, None);
        let mut all = usize::MAX;
        search.go_on(self, &mut all);
        search.best(self)
    }

    /// The printings of the best `limit` cards for what was typed, which may name a finish.
    #[must_use]
    pub fn printings(&self, collection: &Collection, query: &str, limit: usize) -> Vec<Found> {
        self.printings_of(collection, query, limit).0
    }

    /// The same, and how many cards there are, where more than `limit` meet the words.
    #[must_use]
    pub fn printings_of(
        &self,
        collection: &Collection,
        query: &str,
        limit: usize,
    ) -> (Vec<Found>, Option<usize>) {
        let mut asks = Ask::all(self, query).into_iter().map(|ask| {
            let mut search = Search::new(self, &ask.words, limit, None);
            let mut all = usize::MAX;
            search.go_on(self, &mut all);
            (ask.found(collection, &search.best(self)), search.met())
        });
        asks.find(|(found, _)| !found.is_empty())
            .unwrap_or_default()
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
    fn scattered_letters_come_after_a_set_of_that_name_and_that_after_the_word_itself() {
        let collection = collection(&[
            (
                "LAMP",
                "",
                &[("1", "Kitten Lamplighter"), ("2", "Red Kite")],
            ),
            ("KITE", "Kite Weather", &[("7", "Gull"), ("8", "Kittiwake")]),
        ]);
        assert_eq!(
            found(&collection, "kite"),
            ["LAMP 2", "KITE 7", "KITE 8", "LAMP 1"]
        );
        // The title alone, not the code.
        assert_eq!(found(&collection, "weather"), ["KITE 7", "KITE 8"]);
    }

    /// Common practice, no source: who looks for an owl is not shown lynxes.
    #[test]
    fn letters_scattered_over_two_words_are_no_word_of_either() {
        let cards = [
            ("1", "Willow Lynx"),
            ("2", "Oxwillow Moth"),
            ("3", "Barn Owl"),
        ];
        let collection = collection(&[("ONE", "", &cards)]);
        assert_eq!(found(&collection, "owl"), ["ONE 3", "ONE 2"]);
        assert_eq!(found(&collection, "wlynx"), [""; 0]);
        assert_eq!(found(&collection, "wil lyn"), ["ONE 1"]);
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

    /// A search for what is typed, letter by letter, each narrowing the one before and in bits.
    fn typed(finder: &Finder, query: &str, bit: usize) -> Vec<Hit> {
        let mut last: Option<Search> = None;
        let letters = query.char_indices().map(|(at, c)| at + c.len_utf8());
        for end in letters {
            let mut search = Search::new(finder, &query[..end], 20, last.as_ref());
            while !search.go_on(finder, &mut bit.clone()) {}
            last = Some(search);
        }
        last.map_or_else(Vec::new, |search| search.best(finder))
    }

    #[test]
    fn narrowing_leaves_what_only_longer_words_meet() {
        let collection = collection(&[
            ("ONE", "Moss Hall", &[("0070", "Wren"), ("70/90", "Hare")]),
            ("TWO", "", &[("1", "Hare")]),
        ]);
        let finder = Finder::new(&collection);
        for query in ["70", "0070", "070", "moss", "two hare", "t", "moss 70"] {
            assert_eq!(
                typed(&finder, query, 1),
                finder.search(query, 20),
                "{query}"
            );
        }
        assert_eq!(typed(&finder, "70", 1).len(), 2);
    }

    #[test]
    fn an_index_made_bit_by_bit_is_the_same() {
        let collection = crate::demo::collection();
        let (mut finder, mut bits) = (Finder::default(), 1);
        while !finder.take_in(&collection, 1) {
            bits += 1;
        }
        assert_eq!(bits, collection.sets().len());
        let whole = Finder::new(&collection);
        assert_eq!(finder.search("moss", 50), whole.search("moss", 50));
        assert!(finder.begins_finish("reve") && !finder.begins_finish("zz"));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn typing_on_finds_what_typing_at_once_does(query in "[0a-oOMS7 :é]{0,12}", bit in 1usize..999) {
            static FINDER: LazyLock<Finder> =
                LazyLock::new(|| Finder::new(&crate::demo::collection()));
            prop_assert_eq!(typed(&FINDER, &query, bit), FINDER.search(&query, 20));
        }

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
