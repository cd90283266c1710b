//! A search through the index, which can stop between any two cards.
//!
//! What is typed on narrows: a longer query looks only at what the shorter one has left. A card is
//! left also where it does not meet the words yet but may meet longer ones, since a number is met
//! without its zeros only when it is whole, and a title only from the second letter on.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::fmt;

use nucleo_matcher::{Config, Matcher, Utf32Str, Utf32String};

use super::{Entry, Finder, Hit, SetWords, fold};

/// How well one word of the query meets a card. A number counts more than any name, a name in which
/// the word stands more than the set it is from, and that more than a name in which its letters are
/// only scattered; what fuzzy matching gives is held within its span. No source: only their order
/// matters, and that is what the tests of the finder promise.
mod weight {
    pub(super) const NUMBER: u32 = 1_000;
    /// A set's code beside a word that is a number: `moss 12`.
    pub(super) const CODE_OF_NUMBER: u32 = 800;
    /// The number without leading zeros and without what follows a slash.
    pub(super) const NUMBER_STEM: u32 = 900;
    pub(super) const NUMBER_START: u32 = 500;
    pub(super) const NAME: u32 = 100;
    pub(super) const NAME_SPAN: u32 = 300;
    pub(super) const SCATTERED: u32 = 10;
    pub(super) const SCATTERED_SPAN: u32 = 35;
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

/// One word of a query.
#[derive(Debug)]
struct Word {
    text: String,
    needle: Utf32String,
    /// Whether it, or a longer word, may begin a number.
    numbers: bool,
    sets: Vec<OfSet>,
}

/// What a word is to a set's code and title.
#[derive(Clone, Copy, Debug)]
struct OfSet {
    weight: u32,
    /// Longer words may meet it.
    may: bool,
}

/// How well a card meets a query.
enum Met {
    Score(u32),
    /// Not yet.
    May,
    No,
}

/// A search under way. It belongs to the finder that it was begun with.
pub struct Search {
    words: Vec<Word>,
    /// All words as they stand, where there are several.
    start: Option<Utf32String>,
    limit: usize,
    /// The entries to be looked at; `None` for all.
    among: Option<Vec<u32>>,
    /// How many of them were.
    at: usize,
    /// How many of them met the words.
    met: usize,
    /// Those that met the words, or may meet longer ones.
    left: Vec<u32>,
    /// The better score first; among equals the earlier entry. The worst is on top.
    best: BinaryHeap<(Reverse<u32>, u32)>,
    matcher: Matcher,
}

impl Search {
    /// Begins a search for the best `limit` cards, as [`Finder::search`] finds them. Where `last`
    /// is one for the beginning of this query and has come to its end, only what it left is looked
    /// at.
    #[must_use]
    pub fn new(finder: &Finder, query: &str, limit: usize, last: Option<&Self>) -> Self {
        let words = words(finder, query);
        let start = (words.len() > 1).then(|| {
            let whole: Vec<_> = words.iter().map(|word| word.text.as_str()).collect();
            Utf32String::from(whole.join(" "))
        });
        let last = last.filter(|last| last.is_done(finder) && last.is_begin_of(&words));
        let mut config = Config::DEFAULT;
        config.prefer_prefix = true;
        Self {
            among: match last {
                _ if words.is_empty() || limit == 0 => Some(Vec::new()),
                Some(last) => Some(last.left.clone()),
                None => None,
            },
            words,
            start,
            limit,
            at: 0,
            met: 0,
            left: Vec::new(),
            best: BinaryHeap::new(),
            matcher: Matcher::new(config),
        }
    }

    /// Whether each of its words begins the one at its place there. Nothing typed begins nothing:
    /// it has looked at nothing.
    fn is_begin_of(&self, words: &[Word]) -> bool {
        let mut both = self.words.iter().zip(words);
        !self.words.is_empty()
            && self.words.len() <= words.len()
            && both.all(|(own, word)| word.text.starts_with(&own.text))
    }

    fn is_done(&self, finder: &Finder) -> bool {
        self.at == self.end(finder)
    }

    fn end(&self, finder: &Finder) -> usize {
        self.among.as_ref().map_or(finder.cards.len(), Vec::len)
    }

    /// Looks at so many more cards, a card counted for each word, and takes them off the number;
    /// `true` at the end.
    pub fn go_on(&mut self, finder: &Finder, cards: &mut usize) -> bool {
        let end = self.end(finder);
        let words = self.words.len().max(1);
        let to = end.min(self.at.saturating_add(cards.div_ceil(words)));
        *cards = cards.saturating_sub((to - self.at) * words);
        for at in self.at..to {
            let at = self.among.as_ref().map_or(at as u32, |among| among[at]);
            let entry = &finder.cards[at as usize];
            let met = meet(entry, &self.words, self.start.as_ref(), &mut self.matcher);
            match met {
                Met::No => continue,
                Met::May => {}
                Met::Score(score) => {
                    self.met += 1;
                    self.keep((Reverse(score), at));
                }
            }
            self.left.push(at);
        }
        self.at = to;
        to == end
    }

    fn keep(&mut self, hit: (Reverse<u32>, u32)) {
        if self.best.len() < self.limit {
            self.best.push(hit);
        } else if let Some(mut worst) = self.best.peek_mut()
            && hit < *worst
        {
            *worst = hit;
        }
    }

    /// How many cards met the words among those that were looked at, where not all of them are
    /// among the best.
    #[must_use]
    pub fn met(&self) -> Option<usize> {
        (self.met > self.best.len()).then_some(self.met)
    }

    /// The best of those that were looked at, the best first.
    #[must_use]
    pub fn best(&self, finder: &Finder) -> Vec<Hit> {
        let best = self.best.clone().into_sorted_vec();
        let hit = |(Reverse(score), at): (Reverse<u32>, u32)| {
            let entry = &finder.cards[at as usize];
            Hit {
                set: finder.sets[usize::from(entry.set)].id,
                card: entry.card,
                score,
            }
        };
        best.into_iter().map(hit).collect()
    }
}

impl fmt::Debug for Search {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Search")
            .field("start", &self.start)
            .field("at", &self.at)
            .finish_non_exhaustive()
    }
}

fn words(finder: &Finder, query: &str) -> Vec<Word> {
    query
        .split(|c: char| c.is_whitespace() || c == ':')
        .filter(|word| !word.is_empty())
        .take(MOST_WORDS)
        .map(|word| {
            let text: String = fold(word).chars().take(MOST_LETTERS).collect();
            let begin = |text: &str| text.bytes().next();
            let begins = |byte: u8| finder.number_begins.contains(&byte);
            let plain = begin(without_zeros(&text));
            Word {
                needle: text.as_str().into(),
                numbers: begin(&text).is_some_and(begins) || plain.is_none_or(begins),
                sets: finder.sets.iter().map(|set| of_set(set, &text)).collect(),
                text,
            }
        })
        .collect()
}

fn of_set(set: &SetWords, word: &str) -> OfSet {
    // One letter begins too many titles to say anything.
    let long = word.chars().nth(1).is_some();
    let titled = set.title.iter().any(|part| part.starts_with(word));
    let coded = set.code.starts_with(word);
    let weight = if set.code == word {
        weight::CODE
    } else if long && titled {
        weight::TITLE
    } else if long && coded {
        weight::CODE_START
    } else {
        0
    };
    OfSet {
        weight,
        may: titled || coded,
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

/// Whether a longer word may meet the number.
fn may_meet_number(number: &str, word: &str) -> bool {
    number.starts_with(word) || without_zeros(number).starts_with(without_zeros(word))
}

fn without_zeros(number: &str) -> &str {
    number.trim_start_matches('0')
}

/// How well the card meets all words together.
fn meet(entry: &Entry, words: &[Word], start: Option<&Utf32String>, matcher: &mut Matcher) -> Met {
    let name = entry.name.slice(..);
    let set = usize::from(entry.set);
    let mut numbered = 0;
    let mut own = [(0, false); MOST_WORDS];
    for (word, own) in words.iter().zip(&mut own) {
        let number = if word.numbers {
            meet_number(&entry.number, &word.text)
        } else {
            0
        };
        let best = if number > 0 {
            numbered += 1;
            number
        } else {
            meet_name(name, word.needle.slice(..), matcher)
        };
        if best == 0 && word.sets[set].weight == 0 {
            let may_be_number = word.numbers && may_meet_number(&entry.number, &word.text);
            let may = word.sets[set].may || may_be_number;
            return if may { Met::May } else { Met::No };
        }
        *own = (best, number > 0);
    }
    let mut score = 0;
    for (word, (best, is_number)) in words.iter().zip(own) {
        let set = word.sets[set].weight;
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
    Met::Score(score)
}

fn meet_name(name: Utf32Str<'_>, word: Utf32Str<'_>, matcher: &mut Matcher) -> u32 {
    let Some(score) = matcher.fuzzy_match(name, word) else {
        return 0;
    };
    let score = u32::from(score).min(weight::NAME_SPAN);
    match matcher.substring_match(name, word) {
        Some(_) => weight::NAME + score,
        None if is_of_one_word(name, word, matcher) => {
            weight::SCATTERED + score * weight::SCATTERED_SPAN / weight::NAME_SPAN
        }
        None => 0,
    }
}

/// Whether the letters are all those of one word of the name. Scattered over the gap between two of
/// them (`owl` in Willow Lynx) they are no word that somebody left letters out of.
fn is_of_one_word(name: Utf32Str<'_>, word: Utf32Str<'_>, matcher: &mut Matcher) -> bool {
    let (mut from, end) = (0, name.len());
    (0..=end).any(|at| {
        if at < end && name.get(at as u32) != ' ' {
            return false;
        }
        let one = name.slice(from..at);
        from = at + 1;
        matcher.fuzzy_match(one, word).is_some()
    })
}
