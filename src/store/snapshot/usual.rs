//! What a snapshot mostly holds, straight as bytes: a million pockets through the general way to
//! write JSON take longer than the disk does. Whatever is not usual is left to that way.

use super::put::{json, text};
use crate::model::{Card, Set};
use crate::store::parts::CardText;
use crate::store::token::SIMPLE;

/// A token's bytes are gathered here. Longer ones are not usual.
const MOST: usize = 32;

/// Writes `"CODE:12 r"`, or `"(CODE:12 r)"` for a gap; without an empty code and an empty mark.
/// `false`, and nothing is written, where a byte needs a second look.
pub(super) fn token(
    to: &mut Vec<u8>,
    (code, number, mark): (&str, &str, &str),
    is_gap: bool,
) -> bool {
    let bytes = code.len() + number.len() + mark.len();
    // Quotes, parentheses, colon and space.
    if number.is_empty() || bytes + 6 > MOST {
        return false;
    }
    let mut token = [b'"'; MOST];
    let mut end = 1;
    if is_gap {
        token[end] = b'(';
        end += 1;
    }
    let mut simple = true;
    if !code.is_empty() {
        simple &= put(&mut token, &mut end, code);
        token[end] = b':';
        end += 1;
    }
    simple &= put(&mut token, &mut end, number);
    if !mark.is_empty() {
        token[end] = b' ';
        end += 1;
        simple &= put(&mut token, &mut end, mark);
    }
    if is_gap {
        token[end] = b')';
        end += 1;
    }
    token[end] = b'"';
    end += 1;
    if simple {
        // A copy of a known length is a few instructions, one of any length is a call.
        let length = to.len() + end;
        to.extend_from_slice(&token);
        to.truncate(length);
    }
    simple
}

/// Puts the word at the end; whether all its bytes are simple.
#[inline(always)]
fn put(token: &mut [u8; MOST], end: &mut usize, word: &str) -> bool {
    let Some(room) = token.get_mut(*end..*end + word.len()) else {
        return false;
    };
    let mut simple = true;
    for (to, b) in room.iter_mut().zip(word.bytes()) {
        *to = b;
        simple &= SIMPLE[usize::from(b)];
    }
    *end += word.len();
    simple
}

/// The checklist's entries of a set.
pub(super) struct Cards<'s> {
    set: &'s Set,
    /// `,"rarity":"…"` for each.
    rarities: Vec<Vec<u8>>,
    /// The bits of all finishes.
    all: u64,
}

impl<'s> Cards<'s> {
    pub(super) fn of(set: &'s Set) -> Self {
        let rarity = |name: &str| {
            let mut to = b",\"rarity\":".to_vec();
            quoted(&mut to, name);
            to
        };
        Self {
            set,
            rarities: set.rarities().iter().map(|name| rarity(name)).collect(),
            all: (0..set.finishes().len()).fold(0, |bits, at| bits | 1 << at),
        }
    }

    pub(super) fn write(&self, to: &mut Vec<u8>, card: &Card) {
        let rarity = match card.rarity {
            None => Some(&[][..]),
            Some(at) => self.rarities.get(usize::from(at)).map(Vec::as_slice),
        };
        let (Some(rarity), None, 0) = (rarity, card.size, card.finishes & !self.all) else {
            let (rarities, finishes) = (self.set.rarities(), self.set.finishes());
            return json(to, &CardText::of(card, rarities, finishes));
        };
        text(to, "{\"number\":");
        quoted(to, &card.number);
        if !card.name.is_empty() {
            text(to, ",\"name\":");
            quoted(to, &card.name);
        }
        to.extend_from_slice(rarity);
        if card.finishes != self.all {
            text(to, ",\"finishes\":[");
            let finishes = (0u8..).zip(self.set.finishes());
            let there = finishes.filter(|(at, _)| card.has_finish(*at));
            for (at, (_, finish)) in there.enumerate() {
                if at > 0 {
                    to.push(b',');
                }
                quoted(to, &finish.mark);
            }
            to.push(b']');
        }
        to.push(b'}');
    }
}

/// A JSON string. RFC 8259, section 7: quotes, backslashes and C0 controls are escaped, no more.
fn quoted(to: &mut Vec<u8>, word: &str) {
    let stands = |b: u8| b >= 0x20 && b != b'"' && b != b'\\';
    if !word.bytes().all(stands) {
        return json(to, word);
    }
    to.push(b'"');
    text(to, word);
    to.push(b'"');
}

/// An id of a page, `"p12"`.
pub(super) fn page_name(to: &mut Vec<u8>, id: u32) {
    text(to, "\"p");
    let digits = id.checked_ilog10().unwrap_or(0);
    for place in (0..=digits).rev() {
        to.push(b'0' + (id / 10u32.pow(place) % 10) as u8);
    }
    to.push(b'"');
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::model::{CardSize, Finish, PageId, SetHead};
    use crate::store::parts::PageName;
    use crate::store::strings::Str;
    use crate::store::token::{Token, is_plain};

    fn general<T: serde::Serialize>(value: &T) -> String {
        serde_json::to_string(value).unwrap()
    }

    fn words() -> impl Strategy<Value = String> {
        "[a-c0-9é☂ \"\\\\():/\u{1}\u{7f}-]{0,9}"
    }

    proptest! {
        /// serde_json writes the same, where a token is written here at all.
        #[test]
        fn a_usual_token_is_what_the_general_way_writes(
            code in "[A-C\\\\]{1,4}", number in "[0-9a-c/ :\"☂-]{0,30}", mark in "[a-c]{0,3}",
        ) {
            let mut to = b"before".to_vec();
            if token(&mut to, (&code, &number, &mark), false) {
                let token: Token<'_> = Token {
                    code: Str::from(&*code),
                    number: Str::from(&*number),
                    mark: Str::from(&*mark),
                };
                prop_assert_eq!(String::from_utf8(to).unwrap(), format!("before{}", general(&token)));
                prop_assert!(is_plain(&number));
            } else {
                prop_assert_eq!(to, b"before");
            }
        }

        #[test]
        fn a_card_is_what_the_general_way_writes(
            number in words(), name in words(), rarity in prop::option::of(0u16..4),
            sized in any::<bool>(), finishes in 0u64..16, rare in words(),
        ) {
            let finish = |mark: &str| Finish { name: format!("x{mark}").into(), mark: mark.into() };
            let set = crate::model::SetParts {
                head: SetHead {
                    code: "A".into(),
                    title: "".into(),
                    symbol: "".into(),
                    shelf: "".into(),
                },
                finishes: vec![finish(""), finish("r"), finish("h")],
                rarities: vec!["common".into(), format!("rare{rare}").into()],
                cards: vec![],
            };
            let mut builder = crate::model::Builder::new();
            let id = builder.set(set).unwrap();
            let collection = builder.finish().unwrap();
            let set = collection.set(id).unwrap();
            let card = Card {
                number: number.into(),
                name: name.into(),
                rarity,
                size: sized.then_some(CardSize { width: 635, height: 880 }),
                finishes,
            };
            let mut to = Vec::new();
            Cards::of(set).write(&mut to, &card);
            let expected = general(&CardText::of(&card, set.rarities(), set.finishes()));
            prop_assert_eq!(String::from_utf8(to).unwrap(), expected);
        }

        #[test]
        fn a_page_is_named_as_the_general_way_names_it(id in any::<u32>(), small in 0u32..2000) {
            for id in [id, small] {
                let mut to = Vec::new();
                page_name(&mut to, id);
                prop_assert_eq!(String::from_utf8(to).unwrap(), general(&PageName(PageId(id))));
            }
        }
    }

    #[test]
    fn a_gap_stands_in_parentheses_and_what_is_empty_is_left_out() {
        let written = |parts, is_gap| {
            let mut to = Vec::new();
            assert!(token(&mut to, parts, is_gap));
            String::from_utf8(to).unwrap()
        };
        assert_eq!(written(("", "12", ""), false), "\"12\"");
        assert_eq!(written(("", "12", "r"), true), "\"(12 r)\"");
        assert_eq!(written(("MIR", "12", "r"), true), "\"(MIR:12 r)\"");
    }
}
