//! A printing as files write it: `"CODE:12 r"`, set, number and the mark of the finish.
//!
//! The first finish's mark is empty and leaves nothing. Within a binder, the code of the binder's
//! own set is left out. A number in which a reader could not tell the parts apart is written as
//! an array of the three, `["CODE","TG 12","r"]`.

use std::borrow::Cow;
use std::fmt;

use serde::de::{Deserialize, Deserializer, Error, SeqAccess, Visitor};
use serde::{Serialize, Serializer};

use super::strings::Str;
use crate::model::{Collection, PrintingId, Set, SetId, limits};

/// A printing in words. An empty `code` is the set that is usual where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token<'a> {
    pub(super) code: Str<'a>,
    pub(super) number: Str<'a>,
    pub(super) mark: Str<'a>,
}

impl<'a> Token<'a> {
    /// `None` for a printing that does not exist.
    pub(super) fn of(collection: &'a Collection, printing: PrintingId) -> Option<Self> {
        let set = collection.set(printing.set())?;
        let finish = set.finishes().get(usize::from(printing.finish()))?;
        Some(Self {
            code: set.code().into(),
            number: set.card(printing.card())?.number.as_str().into(),
            mark: finish.mark.as_ref().into(),
        })
    }

    pub(super) fn parts(&self) -> (&str, &str, &str) {
        (&self.code, &self.number, &self.mark)
    }

    /// Splits `CODE:12 r`. Whether the parts name something is seen when it is looked up.
    pub(super) fn split(text: &str) -> (&str, &str, &str) {
        // Byte by byte: tokens are too short for a search to be worth its call.
        let colon = text.bytes().position(|b| b == b':');
        let (code, rest) = colon.map_or(("", text), |at| (&text[..at], &text[at + 1..]));
        let space = rest.bytes().position(|b| b == b' ');
        let (number, mark) = space.map_or((rest, ""), |at| (&rest[..at], &rest[at + 1..]));
        (code, number, mark)
    }
}

/// Whether a number can stand in a token: no part of it can be taken for another part, nor for
/// the parentheses that say "empty".
pub(super) fn is_plain(number: &str) -> bool {
    let harmless = |c: char| !c.is_whitespace() && !c.is_control() && !":()\"\\".contains(c);
    let simple = number.bytes().all(|b| SIMPLE[usize::from(b)]);
    !number.is_empty() && (simple || number.chars().all(harmless))
}

/// The bytes of nearly all numbers, so that nothing more has to be asked of them.
pub(super) const SIMPLE: [bool; 256] = {
    let mut simple = [false; 256];
    let mut byte = 0;
    while byte < 256 {
        let b = byte as u8;
        simple[byte] = b.is_ascii_alphanumeric() || matches!(b, b'-' | b'/' | b'.' | b'_' | b'+');
        byte += 1;
    }
    simple
};

impl Serialize for Token<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let (code, number, mark) = (&*self.code, &*self.number, &*self.mark);
        if !is_plain(number) {
            return (code, number, mark).serialize(to);
        }
        if mark.is_empty() {
            to.collect_str(&format_args!("{code}:{number}"))
        } else {
            to.collect_str(&format_args!("{code}:{number} {mark}"))
        }
    }
}

impl<'de: 'a, 'a> Deserialize<'de> for Token<'a> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(TokenVisitor)
    }
}

/// Takes both ways to write a token.
pub(super) struct TokenVisitor;

impl<'de> Visitor<'de> for TokenVisitor {
    type Value = Token<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a card such as \"CODE:12 r\" or [\"CODE\",\"12\",\"r\"]")
    }

    fn visit_borrowed_str<E: Error>(self, text: &'de str) -> Result<Token<'de>, E> {
        let (code, number, mark) = Token::split(text);
        Ok(Token {
            code: code.into(),
            number: number.into(),
            mark: mark.into(),
        })
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Token<'de>, E> {
        let (code, number, mark) = Token::split(text);
        let owned = |part: &str| Str(Cow::Owned(part.into()));
        Ok(Token {
            code: owned(code),
            number: owned(number),
            mark: owned(mark),
        })
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<Token<'de>, A::Error> {
        let mut part = |at| {
            let next = parts.next_element()?;
            next.ok_or_else(|| A::Error::invalid_length(at, &"set, number and mark"))
        };
        let token = Token {
            code: part(0)?,
            number: part(1)?,
            mark: part(2)?,
        };
        match parts.next_element::<serde::de::IgnoredAny>()? {
            None => Ok(token),
            Some(_) => Err(A::Error::invalid_length(4, &"set, number and mark")),
        }
    }
}

/// Looks printings up. Files mostly name them in checklist order, so the neighbour of the last
/// one is tried before anything is searched for.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Finder {
    /// The set that is meant where no code stands.
    usual: Option<SetId>,
    last: Option<PrintingId>,
}

impl Finder {
    pub(super) fn new(usual: Option<SetId>) -> Self {
        Self { usual, last: None }
    }

    /// # Errors
    /// Says which of the parts names nothing.
    pub(super) fn find(
        &mut self,
        collection: &Collection,
        parts: (&str, &str, &str),
    ) -> Result<PrintingId, String> {
        self.look_up(collection, parts)
            .ok_or_else(|| self.why_not(collection, parts))
    }

    /// Apart from the words for what is missing, so that its answer is one machine word: a
    /// snapshot asks for every pocket.
    fn look_up(
        &mut self,
        collection: &Collection,
        (code, number, mark): (&str, &str, &str),
    ) -> Option<PrintingId> {
        let set_id = self.find_set(collection, code)?;
        let set = collection.set(set_id)?;
        let near = self.last.filter(|last| last.set() == set_id);
        let is_it = |at: &u32| set.card(*at).is_some_and(|card| same(&card.number, number));
        let card = near
            .and_then(|last| next(set, last))
            .filter(is_it)
            .or_else(|| near.map(PrintingId::card).filter(is_it))
            .or_else(|| set.card_by_number(number))?;
        let marked = |finish: &u8| {
            let finish = set.finishes().get(usize::from(*finish));
            finish.is_some_and(|finish| same(&finish.mark, mark))
        };
        let finish = near.map_or(0, PrintingId::finish);
        let finish = Some(finish)
            .filter(marked)
            .or_else(|| (0..limits::FINISHES as u8).find(marked))?;
        let printing = PrintingId::new(set_id, card, finish);
        self.last = Some(printing);
        set.card(card)?.has_finish(finish).then_some(printing)
    }

    #[cold]
    fn why_not(&self, collection: &Collection, (code, number, mark): (&str, &str, &str)) -> String {
        let Some(set) = self.find_set(collection, code) else {
            return if code.is_empty() {
                "the card's set is missing: \"CODE:number\"".into()
            } else {
                format!("there is no set with the code {code:?}")
            };
        };
        let set = collection.set(set);
        let card = set.and_then(|set| set.card_by_number(number));
        let code = set.map_or(code, Set::code);
        match card {
            None => format!("the set {code} has no card {number:?}"),
            Some(_) => format!("the card {number:?} of {code} has no finish marked {mark:?}"),
        }
    }

    pub(super) fn find_token(
        &mut self,
        collection: &Collection,
        token: &Token<'_>,
    ) -> Result<PrintingId, String> {
        self.find(collection, (&token.code, &token.number, &token.mark))
    }

    fn find_set(&self, collection: &Collection, code: &str) -> Option<SetId> {
        if code.is_empty() {
            self.usual
        } else {
            find_set(collection, code).ok()
        }
    }
}

/// Equality of words of a few bytes, where calling the general comparison costs more than it does.
fn same(a: &str, b: &str) -> bool {
    a.len() == b.len() && a.bytes().zip(b.bytes()).all(|(a, b)| a == b)
}

/// The card that follows in a run of one finish: the next that has it. Without a near one, as at
/// the beginning of another run, a search is cheaper than going on.
fn next(set: &Set, last: PrintingId) -> Option<u32> {
    let first = last.card().checked_add(1)?;
    let mut near = (first..first.saturating_add(8)).map_while(|at| Some((at, set.card(at)?)));
    near.find(|(_, card)| card.has_finish(last.finish()))
        .map(|(at, _)| at)
}

/// The set with exactly this code.
pub(super) fn find_set(collection: &Collection, code: &str) -> Result<SetId, String> {
    let exactly = |id: &SetId| collection.set(*id).is_some_and(|set| set.code() == code);
    collection
        .set_by_code(code)
        .filter(exactly)
        .ok_or_else(|| format!("there is no set with the code {code:?}"))
}
